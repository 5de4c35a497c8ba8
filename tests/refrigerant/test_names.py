"""Refrigerant names as people type them."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui import refrigerant as r
from tui.quantity import Refused
from tui.refrigerant.names import key
from tui.refrigerant.table import DATA

LIST = [
    "R-134a", "R-290", "R-600a", "R-744", "R-717", "R-22", "R-32", "R-152a", "R-1234yf", "R-1234ze(E)",
    "R-1270", "R-12", "R-404A", "R-507A", "R-410A", "R-407A", "R-407C", "R-407F", "R-448A", "R-449A",
    "R-450A", "R-452A", "R-454A", "R-454B", "R-454C", "R-455A", "R-513A", "R-515B", "R-422D", "R-427A",
    "R-438A", "R-502", "R-401A", "R-402A", "R-408A", "R-409A",
]  # fmt: skip


def test_the_whole_list_is_carried() -> None:
    assert sorted(r.ids()) == sorted(LIST)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("R-134a", "R-134a"),
        ("r134a", "R-134a"),
        ("134A", "R-134a"),
        ("R134 a", "R-134a"),
        ("HFC-134a", "R-134a"),
        (" R‑134a ", "R-134a"),
        ("r.134a", "R-134a"),
        ("Refrigerant 134a", "R-134a"),
        ("propane", "R-290"),
        ("Propane (R290)", "R-290"),
        ("R-744 / CO2", "R-744"),
        ("R-22 / R-404A", None),
        ("R-22 (what)", None),
        ("isobutane", "R-600a"),
        ("iso-butane", "R-600a"),
        ("CO2", "R-744"),
        ("carbon dioxide", "R-744"),
        ("ammonia", "R-717"),
        ("NH3", "R-717"),
        ("448 a", "R-448A"),
        ("R448a", "R-448A"),
        ("HFO-1234yf", "R-1234yf"),
        ("r1234ze", "R-1234ze(E)"),
        ("R-1234ze(e)", "R-1234ze(E)"),
        ("HCFC-22", "R-22"),
        ("404", "R-404A"),
        ("22", "R-22"),
    ],
)
def test_as_people_type_them(typed: str, meant: str | None) -> None:
    if meant is None:
        with pytest.raises(Refused):
            r.resolve(typed)
    else:
        assert r.resolve(typed) == meant


@pytest.mark.parametrize("name", LIST)
def test_every_name_survives_careless_typing(name: str) -> None:
    bare = name.removeprefix("R-")
    for typed in (name, name.lower(), name.upper(), name.replace("-", ""), bare, f"  {bare} "):
        assert r.resolve(typed) == name


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("R-407", ["R-407A", "R-407C", "R-407F"]),
        ("R-143b", ["R-134a"]),
        ("R404B", ["R-404A"]),
        ("propan", ["R-290"]),
        ("r454", ["R-454A", "R-454B", "R-454C"]),
    ],
)
def test_unknown_offers_the_nearest(typed: str, offered: list[str]) -> None:
    with pytest.raises(Refused) as refused:
        r.resolve(typed)
    assert refused.value.code == "unknown-refrigerant"
    assert all(name in refused.value.cure for name in offered)


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ("R-417A", "disagree among sources"),
        ("r500", "disagree among sources"),
        ("R-422B", "disagree among sources"),
        ("R414B", "no measured data"),
        ("R-123", "low-pressure"),
        ("R-452B", "not one of the refrigerants whose figures have been checked"),
        ("water", "no refrigerant charge"),
    ],
)
def test_known_but_not_carried_is_refused_by_name_with_the_reason(typed: str, part: str) -> None:
    with pytest.raises(Refused) as refused:
        r.resolve(typed)
    assert refused.value.code == "unsupported-refrigerant"
    assert part in refused.value.message
    assert refused.value.message.startswith("R-")
    assert "saturation temperature" in refused.value.cure


def test_a_missing_letter_is_offered() -> None:
    with pytest.raises(Refused) as refused:
        r.resolve("R-600")
    assert "Did you mean R-600a?" in refused.value.cure


def test_no_two_names_are_one() -> None:
    data = json.loads((DATA / "names.json").read_text(encoding="utf-8"))
    names = [*r.ids(), *data["not_carried"]]
    assert len({key(name) for name in names}) == len(names)
    assert set(data["names"].values()) <= set(names)
    assert all(key(other) == other for other in data["names"])
    assert set(data["not_carried"].values()) <= set(data["why"])


@given(st.text(max_size=200))
def test_no_text_breaks_it(text: str) -> None:
    try:
        found = r.resolve(text)
    except Refused as refusal:
        refused = refusal
    else:
        assert found in r.ids()
        return
    assert refused.code in ("unknown-refrigerant", "unsupported-refrigerant")
    assert refused.message
    assert refused.cure
    assert len(refused.message) < 300


def test_what_is_none_of_these_has_no_figures_and_says_what_to_do() -> None:
    with pytest.raises(Refused) as refused:
        r.resolve(r.UNLISTED)
    assert refused.value.code == "unlisted-refrigerant"
    assert "saturation temperature" in refused.value.cure
    assert r.UNLISTED not in r.ids()
