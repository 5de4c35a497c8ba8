"""Published figures of the electrical side, each by its id: the sums, and the verdicts that the bundled trees give."""

from __future__ import annotations

from typing import Any

import pytest

from tests.published.visits import Said, found, library, walked
from tests.trade.asking import work_out
from tui.walk.core import Walk

ONE_PHASE = {
    "refrigerant": "R-134a",
    "plates-agree": "yes",
    "nameplate-charge": "14 oz",
    "equipment": "reach-in cooler",
    "compressor-speed": "fixed",
    "phases": "one",
    "rated-volts": "115 V",
    "plate-amps": "6.2 A",
    "locked-rotor-amps": "34 A",
    "compressor-runs": "hums and clicks off",
    "who-may": "live too",
    "line-volts": "118 V",
    "chain-open": "none",
    "contactor-state": "none fitted",
    "in-a-vacuum": "no",
    "ohms-ground": "200 Mohm",
    "open-pairs": "none",
    "overload-reads": "closed",
    "ohms-cs": "11 ohm",
    "ohms-cr": "4 ohm",
    "ohms-sr": "15 ohm",
    "start-device-looks": "good",
    "capacitor-fitted": "yes",
    "capacitor-reads": "40 µF",
    "capacitor-least": "37.6 µF",
    "capacitor-most": "42.4 µF",
    "try-result": "hums",
}
THREE_PHASE = ONE_PHASE | {
    "equipment": "walk-in cooler",
    "phases": "three",
    "rated-volts": "460 V",
    "compressor-runs": "stops and starts",
    "contactor-state": "pulls in and clean",
    "capacitor-fitted": "no",
    "ohms-ab": "1.62 ohm",
    "ohms-bc": "1.62 ohm",
    "ohms-ca": "1.62 ohm",
}


def judged(walk: Walk, name: str) -> dict[str, Any]:
    return [event for event in walk.events if event["event"] == "judged" and event["name"] == name][-1]


def bounds(event: dict[str, Any]) -> list[float]:
    return [float(event["low"]["value"]), float(event["high"]["value"])]


def phases(ab: float, bc: float, ca: float, **more: str) -> Walk:
    volts = {"line-volts-ab": f"{ab} V", "line-volts-bc": f"{bc} V", "line-volts-ca": f"{ca} V"}
    return walked("electrical", THREE_PHASE | volts | more)


# ---- unbalance


def test_K01_the_standards_own_example() -> None:
    """NEMA MG 1 14.36, from memory: 460, 467, 450 V are 1.96 % apart."""
    assert work_out("unbalance", "460 V", "467 V", "450 V").to("%") == pytest.approx(1.961, abs=0.005)


def test_K02_462_463_455() -> None:
    """Common practice: published as 1.1 %; recomputed by NEMA MG 1 14.36."""
    assert work_out("unbalance", "462 V", "463 V", "455 V").to("%") == pytest.approx(1.087, abs=0.005)


def test_trap_K03_what_is_rounded_on_the_way_is_not_the_result() -> None:
    """Common practice: 203, 210, 212 V, published as 2.5 %, its mean was rounded. By NEMA MG 1 14.36 it is 2.56 %."""
    unbalance = work_out("unbalance", "203 V", "210 V", "212 V").to("%")
    assert unbalance == pytest.approx(2.56, abs=0.005)
    assert unbalance != pytest.approx(2.5, abs=0.05)


def test_trap_K05_the_phase_far_below_counts_as_much_as_the_one_above() -> None:
    """Common practice: a worked example prints 1.45 % for 400, 395, 388 V. It took 400 and missed 388."""
    unbalance = work_out("unbalance", "400 V", "395 V", "388 V").to("%")
    assert unbalance == pytest.approx(1.606, abs=0.005)
    assert unbalance != pytest.approx(1.45, abs=0.05)


def test_K06_acted_on_above_one_per_cent_never_run_above_five() -> None:
    """NEMA MG 1 as quoted in an engineering forum (eng-tips.com): derated above 1 %, not run above 5 %."""
    standing = {"rest-volts-ab": "463 V", "rest-volts-bc": "464 V", "rest-volts-ca": "456 V"}
    assert found(phases(462, 463, 455, **standing)).at == "uneven-phases/supply-is-uneven"  # K02: 1.09 %
    assert found(phases(460, 462, 458, **standing)).at != "uneven-phases/supply-is-uneven"  # 0.43 %
    for runs in ("stops and starts", "hums and clicks off"):
        far = phases(460, 470, 425, **{"compressor-runs": runs})  # 5.9 %
        assert found(far).at == "electrical/phases-far-apart"
        assert found(far).cause == "supply-fault"


# ---- volts


def _volts(rated: str, there: str) -> tuple[list[float], str]:
    event = judged(walked("electrical", ONE_PHASE | {"rated-volts": rated, "line-volts": there}), "line-level")
    return bounds(event), event["verdict"]


def test_K08_a_motor_takes_a_tenth_either_way() -> None:
    """NEMA MG 1-2011 condensed, 12.44.1: rated volts plus or minus 10 % at rated frequency."""
    for rated in (115, 208, 230, 460):
        assert _volts(f"{rated} V", f"{rated} V")[0] == pytest.approx([rated * 0.9, rated * 1.1])


@pytest.mark.parametrize(("volts", "verdict"), [(203, "low"), (211, "on"), (249, "on"), (257, "high")])
def test_K09_230_volts(volts: int, verdict: str) -> None:
    """K08 recomputed: 207.0 to 253.0 V."""
    found_bounds, found_verdict = _volts("230 V", f"{volts} V")
    assert found_bounds == pytest.approx([207.0, 253.0])
    assert found_verdict == verdict


