"""Printing quantities: sensible digits, the unit always, the sign never hidden."""

from __future__ import annotations

from tui.quantity.dates import iso_date, long_date
from tui.quantity.kinds import Kind
from tui.quantity.units import DAY, OUNCE, Unit, default_unit, unit
from tui.quantity.value import Quantity, Value

_KEEPS_ZEROS = frozenset({Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE, Kind.PRESSURE_DIFFERENCE})
_MOST_DECIMALS = 9
_VACUUM = "inHg vac"
_LEAST = 0.001  # of a plain number worked out, as the tonnes of CO2 equivalent of a few grams


def show(value: Value, symbol: str | None = None, *, digits: int | None = None) -> str:
    """The value with its unit: ``15.2 psig``, ``10.0 inHg vac``, ``15 °F``, ``7 %``.

    symbol: a unit of its kind, else its own. digits: decimals, else what the unit is worth (or was
    typed with). A gauge pressure below atmosphere, asked for in no unit, shows as a vacuum instead of
    psig; a vacuum that turned out above atmosphere shows as psig. A plain number worked out that is
    next to nothing is ``under 0.001``. Refused ``wrong-unit``.
    """
    if isinstance(value, str):
        return value
    if value.kind is Kind.DATE:
        return _date(value)
    if value.kind is Kind.NUMBER and not value.typed and 0 < value.si < _LEAST:
        return f"under {_LEAST}"
    chosen = _chosen(value, symbol)
    number = chosen.from_si(value.si)
    if digits is None:
        own = bool(value.typed) and chosen.symbol == value.unit
        text = _number(number, chosen, exact=own)
    else:
        text = _no_empty_minus(f"{number:.{digits}f}")
    return f"{text} {_symbol(chosen, text)}" if chosen.symbol else text


def _symbol(chosen: Unit, text: str) -> str:
    """``week`` and ``month`` are words, so they have a plural."""
    return chosen.symbol + "s" if chosen.symbol in ("week", "month") and text != "1" else chosen.symbol


def _chosen(value: Quantity, symbol: str | None) -> Unit:
    chosen = value.shown_unit if symbol is None else unit(symbol, value.kind)
    if value.kind is Kind.GAUGE_PRESSURE:
        if chosen.symbol == _VACUUM and value.si > 0:
            return unit("psig", value.kind)
        if symbol is None and chosen.symbol == "psig" and value.si < 0 and _shows(value.si, chosen):
            return unit(_VACUUM, value.kind)
    return chosen


def _shows(si: float, chosen: Unit) -> bool:
    """Does it differ from zero by more than noise?"""
    return abs(chosen.from_si(si)) >= 10.0 ** -(chosen.decimals + 3)


def _number(number: float, chosen: Unit, *, exact: bool = False) -> str:
    decimals = chosen.decimals
    if exact:
        decimals = max(decimals, _decimals_needed(number))
    text = f"{number:.{decimals}f}"
    if float(text) == 0 and number != 0:
        size = abs(number)
        if size < 10.0 ** -(decimals + 3):
            return "0" if chosen.kind not in _KEEPS_ZEROS or not decimals else f"{0:.{decimals}f}"
        while float(text) == 0 and decimals < _MOST_DECIMALS + 3:
            decimals += 1
            text = f"{number:.{decimals}f}"
    text = _no_empty_minus(text)
    if "." in text and (chosen.kind not in _KEEPS_ZEROS or (abs(number) >= 100 and float(text) % 1 == 0)):
        text = text.rstrip("0").rstrip(".")
    return text


def _decimals_needed(number: float) -> int:
    """Decimals of the shortest text of a typed number, noise of the conversion left out."""
    text = f"{number:.9g}"
    if "e" in text or "." not in text:
        return 0
    return min(len(text) - text.index(".") - 1, _MOST_DECIMALS)


def _no_empty_minus(text: str) -> str:
    return text[1:] if text.startswith("-") and float(text) == 0 else text


def _date(value: Quantity) -> str:
    seconds = round(value.si % DAY)
    day = iso_date(value.si)
    return day if seconds == 0 else f"{day} {seconds // 3600:02d}:{seconds // 60 % 60:02d}"


_VACUUM_PA = 3000.0  # pascal; an absolute pressure below it is what a micron gauge shows

