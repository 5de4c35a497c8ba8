"""Prompts, tables, trails and findings as parts of a sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from textual.content import Content

from tui.app.choices import BLANK, choice_hint
from tui.app.sheet import (
    FAINT,
    GOOD,
    STRONG,
    WARN,
    Item,
    Line,
    Part,
    item,
    laid_out,
    margin,
    shown,
    styled,
)
from tui.desk.saying import FEW, cause_words, could_be_words, near_lines, words
from tui.quantity import Kind
from tui.walk.kinds import CAUTION, CLOSE_CALL, DO, WAIT
from tui.walk.prompt import AskFor, Finding, Prompt, Row, TrailEntry
from tui.walk.wording import OTHERWISE
from tui.walk.wording import said as spoken_ids

if TYPE_CHECKING:
    from tui.tree.model import Cause
    from tui.walk import Walk

SAYS = {"low": "▼ low", "on": "= on", "high": "▲ high", "unknown": "? unknown"}
HEADINGS = ("reading", "measured", "wanted", "difference", "says")
BAR = 30
FEWEST = 4  # lines in which a table still says something


# ---- what is asked


def prompt_parts(prompt: Prompt, with_what: str = "") -> Iterator[Part]:
    """The question with its reasons, and which reading of several is asked now."""
    if prompt.kind == CAUTION:
        yield item("CAUTION", "Read before you go on.", STRONG, WARN)
        for caution in prompt.cautions:
            yield BLANK
            yield item("!", caution, label_style=WARN)
    else:
        label = {DO: "DO", WAIT: "WAIT"}.get(prompt.kind, "")
        yield item(label, prompt.words[:1].upper() + prompt.words[1:], STRONG, WARN)
    if prompt.why:
        yield item("why", prompt.why)
    if prompt.how:
        yield item("leads to" if prompt.kind == CLOSE_CALL else "how", prompt.how)
    if prompt.known:
        yield item("known", "; ".join(f"{words(reading)} {shown}" for reading, shown in prompt.known))
    yield from _board(prompt)
    if prompt.readings:
        yield from _how_to_take(prompt, prompt.readings[0], with_what)


def _board(prompt: Prompt) -> Iterator[Part]:
    """Several readings: the one asked now is marked, the others can be typed by name."""
    if len(prompt.readings) == 1 and prompt.readings[0].words == prompt.words:
        return
    for number, reading in enumerate(prompt.readings):
        style, mark = (STRONG, ">") if number == 0 else (FAINT, "")
        yield item(mark, reading.words, style, STRONG)


def _how_to_take(prompt: Prompt, reading: AskFor, with_what: str) -> Iterator[Part]:
    if reading.how and reading.how != prompt.how:
        yield item("how", reading.how)
    if with_what:
        yield item("with", with_what)


def what_to_press(prompt: Prompt, over: bool) -> str:
    """The faint words in the empty line."""
    if prompt.readings:
        reading = prompt.readings[0]
        if reading.choices:
            return choice_hint(reading.choices)
        if reading.kind is Kind.DATE:
            return "year-month-day, such as 2026-11-25"
        return f"a number alone is {reading.unit}" if reading.unit else "type it, then Enter"
    if prompt.kind == WAIT:
        return "Enter: go on" if over else "it rings when the time is over"
    said = {CAUTION: "Enter: I have read it", DO: "Enter: it is done"}
    return said.get(prompt.kind, choice_hint(prompt.choices))


def clock(left: float, asked: float | None) -> Part:
    """The clock of a wait; `left` may be below zero."""
    if asked is None:
        return item("clock", "No time is given: go on when it is steady.", STRONG)
    if left <= 0:
        return Item("clock", Content.assemble(("The time is over. ", GOOD), ("Enter goes on.", STRONG)))
    done = round(BAR * (1 - left / asked)) if asked else BAR
    bar = "█" * done + "░" * (BAR - done)
    return Item(
        "clock", Content.assemble((f"{minutes(left)} to go  ", STRONG), (bar, ""), (f"  of {minutes(asked)}", FAINT))
    )


def minutes(seconds: float) -> str:
    """``4:05``, ``1:00:00``: rounded up, so that 0:00 is never shown before it is over."""
    whole = -int(-seconds // 1)
    hours, rest = divmod(whole, 3600)
    start = f"{hours}:{rest // 60:02}" if hours else str(rest // 60)
    return f"{start}:{rest % 60:02}"


# ---- the picture so far


def below(walk: Walk, width: int, height: int, *, alone: bool = True) -> list[Line]:
    """As much as fits of: the readings table, what is still possible, the last decisions.

    alone: nothing stands beside it; else the table is enough.
    """
    if height < FEWEST:
        return laid_out(possible(walk, width), width)[:height] if alone else []
    lines = _table_within(_once(walk.table()), width, height)
    if not alone:
        return lines[:height]
    if lines and len(lines) + 1 < height:
        lines.append(BLANK)
    lines += laid_out(possible(walk, width), width)
    left = min(height - len(lines), max(3, height // 3))
    return [*lines, *laid_out(trail(telling(walk)[-left:], width), width)] if left > 0 else lines[:height]


def _table_within(rows: Sequence[Row], width: int, height: int) -> list[Line]:
    lines = table(rows, width)
    if len(lines) <= height:
        return lines
    off = [row for row in rows if not _is_well(row)]
    more = item("", f"{len(rows) - len(off)} more as wanted: F5", FAINT)
    return [*table(off, width), *laid_out([more], width)]


def _once(rows: Sequence[Row]) -> list[Row]:
    """Each reading once, where one of its limits is kept and the other is what tells; F5 has them all."""
    kept: list[Row] = []
    for row in sorted(rows, key=_is_well):
        if not _is_well(row) or all((each.name, each.measured) != (row.name, row.measured) for each in kept):
            kept.append(row)
    return [row for row in rows if any(row is each for each in kept)]


def _is_well(row: Row) -> bool:
    return row.says == "on" and not row.close


def telling(walk: Walk) -> list[TrailEntry]:
    """This circuit's decisions that were more than *none of these, go on*."""
    here = walk.prompt.circuit if walk.prompt is not None else ""
    return [
        each
        for each in walk.trail()
        if not (each.row.endswith(OTHERWISE) and each.to == "carry on") and (not here or each.circuit == here)
    ]


