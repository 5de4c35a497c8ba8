"""Prompts, tables, trails and findings as styled text. Never markup: trees and people may write [anything]."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from textual.content import Content

from tui.desk.saying import cause_words, remaining, words
from tui.walk.prompt import ASK, CAUTION, DO, WAIT, AskFor, Finding, Prompt, Row, TrailEntry

if TYPE_CHECKING:
    from tui.tree.model import Cause

STRONG = "bold"
FAINT = "$text-muted"
WARN = "$text-warning"
SAYS = {"low": "v low", "on": "= on", "high": "^ high", "unknown": "? unknown"}
HEADINGS = ("reading", "measured", "wanted", "difference", "says")


def lines(parts: Iterable[Content | str]) -> Content:
    """One part below the other."""
    return Content("\n").join([part if isinstance(part, Content) else Content(part) for part in parts])


def question(prompt: Prompt) -> Content:
    """What is asked, large as a terminal can, then why and how, then what is known of it."""
    parts: list[Content] = []
    if prompt.kind == CAUTION:
        parts.append(Content.styled("CAUTION - read before you go on", f"{STRONG} {WARN}"))
        parts += [Content.assemble(("! ", f"{STRONG} {WARN}"), caution) for caution in prompt.cautions]
    else:
        title = {DO: "DO  ", WAIT: "WAIT  "}.get(prompt.kind, "")
        parts.append(Content.assemble((title, f"{STRONG} {WARN}"), (prompt.words, STRONG)))
    parts += [labelled(label, text) for label, text in (("why", prompt.why), ("how", prompt.how)) if text]
    if prompt.known:
        said = ", ".join(f"{words(reading)} {shown}" for reading, shown in prompt.known)
        parts.append(labelled("known", said))
    return lines(parts)


def labelled(label: str, text: str) -> Content:
    return Content.assemble((f"{label}  ", FAINT), text)


def board(readings: tuple[AskFor, ...], asked: str) -> Content:
    """Several readings of one step: the one asked now is marked, the others can be typed by name."""
    parts = []
    for reading in readings:
        now = reading.id == asked
        unit = f" ({reading.unit})" if reading.unit else ""
        mark = "> " if now else "  "
        parts.append(Content.styled(f"{mark}{reading.words}{unit}", STRONG if now else FAINT))
    return lines(parts)


def reading_hint(prompt: Prompt, reading: AskFor) -> Content:
    """How to take this one reading, where the question does not say it already."""
    parts = [labelled("how", reading.how)] if reading.how and reading.how != prompt.how else []
    if reading.range_text and not reading.choices:
        parts.append(labelled("range", reading.range_text))
    return lines(parts)


def what_to_press(prompt: Prompt, reading: AskFor | None) -> str:
    """The faint words in the empty input line."""
    if prompt.kind == ASK and reading is not None:
        if reading.choices and len(reading.choices) > 9:
            return "type it, for example " + reading.choices[0][0]
        return "digit, or arrows and Enter" if reading.choices else f"in {reading.unit}" if reading.unit else "type it"
    if prompt.kind == WAIT and not prompt.choices:
        return "Enter when the time is over"
    return {CAUTION: "Enter when you have read it", DO: "Enter when it is done"}.get(
        prompt.kind, "digit, or arrows and Enter"
    )


def wait_left(seconds: float) -> Content:
    """The clock of a wait; `seconds` may be below zero."""
    if seconds <= 0:
        return Content.styled("Time is over. Enter.", STRONG)
    return Content.assemble((f"{remaining(seconds)} to go", STRONG), ("  work on; it rings", FAINT))


def table(rows: list[Row], width: int) -> Content:
    """The readings that were judged: reading | measured | wanted | difference | says."""
    if not rows:
        return Content("")
    cells = [HEADINGS] + [
        (r.name, r.measured, r.wanted, r.difference, SAYS.get(r.says, r.says) + (f" or {r.close}" if r.close else ""))
        for r in rows
    ]
    wide = [max(len(row[i]) for row in cells) for i in range(len(HEADINGS))]
    over = sum(wide) + 3 * (len(wide) - 1) - width
    if over > 0:
        wide[0] = max(8, wide[0] - over)
    made = []
    for number, row in enumerate(cells):
        text = " | ".join(cell[:w].ljust(w) for cell, w in zip(row, wide, strict=True))
        off = number > 0 and row[4] != SAYS["on"]
        made.append(Content.styled(text, FAINT if number == 0 else STRONG if off else ""))
    return lines(made)


def trail(entries: list[TrailEntry], most: int) -> Content:
    """The last decisions, the newest last."""
    if not entries:
        return Content("")
    parts = []
    for entry in entries[-most:]:
        close = Content.styled(f"  close: {', '.join(map(words, entry.close))}", WARN) if entry.close else Content("")
        at = words(entry.at.split("/")[-1])
        parts.append(Content.assemble((f"{at}: ", FAINT), entry.row, (f" > {words(entry.to)}", FAINT), close))
    return lines(parts)


def possible(causes: tuple[str, ...], ruled_out: Mapping[str, str], width: int) -> Content:
    """What can still be found, as far as it fits in one line."""
    if not causes:
        return Content("")
    head = f"{len(causes)} still possible: "
    text = ", ".join(map(words, causes))
    tail = f" (ruled out: {len(ruled_out)})" if ruled_out else ""
    room = max(10, width - len(head) - len(tail))
    if len(text) > room:
        text = text[: room - 3].rsplit(",", 1)[0] + ", ..."
    return Content.assemble((head, FAINT), text, (tail, FAINT))


def finding(found: Finding, causes: Mapping[str, Cause]) -> Content:
    """A finding: the cause in words, what was seen, what is next, what was ruled out."""
    where = f" in {found.circuit}" if found.circuit not in ("", "main") else ""
    parts = [Content.assemble((f"FOUND{where}  ", f"{STRONG} $text-success"), (cause_words(found.cause, causes), STRONG))]
    if found.could_be:
        parts.append(labelled("could be", "; ".join(cause_words(cause, causes) for cause in found.could_be)))
    for label, text in (("told apart by", found.told_apart), ("seen", found.seen), ("next", found.next)):
        if text:
            parts.append(labelled(label, text))
    if found.ruled_out:
        said = ", ".join(words(item["cause"]) for item in found.ruled_out)
        parts.append(labelled("ruled out", said))
    return lines(parts)
