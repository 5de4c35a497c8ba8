"""Where the user's own things live: ``LOWSIDE_HOME``, else the platform's data and config folders."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tui.quantity.refused import Refused

VARIABLE = "LOWSIDE_HOME"


@dataclass(frozen=True, slots=True)
class Home:
    """`data` holds sessions, own and installed trees, `config` settings and names. Nothing is created by looking."""

    data: Path
    config: Path

    @property
    def sessions(self) -> Path:
        return self.data / "sessions"

    @property
    def trees(self) -> Path:
        return self.data / "trees"

    @property
    def library(self) -> Path:
        """Where an installed library of trees lies."""
        return self.data / "library"

    @property
    def proven(self) -> Path:
        return self.data / "proven.txt"

    @property
    def settings(self) -> Path:
        return self.config / "settings.yaml"

    @property
    def people(self) -> Path:
        return self.config / "people.json"


def home(environment: Mapping[str, str] = os.environ) -> Home:
    """The folders of this user. Raises Refused where ``LOWSIDE_HOME`` names something else than a folder."""
    named = environment.get(VARIABLE, "")
    if not named:
        import platformdirs  # here, because it costs a start of a program more than it is worth

        return Home(
            platformdirs.user_data_path("lowside", appauthor=False),
            platformdirs.user_config_path("lowside", appauthor=False),
        )
    folder = Path(os.path.abspath(os.path.expanduser(named)))
    if folder.exists() and not folder.is_dir():
        raise Refused("bad-home", f"{VARIABLE} names {folder}, which is no folder.", "Name a folder.")
    return Home(folder, folder)


def own_trees() -> Path:
    """The folder of the user's own trees; it need not be there."""
    return home().trees
