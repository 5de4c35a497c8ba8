"""What a form comes to: values read with their instruments, sums done, each told in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot, isclose, sqrt

from tui.app.sums.around import Surroundings
from tui.app.sums.forms import Field, Form, Result
from tui.quantity import (
    COVERAGE,
    Kind,
    Quantity,
    Refused,
    Value,
    compare,
    default_unit,
    difference_of,
    echo,
    parse,
    show,
    to_absolute,
    to_gauge,
    usual_unit,
)
from tui.refrigerant import facts, resolve
from tui.trade import SUMS, Sum, TableProperties
from tui.walk.exactness import good_to_words

Values = Mapping[str, Value | None]

_TAKEN_FOR = {(Kind.ABSOLUTE_PRESSURE, Kind.GAUGE_PRESSURE), (Kind.DATE, Kind.TIME_SPAN)}
_OTHER_KIND = ("wrong-kind", "wrong-unit", "no-unit", "unreadable", "ambiguous")


@dataclass(frozen=True, slots=True)
class Worked:
    """One result, or why there is none."""

    result: Result
    value: Value | Refused
    words: str

    @property
    def sum(self) -> Sum:
        return SUMS[self.result.sum]


# ---- reading


def unit_of(field: Field, around: Surroundings) -> str:
    """The one that a number alone takes; empty for words and dates."""
    kind = field.kinds[0]
    own = field.unit[0] if around.units == "US" else field.unit[1]
    return own or default_unit(kind, around.units)


def read(field: Field, text: str, around: Surroundings) -> Value:
    """The value of what was typed, with the error of its instrument. Raises Refused."""
    if field.answers:
        return parse(text, Kind.CHOICE, shown="", choices=field.answers)
    if field.kinds[0] is Kind.CHOICE:
        return resolve(text)
    value = _of_one_kind(field, text, around)
    if value.kind is Kind.GAUGE_PRESSURE:
        to_absolute(value, around.air)  # refuses what is below a full vacuum here
    accuracy = around.accuracy(field.with_, value.kind)
    if accuracy is None:
        return value
    source = f"{field.with_}#2" if field.again else field.with_
    return value.with_error(source, accuracy.standard(value.si))


def _of_one_kind(field: Field, text: str, around: Surroundings) -> Quantity:
    """Raises the refusal that says most."""
    problems: list[Refused] = []
    for kind in field.kinds:
        try:
            value = parse(text, kind, shown=None if problems else unit_of(field, around))
        except Refused as problem:
            problems.append(problem)
            continue
        assert isinstance(value, Quantity)
        return value
    raise next((each for each in problems if each.code not in _OTHER_KIND), problems[0])


def known(form: Form, around: Surroundings) -> dict[str, Value | None]:
    """What is put in beforehand."""
    values: dict[str, Value | None] = {}
    for field in form.fields:
        if field.answers:
            values[field.name] = field.answers[0]
        elif field.kinds[0] is Kind.CHOICE:
            values[field.name] = around.carried or None
        else:
            found = next((around.known[each] for each in field.known.split() if each in around.known), None)
            values[field.name] = found if found is not None and found.kind in field.kinds else None
    return values


# ---- sums


def visible(form: Form, values: Values) -> tuple[Field, ...]:
    """The fields that are asked now."""
    return tuple(each for each in form.fields if each.only is None or values.get(each.only[0]) == each.only[1])


def takes(argument: Kind, given: Kind) -> bool:
    """Whether a sum that wants `argument` can be given a value of that kind."""
    return given is argument or (given, argument) in _TAKEN_FOR


def worked(form: Form, values: Values, around: Surroundings) -> list[Worked]:
    """Every result there is enough for, with what it comes to."""
    asked = {field.name for field in visible(form, values)}
    found: list[Worked] = []
    for result in form.results:
        given = [values.get(name) if name in asked else None for name in result.needs]
        if all(each is not None for each in given):
            found += _worked(result, [each for each in given if each is not None], around)
    return _once(found)


def _worked(result: Result, given: Sequence[Value], around: Surroundings) -> list[Worked]:
    """Nothing where the sum takes other kinds."""
    one = SUMS[result.sum]
    kinds = [each.kind if isinstance(each, Quantity) else Kind.CHOICE for each in given]
    if not all(takes(*pair) for pair in zip(one.arguments, kinds, strict=True)):
        return []
    try:
        fitted = [_fitted(each, kind, around) for each, kind in zip(given, one.arguments, strict=True)]
        return [Worked(result, one.call(around.site, TableProperties(), *fitted), result.words)]
    except Refused as problem:
        return [Worked(result, problem, result.words)]


def _fitted(value: Value, kind: Kind, around: Surroundings) -> Value:
    """As the sum takes it: gauge pressure at this air, time until today."""
    if isinstance(value, str) or value.kind is kind:
        return value
    if kind is Kind.GAUGE_PRESSURE:
        return to_gauge(value, around.air)
    today = parse(str(around.site.today), Kind.DATE, shown=None)
    assert isinstance(today, Quantity)
    return today - value


def _once(found: Sequence[Worked]) -> list[Worked]:
    """A single fluid has one saturation and no glide; what is refused for one reason is refused once."""
    kept: list[Worked] = []
    for each in found:
        value = each.value
        if isinstance(value, Refused):
            kept += [] if any(str(other.value) == str(value) for other in kept) else [each]
        elif each.words == "bubble" and kept and kept[-1].value == value:
            kept[-1] = replace(kept[-1], words="saturated")
        elif each.result.sum != "glide" or (isinstance(value, Quantity) and value.si != 0.0):
            kept.append(each)
    return kept


# ---- words


def shown(value: Value, around: Surroundings) -> str:
    """As it would be typed: in its own unit, else in the usual one."""
    if not isinstance(value, Quantity):
        return value
    return show(value, value.unit or usual_unit(value, around.units))


def said(value: Value, around: Surroundings, units: Sequence[str] = ()) -> str:
    """In its own unit and others, with how far it may be off."""
    if not isinstance(value, Quantity):
        return value
    text = " = ".join(show(value, each) for each in units) if units else echo(value, system=around.units)
    return f"{text} ({off(value, around)})" if value.U > 0 else text


def off(value: Quantity, around: Surroundings) -> str:
    """``±1.2 dF``: expanded, coverage factor 2."""
    kind = difference_of(value.kind)
    delta = value.shown_unit.delta if value.unit else ""
    width = Quantity(kind, value.U)
    return f"±{show(width, delta or usual_unit(width, around.units))}"


def told(one: Worked, around: Surroundings) -> str:
    """The result in words."""
    assert not isinstance(one.value, Refused)
    if one.result.sum == "nitrogen-fall" and isinstance(one.value, Quantity):
        return _held(one.value, around)
    return f"{one.words} {said(one.value, around, one.result.units)}"


def _held(fall: Quantity, around: Surroundings) -> str:
    """A fall against what the instruments can tell; no verdict where that is not known."""
    size = show(Quantity(fall.kind, abs(fall.si)), usual_unit(fall, around.units))
    words = "below" if fall.si > 0 else "above"
    if not fall.errors:
        return f"{size} {words} what is expected. How good the instruments are is not known: no verdict."
    found = compare(fall, Quantity(fall.kind, 0.0), Quantity(fall.kind, 0.0))
    if found.close or found.verdict == "on":
        return f"{size} {words} ({off(fall, around)}): no more than the instruments can tell. That proves nothing yet."
    if found.verdict == "high":
        return f"{size} below ({off(fall, around)}): more than the instruments are off. It has lost nitrogen."
    return f"{size} above ({off(fall, around)}): warmer than measured, or gas came in. Measure again."


def legend(values: Values, fields: Sequence[Field], around: Surroundings) -> str:
    """Which instruments the ± is of, and how far each may be off; empty where none is known."""
    used: dict[str, str] = {}
    for field in fields:
        value = values.get(field.name)
        if not isinstance(value, Quantity):
            continue
        shares: dict[str, float] = {}
        for source, error in value.errors.items():  # what an instrument is wrong by each time, and the reading's own
            name = source.partition("#")[0]
            shares[name] = hypot(shares.get(name, 0.0), error)
        for name, error in shares.items():
            used[name.replace("-", " ").replace(":", " of ")] = _good_to(name, value, error, around)
    told = ", ".join(f"{name} {good}" for name, good in used.items())
    return f"± by {told}; coverage factor {COVERAGE:g}" if told else ""


def _good_to(instrument: str, value: Quantity, error: float, around: Surroundings) -> str:
    """As it is set; what it was at the reading, where it has been checked since (JCGM 100, 4.3.7)."""
    accuracy = around.accuracy(instrument, value.kind)
    if accuracy is not None and isclose(accuracy.standard(value.si), abs(error)):
        return good_to_words(accuracy.text, around.units)
    width = Quantity(difference_of(value.kind), abs(error) * sqrt(3))
    return show(width, usual_unit(width, around.units))


def doubt(refrigerant: str, around: Surroundings) -> str:
    """How good the tables are, where they are only estimated; else empty."""
    found = facts(refrigerant)
    error = Quantity(Kind.TEMPERATURE_DIFFERENCE, found.error_K)
    return f"estimated, good to {show(error, usual_unit(error, around.units))}" if found.estimated else ""
