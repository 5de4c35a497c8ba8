"""Sessions know ids; names lie in one file that can be deleted."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tui.desk.people import People
from tui.quantity import Refused


@pytest.fixture
def people(tmp_path: Path) -> People:
    return People(tmp_path / "config" / "people.json")


def test_an_id_says_nothing_and_stays(people: People) -> None:
    person = people.add("  An   Example ")
    assert re.fullmatch(r"p-[0-9a-f]{8}", person)
    assert people.add("An Example") == person
    assert People(people.path).name(person) == "An Example"
    assert people.add("Another Example") != person


def test_deleting_the_file_leaves_ids(people: People) -> None:
    person = people.add("An Example")
    people.path.unlink()
    assert people.name(person) == person
    assert people.all() == {}


def test_forgetting_one(people: People) -> None:
    one, other = people.add("One"), people.add("Other")
    people.forget(one)
    people.forget("p-unknown")
    assert people.all() == {other: "Other"}


@pytest.mark.parametrize("contents", ["", "[]", "{", '{"a": 1}', "[" * 100_000])
def test_a_damaged_file(people: People, contents: str) -> None:
    people.path.parent.mkdir()
    people.path.write_text(contents)
    for use in (people.all, lambda: people.add("x"), lambda: people.forget("x"), lambda: people.name("x")):
        with pytest.raises(Refused, match="cannot be read"):
            use()
    assert people.path.read_text() == contents


@pytest.mark.parametrize("name", ["", "  ", "x" * 101])
def test_names_that_are_none(people: People, name: str) -> None:
    with pytest.raises(Refused):
        people.add(name)
    assert not people.path.exists()


def test_not_text_and_too_big(people: People) -> None:
    people.path.parent.mkdir()
    people.path.write_bytes(b"\xff")
    with pytest.raises(Refused, match="not UTF-8"):
        people.all()
    people.path.write_bytes(b" " * (2**20 + 1))
    with pytest.raises(Refused, match="1 MiB"):
        people.all()


def test_a_full_disk_leaves_the_old_file(people: People, monkeypatch: pytest.MonkeyPatch) -> None:
    one = people.add("One")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as failing:
        failing.setattr("os.fsync", full)
        with pytest.raises(Refused) as refused:
            people.add("Other")
    assert refused.value.code == "disk-full"
    assert people.all() == {one: "One"}
    assert [path.name for path in people.path.parent.iterdir()] == ["people.json"]
