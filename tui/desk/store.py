"""The folder of sessions: names that every system accepts, and what lies there."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

LONGEST_TAG = 30  # characters
MARK = ".unit"  # beside a session whose unit's tag was put right
NO_TAG = "unit"  # in the name of a session whose unit has no tag, or none that a name can hold
_ODD = re.compile(r"[^\w.]+")
_NAME = re.compile(r"(\d{4}-\d\d-\d\dT\d{4})-(.+)-[0-9a-f]{4}\Z")
_TAIL = 64 * 2**10
_CLOSED, _RESUMED = b'"event":"closed"', b'"event":"resumed"'


@dataclass(frozen=True, slots=True)
class Listed:
    """A session by its name: `began` (2026-11-25T0930), `unit` as in the name, `closed`: it has ended."""

    path: Path
    began: str
    unit: str
    closed: bool


def file_name(began: datetime, unit: str, ending: str) -> str:
    """``2026-11-25T0930-<unit>-<4 hex>.jsonl``, legal on Windows whatever the unit is called."""
    return f"{began:%Y-%m-%dT%H%M}-{tag(unit)}-{ending}.jsonl"


def tag(unit: str) -> str:
    """The unit's own tag with everything odd in it made a hyphen; at most 30 characters, never empty."""
    plain = _ODD.sub("-", unicodedata.normalize("NFC", unit))
    return plain[:LONGEST_TAG].strip("-.") or NO_TAG


def tagged(name: str, unit: str) -> bool:
    """Whether a file's name says that it is a session of this unit; another unit's tag may look the same."""
    began, of = named(Path(name)) if name.endswith(".jsonl") else ("", "")
    return bool(began) and of.casefold() == tag(unit).casefold()


def mark_unit(session: Path, unit: str) -> None:
    """The unit that a session is of, where its name says another; nothing is lost where that can't be written."""
    with suppress(OSError):
        session.with_suffix(MARK).write_text(unit, encoding="utf-8")


def marked(mark: Path, unit: str) -> bool:
    """Whether a file beside a session says that it is of this unit."""
    try:
        return same_unit(mark.read_text(encoding="utf-8"), unit)
    except (OSError, ValueError):
        return False


def same_unit(one: str, other: str) -> bool:
    """Whether two tags are meant for the same unit: capitals and blanks are no difference."""
    return _plain(one) == _plain(other)


def _plain(unit: str) -> str:
    return " ".join(unicodedata.normalize("NFC", unit).casefold().split())


def photo_folder(session: Path) -> Path:
    """The sibling folder for a session's photos."""
    return session.with_suffix("")


class Store:
    """The sessions of one user."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def new_path(self, began: datetime, unit: str) -> Path:
        """A name nobody has yet; makes the folder. Raises Refused where that cannot be made."""
        import secrets  # here, for a list of what there is needs none of it

        from tui.record.trouble import refusal

        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise refusal(error, self.folder, "make the folder for sessions") from error
        while True:
            path = self.folder / file_name(began, unit, secrets.token_hex(2))
            if not os.path.lexists(path):
                return path

    def names(self) -> list[Path]:
        """Every session's file, the latest first, by a look at the names alone; names of another kind come last."""
        return sorted(self._paths(), key=lambda path: (bool(named(path)[0]), path.name), reverse=True)

    def unfinished(self) -> Iterator[Listed]:
        """Visits that have not ended, the latest first, by their first and last lines; read as they are asked for.

        What is no session is none of them; a damaged one is, and one of a newer program.
        """
        from tui.record import is_ours  # a list of names needs none of it

        for path in self.names():
            each = listed(path)
            if not each.closed and is_ours(path):
                yield each

    def latest_open(self) -> Listed | None:
        """The latest visit that has not ended."""
        return next(self.unfinished(), None)

    def _paths(self) -> list[Path]:
        try:
            with os.scandir(self.folder) as entries:
                return [Path(entry.path) for entry in entries if entry.name.endswith(".jsonl") and entry.is_file()]
        except FileNotFoundError:
            return []
        except OSError as error:
            from tui.record.trouble import refusal

            raise refusal(error, self.folder, "list the sessions") from error


def named(path: Path) -> tuple[str, str]:
    """When it began (2026-11-25T0930) and the unit, as the name has it; a name of another kind: empty, all of it."""
    found = _NAME.match(path.stem)
    return (found.group(1), found.group(2)) if found else ("", path.stem)


def listed(path: Path) -> Listed:
    """A session by its name and its last lines."""
    began, unit = named(path)
    return Listed(path, began, unit, _ends_closed(path))


def _ends_closed(path: Path) -> bool:
    """Whether the last lines hold a `closed`; says nothing about the rest, `verify` does."""
    try:
        with path.open("rb") as stream:
            stream.seek(max(0, os.fstat(stream.fileno()).st_size - _TAIL))
            tail = stream.read(_TAIL)
    except OSError:
        return False  # the visit is listed; opening it says what is wrong
    return tail.rfind(_CLOSED, 0, tail.rfind(b"\n")) > tail.rfind(_RESUMED)