def test_K10_208_and_230_volts_on_one_plate() -> None:
    """K08 recomputed, and a maker's list (common practice): 187.2 V under 208 to 253.0 V over 230."""
    assert _volts("208 V", "208 V")[0][0] == pytest.approx(187.2)
    assert _volts("230 V", "230 V")[0][1] == pytest.approx(253.0)


@pytest.mark.parametrize(("volts", "cause"), [(100, "supply-fault"), (130, "supply-fault"), (108, ""), (122, "")])
def test_K11_115_volts(volts: int, cause: str) -> None:
    """K08 recomputed: 103.5 to 126.5 V."""
    walk = walked("electrical", ONE_PHASE | {"line-volts": f"{volts} V"})
    assert bounds(judged(walk, "line-level")) == pytest.approx([103.5, 126.5])
    assert (found(walk).at == "electrical/supply-is-off") is bool(cause)


# ---- windings


def _pairs(cs: float, cr: float, sr: float) -> Walk:
    return walked("electrical", ONE_PHASE | {"ohms-cs": f"{cs} ohm", "ohms-cr": f"{cr} ohm", "ohms-sr": f"{sr} ohm"})


def test_K13_start_and_run_make_the_common_pair() -> None:
    """Common practice: C-S 11, C-R 4, S-R 15 ohm are sound."""
    assert judged(_pairs(11, 4, 15), "pairs-level")["verdict"] == "on"
    assert found(_pairs(11, 4, 21)).at == "motor-tests/do-not-add-up"


def test_K16_unusual_but_they_add_up() -> None:
    """Common practice: start below run is unusual, and no reason to condemn."""
    walk = _pairs(0.5, 1.2, 1.7)
    assert judged(walk, "pairs-level")["verdict"] == "on"
    assert found(walk).cause not in ("winding-open", "winding-grounded")


@pytest.mark.parametrize("shell", ["hot", "hand-warm"])
def test_K17_an_open_common_while_warm_is_the_overload(shell: str) -> None:
    """Common practice: C-S and C-R open, S-R reads: the overload inside. Wait, do not condemn."""
    walk = walked(
        "electrical",
        ONE_PHASE | {"open-pairs": "C to both others", "shell-feels": shell, "overload-reads": "none outside"},
    )
    assert found(walk).cause == "overload-open"


@pytest.mark.parametrize(("off", "verdict"), [(0.3, "on"), (0.7, "on"), (2.5, "high")])
def test_K18_what_leads_and_pins_may_do(off: float, verdict: str) -> None:
    """A judgement (0.3 ohm or 5 %, the greater; the trees take 0.4 ohm for three readings, common practice)."""
    assert judged(_pairs(11, 4, 15 + off), "pairs-level")["verdict"] == verdict


# ---- capacitors


def test_K19_a_capacitor_by_its_current_at_60_hertz() -> None:
    """C = I / (2 pi f V), recomputed: 3.0 A at 370 V are 21.51 µF; the constant is 2652.6."""
    assert work_out("capacitance", "3 A", "370 V", "60").to("µF") == pytest.approx(21.51, abs=0.02)
    assert work_out("capacitance", "1 A", "1 V", "60").to("µF") == pytest.approx(2652.6, abs=0.05)


def test_K20_the_constant_at_50_hertz() -> None:
    """C = I / (2 pi f V), recomputed: 3183.1."""
    assert work_out("capacitance", "1 A", "1 V", "50").to("µF") == pytest.approx(3183.1, abs=0.05)


def _reads(microfarad: float) -> Walk:
    return walked("electrical", ONE_PHASE | {"capacitor-reads": f"{microfarad} µF"})


def test_K21_a_run_capacitor_of_40_with_6_per_cent() -> None:
    """Common practice: 40 µF, 6 %, is 37.6 to 42.4 µF; those two stand on the label and are asked."""
    for reads, bad in ((40, False), (35, True), (45, True)):
        assert (found(_reads(reads)).at == "motor-tests/capacitor-is-bad") is bad


def test_K22_33_of_40_has_failed() -> None:
    """Common practice: 17.5 % under."""
    assert found(_reads(33)).cause == "start-device"


# ---- to ground


def _ground(megohm: float) -> Walk:
    return walked("electrical", ONE_PHASE | {"ohms-ground": f"{megohm} Mohm"})


def test_K24_five_megohm_under_a_thousand_volts() -> None:
    """IEEE 43-2000 and 2013, as quoted in a test quiz (forum.testguy.net): random-wound or under 1 kV, 5 Mohm."""
    assert float(judged(_ground(200), "ground-level")["low"]["value"]) == 5
    assert found(_ground(2)).at == "motor-tests/ground-is-weak"
    assert found(_ground(0.1)).cause == "winding-grounded"
    assert "motor-tests/ground" not in found(_ground(8)).at


def test_K27_the_limit_says_that_small_motors_are_outside_it() -> None:
    """Common practice: IEEE 43-1974 begins at 1 hp, so for small hermetics the maker's limit comes first."""
    source = library().catalogue.figures["ground-least"].source
    assert "1 hp" in source
    assert "maker's limit" in source


def test_E49_nothing_is_tested_to_ground_under_a_vacuum() -> None:
    """Common practice: a compressor under vacuum is neither run nor megohm-tested, its windings arc."""
    said: Said = ONE_PHASE | {"in-a-vacuum": "yes"}
    walk = walked("electrical", said)
    assert found(walk).at == "motor-tests/not-in-a-vacuum"
    assert not [event for event in walk.events if event.get("reading") == "ohms-ground"]
