"""The plain driver: a walk line by line, for dumb terminals, screen readers and pipes. No escape codes."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TextIO

from tui.desk import saying
from tui.desk.everyday import called_here
from tui.desk.line import LONGEST_TAG, cleaned
from tui.desk.photos import keep
from tui.desk.session import Visit
from tui.desk.several import Named, figures, named_in, pieces_of, tell_all
from tui.desk.typed import chosen, named, needed, place_of, says_not_known
from tui.quantity import Refused, clock_span
from tui.walk.correcting import NEVER_HAD
from tui.walk.kinds import ASK, CAUTION, DO, SITE, WAIT
from tui.walk.prompt import Given, Prompt

if TYPE_CHECKING:
    from tui.walk import Walk

LONGEST = 4000  # characters of one line; nobody types more

Ask = Callable[[], str | None]
Say = Callable[[str], None]


class _Quit(Exception):
    """The person leaves; the visit stays open."""


def run_plain(visit: Visit, typed: TextIO, shown: TextIO, notices: Iterable[str] = ()) -> bool:
    """Walks to the end, or until the person leaves (``quit``, end of input, Ctrl-C): then False."""
    _prepared(typed, shown)

    def ask() -> str | None:
        shown.write("> ")
        shown.flush()
        return typed.readline(LONGEST) or None

    def say(line: str) -> None:
        shown.write(line + "\n")

    for line in (line for notice in notices for line in saying.wrapped(notice)):
        say(line)
    return Plain(visit, ask, say).run()


def _prepared(*streams: TextIO) -> None:
    """A letter that cannot be read or shown is replaced. Before the first line is read: later Python refuses it."""
    for stream in streams:
        if isinstance(stream, io.TextIOWrapper) and stream.errors != "replace":
            stream.reconfigure(errors="replace")


def asked_unit(typed: TextIO, shown: TextIO) -> str:
    """The tag of the unit, asked before the visit begins; empty for none, or where nothing more is typed."""
    _prepared(typed, shown)
    shown.write("Which unit is it? Its tag goes into the record and into the name of the file.\n")
    while True:
        shown.write("(such as K-12; Enter alone: none)\n> ")
        shown.flush()
        line = cleaned(typed.readline(LONGEST))
        if len(line) <= LONGEST_TAG:
            return line
        shown.write(f"No: A tag has at most {LONGEST_TAG} letters.\n  Shorten it; the rest can go into a note.\n")


class Plain:
    """One person at one visit. `ask` gives a line, None when there are no more; `say` shows one."""

    def __init__(self, visit: Visit, ask: Ask, say: Say) -> None:
        self.visit = visit
        self._ask = ask
        self._say = say
        self._shown: tuple[str, ...] = ()
        self._doubted: tuple[str, str] | None = None  # a reading and its text that were asked about
        visit.waits.look(visit.walk)
        self._findings = 0

    @property
    def walk(self) -> Walk:
        return self.visit.walk

    def run(self) -> bool:
        """True when the walk has ended and is closed."""
        try:
            while not self.walk.closed:
                self._new_findings()
                prompt = self.walk.prompt
                if prompt is None:
                    self._at_end()
                else:
                    self._show(prompt)
                    self._take(prompt, self._line())
        except (_Quit, KeyboardInterrupt):
            self._say("")
            self._say_all(saying.left_on_lines(self.walk))
            self._say(saying.how_to_resume(self.visit.path) if self.visit.path else "Left. Nothing was recorded.")
            return False
        self._say(f"Closed: {self.visit.path}" if self.visit.path else "Closed.")
        return True

    # ---- showing

    def _show(self, prompt: Prompt) -> None:
        anew = self._shown != place_of(prompt)
        if anew:
            self._shown = place_of(prompt)
            self._say_all(saying.prompt_lines(prompt))
        if prompt.kind == ASK:
            reading = prompt.readings[0]
            self._say_all(saying.reading_lines(reading, only=anew and reading.words == prompt.words))
        else:
            self._say_all(saying.choice_lines(prompt.choices))
            self._say_all(saying.wrapped(saying.what_to_type(prompt)))
            if self.walk.verdicts:
                self._say_all(
                    saying.wrapped(f"Or overrule it, as in - overrule {saying.words(self.walk.verdicts[0][0])}: WHY")
                )

    def _say_all(self, lines: Iterable[str]) -> None:
        for line in lines:
            self._say(line)

    def _new_findings(self) -> None:
        for finding in self.walk.findings[self._findings :]:
            self._say_all(saying.finding_lines(finding, self.walk.library.catalogue.causes))
        self._findings = len(self.walk.findings)

    def _refuse(self, refused: Refused) -> None:
        self._say_all(saying.wrapped(f"No: {refused.message}"))
        if refused.cure:
            self._say_all(saying.wrapped(f"  {refused.cure}"))

    # ---- reading

    def _line(self) -> str:
        line = self._ask()
        if line is None:
            raise _Quit
        return cleaned(line)

    def _act(self, intent: Callable[[Walk], object]) -> None:
        """Does it, and sees to it that it is on the disk before anything else is shown."""
        try:
            self.visit.act(intent)
        except Refused as refused:
            if not self.visit.unrecorded:
                raise
            self._until_recorded(refused)
        self.visit.waits.look(self.walk)

    def _until_recorded(self, refused: Refused) -> None:
        while True:
            self._refuse(refused)
            self._say("It is kept here meanwhile. Enter tries again, quit leaves it unrecorded.")
            if self._line().lower() == "quit":
                raise _Quit
            try:
                return self.visit.record()
            except Refused as again:
                refused = again

    def _take(self, prompt: Prompt, line: str) -> None:
        try:
            if line.startswith("="):
                self._answer(prompt, line[1:].strip())
            elif not (chosen(prompt, line) is None and (self._command(prompt, line) or self._several(line))):
                self._answer(prompt, line)
        except Refused as refused:
            self._refuse(refused)

    def _several(self, line: str) -> bool:
        """Whether the line gave several readings by their names: never the answer to one question."""
        readings = self.walk.library.catalogue.readings
        prompt = self.walk.prompt
        asked = [] if prompt is None else [*(each.id for each in prompt.readings), *dict(prompt.known)]
        here = called_here(asked)
        if len(pieces_of(line, readings, here)) == 1:
            return False
        found = named_in(self.walk, line, readings, here)
        if not figures(self.walk, found):
            return False
        self._tell_all(found)
        return True

    def _command(self, prompt: Prompt, line: str) -> bool:
        """Whether the line was a command."""
        word, _, rest = line.partition(" ")
        found = _COMMANDS.get(word.lower())
        if found is None or not found[0](rest.strip()):
            return False
        found[1](self, prompt, rest.strip())
        return True

    # ---- answering

    def _answer(self, prompt: Prompt, text: str) -> None:
        if prompt.kind == CAUTION:
            self._confirmed(text, ("read", "ok", "yes"))
            self._act(lambda walk: walk.acknowledge())
        elif prompt.kind == DO:
            self._confirmed(text, ("done", "ok", "yes"))
            self._act(lambda walk: walk.done())
        elif prompt.kind == WAIT and not text:
            self._over(prompt, None)
        elif prompt.kind == ASK:
            self._answer_reading(prompt, text)
        else:
            self._act(lambda walk: walk.answer(needed(chosen(prompt, text) or text)))

    def _answer_reading(self, prompt: Prompt, text: str) -> None:
        reading = prompt.readings[0]
        if chosen(prompt, text) is None and says_not_known(reading.id, reading.kind, text):
            self._couldnt(prompt, text)
            return
        given = needed(chosen(prompt, text) or text)
        doubts = self.walk.doubts(given, reading.id) if self._doubted != (reading.id, given) else ()
        self._doubted = (reading.id, given) if doubts else None
        if doubts:
            raise Refused("doubtful", " ".join(doubts), "Type it once more if it is right; else type what is.")
        echo = self.walk.try_answer(given, reading.id)
        self._act(lambda walk: walk.answer({reading.id: given}))
        if echo.words and echo.words != text:
            self._say_all(saying.wrapped("  ".join(("Taken as", echo.words, *echo.beside))))

    def _confirmed(self, text: str, words: tuple[str, ...]) -> None:
        if text and text.lower() not in words:
            raise Refused("not-understood", f"{text!r} is no answer here.", f"Enter, or {words[0]}; or: help")

    def _over(self, prompt: Prompt, reason: str | None) -> None:
        seconds = self.visit.waits.waited(prompt)
        left = (prompt.seconds or 0.0) - seconds
        if reason is None and left > 0:
            raise Refused("too-early", f"{clock_span(left)} to go.", "Enter when it is over, or: skip WHY")
        self._act(lambda walk: walk.waited(round(seconds, 3), reason))

    # ---- commands

    def _help(self, prompt: Prompt, rest: str) -> None:
        self._say(saying.HELP)

    def _quit(self, prompt: Prompt, rest: str) -> None:
        raise _Quit

    def _close(self, prompt: Prompt, rest: str) -> None:
        self._act(lambda walk: walk.close(rest))
        self._forget_place()

    def _back(self, prompt: Prompt, rest: str) -> None:
        gone = self.walk.undo_shows(int(rest or "1"))[0]
        self._act(lambda walk: walk.undo(int(rest or "1")))
        self._say_all(saying.wrapped(f"Taken back: {gone}."))
        self._forget_place()

    def _forget_place(self) -> None:
        """The place has moved: the question is shown anew."""
        self._shown = ()

    def _couldnt(self, prompt: Prompt, rest: str) -> None:
        reading = prompt.readings[0].id if prompt.kind == ASK else None
        self._act(lambda walk: walk.couldnt(rest, reading))

    def _note(self, prompt: Prompt, rest: str) -> None:
        self._act(lambda walk: walk.note(rest))
        self._say("Noted.")

    def _photo(self, prompt: Prompt, rest: str) -> None:
        self.visit.record()
        name, digest = keep(self.visit.path, rest)
        self._act(lambda walk: walk.photo(name, digest))
        self._say_all(saying.wrapped(f"Kept with this visit as {name}."))

    def _tell(self, prompt: Prompt, rest: str) -> None:
        readings = self.walk.library.catalogue.readings
        of_site, _, text = rest.partition(" ")
        if of_site.lower() in SITE and text:
            self._act(lambda walk: walk.tell(of_site.lower(), text))  # refuses: it says how that is corrected
            return
        if len(pieces_of(rest, readings)) == 1:
            named(rest, readings)
        said = named_in(self.walk, rest, readings)
        if len(said) == 1 and said[0].problem is None:
            known = self.walk.contradicted(said[0].reading, said[0].value, said[0].circuit)
            if known is not None:
                self._propose(known, said[0].value)
                return
        self._tell_all(said)

    def _tell_all(self, readings: list[Named]) -> None:
        """Each that is right is told; of the others each is refused by itself."""
        done, wrong = tell_all(
            readings, lambda each: self._act(lambda walk: walk.tell(each.reading, each.value, each.circuit))
        )
        for each in done:
            taken = each.echo.words if each.echo is not None else ""
            self._say_all(saying.wrapped(f"{saying.words(each.reading)}: {taken or each.value}"))
        for each in wrong:
            if each.problem is not None:
                self._refuse(each.problem)

    def _skip(self, prompt: Prompt, rest: str) -> None:
        if prompt.kind != WAIT:
            raise Refused("not-now", "There is no wait to skip.", "Answer, or: couldn't WHY")
        self._over(prompt, rest)

    def _switch(self, prompt: Prompt, rest: str) -> None:
        self._act(lambda walk: walk.switch(rest))

    def _overrule(self, prompt: Prompt, rest: str) -> None:
        verdict, _, reason = rest.partition(":")
        self._act(lambda walk: walk.overrule(verdict.strip(), reason.strip()))

    def _own(self, prompt: Prompt, rest: str) -> None:
        causes = self.walk.library.catalogue.causes
        if not rest:
            for cause in causes:
                self._say_all(saying.wrapped(f"  {saying.words(cause)}: {saying.cause_words(cause, causes)}"))
            self._say("Type own, one of these, a colon, and why. As in - own drier blocked: frost behind it")
            return
        name, _, reason = rest.partition(":")
        name = next((cause for cause in causes if causes[cause].say.lower() == name.strip().lower()), name)
        self._act(lambda walk: walk.own_finding(name.strip().lower().replace(" ", "-"), reason.strip()))
        self._say("Recorded beside the tool's finding.")

    def _table(self, prompt: Prompt, rest: str) -> None:
        lines = [line for row in self.walk.table() for line in saying.wrapped(saying.row_line(row))]
        self._say_all(lines or ["Nothing has been judged yet."])

    def _trail(self, prompt: Prompt, rest: str) -> None:
        lines = [line for entry in self.walk.trail() for line in saying.wrapped(saying.trail_line(entry))]
        self._say_all(lines or ["Nothing has been decided yet."])

    def _possible(self, prompt: Prompt, rest: str) -> None:
        causes = self.walk.library.catalogue.causes
        lines = [f"  {cause}: {saying.cause_words(cause, causes)}" for cause in self.walk.still_possible]
        self._say_all(lines or ["Nothing is left."])

    def _why(self, prompt: Prompt, rest: str) -> None:
        self._shown = ()

    def _correct(self, prompt: Prompt, rest: str) -> None:
        if not rest:
            latest = {(each.circuit, each.reading): each.shown for each in self._correctable()}
            lines = [f"  {self._whose(at)}{saying.words(one)}: {shown}" for (at, one), shown in latest.items()]
            self._say_all(lines or ["No reading has been given yet."])
            return
        circuit = next((name for name in self.walk.circuits if rest.lower().startswith(f"{name.lower()} ")), "")
        reading, text = self._named(rest[len(circuit) :].strip())
        found = [each for each in self._correctable(circuit) if each.reading == reading]
        if not found:
            raise Refused("not-a-reading", f"No {saying.words(reading)} has been given yet.", "See: correct")
        circuits = list(dict.fromkeys(each.circuit for each in found))
        if len(circuits) > 1:
            cure = f"Say it first, as in: correct {circuits[0]} {saying.words(reading)} {text}"
            raise Refused("which-circuit", f"Of which circuit? It was given for {', '.join(circuits)}.", cure)
        self._propose(found[-1], text)

    def _propose(self, given: Given, text: str) -> None:
        """What a correction changes; it counts once the person says so."""
        never = text.lower() == NEVER_HAD
        change = self.walk.strike(given) if never else self.walk.correct(given, text)
        whose = self._whose(given.circuit)
        self._say_all(saying.wrapped(f"{whose}{saying.words(given.reading)}: {change.was} becomes {change.now}."))
        for difference in change.differences:
            self._say_all(saying.wrapped(f"- {difference}"))
        if not change.differences:
            self._say("  Nothing else would change.")
        self._say("Type yes to correct it; anything else leaves it as it was.")
        if self._line().lower() in ("yes", "y"):
            self._act(lambda walk: walk.accept(change))
            self._say("Corrected; the old figure stays in the record.")
        else:
            self._say("Left as it was.")
        self._forget_place()

    # ---- names

    def _named(self, line: str) -> tuple[str, str]:
        """(reading, value) of a line; altitude and region are named like readings."""
        return named(line, {*self.walk.library.catalogue.readings, *SITE})

    def _correctable(self, circuit: str = "") -> list[Given]:
        """What can be corrected of that circuit, else of the one at hand, and of the unit; the latest last."""
        prompt = self.walk.prompt
        here = circuit or (prompt.circuit if prompt is not None else "")
        everything = (*self.walk.of_site(), *self.walk.from_before(), *self.walk.given())
        return [each for each in everything if not here or each.circuit in (here, "")]

    def _whose(self, circuit: str) -> str:
        """The circuit before a reading, where there are several."""
        return f"{circuit} " if circuit and len(self.walk.circuits) > 1 else ""

    # ---- the end

    def _at_end(self) -> None:
        self._say("")
        self._say_all(saying.own_finding_lines(self.walk))
        self._say("The walk has ended. Enter twice closes it; note, photo, own, table, trail, back.")
        line = self._line()
        if not line:
            self._say("Nothing can be corrected after that. Enter once more: close it.")
            line = self._line() or "close"
        try:
            if line.lower() == "close":
                self._act(lambda walk: walk.close())
            elif not self._command(Prompt(""), line):
                say = f"{line!r} is nothing to do here."
                raise Refused("not-understood", say, "Enter twice, or close: closes the visit.")
        except Refused as refused:
            self._refuse(refused)


def _alone(rest: str) -> bool:
    return not rest


def _with(rest: str) -> bool:
    return bool(rest)


def _count(rest: str) -> bool:
    return not rest or (rest.isascii() and rest.isdigit() and len(rest) < 4)


def _any(rest: str) -> bool:
    return True


_COMMANDS: dict[str, tuple[Callable[[str], bool], Callable[[Plain, Prompt, str], None]]] = {
    "help": (_alone, Plain._help),
    "quit": (_alone, Plain._quit),
    "exit": (_alone, Plain._quit),
    "close": (_with, Plain._close),
    "back": (_count, Plain._back),
    "undo": (_count, Plain._back),
    "couldn't": (_any, Plain._couldnt),
    "couldnt": (_any, Plain._couldnt),
    "couldn’t": (_any, Plain._couldnt),
    "note": (_with, Plain._note),
    "photo": (_with, Plain._photo),
    "tell": (_with, Plain._tell),
    "correct": (_any, Plain._correct),
    "skip": (_any, Plain._skip),
    "switch": (_with, Plain._switch),
    "overrule": (_with, Plain._overrule),
    "own": (_any, Plain._own),
    "table": (_alone, Plain._table),
    "?": (_alone, Plain._table),
    "trail": (_alone, Plain._trail),
    "possible": (_alone, Plain._possible),
    "why": (_alone, Plain._why),
}
