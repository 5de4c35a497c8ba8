"""Reading what people type, kindly: every reading in words, nothing accepted that can mean two things."""

from __future__ import annotations

from collections.abc import Sequence

from tui.quantity.answers import read_choice, read_yes_no
from tui.quantity.dates import iso_date, read_date
from tui.quantity.kinds import Kind
from tui.quantity.numbers import take_number
from tui.quantity.refused import Refused
from tui.quantity.show import show
from tui.quantity.spelling import Spelled, example, refuse_unit, spelled
from tui.quantity.typed import plain, plain_text, quoted
from tui.quantity.units import PSI, Unit, unit
from tui.quantity.value import Quantity, Value

_PERFECT_VACUUM = -15.0 * PSI
"""No gauge anywhere reads lower: the thickest air is 15 psia. `to_absolute` knows the site's own."""


def parse(
    text: str, kind: Kind, *, shown: str | None, low: float | None = None, high: float | None = None,
    range_text: str = "", choices: Sequence[str] = (),
) -> Value:
    """The value of what a person typed at a step of `kind`.

    shown: symbol of the unit shown in the box, which a bare number takes; None refuses bare numbers
    (answers files). low, high: bounds in SI, both included; range_text says them in words.
    choices: the words a choice may be. The result keeps the typed text.

    Refused: ``unreadable``, ``wrong-kind``, ``wrong-unit``, ``no-unit``, ``ambiguous``,
    ``out-of-range``, ``below-absolute-zero``, ``not-a-choice``.
    """
    if kind is Kind.TEXT:
        return plain_text(text)
    cleaned = plain(text)
    if kind is Kind.YES_NO:
        return read_yes_no(cleaned)
    if kind is Kind.CHOICE:
        return read_choice(cleaned, choices, guess=shown is not None)
    if kind is Kind.DATE:
        value = Quantity(kind, read_date(cleaned), "date", text.strip())
    else:
        si, symbol = _read(cleaned, kind, shown)
        value = Quantity(kind, si + 0.0, symbol, text.strip())  # + 0.0: no minus zero
        _refuse_impossible(value)
    _refuse_outside(value, low, high, range_text)
    return value


def _read(text: str, kind: Kind, shown: str | None) -> tuple[float, str]:
    """SI value and the unit it was given in."""
    head = take_number(text)
    if head is None:
        raise _no_number_at_all(text, kind, shown)
    number, sign, end = head
    rest = text[end:].strip()
    if not rest:
        one = _bare(text, kind, shown)
        return one.to_si(number), one.symbol
    found = spelled(rest, kind, shown)
    if found is not None:
        return _signed(number, sign, found, text)
    if kind in _COMPOUND:
        several = _several_parts(text, kind, number, sign == "-", end)
        if several is not None:
            return several
    raise refuse_unit(text, rest, kind, shown)


def _bare(text: str, kind: Kind, shown: str | None) -> Unit:
    if kind is Kind.NUMBER:
        return unit("", kind)
    if shown is None:
        raise Refused("no-unit", f"{quoted(text)} has no unit.",
                      f"Write the unit with it, such as {example(kind)}.")
    return unit(shown, kind)


def _signed(number: float, sign: str, found: Spelled, text: str) -> tuple[float, str]:
    """A vacuum is below atmosphere whether a minus was typed or not."""
    if found.vacuum:
        if sign == "+":
            raise Refused("ambiguous", f"{quoted(text)}: above atmosphere, or a vacuum?",
                          "Leave the + away for a vacuum; give a pressure above atmosphere in psi or bar.")
        return -abs(number) * abs(found.unit.factor), found.unit.symbol
    return found.unit.to_si(number), found.unit.symbol


_COMPOUND = frozenset({Kind.MASS, Kind.LENGTH, Kind.TIME_SPAN})


