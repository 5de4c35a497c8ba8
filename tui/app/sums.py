"""Quick sums, anywhere: a short form for each, its result at once, and the result into the step's line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from tui.app.forms import Pick
from tui.app.mode import Host, Mode
from tui.app.sheet import FAINT, STRONG, WARN, Item, Part, item, styled
from tui.app.view import View, refused, told
from tui.desk.line import Choices, chosen_of
from tui.quantity import (
    Atmosphere,
    Kind,
    Quantity,
    Refused,
    Value,
    default_unit,
    difference_of,
    echo,
    parse,
    show,
    units_of,
    usual_unit,
)
from tui.refrigerant import resolve
from tui.trade import SUMS, Site, TableProperties

if TYPE_CHECKING:
    from tui.walk import Walk

Use = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What sums take for granted: the units shown, the air that gauges read against, the refrigerant at hand."""

    units: str = "US"
    atmosphere: Atmosphere | None = None
    refrigerant: str = ""
    known: dict[str, Quantity] = field(default_factory=dict)

    @property
    def site(self) -> Site:
        return Site(self.atmosphere or Atmosphere(), date.today())


@dataclass(frozen=True, slots=True)
class Field:
    """What a sum needs: `known` is the reading that is put in beforehand, where there is one."""

    words: str
    kind: Kind
    known: str = ""
    unit: tuple[str, str] = ("", "")  # US, SI; empty: the usual one of its kind


REFRIGERANT = Field("refrigerant", Kind.CHOICE, "refrigerant")


@dataclass(frozen=True, slots=True)
class Form:
    """`results` are (words, name in SUMS, which fields it takes, by place)."""

    name: str
    words: str
    fields: tuple[Field, ...]
    results: tuple[tuple[str, str, tuple[int, ...]], ...]


FORMS = (
    Form(
        "pressure",
        "saturation at a pressure",
        (REFRIGERANT, Field("pressure", Kind.GAUGE_PRESSURE)),
        (("dew", "dew-temperature", (1, 0)), ("bubble", "bubble-temperature", (1, 0)), ("glide", "glide", (1, 0))),
    ),
    Form(
        "temperature",
        "pressure at a temperature",
        (REFRIGERANT, Field("temperature", Kind.TEMPERATURE)),
        (("dew", "dew-pressure", (1, 0)), ("bubble", "bubble-pressure", (1, 0))),
    ),
    Form(
        "superheat",
        "superheat",
        (
            REFRIGERANT,
            Field("suction", Kind.GAUGE_PRESSURE, "suction"),
            Field("line at the outlet", Kind.TEMPERATURE, "evaporator-outlet"),
        ),
        (("superheat", "superheat", (2, 1, 0)), ("evaporating", "evaporating-temperature", (1, 0))),
    ),
    Form(
        "subcooling",
        "subcooling",
        (
            REFRIGERANT,
            Field("head", Kind.GAUGE_PRESSURE, "head"),
            Field("liquid line", Kind.TEMPERATURE, "condenser-outlet"),
        ),
        (("subcooling", "subcooling", (2, 1, 0)), ("condensing", "condensing-temperature", (1, 0))),
    ),
    Form(
        "wanted",
        "wanted suction or head",
        (REFRIGERANT, Field("evaporating or condensing", Kind.TEMPERATURE)),
        (("suction for it", "suction-wanted", (1, 0)), ("head for it", "head-wanted", (1, 0))),
    ),
    Form(
        "hose",
        "what a hose holds",
        (
            REFRIGERANT,
            Field("hose length", Kind.LENGTH, "hose-length", ("ft", "m")),
            Field("inner diameter", Kind.LENGTH, "hose-bore", ("in", "mm")),
            Field("vapour at", Kind.GAUGE_PRESSURE, "suction"),
        ),
        (("it holds", "hose-holds", (1, 2, 3, 0)), ("inner volume", "hose-volume", (1, 2))),
    ),
    Form(
        "leak",
        "leak rate",
        (
            Field("lost, or had to be added", Kind.MASS),
            Field("right on", Kind.DATE),
            Field("short on", Kind.DATE),
        ),
        (("a year", "leak-per-year", (0, 1, 2)),),
    ),
    Form(
        "nitrogen",
        "nitrogen at another temperature",
        (
            Field("pressure then", Kind.GAUGE_PRESSURE),
            Field("temperature then", Kind.TEMPERATURE),
            Field("temperature now", Kind.TEMPERATURE),
        ),
        (("expected now", "nitrogen-expected", (0, 1, 2)),),
    ),
)
UNITS = ("units", "units: any value in others")
CONVERTED = (
    Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE, Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE,
    Kind.PRESSURE_DIFFERENCE, Kind.MASS, Kind.LENGTH, Kind.VOLUME, Kind.TIME_SPAN, Kind.LEAK_RATE, Kind.POWER,
)  # fmt: skip


