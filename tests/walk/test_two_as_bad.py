"""Two instruments as bad as each other, and a library that holds its catalogue in another order."""

from __future__ import annotations

from dataclasses import replace

from tests import bundled
from tests.walk.conftest import SEA
from tui.walk import Walk

#: Split over air is 23 dF, wanted at least 22 dF: clamp and air thermometer are each good to 1 dF. Invented.
GIVEN = {
    "equipment": "reach-in cooler",
    "metering": "cap tube",
    "nameplate-charge": "9 oz",
    "high-side-rating": "250 psig",
    "box-wanted": "38 °F",
    "return-air": "38 °F",
    "supply-air": "32 °F",
    "evaporator-outlet": "27 °F",
    "evaporator-bend": "18.5 °F",
    "condenser-air": "75 °F",
    "condenser-bend": "98 °F",
    "condenser-outlet": "87 °F",
    "earlier-leak": "none known",
    "added-last-year": "0 oz",
}


def to_the_close_call() -> Walk:
    walk = Walk.start(bundled.library(), "clamp-on", site=SEA)
    walk.answer({"refrigerant": "R-134a"})
    for name, value in GIVEN.items():
        walk.tell(name, value)
    while walk.prompt is not None and walk.prompt.kind != "close-call":
        if walk.prompt.kind == "caution":
            walk.acknowledge()
        elif walk.prompt.kind == "wait":
            walk.waited(walk.prompt.seconds or 0)
        else:
            walk.done()
    return walk


def test_which_is_checked_does_not_hang_on_the_order_of_the_catalogue() -> None:
    walk = to_the_close_call()
    walk.answer("zero")
    walk.done()
    assert [e["instrument"] for e in walk.events if e["event"] == "instrument-checked"] == ["air-probe"]
    library = bundled.library()
    sorted_catalogue = replace(library.catalogue, readings=dict(sorted(library.catalogue.readings.items())))
    again = Walk.from_events(replace(library, catalogue=sorted_catalogue), walk.events)
    assert [e for e in again.events if e["event"] == "instrument-checked"]