def table(rows: Sequence[Row], width: int) -> list[Line]:
    """Readings that were judged: reading, measured, wanted, difference, says. Off ones are bold, earlier ones faint."""
    if not rows:
        return []
    cells = [HEADINGS, *((r.name, r.measured, r.wanted, r.difference, _says(r)) for r in rows)]
    wide = [max(len(row[i]) for row in cells) for i in range(len(HEADINGS))]
    gap = " │ " if sum(wide) + 3 * len(wide) + 1 <= width else " "
    over = sum(wide) + len(gap) * (len(wide) - 1) + 2 - width
    if over > 0:
        return _narrow(rows, width)
    lines = [Line(_row(cells[0], wide, gap, FAINT))]
    for row, cell in zip(rows, cells[1:], strict=True):
        style = FAINT if row.earlier else "" if row.says == "on" else STRONG
        lines.append(Line(_row(cell, wide, gap, style)))
    return lines


def _says(row: Row) -> str:
    says = f"◇ was {row.says}" if row.earlier else SAYS.get(row.says, row.says)
    return says + (f", or {row.close}" if row.close else "")


def _row(cells: Sequence[str], wide: Sequence[int], gap: str, style: str) -> Content:
    pieces = [styled(cell.ljust(size), style) for cell, size in zip(cells, wide, strict=True)]
    return Content(" ") + Content.styled(gap, FAINT).join(pieces)


def _narrow(rows: Sequence[Row], width: int) -> list[Line]:
    """The same one below the other, where five columns don't fit."""
    said = (f"{r.name} {r.measured}, wanted {r.wanted}: {_says(r)} {r.difference}".rstrip() for r in rows)
    return laid_out((Item("", styled(each)) for each in said), width)


