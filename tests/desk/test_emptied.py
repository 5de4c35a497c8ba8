"""A circuit that a visit left empty: the next one knows it, and does not start it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.desk.test_before import OPENED, SEA, TODAY, bundled, done, judged, known, recorded
from tui.desk.before import before
from tui.desk.past import past_of
from tui.quantity import Kind, Quantity, to_json
from tui.walk import Walk

GRAM = 0.001


def mass(name: str, kg: float) -> dict[str, Any]:
    return {"event": "worked-out", "circuit": "main", "name": name, "value": to_json(Quantity(Kind.MASS, kg))}


def answered(reading: str, value: Any) -> dict[str, Any]:
    return {"event": "answered", "circuit": "main", "reading": reading, "value": to_json(value)}


BEFORE = answered("recovery-before", Quantity(Kind.MASS, 5.12))
TAKEN = (BEFORE, done("recovers refrigerant"), mass("came-out", 63 * GRAM))
CHARGED = (done("weighs the plate charge in"), judged(65 * GRAM, "on"))
SURPLUS = (done("recovers refrigerant"), judged(65 * GRAM, "on"))


def said(*events: dict[str, Any]) -> dict[str, Any]:
    past = past_of([OPENED, *events], "2026-11-25", bundled().catalogue)
    return {reading: value for (_, reading), (value, _) in past.values.items()}


def test_recovered_and_nothing_put_in() -> None:
    found = said(*TAKEN)
    assert (found["left-empty"], str(found["emptied-on"])) == ("yes", "2026-11-25")
    assert found["emptied-mass"].si == pytest.approx(63 * GRAM)


@pytest.mark.parametrize(
    ("events", "empty"),
    [
        (TAKEN[:2], "yes"),  # begun and not finished: what came out is not known
        ((answered("circuit-empty", "yes"),), "yes"),  # emptied by somebody else
        ((*TAKEN, *CHARGED), "no"),
        ((*TAKEN, *CHARGED, *SURPLUS), "no"),  # what was over the plate came out again
        ((*TAKEN, *CHARGED, *TAKEN), "yes"),
        ((answered("charged-since", "yes"),), "no"),
        ((BEFORE,), None),
        ((), None),
    ],
)
def test_what_counts_as_left_empty(events: tuple[dict[str, Any], ...], empty: str | None) -> None:
    assert said(*events).get("left-empty") == empty


def leaves_empty(folder: Path, day: str) -> None:
    """A visit that was broken off right after the recovery, out of one that went on to its end."""
    path = recorded(folder, "call-leak", "R-7", day, "0e0e")
    lines = path.read_bytes().splitlines(keepends=True)
    at = next(n for n, line in enumerate(lines) if b'"name":"came-out"' in line)
    path.write_bytes(b"".join(lines[: at + 1]))


def test_the_next_visit_is_told_and_offers_the_repair(tmp_path: Path) -> None:
    leaves_empty(tmp_path, "2026-11-25")
    found = before(tmp_path, "R-7", bundled(), TODAY)
    assert known(found)["left-empty"] == "yes"
    assert "charge-last-right" not in known(found), "nothing is in it, so nothing is right"
    assert "LEFT EMPTY 2026-11-25: do not start it" in found.notices[0]
    walk = Walk.start(bundled(), "call", history=found.items, site=SEA, unit="R-7")
    steps = []
    while walk.prompt is not None and walk.prompt.kind != "offer":
        prompt = walk.prompt
        steps.append((prompt.step, prompt.words))
        if prompt.kind == "ask":
            walk.couldnt("nobody knows")
        else:
            walk.done()
    words = dict(steps)["left-without-gas"]
    assert "taken out 2026-11-25" in words
    assert "Do not start it" in words
    assert [(each.circuit, each.at) for each in walk.findings] == [("main", "circuit-call/still-empty")]
    walk.accept_offer(True)
    assert [each["to"] for each in walk.events if each["event"] == "entered" and "to" in each] == []


def test_charged_on_a_later_visit_it_is_no_longer_empty(tmp_path: Path) -> None:
    leaves_empty(tmp_path, "2026-11-20")
    recorded(tmp_path, "call-leak", "R-7", "2026-11-25", "0f0f")
    found = before(tmp_path, "R-7", bundled(), TODAY)
    assert known(found)["left-empty"] == "no"
    assert str(known(found)["charge-last-right"]) == "2026-11-25"
    assert "empty-circuits" not in known(found, "")
    assert "emptied-mass" not in known(found)
    assert "EMPTY" not in found.notices[0]


def test_a_visit_that_only_looked_leaves_it_empty(tmp_path: Path) -> None:
    leaves_empty(tmp_path, "2026-11-20")
    recorded(tmp_path, "call-ice", "R-7", "2026-11-25", "0f0f")
    assert known(before(tmp_path, "R-7", bundled(), TODAY))["left-empty"] == "yes"
