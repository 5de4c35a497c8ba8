"""The superheat of a fixed orifice. Its published figures: tests/published."""

from __future__ import annotations

import pytest

from tests.trade.asking import ask, unsure, work_out
from tui.quantity import Refused


@pytest.mark.parametrize(
    ("wet_bulb", "outdoor"),
    [("49 °F", "60 °F"), ("77 °F", "95 °F"), ("67 °F", "54 °F"), ("67 °F", "116 °F"), ("20 °C", "5 °C")],
)
def test_outside_the_charts_nothing_is_told(wet_bulb: str, outdoor: str) -> None:
    with pytest.raises(Refused) as refused:
        ask("orifice-superheat", wet_bulb, outdoor)
    assert refused.value.code == "out-of-range"
    assert refused.value.cure


def test_celsius_is_the_same() -> None:
    """(3 WB - 80 - DB) / 2 in °F: 67 °F is 19.444 °C, 95 °F is 35 °C."""
    assert work_out("orifice-superheat", "19.4444 °C", "35 °C").to("dF") == pytest.approx(13.0, abs=0.001)


def test_what_the_rule_does_not_know_is_carried() -> None:
    found = work_out("orifice-superheat", unsure("67 °F", "air probe", "1 dF"), unsure("95 °F", "air probe", "1 dF"))
    assert found.errors["air probe"] * 1.8 == pytest.approx((1.5 - 0.5) / 3**0.5)
    assert found.errors["superheat chart"] * 1.8 == pytest.approx(2.5 / 3**0.5)
