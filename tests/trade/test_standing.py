"""What a standing pressure says. Saturation by the property library."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.trade.asking import SEA_LEVEL, TABLES, ask, unsure, work_out
from tui.quantity import Quantity, Refused, parse_literal
from tui.trade.standing import AIR_INSIDE, LIQUID_INSIDE, VAPOUR_ONLY, standing_can_be

GAUGE, PROBE = ("low gauge", "0.5 psi"), ("air probe", "1 dF")


@pytest.mark.parametrize(
    ("refrigerant", "psig"),
    [("R-134a", 71.11), ("R-404A", 149.3), ("R-290", 110.2), ("R-600a", 30.6)],  # H14, 70 °F, bubble
)
def test_at_saturation_liquid_is_inside(refrigerant: str, psig: float) -> None:
    assert work_out("bubble-pressure", "70 °F", refrigerant).to("psig") == pytest.approx(psig, abs=0.3)
    standing, coldest = unsure(f"{psig} psig", *GAUGE), unsure("70 °F", *PROBE)
    assert ask("standing-says", standing, coldest, refrigerant) == LIQUID_INSIDE


@pytest.mark.parametrize(
    ("refrigerant", "psi"), [("R-407C", 23), ("R-448A", 25), ("R-454C", 31), ("R-455A", 50)]
)
def test_a_blends_saturation_is_a_band(refrigerant: str, psi: float) -> None:
    """H14, 70 °F: all of the band means liquid, above it air, below it vapour only."""
    dew, bubble = (work_out(f"{line}-pressure", "70 °F", refrigerant) for line in ("dew", "bubble"))
    assert (bubble - dew).to("psi") == pytest.approx(psi, abs=1.0)
    inside = [dew, dew + (bubble - dew) / 2, bubble]
    assert [ask("standing-says", one, "70 °F", refrigerant) for one in inside] == [LIQUID_INSIDE] * 3
    margin = parse_literal("8 psi")
    assert ask("standing-says", bubble + margin, "70 °F", refrigerant) == AIR_INSIDE
    assert ask("standing-says", dew - margin, "70 °F", refrigerant) == VAPOUR_ONLY


def test_a_coarse_gauge_cannot_tell_air_from_liquid() -> None:
    standing = unsure("90 psig", "coarse gauge", "12 psi")
    assert ask("standing-says", standing, unsure("75 °F", *PROBE), "R-134a") == LIQUID_INSIDE


def test_a_flat_circuit_holds_vapour_only() -> None:
    assert ask("standing-says", unsure("0 psig", *GAUGE), unsure("70 °F", *PROBE), "R-290") == VAPOUR_ONLY


def test_carbon_dioxide_above_its_critical_temperature_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        ask("standing-says", "900 psig", "95 °F", "R-744")
    assert refused.value.code == "supercritical"


@given(
    refrigerant=st.sampled_from(["R-134a", "R-600a", "R-448A", "R-455A"]),
    degrees=st.floats(0.0, 110.0),
    psig=st.floats(-8.0, 300.0),
    more=st.floats(0.0, 100.0),
)
def test_more_pressure_never_means_less_inside(
    refrigerant: str, degrees: float, psig: float, more: float
) -> None:
    order = (VAPOUR_ONLY, LIQUID_INSIDE, AIR_INSIDE)
    coldest = Quantity.of(degrees, "°F")
    says = [ask("standing-says", Quantity.of(p, "psig"), coldest, refrigerant) for p in (psig, psig + more)]
    assert order.index(str(says[0])) <= order.index(str(says[1]))


@pytest.mark.parametrize("sign", [-1.0, 1.0])
@given(psi=st.floats(-6.0, 6.0))
def test_one_wrong_by_twice_what_it_is_good_to_never_turns_it_unseen(sign: float, psi: float) -> None:
    """The gauge (0.5 psi) or the clamp (1 dF) read that far off: the same word, or it was or is doubtful."""
    standing, coldest = 70.0 + psi, 70.0

    def said(gauge: float, clamp: float) -> tuple[object, tuple[str, ...]]:
        values = unsure(f"{gauge:.6f} psig", *GAUGE), unsure(f"{clamp:.6f} °F", *PROBE), "R-134a"
        return ask("standing-says", *values), standing_can_be(SEA_LEVEL, TABLES, *values)

    word, doubted = said(standing, coldest)
    for gauge, clamp in ((standing + sign, coldest), (standing, coldest + 2 * sign)):
        other, then = said(gauge, clamp)
        assert word == other or doubted or then


def test_at_its_saturation_nothing_is_doubtful() -> None:
    at = work_out("bubble-pressure", "70 °F", "R-134a").to("psig")
    values = unsure(f"{at:.4f} psig", *GAUGE), unsure("70 °F", *PROBE), "R-134a"
    assert standing_can_be(SEA_LEVEL, TABLES, *values) == ()
    far = unsure(f"{at + 8:.4f} psig", *GAUGE), unsure("70 °F", *PROBE), "R-134a"
    assert standing_can_be(SEA_LEVEL, TABLES, *far) == ()
    near = unsure(f"{at + 2.2:.4f} psig", *GAUGE), unsure("70 °F", *PROBE), "R-134a"
    assert ask("standing-says", *near) == AIR_INSIDE
    assert standing_can_be(SEA_LEVEL, TABLES, *near) == (LIQUID_INSIDE,)
