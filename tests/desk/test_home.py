"""Where the user's things live, and what is said when that cannot be."""

from __future__ import annotations

from pathlib import Path

import pytest

from tui.desk.home import home, own_trees
from tui.quantity import Refused


def test_lowside_home_holds_all(tmp_path: Path) -> None:
    found = home({"LOWSIDE_HOME": str(tmp_path)})
    assert found.sessions == tmp_path / "sessions"
    assert found.trees == tmp_path / "trees"
    assert found.settings == tmp_path / "settings.yaml"
    assert found.people == tmp_path / "people.json"
    assert list(tmp_path.iterdir()) == []


def test_without_it_the_platform_says(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.delenv("LOWSIDE_HOME", raising=False)
    assert home({}).sessions == tmp_path / "data/lowside/sessions"
    assert home({"LOWSIDE_HOME": ""}).settings == tmp_path / "config/lowside/settings.yaml"
    assert own_trees() == tmp_path / "data/lowside/trees"


def test_a_home_that_is_not_there_yet_or_relative(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    assert home({"LOWSIDE_HOME": "van"}).data == tmp_path / "van"


def test_a_home_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(Refused, match="no folder"):
        home({"LOWSIDE_HOME": str(tmp_path / "file")})