def _several_parts(
    text: str, kind: Kind, number: float, negative: bool, end: int,
) -> tuple[float, str] | None:
    """``1 lb 4 oz``, ``5' 6"``, ``1 h 30 min``, ``1h30``: sizes falling, whole numbers but the last."""
    total, size, symbol, number = 0.0, float("inf"), "", abs(number)
    while True:
        stop = end
        while stop < len(text) and not (text[stop].isdigit() or text[stop] in ".+-"):
            stop += 1
        word = text[end:stop].strip(" ,").removesuffix(" and").removesuffix(" &").strip()
        found = spelled(word, kind, None) if word else None
        if found is None and kind is Kind.TIME_SPAN and not word and symbol == "h":
            found = spelled("min", kind, None)
        if found is None or found.unit.factor >= size:
            return None
        if stop < len(text) and number % 1:
            raise Refused("ambiguous", f"{quoted(text)}: only the last part may have decimals.",
                          f"Write it in one unit, such as {example(kind)}.")
        total += number * found.unit.factor
        size, symbol = found.unit.factor, symbol or found.unit.symbol
        if stop >= len(text):
            return (-total if negative else total), (found.unit.symbol if kind is Kind.MASS else symbol)
        following = take_number(text, stop)
        if following is None or following[1]:
            return None
        number, _, end = following


_NOT_A_FIGURE = {"nan", "inf", "infinity", "-inf", "+inf", "-infinity"}
_OVER_ITS_RANGE = {"ol", "o.l", "o.l.", "open"}  # what an ohmmeter shows of an open circuit, and its word


def _no_number_at_all(text: str, kind: Kind, shown: str | None) -> Refused:
    sample = example(kind, shown)
    if text.casefold() in _NOT_A_FIGURE:
        return Refused("unreadable", f"{quoted(text)} can't be measured.", f"Type a figure such as {sample}.")
    if kind is Kind.RESISTANCE and text.casefold() in _OVER_ITS_RANGE:
        return Refused("unreadable", f"{quoted(text)} is over the meter's range, and that is no figure.",
                       "Type the top of its highest range; open on an ohmmeter, 100 Mohm.")
    return Refused("unreadable", f"{quoted(text)} holds no number where one should begin.",
                   f"Type {kind.named} such as {sample}.")


def _refuse_impossible(value: Quantity) -> None:
    """What nature doesn't have, whatever the range says."""
    if value.kind is Kind.TEMPERATURE and value.si < -1e-9:
        raise Refused("below-absolute-zero",
                      f"{_own(value)} is below absolute zero (-459.67 °F, -273.15 °C).",
                      "Check the sign and the unit.")
    if value.kind is Kind.ABSOLUTE_PRESSURE and value.si < 0:
        raise Refused("below-absolute-zero", f"{_own(value)}: an absolute pressure is never below zero.",
                      "Check the sign.")
    if value.kind is Kind.GAUGE_PRESSURE and value.si < _PERFECT_VACUUM:
        raise Refused("out-of-range", f"{_own(value)} is below a perfect vacuum (29.9 inHg, -14.7 psig at sea"
                      " level).", "Check the sign and the unit.")


def _own(value: Quantity) -> str:
    return show(value, value.unit)


def _refuse_outside(value: Quantity, low: float | None, high: float | None, range_text: str) -> None:
    slack = 1e-9 * abs(value.si)
    below = low is not None and value.si < low - slack
    if not below and not (high is not None and value.si > high + slack):
        return
    side = "below" if below else "above"
    limits = range_text or _limits(value, low, high)
    name = iso_date(value.si) if value.kind is Kind.DATE else _own(value)
    raise Refused("out-of-range", f"{name} is {side} what this can be ({limits}).",
                  "Check the figure and the unit; type it again.")


def _limits(value: Quantity, low: float | None, high: float | None) -> str:
    ends = [None if si is None else show(Quantity(value.kind, si, value.unit), value.unit)
            for si in (low, high)]
    if ends[0] is None:
        return f"at most {ends[1]}"
    return f"at least {ends[0]}" if ends[1] is None else f"{ends[0]} to {ends[1]}"
