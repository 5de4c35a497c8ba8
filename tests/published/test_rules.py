"""Rules and standards, each figure by its id: recovery, leak rates, nitrogen, gas that burns, food.

The formulas of 40 CFR 82 and 84 and of the EU regulation have their tests in tests/trade.
"""

from __future__ import annotations

import pytest

from tests.published.signs import COOLER_VALVE, SMALL_CAP_TUBE, readings
from tests.published.visits import example, figure, found, library, walked
from tui.quantity import Quantity, from_json
from tui.tree.model import Do
from tui.walk.core import Walk


def work_done(walk: Walk) -> list[str]:
    return [event["work"] for event in walk.events if event["event"] == "done"]


def worked_out(walk: Walk, name: str) -> Quantity:
    values = [e["value"] for e in walk.events if e["event"] == "worked-out" and e["name"] == name and e["value"]]
    one = from_json(values[-1])
    assert isinstance(one, Quantity)
    return one


# ---- leak rates


@pytest.mark.parametrize(
    ("use", "percent"),
    [
        pytest.param("commercial refrigeration", 20, id="E10"),
        pytest.param("industrial process", 30, id="E11"),
        pytest.param("comfort cooling", 10, id="E12"),
    ],
)
def test_E10_E11_E12_leak_rate_thresholds(use: str, percent: float) -> None:
    """40 CFR 82.157(c)(2) as printed at compliancecosmos.org; 84.106 has the same."""
    assert figure("us-threshold", use).to("%") == pytest.approx(percent)


def test_trap_E22_the_thresholds_before_2019_are_nowhere() -> None:
    """achrnews.com, leak repair requirements, shows the old ones: 35 % commercial, 15 % comfort cooling."""
    shares = {round(value.to("%"), 6) for value in library().catalogue.figures["us-threshold"].values.values()}
    assert shares == {10, 20, 30}


def test_E18_thirty_days_to_mend_it() -> None:
    """40 CFR 82.157 and 84.106 (common practice for where it was read)."""
    assert figure("repair-time").to("d") == pytest.approx(30)


def test_E19_E20_what_the_books_are_told() -> None:
    """achrnews.com, leak repair requirements: records for three years. Common practice for where it was read: 125 % of
    the charge lost in a calendar year is reported."""
    tree = library().trees["repair-and-prove"]
    over, under = tree.named["us-over"], tree.named["us-under"]
    assert isinstance(over, Do)
    assert isinstance(under, Do)
    assert "three years" in str(over.how)
    assert "125 % in a calendar year" in str(over.how)
    assert "three years" in under.tell.source


def test_U27_looked_at_again_within_a_month() -> None:
    """Regulation (EU) 2024/573, legalregister.co.uk: within one month of the repair."""
    assert 28 <= figure("recheck-time").to("d") <= 31


# ---- recovery


@pytest.mark.parametrize(("came_out", "short"), [(7.9, False), (7.2, True)])
def test_E40_E42_a_working_small_appliance_gives_back_nine_tenths(came_out: float, short: bool) -> None:
    """40 CFR 82 (common practice for where it was read): 90 % with a working compressor; of 8.5 oz 7.65 oz.

    So less than that is certainly short, and more is not.
    """
    assert figure("stays-behind").to("%") == pytest.approx(10)
    said = readings(COOLER_VALVE, {"suction": "low", "head": "low"}, 1.0)
    said |= {"nameplate-charge": "8.5 oz", "recovery-after": f"{200 + came_out} oz"}
    walk = walked("weigh-out", said)
    off = figure("weighing-error").to("oz")  # two weighings may be off by as much
    assert worked_out(walk, "surely-missing").to("oz") == pytest.approx(7.65 - off - came_out, abs=0.001)
    assert (walk.findings[0].cause == "short-of-charge") is short


def test_E43_a_cylinder_is_never_over_four_fifths_full() -> None:
    """40 CFR 82 (common practice for where it was read): 80 %, said before anything is let into one."""
    catalogue = library().catalogue
    assert "80 %" in catalogue.cautions["cylinder"].say
    assert "cylinder" in catalogue.works["connects the recovery machine"].after_cautions


@pytest.mark.parametrize("region", ["US", "EU", ""])
def test_E47_E48_no_nitrogen_over_refrigerant(region: str) -> None:
    """40 CFR 82.154 (E47: a textbook, common practice): the mix can't be recovered, so the circuit is emptied first.
    The tree holds it everywhere."""
    for empty, may in (("no", False), ("yes", True)):
        walk = _hold(region, **{"circuit-empty": empty})
        assert any("nitrogen" in work for work in work_done(walk)) is may
        assert (found(walk).at == "nitrogen-hold/not-empty") is not may