_OTHERS: dict[Kind, tuple[str, ...]] = {
    Kind.TEMPERATURE: ("°F", "°C"),
    Kind.TEMPERATURE_DIFFERENCE: ("dF", "dC"),
    Kind.GAUGE_PRESSURE: ("psig", "barg", "kPag"),
    Kind.ABSOLUTE_PRESSURE: ("psia", "bara", "kPa"),
    Kind.PRESSURE_DIFFERENCE: ("psi", "bar", "kPa"),
    Kind.MASS: ("lb", "g"),
    Kind.VOLUME: ("in3", "L"),
    Kind.DENSITY: ("lb/ft3", "kg/m3"),
    Kind.LENGTH: ("ft", "m"),
    Kind.POWER: ("Btu/h", "W"),
    Kind.LEAK_RATE: ("oz/yr", "g/yr"),
}


def echo(value: Value, *, system: str = "US") -> str:
    """How an answer was understood, in the other units: ``12.5 psig = 0.86 barg = 86 kPag``.

    The unit it was given in comes first, then those of `system` (``US`` or ``SI``), then the rest.
    """
    if isinstance(value, str):
        return value
    if value.kind is Kind.DATE:
        return f"{show(value)} = {long_date(value.si)}"
    own = value.unit or default_unit(value.kind, system)
    shown = [show(value, own)]
    for text in _others(value, own, system):
        if text not in shown:
            shown.append(text)
    return " = ".join(shown)


def _others(value: Quantity, own: str, system: str) -> list[str]:
    if value.kind is Kind.TIME_SPAN:
        return [clock_span(value.si)]
    symbols = _OTHERS.get(value.kind, ())
    if value.kind is Kind.GAUGE_PRESSURE and value.si < 0:
        symbols = (_VACUUM, "psig", "barg")
    if value.kind is Kind.LENGTH and abs(value.si) < 0.3048:
        symbols = ("in", "mm")
    if value.kind is Kind.ABSOLUTE_PRESSURE and abs(value.si) < _VACUUM_PA:
        symbols = ("micron", "kPa")
    if value.kind is Kind.TEMPERATURE_DIFFERENCE and own == "K":
        symbols = ("dF",)
    if system == "SI":
        symbols = symbols[::-1] if value.si < 0 else symbols[1:] + symbols[:1]
    texts = []
    for symbol in symbols:
        if symbol == own:
            continue
        if symbol == "lb":
            texts.append(pounds_and_ounces(value.si))
        elif symbol == "g" and abs(value.si) >= 10:
            texts.append(show(value, "kg"))
        else:
            texts.append(show(value, symbol))
    return texts


def pounds_and_ounces(si: float) -> str:
    """Kilograms as the trade reads a plate: ``1 lb 4 oz``, ``6.5 oz``, ``-2 oz``."""
    ounces = round(si / OUNCE, 2 if abs(si) < 0.1 else 1)
    sign = "-" if ounces < 0 else ""
    pounds, rest = divmod(abs(ounces), 16)
    small = f"{rest:.2f}".rstrip("0").rstrip(".")
    if not pounds:
        return f"{sign}{small} oz"
    return f"{sign}{pounds:.0f} lb" + (f" {small} oz" if small != "0" else "")


def usual_unit(value: Quantity, system: str = "US") -> str:
    """The symbol this value is shown in, where nobody typed it: that of its kind, a span in s, min, hours or days.

    A vacuum is in microns everywhere, what insulates in Mohm.
    """
    if value.kind is Kind.RESISTANCE and abs(value.si) >= 10_000:
        return "Mohm" if abs(value.si) >= 100_000 else "kohm"
    if value.kind is Kind.ABSOLUTE_PRESSURE and abs(value.si) < _VACUUM_PA:
        return "micron"
    if value.kind is Kind.TIME_SPAN and abs(value.si) < 120:
        return "s"
    if value.kind is Kind.TIME_SPAN and abs(value.si) >= 2 * 3600:
        return "h" if abs(value.si) < 2 * 86400 else "d"
    return default_unit(value.kind, system)


def clock_span(si: float) -> str:
    """Seconds as people say them: ``45 s``, ``10 min``, ``1 h 30 min``, ``3 d 4 h``."""
    sign = "-" if si < 0 else ""
    left = round(abs(si))
    parts = []
    for size, name in ((86400, "d"), (3600, "h"), (60, "min"), (1, "s")):
        count, left = divmod(left, size)
        if count:
            parts.append(f"{count} {name}")
    return sign + " ".join(parts[:2]) if parts else f"{si:.3g} s" if si else "0 s"
