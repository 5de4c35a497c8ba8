"""Prompts, tables and findings as plain lines: no colours, no boxes, nothing that trips a screen reader."""

from __future__ import annotations

import shlex
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from tui.desk.line import has_numbers
from tui.quantity import clock_span
from tui.walk.kinds import ASK, CAUTION, CLOSE_CALL, DO, OFFER, WAIT, spoken
from tui.walk.prompt import AskFor, Finding, Prompt, Row, TrailEntry
from tui.walk.wording import said

if TYPE_CHECKING:
    from tui.tree.model import Cause
    from tui.walk import Walk

WIDTH = 79
FEW = 5  # causes named where all would be too many
words = spoken

HELP = """\
Type the answer, or the digit of a choice. Enter alone: read, done, or over.
  couldn't WHY          it cannot be had or done
  not known             the same of a reading, without a reason
  back [N]              take back the last answer, or the last N
  tell READING VALUE    any reading at any time: tell suction 12 psig
  correct               the readings so far
  correct READING VALUE mend a slip; what it changes is shown before it counts
  correct READING never had strikes it out, the same way
  note TEXT             a note of your own
  photo PATH            keep a photo with this visit
  skip WHY              cut a wait short
  switch CIRCUIT        work on another circuit
  overrule VERDICT: WHY at a close call, your verdict against the tool's
  own CAUSE: WHY        your own finding, beside the tool's
  table or ?            what was measured against what is wanted
  trail                 the way so far
  possible              what can still be found
  why                   this question once more, with its reasons
  close WHY             end the visit here; what is left on is cleared first
  quit                  leave; the visit stays open
  = TEXT                an answer that begins like one of these words"""


def prompt_lines(prompt: Prompt) -> Iterator[str]:
    """A question with its reasons; not yet the reading that is asked first."""
    yield ""
    place = f"{prompt.tree}/{prompt.step}" if prompt.tree else prompt.step
    yield ", ".join(part for part in (prompt.circuit, place) if part)
    yield from wrapped(prompt.words)
    for caution in prompt.cautions:
        yield from wrapped(f"Caution: {caution}")
    if prompt.seconds is not None:
        yield f"Wait {clock_span(prompt.seconds)}."
    if prompt.why:
        yield from wrapped(f"Why: {prompt.why}")
    if prompt.how:
        yield from wrapped(f"{'Leads to' if prompt.kind == CLOSE_CALL else 'How'}: {prompt.how}")
    for reading, shown in prompt.known:
        yield f"Known: {words(reading)} {shown}"


def reading_lines(reading: AskFor, only: bool) -> Iterator[str]:
    """One reading as it is asked; `only`: its words were the question already."""
    if not only:
        yield from wrapped(reading.words)
    if reading.how:
        yield from wrapped(f"How: {reading.how}")
    yield from choice_lines(reading.choices)
    hints = [f"in {reading.unit}" if reading.unit else "", reading.range_text]
    if reading.instrument:
        hints.append(f"with the {words(reading.instrument)}")
    hint = ", ".join(hint for hint in hints if hint)
    if hint:
        yield f"({hint})"


def choice_lines(choices: tuple[tuple[str, str], ...]) -> Iterator[str]:
    """Choices with their numbers, where they have any."""
    if not has_numbers(choices):
        yield from wrapped(f"One of: {', '.join(say for _, say in choices)}")
        return
    for number, (_, say) in enumerate(choices, start=1):
        yield from textwrap.wrap(f"{number}  {say}", WIDTH, initial_indent="  ", subsequent_indent="     ")


_WHAT_TO_TYPE = {
    CAUTION: "Enter when you have read it.",
    DO: "Enter when it is done, or: couldn't WHY",
    WAIT: "Enter when it is over, or: skip WHY",
    CLOSE_CALL: "Type a digit.",
    OFFER: "Type a digit.",
}


