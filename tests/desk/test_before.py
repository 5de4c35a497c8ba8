"""What earlier visits to a unit know of it: from real sessions, from altered ones, and from many."""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.desk.visits import SITE
from tests.desk.visits import library as small
from tests.record.helpers import HandClock
from tui.desk.before import Before, before
from tui.desk.past import past_of
from tui.desk.session import Visit
from tui.quantity import Kind, Quantity, Refused, to_json
from tui.record import Writer, verify
from tui.record.replay import replay
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Answers, run_answers

ROOT = Path(__file__).resolve().parents[2]
TODAY = date(2026, 11, 26)
SEA = {"altitude": "0 ft", "today": "2026-11-26"}


@cache
def bundled() -> Library:
    return Library.load(ROOT / "trees")


@cache
def answered(name: str) -> tuple[Mapping[str, Any], ...]:
    walk = run_answers(bundled(), Answers.read(ROOT / "tests" / "answers" / f"{name}.yaml"))
    return tuple(walk.events)


def recorded(folder: Path, name: str, unit: str, day: str = "2026-11-25", ending: str = "0a0a") -> Path:
    """A visit out of an answers file, as a session of that unit."""
    folder.mkdir(exist_ok=True)
    path = folder / f"{day}T0930-{unit}-{ending}.jsonl"
    opened, *events = answered(name)
    with Writer.create(path, HandClock()) as writer:
        writer.append({**opened, "unit": unit, "site": {**opened["site"], "today": day}})
        for event in events:
            writer.append(event)
    return path


def known(found: Before, circuit: str = "main") -> dict[str, Any]:
    return {item["reading"]: item["value"] for item in found.items if item["circuit"] == circuit}


def test_plates_leak_and_finding_of_the_last_visit(tmp_path: Path) -> None:
    recorded(tmp_path, "call-leak-open", "R-7")
    found = known(before(tmp_path, "R-7", bundled(), TODAY))
    assert found["refrigerant"] == "R-134a"
    assert str(found["nameplate-charge"]) == "14 oz"
    assert (found["earlier-leak"], found["earlier-finding"]) == ("found but not mended", "short-of-charge")
    assert found["earlier-leak-place"] == "drier joints"
    assert "suction" not in found, "what is read anew on each visit is not remembered"


def test_a_leak_that_was_mended_and_proven_comes_back_as_mended(tmp_path: Path) -> None:
    recorded(tmp_path, "call-leak", "R-7")
    assert known(before(tmp_path, "R-7", bundled(), TODAY))["earlier-leak"] == "mended"


def test_circuits_come_back_by_their_names(tmp_path: Path) -> None:
    recorded(tmp_path, "call-two-circuits", "P-7")
    found = before(tmp_path, "P-7", bundled(), TODAY)
    assert known(found, "")["circuits"] == "table, freezer"
    assert (known(found, "table")["refrigerant"], known(found, "freezer")["refrigerant"]) == ("R-134a", "R-290")
    walk = Walk.start(bundled(), "call", history=found.items, site=SEA, unit="P-7")
    assert walk.prompt is not None
    assert "circuits" not in [reading.id for reading in walk.prompt.readings]
    assert ("circuits", "table, freezer (from the visit of 2026-11-25)") in walk.prompt.known
    assert walk.circuits == ("table", "freezer")


def test_what_it_knows_is_not_asked_and_says_where_it_is_from(tmp_path: Path) -> None:
    recorded(tmp_path, "call-leak-open", "R-7")
    found = before(tmp_path, "R-7", bundled(), TODAY)
    walk = Walk.start(bundled(), "both-low", history=found.items, site=SEA, unit="R-7")
    shown = {each.reading: each.shown for each in walk.from_before()}
    assert shown["nameplate-charge"] == "14 oz (from the visit of 2026-11-25)"
    assert shown["earlier-finding"].startswith("Short of refrigerant - it has leaked (from")
    (notice,) = found.notices
    assert "main R-134a, 14 oz, last found: Short of refrigerant - it has leaked" in notice


def test_another_units_sessions_are_not_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    recorded(tmp_path, "call-leak-open", "R-7")
    recorded(tmp_path, "call-ice", "R-8")
    recorded(tmp_path, "call-ice", "R-77")
    opened: list[str] = []
    real = Path.open

    def open_(path: Path, *how: Any, **more: Any) -> Any:
        opened.append(path.name)
        return real(path, *how, **more)

    monkeypatch.setattr(Path, "open", open_)
    assert known(before(tmp_path, "r-7 ", bundled(), TODAY))["refrigerant"] == "R-134a", "capitals don't matter"
    assert [name for name in opened if name.endswith(".jsonl")] == ["2026-11-25T0930-R-7-0a0a.jsonl"]