def possible(walk: Walk, width: int, *, whole: bool = False) -> list[Part]:
    """What can still be found; in one line unless `whole`."""
    causes = walk.still_possible
    if not causes:
        return []
    said = ", ".join(map(words, causes))
    if not whole and len(said) > width - margin(width) - 20:
        return [Item(str(len(causes)), Content.styled("causes still possible; F5 names them", FAINT), STRONG)]
    return [Item(str(len(causes)), Content.assemble(("still possible  ", FAINT), shown(said)), STRONG)]


def trail(
    entries: Sequence[TrailEntry],
    width: int | None = None,
    since: Mapping[int, float] | None = None,
) -> list[Part]:
    """Decisions, the newest last; with a `width` each in one line, else each with its circuit if there are several.

    since: seconds from the beginning of the visit up to each event, by its number.
    """
    parts: list[Part] = []
    several = width is None and len({entry.circuit for entry in entries}) > 1
    for number, entry in enumerate(entries):
        to = "" if entry.to == "carry on" else f" > {words(entry.to)}"
        close = f"  close: {', '.join(map(spoken_ids, entry.close))}" if entry.close else ""
        at = f"{entry.circuit + ' ' if several else ''}{words(entry.at.split('/')[-1])} - "
        row = entry.words
        if width is not None:
            row = cut(row, width - margin(width) - 2 - len(at) - len(to) - len(close))
        said = Content.assemble((shown(at), FAINT), shown(row), (shown(to), FAINT), (shown(close), WARN))
        took = (since or {}).get(entry.after)
        label = "way" if number == 0 else ""
        parts.append(Item(label if took is None else f"{label} {minutes(took)}".strip(), said))
    return parts


def cut(text: str, room: int) -> str:
    """`text` in so many cells at most."""
    return text if len(text) <= room else text[: max(3, room - 3)] + "..."


# ---- what was found


def _found(found: Finding, causes: Mapping[str, Cause]) -> str:
    where = f" ({found.circuit})" if found.circuit not in ("", "main") else ""
    return cause_words(found.cause, causes) + where


def earlier_parts(findings: Sequence[Finding], causes: Mapping[str, Cause]) -> Iterator[Part]:
    """What was found before, the latest first; each once."""
    said = dict.fromkeys(_found(found, causes) for found in findings)
    if said:
        yield BLANK
        yield item("before", "; ".join(said))


def finding_parts(found: Finding, causes: Mapping[str, Cause]) -> Iterator[Part]:
    """The cause in words, what was seen, what is next."""
    yield item("FOUND", _found(found, causes), STRONG, GOOD)
    if found.could_be:
        yield item("could be", could_be_words(found.could_be, causes))
    if found.told_apart:
        yield item("apart by", found.told_apart)
    if found.seen:
        yield item("seen", found.seen)
    for line in near_lines(found):
        yield item("close", line, label_style=WARN)
    if found.next:
        yield BLANK
        yield item("NEXT", found.next, STRONG, STRONG)


def own_findings(walk: Walk) -> Iterator[Part]:
    """What the person found, beside what the tool did."""
    for circuit, cause, reason in walk.own_findings:
        where = f" ({circuit})" if circuit not in ("", "main") else ""
        said = cause_words(cause, walk.library.catalogue.causes)
        yield Item("your own", Content.assemble((shown(f"{said}{where}"), STRONG), shown(f" - {reason}")))


def ruled_out(found: Finding) -> Iterator[Part]:
    """What it is not: the first few, for the page of details has all with the step that ruled them out."""
    names = [words(each["cause"]) for each in found.ruled_out]
    if names:
        more = f" and {len(names) - FEW} more: F5" if len(names) > FEW + 1 else ""
        yield BLANK
        yield item("ruled out", ", ".join(names[:FEW] if more else names) + more)
