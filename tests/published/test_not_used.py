"""The list of published figures that are not used, in DEVELOPERS.md, against the tests."""

from __future__ import annotations

import re
from pathlib import Path

TESTS = Path(__file__).parents[1]
ID = r"[ELNVKRFUSHC]\d\d"


def _not_used() -> set[str]:
    text = (TESTS.parent / "DEVELOPERS.md").read_text("utf-8")
    section = text.split("Not used, and why:")[1].split("The sign table")[0]
    # What is used instead of one stands behind a colon or in brackets.
    heads = re.sub(r"\([^)]*\)", "", section)
    return {found for line in re.split(r"\n- |\. (?=[A-Z]\d\d)", heads) for found in re.findall(ID, line.split(":")[0])}


def _tested() -> set[str]:
    names = " ".join(
        found
        for file in TESTS.rglob("test_*.py")
        for found in re.findall(rf"def test_(?:trap_)?((?:{ID}_)+)", file.read_text("utf-8"), re.IGNORECASE)
    )
    return {found.upper() for found in re.findall(ID, names.replace("_", " "), re.IGNORECASE)}


def test_no_figure_is_both_tested_and_not_used() -> None:
    assert len(_not_used()) > 40
    assert len(_tested()) > 80
    assert not _not_used() & _tested()
