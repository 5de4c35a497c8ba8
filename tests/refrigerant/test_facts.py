"""Safety class, GWP, flammability: each figure with its source, none from the property library's metadata."""

from __future__ import annotations

import pytest

from tui import refrigerant as r

# ANSI/ASHRAE 34; the classes from memory (S01, S03 also stand so in CoolProp's metadata).
CLASSES = [
    ("S01", "A1", "R-134a R-404A R-507A R-22 R-410A R-744"),
    ("S02", "A1", "R-407A R-407C R-407F R-448A R-449A R-452A R-513A R-12 R-502"),
    ("S03", "A3", "R-290"),
    ("S04", "A3", "R-600a R-1270"),
    ("S05", "A2L", "R-32 R-1234yf R-1234ze(E) R-454A R-454B R-454C R-455A"),
    ("S06", "B2L", "R-717"),
    ("S07", "A2", "R-152a"),
]


@pytest.mark.parametrize(
    ("row", "name", "expected"), [(row, name, cls) for row, cls, names in CLASSES for name in names.split()]
)
def test_safety_class(row: str, name: str, expected: str) -> None:
    found = r.facts(name)
    assert found.safety_class == expected, row
    assert "ASHRAE 34" in found.safety_class_source
    assert found.flammable == (expected not in ("A1", "B1"))


def test_trap_S08_not_from_the_property_librarys_metadata() -> None:
    """S08, CoolProp 8.0.0 says: R-32 A2, R-717 B2, R-600a UNKNOWN, GWP of R-404A 3900, of R-407C 1800."""
    assert r.facts("R-32").safety_class == "A2L"
    assert r.facts("R-717").safety_class == "B2L"
    assert r.facts("R-600a").safety_class == "A3"
    assert r.facts("R-404A").gwp["AR4"].value == pytest.approx(3921.6)
    assert r.facts("R-407C").gwp["AR4"].value == pytest.approx(1773.85)


def test_u01_the_regulations_own_example() -> None:
    """U01: Regulation (EC) No 842/2006 Annex I part 2."""
    assert r.blend_gwp([(23, 550), (25, 3400), (52, 1300)]) == pytest.approx(1652.5, abs=1e-9)


# U02-U06: EU Annex I as printed in the annexes to COM(2022)150. U07-U17: composition sums; U07, U08
# also published rounded by netregs.org.uk; U13-U17 with R-1234yf 4 and R-1234ze(E) 7 of 517/2014.
GWP_517 = [
    ("U02", "R-134a", 1430, 0),
    ("U03", "R-32", 675, 0),
    ("U06", "R-152a", 124, 0),
    ("U07", "R-404A", 3921.6, 0.01),
    ("U08", "R-410A", 2087.5, 0.01),
    ("U09", "R-507A", 3985, 0.01),
    ("U10", "R-407A", 2107, 0.01),
    ("U11", "R-407F", 1824.5, 0.01),
    ("U12", "R-407C", 1773.85, 0.01),
    ("U13", "R-448A", 1387, 1),
    ("U14", "R-449A", 1397, 1),
    ("U15", "R-452A", 2140, 1),
    ("U16", "R-454C", 148, 1),
    ("U17", "R-513A", 631, 1),
]


@pytest.mark.parametrize(("row", "name", "expected", "tolerance"), GWP_517)
def test_gwp_of_regulation_517_2014(row: str, name: str, expected: float, tolerance: float) -> None:
    figure = r.facts(name).gwp["EU 517/2014"]
    assert figure.value == pytest.approx(expected, abs=tolerance or 1e-9), row
    assert "517/2014" in figure.source


@pytest.mark.parametrize(("row", "component", "expected"), [("U04", "R-125", 3500), ("U05", "R-143a", 4470)])
def test_gwp_of_components_that_are_no_refrigerant_here(row: str, component: str, expected: float) -> None:
    """U04, U05 through R-507A, half of each: the only unknown left is the component itself."""
    other = {"R-125": 4470, "R-143a": 3500}[component]
    assert r.facts("R-507A").gwp["AR4"].value * 2 - other == pytest.approx(expected), row


# Composition sums with Regulation (EU) 2024/573 Annex II (R-1234yf 0.501, R-1234ze(E) 1.37); R-290: Annex VI.
@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("R-448A", 1386.0),
        ("R-449A", 1396.2),
        ("R-452A", 2139.4),
        ("R-454C", 145.5),
        ("R-513A", 629.5),
        ("R-290", 0.02),
        ("R-134a", 1430),
    ],
)
def test_gwp_of_regulation_2024_573(name: str, expected: float) -> None:
    figure = r.facts(name).gwp["EU 2024/573"]
    assert figure.value == pytest.approx(expected, abs=0.06 if expected > 1 else 1e-9)
    assert "2024/573" in figure.source


@pytest.mark.parametrize(("name", "expected"), [("R-134a", 1300), ("R-32", 677), ("R-404A", 3943)])
def test_u26_gwp_of_ar5(name: str, expected: float) -> None:
    """U26: IPCC AR5 WG1 Table 8.A.1, from memory; R-404A = .44 x 3170 + .52 x 4800 + .04 x 1300 = 3942.8."""
    assert r.facts(name).gwp["AR5"].value == pytest.approx(expected, abs=0.5)


def test_a_figure_is_left_out_where_no_source_could_be_named() -> None:
    assert "AR4" not in r.facts("R-1234yf").gwp
    assert "AR4" not in r.facts("R-448A").gwp


# Multiples of the LFL that the appliance standards take: 13 x (IEC 60335-2-89) and 8 x (UL 60335-2-89), from
# memory, 4 x and 26 x (IEC 60335-2-40; 988 g is published). S15 is then capped at 1.2 kg.
@pytest.mark.parametrize(
    ("row", "name", "times", "grams"),
    [
        ("S12", "R-290", 13, 494),
        ("S13", "R-290", 8, 304),
        ("S14", "R-290", 4, 152),
        ("S14", "R-290", 26, 988),
        ("S15", "R-32", 13, 3991),
        ("S15", "R-1234yf", 13, 3757),
    ],
)
def test_lower_flammability_limit(row: str, name: str, times: int, grams: float) -> None:
    lfl = r.facts(name).lfl
    assert lfl is not None
    assert lfl.value * times * 1000 == pytest.approx(grams, abs=1), row


@pytest.mark.parametrize("name", r.ids())
def test_facts_are_whole(name: str) -> None:
    found = r.facts(name)
    assert found.id == name
    assert found.composition_source
    assert all(figure.source for figure in found.gwp.values())
    assert found.lfl is None or found.flammable
    assert found.lfl is None or found.lfl.source
    assert found.charges_as == ("vapour" if found.made == "pure" else "liquid")
    assert found.error_K > 0


def test_facts_cannot_be_changed_by_a_caller() -> None:
    with pytest.raises(TypeError):
        r.facts("R-404A").composition["R-125"] = 0  # type: ignore[index]
