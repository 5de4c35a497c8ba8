"""Why, in short: what stays possible, and what a decision saw."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.review.test_bundled import HERE, library, told
from tests.review.visits import flat, section
from tui.review.account import Account, Entry
from tui.review.because import OUT, UNSEEN, not_excluded, ruled_out, seen_at, would_tell
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


# ---- what would tell, and what was passed without being seen

BUNDLED = Wording(library())


def routed(place: str, *rows: str, n: int = 7) -> Entry:
    tree, _, step = place.partition("/")
    return entry(n, event="routed", tree=tree, step=step, rows=list(rows), to="x", unsettled=True)


def couldnt(n: int, tree: str, reading: str, reason: str) -> Entry:
    return entry(n, event="couldn't", tree=tree, step="x", readings=[reading], reason=reason)


def test_the_reading_behind_a_decision_that_stayed_open_is_named() -> None:
    """Hoses the wrong way round are seen by suction and head."""
    decision = routed("one-set/hoses-the-right-way", "otherwise")
    account = Account({}, [couldnt(3, "one-set", "suction", "no port"), decision])
    assert list(would_tell(account, BUNDLED, decision)) == ["suction (not had: no port)", "head (not asked)"]


def test_it_is_looked_for_behind_verdicts_and_results() -> None:
    """A superheat level is not known without the two temperatures that a superheat is made of."""
    decision = routed("run-to-setting/is-it-well", "otherwise")
    said = list(would_tell(Account({}, [decision]), BUNDLED, decision))
    assert any(text.startswith("evaporator outlet (") for text in said), said
    assert not any("level" in text for text in said), "a verdict is nothing that can be measured"


def test_what_was_had_is_not_asked_for_again() -> None:
    decision = routed("one-set/hoses-the-right-way", "otherwise")
    value = {"kind": "gauge pressure", "value": "8", "unit": "[psi]", "gauge": True, "typed": "8 psig"}
    given = entry(3, event="answered", tree="one-set", step="x", reading="suction", value=value)
    assert list(would_tell(Account({}, [given, decision]), BUNDLED, decision)) == ["head (not asked)"]


def test_a_verdict_near_its_limit_wants_a_closer_measurement() -> None:
    judged = {"event": "judged", "tree": "one-set", "step": "x", "name": "suction", "compared": "suction"}
    near = entry(3, **judged, value=None, low=None, high=None, verdict="low", close="on")
    decision = routed("one-set/hoses-the-right-way", "otherwise")
    said = list(would_tell(Account({}, [near, decision]), BUNDLED, decision))
    assert said == ["suction, measured closer", "head (not asked)"]


def test_the_sheet_names_it() -> None:
    """Clamped only: no gauges went on, so neither pressure was asked."""
    sheet = told("call-drier")
    tell = flat(section(sheet, "MAIN: WHY 1 OF 2, 09:30")).partition("What would tell: ")[2]
    assert "suction (not asked); head (not asked)" in tell
    assert "Compressor stuck" in flat(section(sheet, "MAIN: RULED OUT ON THE WAY"))


def test_ruled_out_turned_from_and_not_seen_are_told_apart(tmp_path: Path) -> None:
    """The same visit with a warm drier: the suction line comes next, and without a gauge nothing is known of it."""
    text = (HERE / "call-drier.yaml").read_text("utf-8")
    warm = {"cold-spot: at the drier": "cold-spot: nowhere", "drier-outlet: 22.0": "drier-outlet: 30.3"}
    for was, now in (warm | {"liquid-line: 21.5": "liquid-line: 30.1", "offer: yes": "offer: no"}).items():
        assert was in text
        text = text.replace(was, now)
    (tmp_path / "warm.yaml").write_text(text, "utf-8")
    sheet = told(str(tmp_path / "warm"))
    # The warm rest ends it, and the last look at the line, before a cut, was still to come: not excluded, not ruled out
    open_still = flat(section(sheet, "MAIN: WHY, 09:30")).partition("Not excluded")[2]
    assert "Suction line restricted" in open_still
    assert "Door or gasket lets air in" in open_still
    ruled = flat(section(sheet, "MAIN: RULED OUT ON THE WAY"))
    assert "Compressor stuck" in ruled
    assert "Suction line restricted" not in ruled
    two = told("call-two-circuits")
    assert "Suction line restricted" in flat(section(two, "FREEZER: NOT FOLLOWED ONCE THAT WAS SEEN"))
    assert "Suction line restricted" not in flat(section(two, "FREEZER: RULED OUT ON THE WAY"))


def test_what_was_passed_without_being_seen_is_not_ruled_out() -> None:
    """Neither pressure was known where the hoses were judged; the fan was seen later: each cause is told once."""
    place, later = "one-set/hoses-the-right-way", "both-low/fan-and-frost"
    names = {"tree": "one-set", "step": "x", "value": None, "low": None, "high": None, "verdict": None}
    judged = [entry(n, event="judged", **names, name=name, compared=name) for n, name in ((2, "suction"), (3, "head"))]
    gone = [{"cause": "drier-blocked", "at": place}, {"cause": "overcharge", "at": place}]
    gone += [{"cause": "overcharge", "at": later}]
    evidence = [{"at": later, "to": "x"}, {"at": "end/end", "to": "y"}]
    found = entry(9, event="finding", cause="cannot-tell", could_be=[], evidence=evidence, ruled_out=gone)
    account = Account({}, [*judged, routed(place, "otherwise"), found])
    causes = {how: said for _, said, how in ruled_out(account, BUNDLED, [found])}
    assert causes == {OUT: "Too much refrigerant inside", UNSEEN: "Filter drier blocked"}


def test_a_time_is_not_told_as_a_fault() -> None:
    """A hold that needs longer than the first look says nothing of the unit."""
    sheet = told("call-leak")
    assert "Not as wanted" not in section(sheet, "MAIN: WHY 3 OF 3, 09:30")
    assert "Hold needed 26.2 h; wanted at most 60 min: LONGER" in flat(section(sheet, "MAIN: JUDGED"))
