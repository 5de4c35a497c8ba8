"""Units: exact factors to SI, the UCUM code a file stores, and how people spell them.

``si = number * factor + offset``. Sources of the factors: the international foot and avoirdupois pound
(exact by definition), standard gravity 9.80665 m/s2, and UCUM's ``m[Hg]`` = 133.322 kPa
(ucum-essence.xml). UCUM has no gauge unit: gauge pressures carry the pressure's code, and the
file says ``gauge``. UCUM's ``[degF]`` has an offset, so a difference is always stored as ``K``.
"""

from __future__ import annotations

from dataclasses import dataclass

from tui.quantity.kinds import Kind
from tui.quantity.refused import Refused
from tui.quantity.typed import quoted
from tui.quantity.words import nearest

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237
OUNCE = POUND / 16
PSI = POUND * 9.80665 / INCH**2
INCH_OF_MERCURY = 133322 * INCH
MICRON = 0.133322
DAY = 86400.0
YEAR = 365.25 * DAY
BTU = 1055.05585262
ZERO_CELSIUS = 273.15
ZERO_FAHRENHEIT = 459.67 * 5 / 9


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of one kind. `decimals` is how many are worth showing; `delta` the unit of a difference.

    `spellings` are lower-case words people type for it, besides its symbol, at a step of its kind.
    """

    symbol: str
    kind: Kind
    ucum: str
    factor: float
    offset: float = 0.0
    decimals: int = 1
    delta: str = ""
    spellings: tuple[str, ...] = ()

    def to_si(self, number: float) -> float:
        """SI value of `number` of this unit."""
        return number * self.factor + self.offset

    def from_si(self, si: float) -> float:
        """How many of this unit `si` is."""
        return (si - self.offset) / self.factor

    @property
    def stored_factor(self) -> float:
        """SI value of one of the UCUM unit that stands in a file (never negative, a difference is K)."""
        return 1.0 if self.ucum == "K" else abs(self.factor)


def _rows() -> tuple[Unit, ...]:
    def u(
        symbol: str, kind: Kind, ucum: str, factor: float, spelled: str = "", *,
        offset: float = 0.0, decimals: int = 1, delta: str = "",
    ) -> Unit:
        spellings = tuple(s.strip() for s in spelled.split("|")) if spelled else ()
        return Unit(symbol, kind, ucum, factor, offset, decimals, delta, spellings)

    t, dt = Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE
    g, a, p = Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE, Kind.PRESSURE_DIFFERENCE
    m, v, n, el, s = Kind.MASS, Kind.VOLUME, Kind.DENSITY, Kind.LENGTH, Kind.TIME_SPAN
    f, c = "f|fahrenheit|deg f|degf|degrees f|degree f|deg. f|degrees fahrenheit|° f|f°", \
        "c|celsius|centigrade|deg c|degc|degrees c|degree c|deg. c|degrees celsius|° c|c°|cel"
    hg = 'inhg|hg|"|in|inch|inches|in hg|in. hg|"hg|" hg|inches hg|inches of mercury|inches mercury|in of hg'
    return (
        u("°F", t, "[degF]", 5 / 9, f, offset=ZERO_FAHRENHEIT, delta="dF"),
        u("°C", t, "Cel", 1.0, c, offset=ZERO_CELSIUS, delta="dC"),
        u("dF", dt, "K", 5 / 9, f + "|°f|delta f|deltaf|f diff|f difference"),
        u("dC", dt, "K", 1.0, c + "|°c|delta c|deltac|c diff|c difference"),
        u("K", dt, "K", 1.0, "kelvin|dk|delta k"),
        u("K", t, "K", 1.0, "kelvin|°k", delta="K"),
        u("psig", g, "[psi]", PSI, "psi|psi g|psi gauge|#|lb|lbs|pounds|pound|lb/in2|lbs/in2", delta="psi"),
        u("barg", g, "bar", 1e5, "bar|bars|bar g|bar gauge|bar(g)", decimals=2, delta="bar"),
        u("kPag", g, "kPa", 1e3, "kpa|kpa g|kpa gauge|kpa(g)|kilopascal", decimals=0, delta="kPa"),
        u("MPag", g, "MPa", 1e6, "mpa|mpa g|mpa gauge|mpa(g)|megapascal", decimals=3, delta="kPa"),
        u("inHg vac", g, "[in_i'Hg]", -INCH_OF_MERCURY, hg, delta="psi"),
        u("psia", a, "[psi]", PSI, "psi a|psi abs|psi absolute|psi(a)", decimals=2, delta="psi"),
        u("bara", a, "bar", 1e5, "bar a|bar abs|bar absolute|bar(a)", decimals=3, delta="bar"),
        u("kPa", a, "kPa", 1e3, "kpa a|kpaa|kpa abs|kpa absolute|kpa(a)|kilopascal", delta="kPa"),
        u("micron", a, "um[Hg]", MICRON, "microns|um|µm|µ|umhg|um hg|µmhg|µm hg|mtorr|mic", decimals=0,
          delta="micron"),
        u("inHg", a, "[in_i'Hg]", INCH_OF_MERCURY, hg + "|inhg abs|inhga", decimals=2, delta="psi"),
        u("mmHg", a, "mm[Hg]", 133.322, "mm hg|torr|mmhg abs", delta="kPa"),
        u("mbar", a, "mbar", 100.0, "millibar|millibars|mb|mbar abs|mbara|hpa|hectopascal", delta="kPa"),
        u("Pa", a, "Pa", 1.0, "pascal|pascals|pa abs", delta="Pa"),
        u("psi", p, "[psi]", PSI, "psid|#|lb|lbs|pounds|pound|lb/in2"),
        u("bar", p, "bar", 1e5, "bars", decimals=2),
        u("kPa", p, "kPa", 1e3, "kilopascal"),
        u("mbar", p, "mbar", 100.0, "millibar|millibars|mb|hpa"),
        u("Pa", p, "Pa", 1.0, "pascal|pascals"),
        u("micron", p, "um[Hg]", MICRON, "microns|um|µm|µ", decimals=0),
        u("oz", m, "[oz_av]", OUNCE, "ounce|ounces|ozs|oz av", decimals=2),
        u("lb", m, "[lb_av]", POUND, "lbs|pound|pounds|#|lbm", decimals=2),
        u("g", m, "g", 1e-3, "gram|grams|gramme|grammes|gm|gms|grm"),
        u("kg", m, "kg", 1.0, "kilo|kilos|kgs|kilogram|kilograms|kilogramme|kilogrammes|kilogr", decimals=3),
        u("L", v, "L", 1e-3, "l|liter|liters|litre|litres|dm3|lt|ltr", decimals=3),
        u("mL", v, "mL", 1e-6, "ml|cc|ccm|cm3|cm^3|milliliter|millilitre|cu cm"),
        u("m3", v, "m3", 1.0, "m^3|cu m|cubic meter|cubic metre|cbm", decimals=4),
        u("in3", v, "[cin_i]", INCH**3, "in^3|cu in|cubic inch|cubic inches|cu. in|ci", decimals=2),
        u("ft3", v, "[cft_i]", FOOT**3, "ft^3|cu ft|cubic foot|cubic feet|cu. ft|cf", decimals=3),
        u("gal", v, "[gal_us]", 231 * INCH**3, "gallon|gallons|us gal", decimals=2),
        u("kg/m3", n, "kg/m3", 1.0, "kg/m^3|kg per m3", decimals=2),
        u("g/L", n, "g/L", 1.0, "g/l|g per l|g per liter|g per litre", decimals=2),
        u("lb/ft3", n, "[lb_av]/[cft_i]", POUND / FOOT**3, "lb/ft^3|lbs/ft3|lb/cu ft|pcf", decimals=3),
        u("ft", el, "[ft_i]", FOOT, "'|foot|feet|ft.", decimals=2),
        u("in", el, "[in_i]", INCH, '"|inch|inches|ins|\'\'', decimals=4),
        u("m", el, "m", 1.0, "metre|metres|meter|meters|mtr", decimals=3),
        u("cm", el, "cm", 1e-2, "centimetre|centimetres|centimeter|centimeters", decimals=2),
        u("mm", el, "mm", 1e-3, "millimetre|millimetres|millimeter|millimeters", decimals=2),
        u("min", s, "min", 60.0, "m|mins|minute|minutes|minuts"),
        u("s", s, "s", 1.0, "sec|secs|second|seconds"),
        u("h", s, "h", 3600.0, "hr|hrs|hour|hours", decimals=2),
        u("d", s, "d", DAY, "day|days"),
        u("week", s, "wk", 7 * DAY, "wk|wks|weeks"),
        u("month", s, "mo", YEAR / 12, "mo|mos|months|mth|mths"),
        u("yr", s, "a", YEAR, "y|a|year|years|yrs|annum", decimals=2),
        u("date", Kind.DATE, "s", 1.0, decimals=0, delta="d"),
        u("%", Kind.RATIO, "%", 0.01, "percent|per cent|pct", decimals=1),
        u("ppm", Kind.RATIO, "[ppm]", 1e-6, decimals=0),
        u("V", Kind.VOLTAGE, "V", 1.0, "volt|volts|vac|v ac|vdc|v dc|vlt"),
        u("mV", Kind.VOLTAGE, "mV", 1e-3, "millivolt|millivolts"),
        u("kV", Kind.VOLTAGE, "kV", 1e3, "kilovolt|kilovolts", decimals=2),
        u("A", Kind.CURRENT, "A", 1.0, "amp|amps|ampere|amperes|a ac|aac", decimals=2),
        u("mA", Kind.CURRENT, "mA", 1e-3, "milliamp|milliamps|milliampere"),
        u("ohm", Kind.RESISTANCE, "Ohm", 1.0, "ohms|ω|r", decimals=2),
        u("kohm", Kind.RESISTANCE, "kOhm", 1e3, "kohms|kω|k|kilohm|kilohms|kiloohm|k ohm|k ohms", decimals=2),
        u("Mohm", Kind.RESISTANCE, "MOhm", 1e6, "megohm|megohms|megaohm|megaohms|meg|megs|meg ohm",
          decimals=2),
        u("µF", Kind.CAPACITANCE, "uF", 1e-6, "uf|µfd|ufd|mfd|mf|mfds|microfarad|microfarads|mic"),
        u("nF", Kind.CAPACITANCE, "nF", 1e-9, "nanofarad|nanofarads"),
        u("farad", Kind.CAPACITANCE, "F", 1.0, "farads", decimals=6),
        u("W", Kind.POWER, "W", 1.0, "watt|watts"),
        u("kW", Kind.POWER, "kW", 1e3, "kilowatt|kilowatts", decimals=2),
        u("hp", Kind.POWER, "[HP]", 550 * FOOT * POUND * 9.80665, "horsepower|h.p", decimals=2),
        u("Btu/h", Kind.POWER, "[Btu_IT]/h", BTU / 3600, "btu/hr|btuh|btu per hour|btu/hour", decimals=0),
        u("g/yr", Kind.LEAK_RATE, "g/a", 1e-3 / YEAR, "g/year|g/a|g per year|grams per year|gpy|g/y"),
        u("oz/yr", Kind.LEAK_RATE, "[oz_av]/a", OUNCE / YEAR, "oz/year|oz/a|oz per year|ounces per year|oz/y",
          decimals=2),
        u("lb/yr", Kind.LEAK_RATE, "[lb_av]/a", POUND / YEAR, "lb/year|lbs/yr|lb per year|lbs/year|lb/y",
          decimals=2),
        u("kg/yr", Kind.LEAK_RATE, "kg/a", 1.0 / YEAR, "kg/year|kg/a|kg per year|kg/y", decimals=3),
        u("kg/s", Kind.LEAK_RATE, "kg/s", 1.0, decimals=9),
        u("", Kind.NUMBER, "1", 1.0, decimals=3),
    )


ALL = _rows()

UNITS: dict[str, Unit] = {}
"""Symbol -> unit, as a tree spells it. A symbol that several kinds share is here the first of them
(``kPa`` absolute, ``K`` a difference); `unit(symbol, kind)` finds the others."""

_OF_KIND: dict[Kind, dict[str, Unit]] = {}

for _one in ALL:
    UNITS.setdefault(_one.symbol, _one)
    _OF_KIND.setdefault(_one.kind, {})[_one.symbol] = _one

_DEFAULTS: dict[Kind, tuple[str, str]] = {
    Kind.TEMPERATURE: ("°F", "°C"),
    Kind.TEMPERATURE_DIFFERENCE: ("dF", "dC"),
    Kind.GAUGE_PRESSURE: ("psig", "barg"),
    Kind.ABSOLUTE_PRESSURE: ("psia", "bara"),
    Kind.PRESSURE_DIFFERENCE: ("psi", "bar"),
    Kind.MASS: ("oz", "g"),
    Kind.VOLUME: ("in3", "L"),
    Kind.DENSITY: ("lb/ft3", "kg/m3"),
    Kind.LENGTH: ("ft", "m"),
    Kind.TIME_SPAN: ("min", "min"),
    Kind.DATE: ("date", "date"),
    Kind.RATIO: ("%", "%"),
    Kind.VOLTAGE: ("V", "V"),
    Kind.CURRENT: ("A", "A"),
    Kind.RESISTANCE: ("ohm", "ohm"),
    Kind.CAPACITANCE: ("µF", "µF"),
    Kind.POWER: ("W", "W"),
    Kind.LEAK_RATE: ("oz/yr", "g/yr"),
    Kind.NUMBER: ("", ""),
}


def unit(symbol: str, kind: Kind | None = None) -> Unit:
    """The unit of this symbol (of this kind, where several share it).

    Raises Refused ``wrong-unit``, with the nearest symbol, for one that doesn't exist.
    """
    found = UNITS.get(symbol) if kind is None else _OF_KIND.get(kind, {}).get(symbol)
    if found is not None:
        return found
    symbols = UNITS if kind is None else _OF_KIND.get(kind, {})
    of = "" if kind is None else f" of {kind.named}"
    close = nearest(symbol, symbols)
    cure = f"Did you mean {close}?" if close else f"Use one of {', '.join(s for s in symbols if s)}."
    raise Refused("wrong-unit", f"{quoted(symbol)} is no unit{of}.", cure)


def units_of(kind: Kind) -> tuple[Unit, ...]:
    """All units of a kind; none for text, choice and yes/no."""
    return tuple(_OF_KIND.get(kind, {}).values())


def default_unit(kind: Kind, system: str = "US") -> str:
    """The symbol a box shows for this kind in system ``US`` or ``SI``; "" for words."""
    pair = _DEFAULTS.get(kind, ("", ""))
    return pair[1] if system == "SI" else pair[0]