def test_a_tag_that_only_looks_the_same_in_a_file_name(tmp_path: Path) -> None:
    path = recorded(tmp_path, "call-leak-open", "R-7")
    other = tmp_path / "2026-11-25T0930-R_7-0a0a.jsonl"
    path.rename(other)
    assert before(tmp_path, "R_7", bundled(), TODAY) == Before(), "its opening names R-7"


@pytest.mark.parametrize("unit", ["", "  ", "../..", "nobody's", "\0", "K-12" * 30])
def test_no_unit_or_an_unknown_one(tmp_path: Path, unit: str) -> None:
    recorded(tmp_path, "call-leak-open", "R-7")
    assert before(tmp_path, unit, bundled(), TODAY) == Before()
    assert before(tmp_path / "nowhere", unit, bundled(), TODAY) == Before()


def test_damaged_and_newer_files_are_left_out_and_said_once(tmp_path: Path) -> None:
    recorded(tmp_path, "call-leak-open", "R-7", "2026-11-20")
    altered = recorded(tmp_path, "call-ice", "R-7", "2026-11-24")
    altered.write_bytes(altered.read_bytes().replace(b"R-404A", b"R-448A", 1).replace(b"call", b"caII", 1))
    newer = recorded(tmp_path, "call-ice", "R-7", "2026-11-25")
    newer.write_bytes(newer.read_bytes().replace(b"lowside-session 1", b"lowside-session 9", 1))
    (tmp_path / "2026-11-22T0930-R-7-0b0b.jsonl").write_bytes(b"\0" * 400)
    (tmp_path / "2026-11-22T0930-R-7-0c0c.jsonl").write_bytes(b"")
    (tmp_path / "2026-11-22T0930-R-7-0d0d.jsonl").mkdir()
    found = before(tmp_path, "R-7", bundled(), TODAY)
    assert known(found)["refrigerant"] == "R-134a"
    assert "added-last-year" not in known(found), "one of this year can't be read, so nobody knows"
    _, lost = found.notices
    assert lost.startswith("5 earlier sessions of this unit can't be read, so left out: ")
    assert "2026-11-25T0930-R-7-0a0a.jsonl" in lost


def odd_today(opened: dict[str, Any]) -> None:
    opened["site"] = {"today": "last spring"}


def odd_earlier_day(opened: dict[str, Any]) -> None:
    item = {"circuit": "main", "reading": "earlier-leak-place", "value": to_json("flare nuts")}
    opened["history"] = [item | {"visit": "1 May\n2026"}]


def no_day_at_all(opened: dict[str, Any]) -> None:
    opened["site"] = {}


@pytest.mark.parametrize("odd", [odd_today, odd_earlier_day, no_day_at_all])
def test_an_unreadable_day_blocks_no_visit(tmp_path: Path, odd: Callable[[dict[str, Any]], None]) -> None:
    recorded(tmp_path, "call-leak-open", "R-7", "2026-11-20")
    opened = json.loads(json.dumps(answered("call-ice")[0])) | {"unit": "R-7"}
    odd(opened)
    path = tmp_path / "2026-11-31T0930-R-7-0b0b.jsonl"
    with Writer.create(path, HandClock()) as writer:
        for event in (opened, *answered("call-ice")[1:]):
            writer.append(event)
    found = before(tmp_path, "R-7", bundled(), TODAY)
    _, lost = found.notices
    assert lost.startswith(f"1 earlier session of this unit can't be read, so left out: {path.name} ('")
    assert lost.endswith("is no day).")
    assert lost.isprintable()
    walk = Walk.start(bundled(), "call", history=found.items, site=SEA, unit="R-7")
    assert {given.reading for given in walk.from_before()} >= {"refrigerant", "earlier-finding"}


def test_a_circuit_without_a_name_is_none(tmp_path: Path) -> None:
    walk = Walk.start(small(), "small", site=SITE, unit="R-7")
    item = {"circuit": "", "reading": "nameplate-charge", "value": mass(0.4), "visit": "2026-05-01"}
    with Writer.create(tmp_path / "2026-11-25T0930-R-7-0a0a.jsonl", HandClock()) as writer:
        writer.append({**walk.events[0], "history": [item]})
    assert before(tmp_path, "R-7", small(), TODAY).items == ()


