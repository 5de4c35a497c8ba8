"""What a step told a person, filled in as it stood when it was done."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.review.test_bundled import library
from tests.review.visits import SMALL, begun, charged, to_the_gauges
from tui.quantity import Quantity, to_json
from tui.record import read
from tui.review.account import Account, Entry, account_of
from tui.review.filled import filled, latest, value_at
from tui.review.wording import Wording
from tui.tree.library import Library
from tui.tree.model import Do, Judge, Name, Text
from tui.tree.spot import Spot

SPOT = Spot("x.yaml", 1, 1)
SMALL_WORDS = Wording(Library.load(SMALL))
WORDS = Wording(library())


def entry(n: int, event: str, circuit: str = "main", **data: Any) -> Entry:
    return Entry(n, "2026-11-25T09:30:00-05:00", {"event": event, "circuit": circuit, **data})


def gave(n: int, reading: str, text: str, unit: str, circuit: str = "main") -> Entry:
    value = to_json(Quantity.of(float(text), unit))
    return entry(n, "answered", circuit, tree="small", step="x", reading=reading, value=value)


def text_of(*parts: str | Name) -> Text:
    return Text("", parts, SPOT)


def test_a_name_is_filled_in_with_what_stood_before() -> None:
    account = Account({}, [gave(3, "suction", "4", "psig"), gave(7, "suction", "15", "psig")])
    told = text_of("Suction ", Name("suction", SPOT), ".")
    assert filled(account, SMALL_WORDS, told, entry(5, "done", tree="small")) == "Suction 4.0 psig."
    assert filled(account, SMALL_WORDS, told, entry(9, "done", tree="small")) == "Suction 15.0 psig."


def test_what_was_not_known_is_said_to_be_not_known() -> None:
    told = text_of("Leak ", Name("leak-rate", SPOT))
    assert filled(Account({}), SMALL_WORDS, told, entry(5, "done", tree="small")) == "Leak not known"


def test_in_the_units_of_the_visit() -> None:
    worked = entry(3, "worked-out", tree="small", step="x", name="net", value=to_json(Quantity.of(100.0, "g")))
    told = text_of(Name("net", SPOT))
    at = entry(5, "done", tree="small")
    assert filled(Account({"units": "SI"}, [worked]), SMALL_WORDS, told, at) == "100 g"
    assert filled(Account({"units": "US"}, [worked]), SMALL_WORDS, told, at) == "3.53 oz"


def test_a_figure_of_the_catalogue_stands_as_it_is() -> None:
    """The settling time of the small library: 4 minutes."""
    assert value_at(Account({}), SMALL_WORDS, "settle", entry(5, "done", tree="small")) == "4 min"


def test_another_circuit_does_not_fill_in() -> None:
    account = Account({}, [gave(3, "suction", "4", "psig", "freezer")])
    assert value_at(account, SMALL_WORDS, "suction", entry(5, "done", "table", tree="small")) == ""
    assert value_at(account, SMALL_WORDS, "suction", entry(5, "done", "freezer", tree="small")) == "4.0 psig"


def test_what_is_of_the_unit_fills_in_for_every_circuit() -> None:
    door = entry(3, "answered", "freezer", tree="small", step="x", reading="door", value=to_json("no"))
    assert value_at(Account({}, [door]), SMALL_WORDS, "door", entry(5, "done", "table", tree="small")) == "no"


def test_a_result_of_another_tree_is_another_thing() -> None:
    """Only what the catalogue shares between trees is seen from a second one."""
    net: dict[str, Any] = {"value": to_json(Quantity.of(2.0, "oz")), "step": "x", "name": "net"}
    shared: dict[str, Any] = {"value": to_json(Quantity.of(4.0, "°F")), "step": "x", "name": "evaporating-now"}
    account = Account({}, [entry(3, "worked-out", tree="other", **net), entry(4, "worked-out", tree="other", **shared)])
    at = entry(9, "done", tree="small")
    assert value_at(account, SMALL_WORDS, "net", at) == ""
    assert value_at(account, SMALL_WORDS, "evaporating-now", at) == "4 °F"


def test_known_from_the_beginning() -> None:
    stored = to_json(Quantity.of(14.0, "oz"))
    at = entry(5, "done", tree="small")
    known = Account({"known": {"circuits": {"main": {"nameplate-charge": stored}}}})
    history = Account({"history": [{"circuit": "main", "reading": "nameplate-charge", "value": stored}]})
    assert value_at(known, SMALL_WORDS, "nameplate-charge", at) == "14 oz"
    assert value_at(history, SMALL_WORDS, "nameplate-charge", at) == "14 oz"


def test_a_verdict_in_words() -> None:
    judged = {"tree": "small", "step": "x", "name": "suction-level"}
    at = entry(9, "done", tree="small")
    for verdict, words in (("on", "as wanted"), ("low", "low"), (None, "")):
        account = Account({}, [entry(3, "judged", verdict=verdict, value=None, **judged)])
        assert value_at(account, SMALL_WORDS, "suction-level", at) == words


def test_the_place_and_what_it_is_made_of() -> None:
    """A drier joint is copper, in the catalogue of places that comes along."""
    there = {"tree": "leak-search", "step": "ask-oil-there", "reading": "sniff", "place": "drier joints"}
    account = Account({}, [entry(3, "answered", value=to_json("hit"), **there)])
    at = entry(5, "done", tree="leak-search")
    assert value_at(account, WORDS, "place", at) == "drier joints"
    assert value_at(account, WORDS, "place-metal", at) == "copper"
    assert value_at(account, WORDS, "place", entry(5, "done", tree="small")) == ""


@pytest.mark.parametrize(("tonnes", "words"), [(0.0000017, "under 0.001"), (0.02, "0.02"), (5.25, "5.25")])
def test_a_few_grams_of_propane_are_not_told_to_the_microgram(tonnes: float, words: str) -> None:
    """86 g of a gas with a GWP of 0.02 (Regulation (EU) 2024/573, Annex VI: propane) are 0.0000017 t."""
    number = to_json(Quantity.of(tonnes, ""))
    account = Account({}, [entry(3, "worked-out", tree="repair-and-prove", step="tonnes", name="tonnes", value=number)])
    assert value_at(account, WORDS, "tonnes", entry(5, "done", tree="repair-and-prove")) == words


def test_as_recorded_by_a_walk(tmp_path: Path) -> None:
    """The latest of a name before an event, not after it."""
    visit = charged(to_the_gauges(begun(tmp_path / "a.jsonl")))
    visit.visit.leave()
    account = account_of(read(visit.path).lines, SMALL_WORDS.catalogue)
    scales = [e for e in account.of("answered") if e.event.get("reading") == "scale"]
    between = next(e for e in account.of("done") if scales[0].n < e.n < scales[1].n)
    found = latest(account, SMALL_WORDS, "scale", between)
    assert found is not None
    assert found.n == scales[0].n


def test_steps_tell_what_they_told(tmp_path: Path) -> None:
    """Each `do` of the bundled trees can be filled in, though nothing be known."""
    for tree in library().trees.values():
        for step in tree.named.values():
            if isinstance(step, Do):
                assert filled(Account({}), WORDS, step.tell, entry(5, "done", tree=tree.name))
            if isinstance(step, Judge):
                assert WORDS.behind(step.result, tree.name)
