"""Slips in published material that must not get in. Others stand beside their figures: `test_trap_...`."""

from __future__ import annotations

import pytest

from tests.trade.asking import ask, work_out
from tui.quantity import Quantity


def test_trap_U19_1_27_kilos_of_r404a_are_under_five_tonnes() -> None:
    """netregs.org.uk prints 1.27 kg as the charge of 5 t. That is 4.98 t; 5 t are 1.275 kg."""
    assert work_out("eu-tonnes", "R-404A", "1.27 kg").si == pytest.approx(4.98, abs=0.001)
    assert ask("eu-check-interval", "R-404A", "1.27 kg", "no") == "no duty"
    assert ask("eu-check-interval", "R-404A", "1.276 kg", "no") == "12 months"


def test_trap_5_to_50_kilos_are_not_5_to_50_tonnes() -> None:
    """An installer's page (common practice) lists 5 to 50 kg of R-134a as 5 to 50 t. It is 3.5 to 35 kg."""
    assert work_out("eu-tonnes", "R-134a", "5 kg").si == pytest.approx(7.15)
    assert work_out("eu-tonnes", "R-134a", "50 kg").si == pytest.approx(71.5)
    for kilos, interval in ((3.49, "no duty"), (3.5, "12 months"), (34.9, "12 months"), (35, "6 months")):
        assert ask("eu-check-interval", "R-134a", Quantity.of(kilos, "kg"), "no") == interval
