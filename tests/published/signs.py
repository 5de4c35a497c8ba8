"""Raw readings whose signs are those of a published fault table.

A sign is what was measured less what is expected. What is expected of these invented machines is what the trees
want of them: figures of the catalogue, saturation of the project's own tables.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from tests.trade.asking import work_out
from tui.quantity import Quantity
from tui.trade.orifice import rule


@dataclass(frozen=True)
class Machine:
    """One invented machine. Temperatures in °F, differences in dF, ounces."""

    equipment: str
    refrigerant: str
    metering: str
    receiver: str
    box: float
    td: float
    split: float
    air: float
    charge: float
    low_side: str
    high_side: str
    wet_bulb: float | None = None

    @property
    def superheat(self) -> float:
        """What is wanted: of a valve what it is set to, of an orifice what its maker says (invented) or a chart."""
        if self.wet_bulb is not None:
            return rule(self.wet_bulb, self.air)
        return 10.0 if self.metering == "TXV" else 12.0

    @property
    def air_drop(self) -> float:
        return 17.0 if self.equipment == "comfort cooling" else 6.0

    def __str__(self) -> str:
        parts = (self.equipment, self.metering, self.receiver == "yes" and "receiver", self.wet_bulb and "by chart")
        return " ".join(str(part) for part in parts if part)


_COOLER = ("88 psig", "300 psig")
_HIGHER = ("250 psig", "600 psig")
COOLER_ORIFICE = Machine("reach-in cooler", "R-134a", "cap tube", "no", 38, 20, 30, 75, 20, *_COOLER)
COOLER_VALVE = Machine("reach-in cooler", "R-134a", "TXV", "no", 38, 20, 30, 75, 20, *_COOLER)
COOLER_RECEIVER = Machine("reach-in cooler", "R-404A", "TXV", "yes", 38, 20, 30, 75, 60, *_HIGHER)
ROOFTOP_ORIFICE = Machine("comfort cooling", "R-410A", "cap tube", "no", 75, 35, 25, 90, 112, *_HIGHER)
ROOFTOP_VALVE = Machine("comfort cooling", "R-410A", "TXV", "no", 75, 35, 25, 90, 112, *_HIGHER)
ROOFTOP_BY_CHART = replace(ROOFTOP_ORIFICE, wet_bulb=65.0)
SMALL_CAP_TUBE = Machine("undercounter", "R-290", "cap tube", "no", 38, 20, 30, 75, 3, *_HIGHER)

# How far a sign lies off, dF; beyond every band of the trees and the error of good digital instruments.
EVAPORATING = {"low": -14.0, "on": 0.0, "high": 14.0}
CONDENSING = {"low": -10.5, "on": 0.0, "high": 16.0}
SUPERHEAT = {"low": -9.0, "on": 0.0, "high": 18.0}
SUBCOOLING = {"low": 2.0, "on": 10.0, "high": 18.0}
AIR_DROP = {"low": -4.0, "on": 0.0, "high": 8.0}
DISCHARGE = {"low": 120.0, "on": 165.0, "high": 215.0}  # °F; hotter or cooler than a circuit like these has (invented)
AMPS = {"low": 2.9, "on": 4.2, "high": 5.6}

# What is looked at shows nothing: the fault must be told by its signs alone.
_LOOKS = {
    "plates-agree": "yes",
    "simple-circuit": "yes",
    "compressor-speed": "fixed",
    "head-control": "nothing",
    "earlier-leak": "none known",
    "added-last-year": "0 g",
    "leak-in-sight": "nothing",
    "gas-alarm": "nothing",
    "certified": "you",
    "compressor-runs": "runs steadily",
    "compressor-shell": "warm",
    "compressor-type": "piston",
    "phases": "one",
    "high-to-low-parts": "none",
    "evaporator-fan": "running",
    "frost-pattern": "even and thin",
    "evaporator-coil": "clean",
    "air-path": "clear",
    "condenser-fan": "running",
    "condenser-looks": "clean",
    "hot-air-returns": "no",
    "oil-stains": "none",
    "door-closes": "yes",
    "load": "as built for",
    "gauges-on": "both",
    "needles": "steady",
    "box-falling": "no",
    "plate-amps": "4.8 A",
    # No weighed addition: where the trees would make one, they weigh out instead.
    "adding-allowed": "no",
    "recovery-outfit": "yes",
    "recovery-room": "yes",
    "recovery-before": "200 oz",
}


def subcooling(over_air: float, sign: str) -> float:
    """How far the liquid lies under the condensing temperature, dF: never below the air that cools it."""
    return min(SUBCOOLING[sign], over_air)


def bounded(machine: Machine, head: str) -> bool:
    """Whether under such a head the air keeps the liquid from being as cold as a high subcooling asks."""
    return machine.split + CONDENSING[head] < SUBCOOLING["high"]


def readings(machine: Machine, signs: Mapping[str, str], inside: float) -> dict[str, str]:
    """What gauges, clamps and eyes give.

    `signs`: suction, head, superheat, subcooling, discharge, air-drop, amps as low, on or high; absent: on.
    `inside`: share of the plate charge that a scale would find.
    """
    sign = dict.fromkeys(("superheat", "subcooling", "discharge", "amps", "air-drop"), "on") | dict(signs)
    box = machine.box + (0.0 if machine.equipment == "comfort cooling" else 3.0)
    evaporating = machine.box - machine.td + EVAPORATING[sign["suction"]]
    over_air = machine.split + CONDENSING[sign["head"]]
    suction = work_out("suction-wanted", Quantity.of(evaporating, "°F"), machine.refrigerant)
    head = work_out("head-wanted", Quantity.of(machine.air + over_air, "°F"), machine.refrigerant)
    dew = work_out("dew-temperature", suction, machine.refrigerant).to("°F")
    bubble = work_out("bubble-temperature", head, machine.refrigerant).to("°F")
    drop = machine.air_drop + AIR_DROP[sign["air-drop"]]
    said = _LOOKS | {
        "refrigerant": machine.refrigerant,
        "equipment": machine.equipment,
        "metering": machine.metering,
        "receiver": machine.receiver,
        "nameplate-charge": f"{machine.charge} oz",
        "recovery-after": f"{200 + machine.charge * inside:.2f} oz",
        "low-side-rating": machine.low_side,
        "high-side-rating": machine.high_side,
        "box-wanted": f"{machine.box} °F",
        "box-air": f"{box} °F",
        "return-air": f"{box} °F",
        "supply-air": f"{box - drop} °F",
        "condenser-air": f"{machine.air} °F",
        "suction": f"{suction.to('psig'):.2f} psig",
        "head": f"{head.to('psig'):.2f} psig",
        "evaporator-bend": f"{evaporating:.2f} °F",
        "evaporator-outlet": f"{dew + machine.superheat + SUPERHEAT[sign['superheat']]:.2f} °F",
        "condenser-bend": f"{machine.air + over_air:.2f} °F",
        "condenser-outlet": f"{bubble - subcooling(over_air, sign['subcooling']):.2f} °F",
        "discharge-line": f"{DISCHARGE[sign['discharge']]} °F",
        "amps": f"{AMPS[sign['amps']]} A",
    }
    if machine.wet_bulb is not None:
        said["return-wet-bulb"] = f"{machine.wet_bulb} °F"
    elif machine.metering == "cap tube":
        said["maker-superheat"] = f"{machine.superheat} dF"
    return said
