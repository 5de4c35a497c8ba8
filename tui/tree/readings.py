"""One reading of the catalogue: its kind or answers, and what is accepted."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from tui.quantity import WORDS, Accuracy, Kind, Quantity, Refused, default_unit, parse_literal, unit
from tui.tree.expression import NAME
from tui.tree.model import UNKNOWN, Instrument, Reading
from tui.tree.report import Fields, Report, commas, did_you_mean, shown
from tui.tree.scope import PLACE, words
from tui.tree.source import Scalar

if TYPE_CHECKING:
    from tui.tree.catalogue import Reader

RESERVED = frozenset({"is", "not", "and", "or", UNKNOWN, "any", "otherwise", PLACE})
_NAMES = "names"  # a text that names the circuits of the unit
DAYS = {"past": "today or earlier", "future": "today or later"}  # ranges of a date, in words
KINDS = {kind.value: kind for kind in Kind}


def read_reading(
    name: str,
    fields: Fields,
    key: Scalar,
    reader: Reader,
    instruments: Mapping[str, Instrument],
) -> Reading | None:
    """None where its kind is broken; everything else that is wrong is told and left out."""
    report = reader.report
    check_name(key, "A reading", report)
    kind, answers = kind_and_answers(fields, report)
    me = ("readings", name)
    instrument = reader.one_of("instruments", fields, "with", me)
    work = reader.one_of("work", fields, "work", me)
    if kind is None:
        return None
    if instrument is not None and instrument in instruments:
        _fits(fields, instruments[instrument], kind, report)
    named = fields.text("kind")
    days = _days(fields, kind)
    low, high, text = (None, None, DAYS[days]) if days else _range(fields, kind, report)
    return Reading(
        name,
        key.spot,
        fields.words("ask") or None,
        kind,
        answers,
        low,
        high,
        text,
        _unit(fields, kind, report),
        instrument,
        of=fields.one_of("of", ("unit", "circuit")) or "circuit",
        while_=fields.one_of("while", ("running", "stopped")),
        settles=fields.yes("settles"),
        must=fields.yes("must"),
        work=work,
        remembered=fields.yes("remembered"),
        set_=fields.yes("set"),
        how=fields.words("how"),
        good_for=_span(fields, report),
        worked_out=fields.yes("worked out"),
        stays=fields.yes("stays"),
        rating=fields.yes("rating"),
        names=named is not None and named.text == _NAMES,
        days=days,
    )


def check_name(key: Scalar, what: str, report: Report) -> None:
    """A name that expressions can use."""
    if NAME.fullmatch(key.text) is None:
        report.add(
            key.spot,
            "bad-name",
            f"{what} can't be called {shown(key.text)}.",
            "Use letters, digits and single hyphens, a letter first.",
        )
    elif key.text in RESERVED:
        report.add(
            key.spot,
            "bad-name",
            f"{what} can't be called {shown(key.text)}: it is a word of the language.",
            "Choose another name.",
        )


def kind_and_answers(fields: Fields, report: Report) -> tuple[Kind | None, tuple[str, ...]]:
    """From `kind` or `answers`; (None, ()) where they are broken or missing."""
    before = len(report.problems)
    found = fields.text("kind")
    kind = None
    if found is not None:
        kind = Kind.TEXT if found.text == _NAMES else KINDS.get(found.text)
        if kind is None:
            report.add(
                found.spot,
                "unknown-kind",
                f"{shown(found.text)} is no kind.",
                did_you_mean(found.text, KINDS, f"Kinds are: {', '.join(KINDS)}."),
            )
    if "answers" in fields:
        answers = answer_words(fields.text("answers"), report)
        if kind is not None and kind not in (Kind.CHOICE, Kind.YES_NO):
            report.add(
                fields.keys["answers"].spot,
                "wrong-kind",
                f"{kind.named.capitalize()} has no answers.",
                "Write `kind`, or `answers`, not both.",
            )
        return (words(answers).kind, answers) if len(report.problems) == before and answers else (None, ())
    if kind is Kind.YES_NO:
        return kind, ("yes", "no")
    if kind is Kind.CHOICE:
        report.add(
            fields.keys["kind"].spot,
            "missing-key",
            f"{fields.what} is a choice without `answers`.",
            "Write `answers: word, word` instead of `kind`.",
        )
        return None, ()
    if "kind" not in fields:
        report.add(
            fields.head,
            "missing-key",
            f"{fields.what} has neither `kind` nor `answers`.",
            "Write `kind: temperature`, or `answers: word, word`.",
        )
    return kind, ()


def answer_words(found: Scalar | None, report: Report) -> tuple[str, ...]:
    """A comma list of answers, each of which tests and cells can name without doubt."""
    if found is None:
        return ()
    parts = commas(found, report)
    answers = tuple(dict.fromkeys(part.text for part in parts))
    for part in parts:
        why = _unfit(part.text, answers)
        if why:
            report.add(part.spot, "bad-name", f"{shown(part.text)} can't be an answer: {why}.", "Word it differently.")
    return answers


def _unfit(word: str, answers: tuple[str, ...]) -> str:
    if word in RESERVED:
        return "it is a word of the language"
    if word.startswith("not "):
        return "a test would read its `not` as its own"
    if " is " in word or word.startswith("is ") or word.endswith(" is"):
        return "a test would read its `is` as its own"
    if any(sign in word for sign in "<>:"):
        return "`<`, `>` and `:` are signs of the language"
    if " or " in word and all(part in answers for part in word.split(" or ")):
        return "it could also be read as several answers"
    return ""


_UNITS = "°F and °C are temperatures, dF and dC differences; psig is gauge, psia absolute, psi a difference."
_NUMBER = re.compile(r"(-?[0-9]+)(?:[.,]([0-9]+))? *(.*)")
_DEGREES = {Kind.TEMPERATURE: "°", Kind.TEMPERATURE_DIFFERENCE: "d"}
_PRESSURES = {Kind.GAUGE_PRESSURE: "g", Kind.ABSOLUTE_PRESSURE: "a", Kind.PRESSURE_DIFFERENCE: ""}


def literal_meant(text: str, kind: Kind) -> str:
    """```11 dF` or `11 dC```: what a number of this kind that was not understood was most likely to be; or ""."""
    number = _NUMBER.fullmatch(text.strip())
    if number is None:
        return ""
    value = f"{int(number[1])}.{number[2]}" if number[2] else f"{int(number[1])}"
    found = (f"{value} {one}".rstrip() for one in _units_meant(number[3], kind))
    return " or ".join(shown(one) for one in dict.fromkeys(found) if _is_literal(one, kind))


def _units_meant(written: str, kind: Kind) -> tuple[str, ...]:
    bare = written.lower().removeprefix("degrees").removeprefix("deg").strip(" .°ºd")
    if kind in _DEGREES and bare[:1] in ("f", "c", "k"):
        return (_DEGREES[kind] + ("F" if bare[0] == "f" else "C"),)
    if kind in _PRESSURES and bare[:3] in ("psi", "bar"):
        return (bare[:3] + _PRESSURES[kind],)
    if _is_literal(f"1 {written}", kind):
        return (written,)
    return (default_unit(kind), default_unit(kind, "SI"))


def _is_literal(text: str, kind: Kind) -> bool:
    try:
        return parse_literal(text).kind is kind
    except Refused:
        return False


def literal(found: Scalar, kind: Kind, report: Report) -> Quantity | None:
    """A number with its unit that must be of `kind`."""
    try:
        value = parse_literal(found.text)
    except Refused as refused:
        meant = literal_meant(found.text, kind)
        report.add(found.spot, "bad-number", refused.message, f"Write {meant}." if meant else refused.cure)
        return None
    if value.kind is not kind:
        meant = literal_meant(found.text, kind)
        report.add(
            found.spot,
            "wrong-kind",
            f"{shown(found.text)} is {value.kind.named}; {kind.named} is needed here.",
            f"Write {meant}. {_UNITS}" if meant else _UNITS,
        )
        return None
    return value


def _days(fields: Fields, kind: Kind) -> str:
    """``past`` or ``future`` as the range of a date."""
    found = fields.text("range")
    return found.text if found is not None and kind is Kind.DATE and found.text in DAYS else ""


def _range(fields: Fields, kind: Kind, report: Report) -> tuple[float | None, float | None, str]:
    found = fields.text("range")
    if found is None:
        return None, None, ""
    low_text, to, _high_text = found.text.partition(" to ")
    if not to:
        example = found.text.replace(" - ", " to ") if " - " in found.text else "-60 °F to 200 °F"
        report.add(found.spot, "bad-range", f"{shown(found.text)} is no range.", f"Write {shown(example)}.")
        return None, None, ""
    if kind in WORDS:
        report.add(found.spot, "bad-range", f"{kind.named.capitalize()} has no range.", "Take the line out.")
        return None, None, ""
    low = literal(found.part(0, len(low_text)), kind, report)
    high = literal(found.part(len(low_text) + 4), kind, report) if low is not None else None
    if low is None or high is None:  # both ends mostly have the same slip
        return None, None, ""
    if low.si >= high.si:
        report.add(
            found.spot, "bad-range", f"The range {shown(found.text)} holds nothing.", "Write the lower end first."
        )
    return low.si, high.si, found.text


def _unit(fields: Fields, kind: Kind, report: Report) -> str:
    found = fields.text("unit")
    if found is None:
        return ""
    try:
        return unit(found.text, kind).symbol
    except Refused as refused:
        report.add(found.spot, "bad-number", refused.message, refused.cure)
        return ""


def _span(fields: Fields, report: Report) -> Quantity | None:
    found = fields.text("good for")
    return None if found is None else literal(found, Kind.TIME_SPAN, report)


def _fits(fields: Fields, instrument: Instrument, kind: Kind, report: Report) -> None:
    if kind in WORDS or not Accuracy.parse(instrument.good_to).fits(kind):
        found = fields.text("with")
        if found is not None:
            report.add(
                found.spot,
                "wrong-kind",
                f"{shown(instrument.id)} is good to {instrument.good_to}: that is no accuracy of {kind.named}.",
                "Name the instrument that measures it.",
            )