def around_of(walk: Walk) -> Surroundings:
    """The surroundings of a visit: its units and site, what is known of the circuit at hand."""
    values = walk.values()
    known = {name: value for name, value in values.items() if isinstance(value, Quantity)}
    refrigerant = values.get("refrigerant")
    return Surroundings(
        walk.units, walk.machine.at_site.atmosphere, refrigerant if isinstance(refrigerant, str) else "", known
    )


def quick_sums(talk: Host, around: Surroundings, use: Use | None) -> Mode:
    """The list of sums. use: takes a result as text, for the line of the step; None where there is no step."""
    by_name = {form.name: form for form in FORMS}

    def then(name: str) -> None:
        talk.begin_aside(Units(talk, around, use) if name == UNITS[0] else Filled(talk, by_name[name], around, use))

    choices = (*((form.name, form.words) for form in FORMS), UNITS)
    return _Sums(talk, (item("sums", "Which sum?", STRONG),), choices, then, around)


class _Sums(Pick):
    """Stays when one was taken; a value with its unit, or a refrigerant with one, is answered at once."""

    own_words = True

    def __init__(
        self, talk: Host, title: tuple[Part, ...], choices: Choices, then: Callable[[str], None], around: Surroundings
    ) -> None:
        super().__init__(talk, title, choices, then)
        self.around = around

    def picked(self, line: str) -> str | None:
        """By number or its whole words: a value is none of them."""
        return chosen_of(self.choices, line)

    def view(self, width: int) -> View:
        parts = (*self.title, item("", "Or type at once: r134a 12 psig, or 12 bar. ESC: leave it", FAINT))
        return View(parts, self.choices, "", "number, or a value with its unit")

    def echo(self, line: str) -> tuple[Part, ...]:
        if not line or self.picked(line):
            return super().echo(line)
        return at_once(line, self.around)

    def enter(self, line: str) -> None:
        if line and self.picked(line) is None:
            self.talk.said = at_once(line, self.around)
            return
        found = self.picked(line) if line else None
        if found is None:
            found = self.choices[self.talk.mark][0] if self.talk.mark is not None else None
        if found is None:
            raise Refused("empty", "Nothing is chosen yet.", "Number or arrows; then Enter.")
        self.then(found)


def at_once(line: str, around: Surroundings) -> tuple[Part, ...]:
    """``r134a 12 psig`` and ``12 psig r134a`` looked up, ``12 bar`` in other units; or what is wrong."""
    words = line.split()
    for cut, fluid in ((words[1:], words[0]), (words[:-1], words[-1])):
        try:
            name = resolve(fluid)
        except Refused:
            continue
        return _saturation(name, " ".join(cut), around)
    return tuple(item("=", text) for text in converted(line)) or refused(
        Refused("unreadable", f"“{line}” is no value with its unit.", "Such as 12 psig, 35 °F, 14 oz.")
    )


def _saturation(fluid: str, text: str, around: Surroundings) -> tuple[Part, ...]:
    for form in FORMS[:2]:
        try:
            value = parse(text, form.fields[1].kind, shown=None)
        except Refused:
            continue
        return tuple(_results(form, [fluid, value], around, with_source=False))
    return refused(Refused("unreadable", f"{fluid} at what?", "A pressure or a temperature with its unit."))


def converted(text: str) -> list[str]:
    """The value in the units of each kind it can be, one line a kind."""
    lines = []
    for kind in CONVERTED:
        try:
            value = parse(text, kind, shown=None)
        except Refused:
            continue
        assert isinstance(value, Quantity)
        others = dict.fromkeys(show(value, each.symbol) for each in units_of(kind) if each.symbol)
        lines.append(f"{kind.value}: {', '.join([*others][:8])}")
    return lines


# ---- one form


