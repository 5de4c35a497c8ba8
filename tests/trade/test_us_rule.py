"""Which US leak repair rule: 40 CFR 82.157(a) and 84.106(a)."""

from __future__ import annotations

import pytest

from tests.trade.asking import ask
from tui.quantity import Refused

AFTER, EVE = "2026-01-01", "2025-12-31"
NONE, OZONE, HFC = "none", "40 CFR 82", "40 CFR 84"


@pytest.mark.parametrize(
    ("refrigerant", "charge", "today", "expected"),
    [
        ("R-22", "50 lb", AFTER, OZONE),  # E13: "50 or more pounds", class II
        ("R-22", "50 lb", EVE, OZONE),
        ("R-22", "49.99 lb", AFTER, NONE),  # E13, and ozone depleting alone: not 84
        ("R-502", "49 lb", AFTER, NONE),
        ("R-404A", "60 lb", EVE, NONE),  # E14: substitutes only, 82.157 no longer asks
        ("R-404A", "60 lb", AFTER, HFC),
        ("R-404A", "15 lb", AFTER, HFC),  # E15: "15 or more pounds"
        ("R-404A", "15 lb", EVE, NONE),  # E15: from 2026-01-01
        ("R-290", "5 oz", AFTER, NONE),  # E16: GWP not above 53
        ("R-290", "100 lb", AFTER, NONE),
        ("R-744", "1000 lb", AFTER, NONE),
        ("R-1234yf", "100 lb", AFTER, NONE),
        ("R-134a", "14.9 lb", AFTER, NONE),  # E17
        ("R-134a", "15 lb", AFTER, HFC),
        ("R-454C", "15 lb", AFTER, HFC),
        ("R-408A", "20 lb", AFTER, HFC),  # HCFC and HFC: 84 below 50 lb, 82 from there
        ("R-408A", "50 lb", AFTER, OZONE),
    ],
)
def test_rule(refrigerant: str, charge: str, today: str, expected: str) -> None:
    assert ask("us-leak-rule", refrigerant, charge, today) == expected


def test_no_charge_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        ask("us-leak-rule", "R-134a", "0 lb", AFTER)
    assert refused.value.cure
