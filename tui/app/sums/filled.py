"""A form being filled in: one field at a time, results as soon as there is enough."""

from __future__ import annotations

from collections.abc import Iterator

from tui.app.mode import Host, Mode
from tui.app.sheet import FAINT, MARKED, STRONG, WARN, Item, Part, item, styled
from tui.app.sums import working
from tui.app.sums.around import Surroundings
from tui.app.sums.forms import REFRIGERANT, Field, Form
from tui.app.sums.using import Use, usable, use_of
from tui.app.view import View, refused, told
from tui.desk.line import Choices
from tui.desk.saying import words
from tui.desk.typed import begins_with_reading
from tui.quantity import Kind, Quantity, Refused, Value, default_unit, units_of
from tui.refrigerant import ids

NAME = 29  # cells of a field's words
NUMBER = 10  # cells of its number


class Filled(Mode):
    """A value goes to the field that is marked; a field's name before it goes anywhere."""

    own_words = True
    keeps_mark = True

    def __init__(self, talk: Host, form: Form, around: Surroundings, use: Use | None) -> None:
        super().__init__(talk)
        self.form, self.around, self.use = form, around, use
        self.values = working.known(form, around)
        self.marked = self._next(0)

    @property
    def fields(self) -> tuple[Field, ...]:
        return working.visible(self.form, self.values)

    @property
    def choices(self) -> Choices:
        return tuple((field.name, field.words) for field in self.fields)

    def picked(self, line: str) -> str | None:
        """A field by its name or its words alone; the rest is a value."""
        lower = line.lower()
        named = (each.name for each in self.fields if lower in (each.name, words(each.name), each.words.lower()))
        return next(named, None)

    @property
    def place(self) -> int:
        """The field that a value goes to."""
        mark = self.talk.mark
        return mark if mark is not None and mark < len(self.fields) else self.marked or 0

    @property
    def field(self) -> Field:
        return self.fields[self.place]

    @property
    def unit(self) -> str:
        """The one that a number alone takes in this field; empty for words."""
        return "" if self.field.kinds[0] is Kind.CHOICE else working.unit_of(self.field, self.around)

    # ---- looking

    def view(self, width: int) -> View:
        parts: list[Part] = [item("sum", self.form.words[:1].upper() + self.form.words[1:], STRONG)]
        parts += (self._row(place, field) for place, field in enumerate(self.fields))
        parts += self._results()
        parts += self._small_print()
        units = tuple(each.symbol for each in units_of(self.field.kinds[0]) if each.symbol)[:4] if self.unit else ()
        return View(tuple(parts), (), self.unit or "value", self._hint(), units=units)

    def _row(self, place: int, field: Field) -> Item:
        value = self.values[field.name]
        here = place == self.place
        row = f" {field.words:<{NAME}}{self._shown(field, value)} "
        return Item(">" if here else "", styled(row, MARKED if here else ""), STRONG, choice=place)

    def _shown(self, field: Field, value: Value | None) -> str:
        """Number and unit, each in its column; the unit of a number alone where there is none yet."""
        if value is None:
            words = field.kinds[0] is Kind.CHOICE
            return "·" if words else f"{'·':>{NUMBER}} {working.unit_of(field, self.around)}"
        if isinstance(value, str):
            estimated = "" if field.answers else working.doubt(value, self.around)
            return f"{value}  {estimated}".strip()
        text = working.shown(value, self.around)
        number, _, unit = text.partition(" ")
        return text if value.kind is Kind.DATE else f"{number:>{NUMBER}} {unit}"

    def _results(self) -> Iterator[Part]:
        """Each with its sum in words and its source, which is not said twice in a row."""
        place, source = 0, ""
        for each in working.worked(self.form, self.values, self.around):
            if isinstance(each.value, Refused):
                yield from refused(each.value)
                continue
            quantity = isinstance(each.value, Quantity)
            place += quantity
            label = f"use {place}" if quantity and self.use is not None else "="
            yield item(label, working.told(each, self.around), STRONG)
            new = each.sum.source != source
            yield item("", f"{each.sum.say}; {each.sum.source}" if new else each.sum.say, FAINT)
            source = each.sum.source

    def _small_print(self) -> Iterator[Part]:
        """Whose the ± is, which air was taken, how to go on."""
        legend = working.legend(self.values, self.fields, self.around)
        if legend:
            yield item("", legend, FAINT)
        if REFRIGERANT in self.form.fields or any(Kind.GAUGE_PRESSURE in each.kinds for each in self.form.fields):
            yield item("", f"air: {self.around.air.source}", FAINT)
        yield item("", "Up, Down or a field's name: another field. ESC: back to the list.", FAINT)

    def _hint(self) -> str:
        field = self.field
        if field.answers:
            return " / ".join(field.answers)
        if field.kinds[0] is Kind.CHOICE:
            return "such as R-134a"
        if Kind.DATE in field.kinds:
            return f"alone: {self.unit}; or a day, 2026-05-31"
        if Kind.TEMPERATURE in field.kinds[1:]:
            return f"alone: {self.unit}; or such as 20 {default_unit(Kind.TEMPERATURE, self.around.units)}"
        return f"a number alone is {self.unit}"

    def says(self, place: int) -> tuple[Part, ...]:
        field = self.fields[place]
        if field.kinds[0] is Kind.CHOICE and not field.answers:
            return (item("carried", " ".join(ids())),)
        return (item("how", field.how),) if field.how else ()

    # ---- typing

    def echo(self, line: str) -> tuple[Part, ...]:
        """How it would be taken, and what would come of it."""
        if not line or use_of(line) is not None or self.picked(line) is not None:
            return ()
        try:
            field, value = self._read(line)
        except Refused as problem:
            return (item("not yet", f"{problem.message} {problem.cure}".strip(), label_style=WARN),)
        said = working.said(value, self.around)
        elsewhere = f"{field.words}: " if field is not self.field else ""
        values = {**self.values, field.name: value}
        return (*told(elsewhere + said, "taken as"), *self._would_be(values))

    def _would_be(self, values: working.Values) -> Iterator[Part]:
        for each in working.worked(self.form, values, self.around)[:3]:
            if isinstance(each.value, Refused):
                yield from refused(each.value)
            else:
                yield item("=", working.told(each, self.around))

    def _read(self, line: str) -> tuple[Field, Value]:
        """The field that a line is for, and its value. Raises Refused."""
        field, text = self._named(line) or (self.field, line)
        return field, working.read(field, text, self.around)

    def _named(self, line: str) -> tuple[Field, str] | None:
        """``suction 12``, ``temperature now 70``; ``liquid``, which only one field can be."""
        fields = {each.name: each for each in self.fields}
        fields |= {"-".join(each.words.split()): each for each in self.fields}
        found = begins_with_reading(line, fields)
        if found is not None:
            return fields[found[0]], found[1]
        return next(((each, line) for each in self.fields if line.lower() in each.answers), None)

    def enter(self, line: str) -> None:
        wanted = use_of(line)
        if wanted is not None:
            usable(self._usable(), wanted, self.use)
            return
        named = self.picked(line) if line else None
        if named is not None:
            self.marked = self._places().index(named)
        elif not line:
            here = self.place
            self.marked = here if here != self.marked else (here + 1) % len(self.fields)
        else:
            field, value = self._read(line)
            self.values[field.name] = value
            self.marked = self._next(self._places().index(field.name) + 1)

    def _usable(self) -> list[str]:
        """The results that a step could take, as they would be typed."""
        found = (each.value for each in working.worked(self.form, self.values, self.around))
        return [working.shown(value, self.around) for value in found if isinstance(value, Quantity)]

    def turn(self, by: int) -> bool:
        self.marked = self.talk.mark = (self.place + by) % len(self.fields)
        self.talk.said = self.says(self.marked)
        return True

    def _places(self) -> list[str]:
        return [each.name for each in self.fields]

    def _next(self, start: int) -> int:
        """The first field not filled in, from there on and round again; else the first that is a number."""
        fields = self.fields
        places = [*range(start, len(fields)), *range(min(start, len(fields)))]
        empty = next((place for place in places if self.values[fields[place].name] is None), None)
        numbers = (place for place in places if fields[place].kinds[0] is not Kind.CHOICE)
        return next(numbers, 0) if empty is None else empty