def _hold(region: str = "US", **more: str) -> Walk:
    """A nitrogen hold; the pressure that was read is over the plate, so that it ends here."""
    tree, site, said = example("leak-holds", "hold-over-the-plate")
    return walked(tree, {**said, **more}, site | ({"region": region} if region else {}))


# ---- nitrogen


def test_S23_S25_nitrogen_only_through_a_regulator_with_a_relief() -> None:
    """ASHRAE, emergency interim standards action on Standard 15-1994: dry nitrogen or the like, no oxygen, no air; a
    pressure limiting device, or regulator, relief and gauge. Said before any work that lets nitrogen in."""
    say = library().catalogue.cautions["nitrogen-only"].say
    assert all(word in say for word in ("Dry nitrogen", "regulator", "relief", "Never oxygen", "never air"))
    works = [work for work in library().catalogue.works.values() if "nitrogen inside" in work.leaves]
    assert len(works) >= 2
    assert all("nitrogen-only" in work.after_cautions for work in works)


@pytest.mark.parametrize(("rating", "psig"), [("86 psig", 81), ("100 psig", 95), ("150 psig", 145), ("400 psig", 150)])
def test_S27_S31_S32_never_above_the_plates_low_side(rating: str, psig: float) -> None:
    """S27, S31: from memory, ASHRAE 15 and EN 378-2: a tightness test goes up to the rating and no further (1.1 times
    it is a strength test). S32: UFGS 15741N 3.7.3, 150 psi for a low side of field piping, here the most."""
    over = f"{float(rating.split()[0]) + 8} psig"
    walk = _hold(**{"low-side-rating": rating, "test-pressure": over})
    assert worked_out(walk, "hold-pressure").to("psig") == pytest.approx(psig)
    assert psig <= float(rating.split()[0])
    assert found(walk).at == "nitrogen-hold/went-over-the-plate"


def test_S33_ten_psig_and_soap_first_and_a_day_at_most() -> None:
    """UFGS 15652A 3.2.1.2: first 10 psig with soap on every joint, then the test pressure; 24 h."""
    assert figure("hold-most").to("h") == pytest.approx(24)
    done = work_done(_hold())
    assert done.index("lets the first nitrogen in") < done.index("raises pressure with nitrogen")
    bubbles = _hold(**{"soaped-joints": "growing"})
    assert "raises pressure with nitrogen" not in work_done(bubbles)


# ---- gas that burns, and food


@pytest.mark.parametrize(
    ("alarm", "may"), [("above a quarter of the limit", False), ("below a quarter of the limit", True)]
)
def test_S17_out_of_the_room_above_a_quarter_of_the_lower_limit(alarm: str, may: bool) -> None:
    """40 CFR 82 subpart G, appendix R: leave above 25 % of the lower flammability limit."""
    said = readings(SMALL_CAP_TUBE, {"suction": "on", "head": "on"}, 1.0) | {"gas-alarm": alarm}
    walk = walked("call", said)
    assert (found(walk).at == "gas-check/leave-the-room") is not may
    if not may:
        assert not [event for event in walk.events if event.get("reading") == "suction"]


def test_S20_what_burns_is_purged_and_cut_and_never_brazed_open() -> None:
    """IEC 60335-2-40, service annex (common practice for where it was read): recover, purge with inert gas, evacuate,
    purge, open by cutting."""
    step = library().trees["repair-and-prove"].named["purge-it"]
    assert isinstance(step, Do)
    assert all(word in step.tell.source for word in ("nitrogen through", "evacuate", "cut", "no torch"))
    tree, site, said = example("repair-charge-and-proof", "repair-propane-5-g-over")
    for purged, may in (("yes", True), ("no", False)):
        done = work_done(walked(tree, {**said, "purged": purged}, site))
        assert ("opens the circuit" in done) is may
        if may:
            order = [done.index(work) for work in ("recovers refrigerant", "purges the circuit", "opens the circuit")]
            assert order == sorted(order)


def test_S21_a_detector_that_sees_five_grams_a_year() -> None:
    """IEC 60335-2-40, service annex (common practice for where it was read): detection of 5 g a year or better. SAE
    J2791 (tnlab.org summary, L23): scales of 4, 7 and 14."""
    assert figure("detector-limit").to("g/yr") == pytest.approx(4)


def test_S34_food_is_held_at_41() -> None:
    """FDA Food Code 3-501.16, from memory: 41 °F, which is 5 °C."""
    assert figure("food-limit").to("°F") == pytest.approx(41)
    assert figure("food-limit").to("°C") == pytest.approx(5)
