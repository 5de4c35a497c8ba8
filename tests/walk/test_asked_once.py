"""What was answered, and nothing has changed since, is not asked once more after an offer."""

from __future__ import annotations

import pytest

from tests import bundled
from tui.proof.examples import walked


@pytest.mark.parametrize(
    ("example", "readings"),
    [
        ("reach-in-freezer-overfilled-over-its-plate", ("gauges-on",)),
        ("reach-in-bulb-right-and-starved", ("evaporator-coil", "condenser-looks", "air-path", "gauges-on")),
    ],
)
def test_nothing_is_asked_twice(example: str, readings: tuple[str, ...]) -> None:
    found = next(each for each in bundled.examples() if each.name == example)
    walk, refused = walked(bundled.library(), found.answers)
    assert walk is not None, refused
    assert any(event["event"] == "offered" and event["accepted"] for event in walk.events)
    asked = [event.get("reading") for event in walk.events if event["event"] == "answered"]
    assert {reading: asked.count(reading) for reading in readings} == dict.fromkeys(readings, 1)


def test_where_none_is_missing_nobody_asks_how_much_and_since_when() -> None:
    found = next(each for each in bundled.examples() if each.name == "repair-rating-by-the-maker")
    walk, refused = walked(bundled.library(), found.answers)
    assert walk is not None, refused
    assert "hold-needed" in {event.get("name") for event in walk.events if event["event"] == "worked-out"}
    asked = {event.get("reading") for event in walk.events if event["event"] in ("answered", "couldn't")}
    assert not asked & {"charge-missing", "charge-last-right", "circuit-volume"}