def what_to_type(prompt: Prompt) -> str:
    """The last line before the person types; an ask says it with its reading."""
    if prompt.cut_short:
        return f"{_WHAT_TO_TYPE[WAIT]}. Cut short it proves nothing - {prompt.cut_short}"
    return _WHAT_TO_TYPE.get(prompt.kind, "" if prompt.kind == ASK else "Type a digit.")


def row_line(row: Row) -> str:
    """``suction level: 12 psig, wanted 20 psig to 24 psig, difference -8 psi, low, close to on``."""
    wanted = f"wanted {row.wanted}"
    difference = f"difference {row.difference}" if row.difference else ""
    close = f"close to {row.close}" if row.close else ""
    says = f"was {row.says} (earlier, not taken again since)" if row.earlier else row.says
    parts = [part for part in (row.measured, wanted, difference, says, close) if part]
    return f"{row.name}: {', '.join(parts)}"


def trail_line(entry: TrailEntry) -> str:
    """``main, is it low - suction level is low, so add a little``."""
    close = f" (a close call: {', '.join(map(said, entry.close))})" if entry.close else ""
    circuit = f"{entry.circuit}, " if entry.circuit else ""
    to = "" if entry.to == "carry on" else f", so {words(entry.to)}"
    return f"{circuit}{words(entry.at.split('/')[-1])} - {entry.words}{to}{close}"


def own_finding_lines(walk: Walk) -> Iterator[str]:
    """What the person found, to stand beside what the tool did."""
    for circuit, cause, reason in walk.own_findings:
        where = f" in {circuit}" if circuit else ""
        yield from wrapped(f"Your own finding{where}: {cause_words(cause, walk.library.catalogue.causes)} - {reason}")


def finding_lines(finding: Finding, causes: Mapping[str, Cause]) -> Iterator[str]:
    """A finding with what was seen and what is next."""
    yield ""
    circuit = f" in {finding.circuit}" if finding.circuit else ""
    yield from wrapped(f"Found{circuit}: {cause_words(finding.cause, causes)}")
    if finding.could_be:
        yield from wrapped(f"It could be: {could_be_words(finding.could_be, causes)}")
    for label, text in (
        ("Seen", finding.seen),
        ("To tell them apart", finding.told_apart),
        ("Next", finding.next),
    ):
        if text:
            yield from wrapped(f"{label}: {text}")
    for line in near_lines(finding):
        yield from wrapped(line)


def near_lines(finding: Finding) -> Iterator[str]:
    """What a finding stands on that was too near its limit, and what it would be on its other side.

    The last first, for it lies nearest; what was near twice is told once, and so is a cause.
    """
    told: set[str] = set()
    for near in reversed({near.what: near for near in finding.near}.values()):
        named = [words(cause) for cause in near.causes if cause not in told]
        told.update(near.causes)
        more = [f"{near.more} more"] if named and near.more else []  # F5 names all that stay possible
        other = f" Other side: {', '.join((*named, *more))}." if named else ""
        yield f"Near a limit: {near.what}.{other}"


def could_be_words(could_be: Sequence[str], causes: Mapping[str, Cause]) -> str:
    """Each as it is said; of many only the words, so that what is next has room."""
    if len(could_be) >= FEW:
        return ", ".join(map(words, could_be))
    return "; ".join(cause_words(cause, causes) for cause in could_be)


def cause_words(cause: str, causes: Mapping[str, Cause]) -> str:
    return causes[cause].say if cause in causes else words(cause)


def how_to_resume(path: Path) -> str:
    return f"The visit stays open. Go on with: lowside resume {shlex.quote(str(path))}"


def left_on_lines(walk: Walk) -> Iterator[str]:
    """What is on or open now, and how it is cleared: said before a person goes."""
    for circuit, thing in walk.left_on:
        where = f" ({circuit})" if circuit else ""
        yield from wrapped(f"Not cleared yet: {thing}{where}. {walk.library.catalogue.left_on[thing].tell}")


def wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent="  ", break_on_hyphens=False) or [""]
