"""Figures that a text gives in both systems: each reader sees his own, nothing is converted."""

from __future__ import annotations

import pytest

from tui.quantity import lone_figures, own_figures

BOTH = [
    ("Dry nitrogen to 10 psig (0.7 bar) first.", "Dry nitrogen to 10 psig first.", "Dry nitrogen to 0.7 bar first."),
    ("costs 0.5 dF (0.3 K))", "costs 0.5 dF)", "costs 0.3 K)"),
    ("4 to 6 °F (2 to 3 K) less", "4 to 6 °F less", "2 to 3 K less"),
    ("shows 1 g (0.05 oz).", "shows 0.05 oz.", "shows 1 g."),
    ("A tube under 7/8 in (22 mm) thick", "A tube under 7/8 in thick", "A tube under 22 mm thick"),
    ("32 °F (0 °C), then 122 °F (50 °C)", "32 °F, then 122 °F", "0 °C, then 50 °C"),
]


@pytest.mark.parametrize(("text", "us", "si"), BOTH)
def test_each_reader_has_his_own(text: str, us: str, si: str) -> None:
    assert (own_figures(text, "US"), own_figures(text, "SI")) == (us, si)
    assert not list(lone_figures(text))


@pytest.mark.parametrize(
    "text",
    [
        "What burns (A2L, A3) - cut open, never brazed.",
        "60 in North America, 50 in Europe.",
        "Step 3 (of 4 g that were meant)",
        "5 lb and less (40 CFR 82)",
        "112 V (of 120 V)",
    ],
)
def test_what_is_no_pair_stays(text: str) -> None:
    assert own_figures(text, "US") == own_figures(text, "SI") == text


def test_a_figure_in_one_system_only_is_found() -> None:
    assert list(lone_figures("A gauge 1 psi off, -5 °C and 4 to 6 dF, 3 min, 80 %, 60 in all")) == [
        "1 psi",
        "-5 °C",
        "4 to 6 dF",
    ]
