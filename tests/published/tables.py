"""Published fault tables, as they are printed.

PRINTED: rules of Rossi and Braun (1997) as printed in Li and Braun, "Fault detection and diagnostics for rooftop
air conditioners", Table 1-1: a rooftop unit with a fixed orifice. A sign is measured less expected.
VALVE, ORIFICE: common practice, lists of the trade for a TXV and for a fixed orifice; rows marked so from memory.
CAP_TUBE: from memory, a cap tube with a critical charge and no receiver.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

SHORT = {"short-of-charge"}
FULL = {"overcharge"}
AIR = {"air-in-circuit"}
PUMP = {"compressor-not-pumping"}
CONDENSER = {"condenser-dirty"}
EVAPORATOR = {"evaporator-dirty", "evaporator-iced", "evaporator-fan"}
BLOCKED = {"drier-blocked", "strainer-blocked", "line-kinked", "cap-tube-blocked", "valve-underfeeding"}
WAY_BACK = {"suction-line-restricted"}

_WORDS = {"-": "low", "0": "on", "+": "high"}


@dataclass(frozen=True)
class Row:
    """One fault: `faults`, any of which must be named; `signs` by column, more than one where it says "to".

    `inside`: the share of the plate charge that a scale would find; `never`: what must not be named.
    """

    name: str
    faults: frozenset[str]
    signs: tuple[str, ...]
    columns: tuple[str, ...]
    inside: float
    never: frozenset[str]

    def each(self) -> Iterator[dict[str, str]]:
        """Every way to read the row, as words."""
        for cells in product(*self.signs):
            yield {column: _WORDS[cell] for column, cell in zip(self.columns, cells, strict=True)}


def _row(columns: tuple[str, ...], name: str, faults: set[str], signs: str, inside: float = 1.0, *never: str) -> Row:
    return Row(name, frozenset(faults), tuple(signs.split()), columns, inside, frozenset(never))


PRINTED_COLUMNS = ("Tevap", "SH", "Tcond", "SC", "Tdis", "dTca", "dTea")
PRINTED_SIGNS = {
    "refrigerant leak": "- + - - + - -",
    "compressor valve leak": "+ - - - - - -",
    "liquid line restriction": "- + - + + - -",
    "condenser fouling": "+ - + - + + -",
    "evaporator fouling": "- - - - - - +",
}
# The columns that a tree is told. It does not ask for dTca, which goes with the rest in all five rows.
_SEEN = {
    "Tevap": "suction",
    "SH": "superheat",
    "Tcond": "head",
    "SC": "subcooling",
    "Tdis": "discharge",
    "dTea": "air-drop",
}


def _printed(name: str, faults: set[str], inside: float, *never: str) -> Row:
    cells = dict(zip(PRINTED_COLUMNS, PRINTED_SIGNS[name].split(), strict=True))
    signs = " ".join(cells[column] for column in _SEEN)
    return _row(tuple(_SEEN.values()), name, faults, signs, inside, *never)


PRINTED = (
    _printed("refrigerant leak", SHORT, 0.6, *CONDENSER, *EVAPORATOR, *PUMP, *FULL),
    _printed("compressor valve leak", PUMP, 1.0, *SHORT, *CONDENSER, *EVAPORATOR, *FULL),
    _printed("liquid line restriction", BLOCKED, 1.0, *CONDENSER, *EVAPORATOR, *PUMP, *FULL),
    _printed("condenser fouling", CONDENSER, 1.0, *SHORT, *PUMP),
    _printed("evaporator fouling", EVAPORATOR, 1.0, *SHORT, *CONDENSER, *PUMP),
)

_WITH_AMPS = ("suction", "head", "superheat", "subcooling", "amps")

VALVE = (
    _row(_WITH_AMPS, "undercharge", SHORT, "- - + - -", 0.6, *CONDENSER, *PUMP),
    _row(_WITH_AMPS, "liquid line restriction", BLOCKED, "- -0 + 0+ -", 1.0, *CONDENSER, *PUMP, *FULL),
    _row(_WITH_AMPS, "dirty condenser or hot air", CONDENSER, "0+ + 0 0+ +", 1.0, *SHORT, *PUMP),
    _row(_WITH_AMPS, "overcharge (from memory)", FULL, "0+ + 0 + +", 1.2, *SHORT, *PUMP),
    _row(_WITH_AMPS, "non-condensables (from memory)", AIR, "0+ + 0- + +", 1.0, *SHORT, *PUMP),
    _row(_WITH_AMPS, "evaporator dirty, iced, no fan (from memory)", EVAPORATOR, "- - 0- 0+ -", 1.0, *CONDENSER, *PUMP),
    _row(_WITH_AMPS, "valves leaking (SH, SC from memory)", PUMP, "+ - 0- 0- -", 1.0, *SHORT, *CONDENSER),
    _row(_WITH_AMPS, "suction line restriction", WAY_BACK, "- - + 0 -", 1.0, *SHORT, *CONDENSER, *PUMP, *FULL),
)

_WITH_AIR = ("superheat", "suction", "air-drop", "subcooling", "head", "amps")

ORIFICE = (
    _row(_WITH_AIR, "low charge", SHORT, "+ - - - - -", 0.6, *CONDENSER, *PUMP, *FULL),
    _row(_WITH_AIR, "overcharge", FULL, "- + 0 + + +", 1.2, *SHORT, *PUMP),
    _row(_WITH_AIR, "mild restriction, factory charge", BLOCKED, "+ - - 0+ -0 -", 1.0, *CONDENSER, *PUMP, *FULL),
    _row(_WITH_AIR, "mild restriction, excess refrigerant", BLOCKED, "0 0 0 + + -", 1.2, *SHORT, *PUMP),
    _row(_WITH_AIR, "severe restriction, excess refrigerant", BLOCKED, "+ - - + + +", 1.2, *SHORT, *PUMP),
    _row(_WITH_AIR, "weak valves", PUMP, "- + - + - -", 1.0, *SHORT, *CONDENSER),
)

_PRESSURES = ("suction", "head", "subcooling", "superheat")

CAP_TUBE = (
    _row(_PRESSURES, "undercharge", SHORT, "- - - +", 0.6, *CONDENSER, *PUMP, *FULL),
    _row(_PRESSURES, "overcharge", FULL, "+ + + -", 1.2, *SHORT, *PUMP),
    _row(_PRESSURES, "partial restriction", BLOCKED, "- -0 + +", 1.0, *CONDENSER, *PUMP, *FULL),
)