def test_a_reading_that_today_is_not_there_or_not_accepted(tmp_path: Path) -> None:
    recorded(tmp_path, "call-leak-open", "R-7")
    readings = dict(bundled().catalogue.readings)
    del readings["plate-amps"]
    readings["metering"] = replace(readings["metering"], answers=("cap tube", "other"))
    readings["nameplate-charge"] = replace(readings["nameplate-charge"], high=0.1)
    today = replace(bundled(), catalogue=replace(bundled().catalogue, readings=readings))
    found = known(before(tmp_path, "R-7", today, TODAY))
    assert not {"plate-amps", "metering", "nameplate-charge"} & set(found)
    assert found["refrigerant"] == "R-134a"


def test_the_latest_word_counts(tmp_path: Path) -> None:
    recorded(tmp_path, "call-leak-open", "R-7", "2026-11-20")
    recorded(tmp_path, "call-ice", "R-7", "2026-11-24")
    found = known(before(tmp_path, "R-7", bundled(), TODAY))
    assert found["earlier-finding"] == "defrost-failed"
    assert found["earlier-leak-place"] == "drier joints", "of the visit before: the later one said nothing of it"


def test_hundreds_of_sessions_stay_quick(tmp_path: Path) -> None:
    session = recorded(tmp_path, "call-leak-open", "R-7").read_bytes()
    for number in range(600):
        day, unit = f"20{10 + number % 15}-01-01", f"U-{number}"
        (tmp_path / f"{day}T0930-{unit}-{number:04x}.jsonl").write_bytes(session)
    began = time.perf_counter()
    assert known(before(tmp_path, "R-7", bundled(), TODAY))["refrigerant"] == "R-134a"
    assert time.perf_counter() - began < 0.5


# ---- in the walk


def test_told_it_is_another_value_and_the_old_one_is_gone() -> None:
    history = [{"circuit": "main", "reading": "nameplate-charge", "value": "14 oz", "visit": "2026-05-01"}]
    walk = Walk.start(small(), "small", site=SITE, history=history)
    (given,) = walk.from_before()
    assert given.shown == "14 oz (from the visit of 2026-05-01)"
    walk.tell("nameplate-charge", "9 oz")
    assert walk.from_before() == []
    charge = walk.machine.circuits["main"].facts.values["nameplate-charge"]
    assert isinstance(charge, Quantity)
    assert charge.si == pytest.approx(9 * 0.028349523125), "no mean of the two"
    with pytest.raises(Refused, match="before"):
        walk.tell("nameplate-charge", "14 oz")


def test_a_session_with_history_can_be_replayed(tmp_path: Path) -> None:
    path = tmp_path / "visit.jsonl"
    history = [
        {"circuit": "main", "reading": "nameplate-charge", "value": "14 oz", "visit": "2026-05-01"},
        {"circuit": "main", "reading": "refrigerant", "value": "R-134a"},
    ]
    visit = Visit.begin(Walk.start(small(), "small", site=SITE, history=history), HandClock(), path)
    visit.act(lambda walk: walk.tell("nameplate-charge", "9 oz"))
    visit.act(lambda walk: walk.close("enough"))
    visit.leave()
    assert verify(path).state == "whole"
    assert replay(path).same


def test_a_day_that_is_none_is_refused() -> None:
    item = {"circuit": "main", "reading": "nameplate-charge", "value": "14 oz", "visit": "last spring"}
    with pytest.raises(Refused, match="no date"):
        Walk.start(small(), "small", site=SITE, history=[item])


# ---- what work on it tells: events as a walk writes them


def mass(kg: float) -> dict[str, Any]:
    return to_json(Quantity(Kind.MASS, kg))


def done(work: str) -> dict[str, Any]:
    return {"event": "done", "circuit": "main", "tree": "t", "step": "s", "work": work}


def judged(kg: float, verdict: str) -> dict[str, Any]:
    return {"event": "judged", "circuit": "main", "value": mass(kg), "verdict": verdict}


def missing(kg: float) -> dict[str, Any]:
    return {"event": "worked-out", "circuit": "main", "name": "charge-missing", "value": mass(kg)}


def found(cause: str, **more: str) -> dict[str, Any]:
    return {"event": "finding", "circuit": "main", "cause": cause, **more}


OPENED = {"event": "opened", "unit": "R-7", "site": {}, "history": [], "known": {"circuits": {}}}
LEAK = found("short-of-charge", place="flare nuts")
MENDED = (done("mends the circuit"), done("weighs the plate charge in"), judged(0.4, "on"))


