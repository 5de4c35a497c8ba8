"""Why, in short: what stays possible, and what a decision saw."""

from __future__ import annotations

from typing import Any

from tui.review.account import Account, Entry
from tui.review.because import OUT, not_excluded, ruled_out, seen_at
from tui.review.wording import Wording

WORDS = Wording(None)


def entry(n: int, **event: Any) -> Entry:
    return Entry(n, "2026-11-25T09:30:00-05:00", {"circuit": "main", **event})


def finding(still_possible: list[str], **more: Any) -> Entry:
    event = {"event": "finding", "cause": "contactor", "could_be": [], "evidence": [], "ruled_out": []}
    return entry(9, **event, still_possible=still_possible, **more)


def test_a_few_are_named() -> None:
    assert not_excluded(Account({}), WORDS, finding(["drier-blocked", "contactor"])) == "Drier blocked; Contactor"
    assert not_excluded(Account({}), WORDS, finding([])) == ""


def test_nearly_everything_is_counted_and_where_it_stayed_open_is_said() -> None:
    account = Account({}, [entry(3, event="routed", tree="clamp-on", step="x", rows=["a"], to="b", unsettled=True)])
    said = not_excluded(account, WORDS, finding([f"cause-{n}" for n in range(20)]))
    assert said == "20 more causes, for a decision on the way stayed open (clamp on)"


def test_without_trees_the_row_itself_is_told() -> None:
    account = Account({}, [entry(3, event="routed", tree="clamp-on", step="x", rows=["runs steadily"], to="b")])
    assert seen_at(account, WORDS, finding([]), "clamp-on/x") == "runs steadily"
    assert seen_at(account, WORDS, finding([]), "clamp-on/y") == ""


def test_what_a_called_tree_came_back_with_is_seen_too() -> None:
    account = Account({}, [entry(3, event="left", tree="gas-check", step="go-gas-check", outcome="all-clear")])
    assert seen_at(account, WORDS, finding([]), "both-low/go-gas-check") == "gas check: all clear"


def test_a_cause_found_in_the_end_is_not_among_those_ruled_out() -> None:
    out = [{"cause": "contactor", "at": "a/b"}, {"cause": "drier-blocked", "at": "a/b"}]
    found = entry(9, **{**finding([]).event, "ruled_out": out, "circuit": "main"})
    assert [(causes, last) for _, causes, last in ruled_out(Account({}), WORDS, [found])] == [("Drier blocked", OUT)]
