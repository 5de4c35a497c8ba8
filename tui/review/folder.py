"""All visits of a folder on one page, those that a lead looks at first on top."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from tui.quantity import Refused
from tui.record.replay import replay
from tui.review.brief import Brief, Rank, brief
from tui.review.page import Page
from tui.review.unusual import STILL_ON
from tui.review.wording import counted

_HEADINGS = {
    Rank.FILE: ("File wrong", "the file is not as it was written, or comes to something else"),
    Rank.LEFT: ("Left on or empty", "something was left on, open or without its charge"),
    Rank.HELD: ("Held or cut short", "the technician held something against the walk, or cut a wait"),
    Rank.UNFINISHED: ("Not finished", "still open, or closed early"),
    Rank.NOTHING: ("Nothing unusual", "to its end, and nothing held against it"),
}


def review_of(paths: Iterable[Path], *, again: bool = False, all_of_them: bool = False) -> tuple[str, int]:
    """One page of plain lines, and how many files are wrong.

    again: each is walked once more, and named where it comes to something else. all_of_them: those with nothing
    unusual are listed too, not only counted. Never raises for what lies there.
    """
    looked = [(path, _walked_again(path, brief(path)) if again else brief(path)) for path in sorted(paths)]
    page = Page()
    page.heading(counted(len(looked), "visit", "visits"))
    for rank, (label, what) in _HEADINGS.items():
        page.row(label, f"{sum(each.rank is rank for _, each in looked)}: {what}")
    for rank in Rank:
        mine = [(path, each) for path, each in looked if each.rank is rank]
        if mine and (all_of_them or rank is not Rank.NOTHING):
            page.heading(_HEADINGS[rank][0])
            _listed(page, mine)
    return page.text, sum(each.rank is Rank.FILE for _, each in looked)


def _listed(page: Page, visits: list[tuple[Path, Brief]]) -> None:
    """What is still on first, then the latest: the names begin with the day."""
    latest = visits[::-1]
    latest.sort(key=lambda one: not any(why.startswith(STILL_ON) for why in one[1].why))
    for path, each in latest:
        unit = f"{each.unit}, " if each.unit else ""
        why = f" - {'; '.join(each.why)}" if each.why else ""
        gas = f"Refrigerant: {each.gas}" if each.gas else ""
        page.item(f"{unit}{path.name}{why}. {_sentences(each.said, each.seen, gas)}")


def _sentences(*said: str) -> str:
    return " ".join(f"{text.rstrip('.')}." for text in said if text)


def _walked_again(path: Path, told: Brief) -> Brief:
    if told.rank is Rank.FILE:
        return told
    try:
        found = replay(path)
    except Refused as refused:
        return replace(told, rank=Rank.FILE, why=(f"cannot be walked again: {refused.message}", *told.why))
    if found.same or found.first is None:
        return told
    first = found.first
    said = f"walked again it differs: line {first.n + 1} ({first.what}) says {first.then}, now {first.now}"
    return replace(told, rank=Rank.FILE, why=(said, *told.why))