def said(*events: dict[str, Any]) -> tuple[dict[str, Any], float | None]:
    past = past_of([OPENED, *events], "2026-05-01", bundled().catalogue)
    return {reading: value for (_, reading), (value, _) in past.values.items()}, past.added.get("main")


def test_mended_and_the_plate_charge_weighed_in() -> None:
    values, added = said(missing(0.1), LEAK, *MENDED, found("refrigeration-is-well"))
    assert (values["earlier-leak"], values["earlier-leak-place"]) == ("mended", "flare nuts")
    assert values["earlier-finding"] == "short-of-charge", "what it was, not that it is well now"
    assert str(values["charge-last-right"]) == "2026-05-01"
    assert added == 0.0, "its own charge, weighed in behind the mend, is no gas that was topped up"


def test_mended_and_leaking_again_counts_what_went_in() -> None:
    values, added = said(missing(0.1), LEAK, *MENDED, LEAK)
    assert values["earlier-leak"] == "found but not mended"
    assert added == pytest.approx(0.1)


def test_filled_without_a_mend_counts_what_was_missing() -> None:
    _, added = said(missing(0.1), found("short-of-charge"), *MENDED[1:])
    assert added == pytest.approx(0.1)


def test_a_proven_repair_of_this_year_is_no_topping_up(tmp_path: Path) -> None:
    recorded(tmp_path, "call-leak", "R-7")
    assert "added-last-year" not in known(before(tmp_path, "R-7", bundled(), TODAY))


def test_found_and_left() -> None:
    values, added = said(missing(0.1), LEAK)
    assert values["earlier-leak"] == "found but not mended"
    assert "charge-last-right" not in values
    assert added == 0.0, "nothing went in"


def test_a_plate_charge_that_was_not_reached_is_none() -> None:
    values, added = said(missing(0.1), LEAK, *MENDED[:2], judged(0.3, "low"))
    assert "charge-last-right" not in values
    assert added is None


@pytest.mark.parametrize(
    ("events", "added"),
    [
        ((done("adds refrigerant"), missing(0.05)), 0.05),
        ((done("adds refrigerant"), missing(0.05), done("recovers refrigerant")), 0.0),
        ((done("adds refrigerant"),), None),
        ((missing(0.05),), 0.0),
    ],
)
def test_what_went_in_and_stayed(events: tuple[dict[str, Any], ...], added: float | None) -> None:
    assert said(*events)[1] == (None if added is None else pytest.approx(added))


def test_what_was_taken_back_or_corrected_does_not_count() -> None:
    answer = {"event": "answered", "circuit": "main", "reading": "nameplate-charge", "value": mass(0.4)}
    gone, _ = said(answer, found("overcharge"), {"event": "undone", "circuit": "main", "answers": 1, "back_to": 1})
    assert not gone
    corrected = {"event": "corrected", "circuit": "main", "event_no": 1, "value": mass(0.3)}
    values, _ = said(answer, found("overcharge"), corrected, found("short-of-charge"))
    assert values["nameplate-charge"].si == pytest.approx(0.3)
    assert values["earlier-finding"] == "short-of-charge"


def test_what_a_visit_put_right_is_what_the_next_one_knows(tmp_path: Path) -> None:
    history = [{"circuit": "main", "reading": "refrigerant", "value": "R-134a", "visit": "2026-05-01"}]
    walk = Walk.start(small(), "small", site=SITE, unit="P-8", history=history)
    walk.tell("refrigerant", "R-290")
    walk.close("enough")
    known_now = past_of(walk.events, "2026-11-25", small().catalogue).values
    assert known_now["main", "refrigerant"] == ("R-290", "2026-11-25")


def test_what_was_left_for_this_visit_is_told_as_long_as_none_came_between(tmp_path: Path) -> None:
    path = recorded(tmp_path, "call-leak-open", "R-7", "2026-11-24", "0a0a")
    noted = {"event": "noted", "circuit": "", "text": "sniff the flare again on the 26th", "about": "follow-up"}
    opened, *events = answered("call-leak-open")
    path.unlink()
    with Writer.create(path, HandClock()) as writer:
        for event in ({**opened, "unit": "R-7"}, *events[:-1], noted, events[-1]):
            writer.append(event)
    told = before(tmp_path, "R-7", bundled(), TODAY).notices
    assert told[0].startswith("To be done, as noted on ")
    assert told[0].endswith("sniff the flare again on the 26th")
    recorded(tmp_path, "call-leak-open", "R-7", "2026-11-25", "0b0b")
    assert not any("sniff the flare" in each for each in before(tmp_path, "R-7", bundled(), TODAY).notices)