class Filled(Mode):
    """A form being filled in: one field at a time, results as soon as there is enough."""

    own_words = True

    def __init__(self, talk: Host, form: Form, around: Surroundings, use: Use | None) -> None:
        super().__init__(talk)
        self.form, self.around, self.use = form, around, use
        self.values: list[Value | None] = [_known(each, around) for each in form.fields]
        self.at = next((n for n, value in enumerate(self.values) if value is None), 0)

    @property
    def field(self) -> Field:
        return self.form.fields[self.at]

    @property
    def unit(self) -> str:
        """The one a number alone takes."""
        us, si = self.field.unit
        own = us if self.around.units == "US" else si
        words = self.field.kind in (Kind.CHOICE, Kind.DATE)
        return "" if words else own or default_unit(self.field.kind, self.around.units) or ""

    def view(self, width: int) -> View:
        parts: list[Part] = [item("sum", self.form.words, STRONG)]
        for place, (each, value) in enumerate(zip(self.form.fields, self.values, strict=True)):
            said = "·" if value is None else _shown(value, self.around)
            style = STRONG if place == self.at else ""
            parts.append(Item(">" if place == self.at else "", styled(f"{each.words:<26}{said}", style), STRONG))
        parts += _results(self.form, self.values, self.around)
        result = self._usable()
        uses = f"; use: {result} into the step" if result and self.use else ""
        parts.append(item("", f"Enter alone: the next field{uses}. ESC: leave it", FAINT))
        units = tuple(each.symbol for each in units_of(self.field.kind) if each.symbol)[:4] if self.unit else ()
        return View(tuple(parts), (), self.unit or "value", self._hint(), units=units)

    def _hint(self) -> str:
        if self.field.kind is Kind.CHOICE:
            return "such as R-134a"
        return "year-month-day" if self.field.kind is Kind.DATE else f"a number alone is {self.unit}"

    def _usable(self) -> str:
        """The first result that is a quantity, as it would be typed."""
        for _, name, places in self.form.results:
            value = _worked_out(name, places, self.values, self.around)
            if isinstance(value, Quantity):
                return _shown(value, self.around)
        return ""

    def echo(self, line: str) -> tuple[Part, ...]:
        if not line or line.lower() == "use":
            return ()
        try:
            return told(_said(self._read(line), self.around), "taken as")
        except Refused as problem:
            return (item("not yet", f"{problem.message} {problem.cure}".strip(), label_style=WARN),)

    def _read(self, line: str) -> Value:
        """Raises Refused."""
        if self.field.kind is Kind.CHOICE:
            return resolve(line)
        return parse(line, self.field.kind, shown=self.unit or None)

    def enter(self, line: str) -> None:
        if line.lower() == "use":
            result = self._usable()
            if not result or self.use is None:
                raise Refused("not-now", "There is no result to use here yet.", "Fill in the fields first.")
            self.use(result)
            return
        if line:
            self.values[self.at] = self._read(line)
        empty = [n for n, value in enumerate(self.values) if value is None]
        later = [n for n in empty if n > self.at]
        self.at = (later or empty or [(self.at + 1) % len(self.values)])[0]

    def turn(self, by: int) -> bool:
        self.at = (self.at + by) % len(self.values)
        return True


class Units(Mode):
    """One value in other units."""

    def __init__(self, talk: Host, around: Surroundings, use: Use | None) -> None:
        super().__init__(talk)
        self.around, self.use = around, use
        self.lines: list[str] = []

    def view(self, width: int) -> View:
        parts = [item("sum", "A value in other units.", STRONG)]
        parts += [item("=" if n == 0 else "", line) for n, line in enumerate(self.lines)]
        parts.append(item("", "ESC: leave it", FAINT))
        return View(tuple(parts), (), "value", "with its unit: 12 bar, 10 inHg, 35 °F, 14 oz")

    def echo(self, line: str) -> tuple[Part, ...]:
        return tuple(item("=" if n == 0 else "", each) for n, each in enumerate(converted(line))) if line else ()

    def enter(self, line: str) -> None:
        found = converted(line)
        if not found:
            raise Refused("unreadable", f"“{line}” is no value with its unit.", "Such as 12 psig, 35 °F, 14 oz.")
        self.lines = found


# ---- working out


def _known(each: Field, around: Surroundings) -> Value | None:
    if each.kind is Kind.CHOICE:
        return around.refrigerant or None
    return around.known.get(each.known)


def _worked_out(
    name: str, places: Sequence[int], values: Sequence[Value | None], around: Surroundings
) -> Value | Refused | None:
    """The sum's value; why there is none; None while a field is empty."""
    given = [values[place] for place in places]
    if any(value is None for value in given):
        return None
    try:
        return SUMS[name].call(around.site, TableProperties(), *given)
    except Refused as problem:
        return problem


def _results(
    form: Form, values: Sequence[Value | None], around: Surroundings, *, with_source: bool = True
) -> list[Part]:
    parts: list[Part] = []
    for words, name, places in form.results:
        value = _worked_out(name, places, values, around)
        if isinstance(value, Refused):
            parts += refused(value)
        elif value is not None:
            parts.append(item("=", f"{words} {_said(value, around)}", STRONG))
            if with_source:
                parts.append(item("", f"{SUMS[name].say}; {SUMS[name].source}", FAINT))
    return parts


def _shown(value: Value, around: Surroundings) -> str:
    if not isinstance(value, Quantity):
        return value
    return show(value, value.unit or usual_unit(value, around.units))


def _said(value: Value, around: Surroundings) -> str:
    """In its own unit and others, with how far it may be off."""
    if not isinstance(value, Quantity):
        return value
    text = echo(value, system=around.units)
    return f"{text} (±{show(Quantity(difference_of(value.kind), value.U))})" if value.U > 0 else text
