"""Asides: what a command asks before it acts, and pages that are only looked at. ESC leaves them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

from textual.content import Content

from tui.app import keys
from tui.app.choices import BLANK
from tui.app.forms import Page, Pick, Reason
from tui.app.leaving import leaving
from tui.app.look import minutes, possible, prompt_parts, table, trail
from tui.app.mode import Mode
from tui.app.modes import may_be_missing, not_had
from tui.app.sheet import FAINT, STRONG, Item, Part, item, shown
from tui.desk.everyday import SEVERAL
from tui.desk.pace import pace_in
from tui.desk.photos import keep
from tui.desk.saying import cause_words, words
from tui.quantity import Refused, units_of
from tui.walk.answering import in_words
from tui.walk.exactness import good_to_words
from tui.walk.kinds import ASK, UNIT
from tui.walk.prompt import Prompt

if TYPE_CHECKING:
    from tui.app.talk import Talk

WHY_NOT = ("no port or no fitting for it", "no instrument for it here", "can't be reached", "not safe", "nobody knows")
WHY_SKIP = ("it is steady already", "it ran long enough before", "no time to wait")
WHY_CUT = ("no time to wait", "not safe to wait")
WHY_END = ("the customer calls it off", "a part or a tool is missing", "no more time today")
WHY_OVERRULE = ("compared with a second instrument", "known from this unit")

BY_NAME = "Any reading can be typed by its name, several in a line:"
BY_WORD = "Keys go by their words too: back, note hose leaks. = before an answer that reads like one of them."


# ---- one function for each command that asks or shows something first


def couldnt(talk: Talk) -> Mode:
    prompt = talk.walk.prompt
    assert prompt is not None
    reading = prompt.readings[0] if prompt.kind == ASK else None
    if reading is not None:
        may_be_missing(reading)

    def then(reason: str) -> None:
        if reading is not None:
            not_had(talk, reading, reason)
        else:
            talk.act(lambda walk: walk.couldnt(reason))

    about = prompt.words if reading is None else reading.words
    return Reason(
        talk, f"Why can't it be had? {about}" if reading else f"Why can't it be done? {about}", then, offered=WHY_NOT
    )


def skip(talk: Talk) -> Mode:
    """Where the time itself is the proof, a steady reading is no reason."""
    prompt = talk.walk.prompt
    leads = prompt.cut_short if prompt is not None else ""
    title = "Why is this wait cut short?" + (f" It proves nothing then - {leads}" if leads else "")
    return Reason(talk, title, talk.waited, offered=WHY_CUT if leads else WHY_SKIP)


def note(talk: Talk) -> Mode:
    def then(text: str) -> None:
        talk.act(lambda walk: walk.note(text))
        talk.say("Noted.")

    return Reason(talk, "A note in your own words. It is kept with the time.", then, label="note")


def photo(talk: Talk) -> Mode:
    def then(typed: str) -> None:
        talk.visit.record()
        name, digest = keep(talk.visit.path, typed)
        talk.act(lambda walk: walk.photo(name, digest))
        talk.say(f"Kept with this visit as {name}.")

    return Reason(talk, "Which photo? Type the path of its file, or drag it here. It is copied.", then, label="photo")


def close(talk: Talk) -> Mode:
    """End the visit before the walk does."""
    left = [talk.walk.library.catalogue.left_on[thing].tell for _, thing in talk.walk.left_on]
    first = f" First, what is left on is cleared: {' '.join(left)}" if left else ""

    def then(why: str) -> None:
        if not in_words(why):
            raise Refused("no-reason", "Say in a few words why it ends here.", "Or a digit of those above.")
        if not left:
            talk.aside = leaving(talk, why)
            return
        talk.act(lambda walk: walk.close(why))
        if not talk.walk.closed:
            talk.say("First clear what is left on; then Enter closes the visit.", "ends")

    return Reason(talk, f"Why does the visit end here?{first}", then, offered=WHY_END)


def own_finding(talk: Talk) -> Mode:
    def then(cause: str) -> None:
        talk.aside = _own_reason(talk, cause)

    causes = tuple((cause, words(cause)) for cause in talk.causes)
    title = (item("own", "What do you find? It is recorded beside the tool's finding.", STRONG),)
    return Pick(talk, title, causes, then)


def _own_reason(talk: Talk, cause: str) -> Mode:
    def then(reason: str) -> None:
        talk.act(lambda walk: walk.own_finding(cause, reason))
        talk.say(f"Your own finding is recorded: {words(cause)}.")

    return Reason(talk, f"{cause_words(cause, talk.causes)}: what did you see?", then, label="seen")


def overrule(talk: Talk) -> Mode:
    def then(verdict: str) -> None:
        def because(reason: str) -> None:
            talk.act(lambda walk: walk.overrule(verdict, reason))

        talk.aside = Reason(talk, f"Why {words(verdict)}?", because, offered=WHY_OVERRULE)

    return Pick(talk, (item("overrule", "Which verdict is yours?", STRONG),), talk.walk.verdicts, then)


def undo(talk: Talk) -> Mode:
    """What going back would take back, before it does; Enter or the key again does it."""
    gone, *differences = talk.walk.undo_shows()

    def then(answer: str) -> None:
        if answer == "yes":
            talk.act(lambda walk: walk.undo())
            talk.say("Taken back. Work done, waits and cautions stay on the record.", "back")

    title = [item("back", f"Take back: {gone}?", STRONG)]
    title += [item("so" if number == 0 else "", each) for number, each in enumerate(differences)]
    return Pick(talk, tuple(title), (("yes", "take it back"), ("no", "leave it")), then, marked=0)


def help_page(talk: Talk) -> Mode:
    def made(width: int) -> Iterator[Part]:
        prompt = talk.walk.prompt
        if prompt is not None:
            yield item("now", _what_it_wants(prompt), STRONG)
            yield from _what_fits(talk, prompt)
        yield item("any time", f"{BY_NAME} {SEVERAL[talk.walk.units]}.")
        yield BLANK
        for command in keys.COMMANDS:
            key = talk.key_of(command)
            label = key.upper() if keys.has_key(key) else command.typed[0]
            yield Item(label, Content.assemble((f"{command.words:<12}", STRONG), command.help), STRONG)
        yield Item("ESC", Content.assemble(("Not this    ", STRONG), "leave what a key began; clear the line"), STRONG)
        yield BLANK
        yield item("", BY_WORD)
        if prompt is not None and prompt.step:
            step = f"{prompt.tree}/{prompt.step}" if prompt.tree else prompt.step
            yield item("", f"For whoever edits the trees, this is {step}.", FAINT)

    return Page(talk, "help", made)


def _what_fits(talk: Talk, prompt: Prompt) -> Iterator[Part]:
    """Units, range and instrument of the reading asked now."""
    if not prompt.readings:
        return
    reading = prompt.readings[0]
    if reading.unit:
        others = [each.symbol for each in units_of(reading.kind) if each.symbol not in ("", reading.unit)]
        also = f"; or with its unit: {', '.join(others[:6])}" if others else ""
        yield item("unit", f"a number alone is {reading.unit}{also}")
    if reading.range_text:
        yield item("range", reading.range_text)
    used = talk.walk.library.catalogue.instruments.get(reading.instrument or "")
    if used is not None:
        good_to = good_to_words(talk.walk.machine.good_to(used.id), talk.walk.units)
        yield item("with", f"{used.say or words(used.id)}, good to {good_to}")


def _what_it_wants(prompt: Prompt) -> str:
    if prompt.kind == ASK and not prompt.readings[0].choices:
        return "Type what you read, then Enter; or: not known."
    return {
        "caution": "Read all of it. Enter says that you have.",
        "do": "Do it, then Enter. F2 if it can't be done.",
    "wait": "The clock runs by itself and rings. Enter when it is over; or cut it short and say why.",
        "close-call": "Too close for this instrument: choose how to settle it.",
    }.get(prompt.kind, "Choose: arrows, or type it; then Enter.")


def details(talk: Talk) -> Mode:
    def made(width: int) -> Iterator[Part]:
        walk = talk.walk
        prompt = walk.prompt
        if prompt is not None:
            yield from list(prompt_parts(prompt))[:1]
            yield BLANK
        rows = table(walk.table(), width)
        yield from rows
        if not rows:
            yield item("table", "Nothing has been judged yet.")
        yield BLANK
        yield from possible(walk, width, whole=True)
        yield BLANK
        yield from _ruled_out(walk.ruled_out)
        pace = pace_in(talk.visit.path)
        yield from trail(walk.trail(), since=pace.since)
        if pace.whole:
            yield item("in all", f"{minutes(pace.whole)} at work, minutes and seconds; times are since the beginning")
        for number, each in enumerate(each for each in walk.from_before() if each.reading != UNIT):
            circuit = f"{each.circuit} " if each.circuit not in ("", "main") else ""
            yield item("before" if number == 0 else "", f"{circuit}{words(each.reading)}: {each.shown}")

    return Page(talk, "details", made)


def _ruled_out(ruled: Mapping[str, str]) -> Iterator[Part]:
    """Each step that ruled something out, with what it did rule out."""
    by_step: dict[str, list[str]] = {}
    for cause, at in ruled.items():
        by_step.setdefault(words(at.split("/")[-1]), []).append(words(cause))
    for number, (step, causes) in enumerate(by_step.items()):
        said = Content.assemble((shown(f"by {step}: "), FAINT), shown(", ".join(causes)))
        yield Item("ruled out" if number == 0 else "", said)
    if by_step:
        yield BLANK


def _menu(talk: Talk) -> Mode:
    from tui.app.menu import Menu

    return Menu(talk)


def _theme(talk: Talk) -> Mode:
    from tui.app.menu import theme

    return theme(talk)


def _board(talk: Talk) -> Mode:
    from tui.app.board import Board

    return Board(talk)


def _map(talk: Talk) -> Mode:
    from tui.app.map import Map

    return Map(talk)


def _pictures(talk: Talk) -> Mode:
    from tui.app.album import Album

    return Album(talk)


def _working(talk: Talk) -> Mode:
    from tui.app.behind import behind

    return behind(talk)


def _correct(talk: Talk) -> Mode:
    from tui.app.correcting import correct

    return correct(talk)


def _sums(talk: Talk) -> Mode:
    from tui.app.sums import around_of, quick_sums

    return quick_sums(talk, around_of(talk.walk), talk.use if talk.walk.prompt is not None else None)


ASIDES: dict[str, Callable[[Talk], Mode]] = {
    "help": help_page,
    "couldnt": couldnt,
    "undo": undo,
    "correct": _correct,
    "details": details,
    "board": _board,
    "skip": skip,
    "note": note,
    "own-finding": own_finding,
    "overrule": overrule,
    "photo": photo,
    "close": close,
    "working": _working,
    "pictures": _pictures,
    "sums": _sums,
    "menu": _menu,
    "map": _map,
    "theme": _theme,
}
