"""What the screen can be at: a mode says what is shown above the line, and what a typed line means."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from tui.app.choices import BLANK
from tui.app.keys import command_of
from tui.app.look import clock, finding_parts, prompt_parts, ruled_out, what_to_press
from tui.app.mode import Mode, choice, nothing_else, picked
from tui.app.sheet import BAD, STRONG, WARN, Part, item
from tui.app.view import LOW, View, refused, told
from tui.desk.everyday import WORKED_OUT, called_here, reading_called, unknown
from tui.desk.line import Choices, chosen_of
from tui.desk.saying import words
from tui.desk.several import Named, figures, looked_at, named_in, tell_all
from tui.desk.typed import needed, says_not_known
from tui.quantity import Kind, Refused, clock_span, units_of
from tui.walk.correcting import NOT_HAD
from tui.walk.kinds import ASK, CAUTION, CLOSE_CALL, DO, OFFER, WAIT
from tui.walk.prompt import AskFor, Echo, Given, Prompt

if TYPE_CHECKING:
    from tui.app.talk import Talk


class TalkMode(Mode):
    """A mode of a talk about a visit."""

    talk: Talk

    def __init__(self, talk: Talk) -> None:
        super().__init__(talk)


# ---- what is said under the line


def understood(echo: Echo, name: str = "") -> tuple[Part, ...]:
    """How a typed text is understood, or what is wrong with it and the cure.

    `name`: the reading it is typed for, where that is not the one asked.
    """
    if not echo.ok:
        return (item("not yet", f"{echo.problem} {echo.cure}".strip(), label_style=WARN),)
    beside = [item("", "; ".join(echo.beside))] if echo.beside else []
    words = f"{name}: {echo.words}" if name else echo.words
    return (item("taken as", words, STRONG), *beside) if echo.words else tuple(beside)


def said_back(named: list[Named]) -> tuple[Part, ...]:
    """How each of the readings in a line is understood; what lies beside it only where it is alone."""
    if len(named) == 1 and named[0].echo is not None:
        return understood(named[0].echo, named[0].name)
    taken = [f"{each.name}: {each.echo.words}" for each in named if each.echo is not None and each.echo.ok]
    parts = [item("taken as", "; ".join(taken), STRONG)] if taken else []
    wrong = [each.problem for each in named if each.problem is not None]
    parts += [item("not yet", f"{each.message} {each.cure}", label_style=WARN) for each in wrong]
    return tuple(parts)


def record(talk: Talk, named: list[Named]) -> None:
    """Each reading that is right is recorded, by its name; what is wrong stays in the line. Raises Refused for one.

    One that contradicts what was known before this visit is shown first with what it changes.
    """
    one = named[0]
    alone = len(named) == 1 and one.problem is None and not _is_asked(talk, one)
    if alone and talk.shown_first(one.reading, one.value, one.circuit):
        return
    done, wrong = tell_all(named, lambda each: _tell(talk, each))
    if not done:
        talk.hold_back(wrong)
    talk.keep(wrong)
    talk.say_told(done)
    talk.said += tuple(part for each in wrong if each.problem is not None for part in refused(each.problem))


def _is_asked(talk: Talk, each: Named) -> bool:
    prompt = talk.walk.prompt
    if prompt is None or each.circuit not in (None, prompt.circuit):
        return False
    return each.reading in {reading.id for reading in prompt.readings}


def _tell(talk: Talk, each: Named) -> None:
    """It answers what is asked, else it is told by its name. Raises Refused."""
    talk.sure(each.piece, each.reading, each.value, each.circuit)
    if _is_asked(talk, each):
        talk.act(lambda walk: walk.answer({each.reading: each.value}))
        return
    if talk.walk.contradicted(each.reading, each.value, each.circuit) is not None:
        say = f"{words(each.reading)}: it was known otherwise before this visit."
        raise Refused("known", say, "Type it alone: what it changes is shown first.")
    talk.act(lambda walk: walk.tell(each.reading, each.value, each.circuit))


def unit_keys(reading: AskFor) -> tuple[str, ...]:
    """The units that a reading is most often typed in, for keys on the screen; its own first."""
    if not reading.unit:
        return ()
    others = (each.symbol for each in units_of(reading.kind))
    return (reading.unit, *[each for each in others if each not in ("", reading.unit)][:3])


def may_be_missing(reading: AskFor) -> None:
    """Raises Refused where the walk can't go on without it."""
    if reading.must:
        say = f"It can't go on without an answer: {reading.words}"
        raise Refused("must", say, "Find it out; or F10, and resume later.")


def not_had(talk: Talk, reading: AskFor, reason: str) -> None:
    """What is asked now can't be had. Raises Refused where the walk can't go on without it."""
    may_be_missing(reading)
    prompt = talk.walk.prompt
    named = Given(0, prompt.circuit if prompt is not None else "", reading.id, NOT_HAD)
    talk.act(lambda walk: walk.couldnt(reason, reading.id))
    site = {each.reading: each.shown for each in talk.walk.of_site()}
    talk.say(f"{talk.name_of(named)}: {site.get(reading.id, NOT_HAD)}", "recorded")


# ---- the walk's own question

CUT_SHORT = ("cut-short", "cut it short; asks why")
PROVES_NOTHING = (CUT_SHORT[0], "cut it short: then it proves nothing; asks why")
OVERRULE = ("overrule", "give your own verdict; asks why")



class Asked(TalkMode):
    """The walk's prompt."""

    commands = True

    def __init__(self, talk: Talk, prompt: Prompt) -> None:
        super().__init__(talk)
        self.prompt = prompt

    @property
    def choices(self) -> Choices:
        """Those of the reading asked now, or of the prompt itself."""
        prompt = self.prompt
        if prompt.kind == WAIT and self.talk.waits.left(prompt) > 0:
            return (*prompt.choices, PROVES_NOTHING if prompt.cut_short else CUT_SHORT)
        if prompt.kind == CLOSE_CALL and self.talk.walk.verdicts:
            return (*prompt.choices, OVERRULE)
        return prompt.readings[0].choices if prompt.kind == ASK else prompt.choices

    def view(self, width: int) -> View:
        prompt, talk = self.prompt, self.talk
        parts: list[Part] = list(talk.notices)
        if prompt.kind == OFFER and talk.walk.findings:
            parts += [*finding_parts(talk.walk.findings[-1], talk.causes), BLANK]
        parts += prompt_parts(prompt, self._instrument())
        left = talk.waits.left(prompt)
        low = talk.height < LOW and prompt.kind not in (CAUTION, OFFER) and not talk.notices
        parts, after = (parts[:1], parts[1:]) if low else (parts, [])
        if prompt.kind == WAIT:
            parts += [BLANK, clock(left, prompt.seconds)]
        shows = prompt.kind not in (CAUTION, OFFER)
        units = unit_keys(prompt.readings[0]) if prompt.readings else ()
        hint = what_to_press(prompt, left <= 0)
        said = tuple(parts), self.choices, self._label(), hint, shows
        return View(*said, units=units, pinned=int(low), after=tuple(after))

    def _label(self) -> str:
        unit = self.prompt.readings[0].unit if self.prompt.readings else ""
        return unit or ("answer" if self.choices or self.prompt.readings else "")

    def _instrument(self) -> str:
        prompt = self.prompt
        used = prompt.readings[0].instrument if prompt.readings else None
        if used is None:
            return ""
        found = self.talk.walk.library.catalogue.instruments.get(used)
        return (found.say if found is not None else "") or words(used)

    # ---- while typing

    def picked(self, line: str) -> str | None:
        """Also a refrigerant by another of its names; never by a beginning: R-13 is no R-134a."""
        exact = chosen_of(self.choices, line)
        if exact is not None or self.prompt.kind != ASK or not self.choices or not line:
            return picked(self.choices, line) if exact is None else exact
        echo = self.talk.walk.try_answer(line, self.prompt.readings[0].id)
        if echo.ok and echo.words in dict(self.choices):
            return echo.words
        numbers = any(character.isdigit() for _, say in self.choices for character in say)
        return None if numbers or command_of(line) is not None else picked(self.choices, line)

    def echo(self, line: str) -> tuple[Part, ...]:
        if not line:
            return ()
        literal = line.startswith("=")
        line = line[1:].strip() if literal else line
        said = self._echo_choice(line)
        if said is None and self._not_known(line):
            return told("not known: it can't be had", "taken as")
        if said is None and not literal:
            said = self._echo_bare(line) or said_back(self._named(line))
        if said:
            return said
        if self.prompt.kind in (CAUTION, DO, WAIT):
            return ()
        reading = self.prompt.readings[0].id if self.prompt.kind == ASK else None
        return understood(self.talk.walk.try_answer(line, reading))

    def _echo_choice(self, line: str) -> tuple[Part, ...] | None:
        found = self.picked(line)
        return None if found is None else told(dict(self.choices)[found], "taken as")

    def _echo_bare(self, line: str) -> tuple[Part, ...]:
        """A name whose value is still to come."""
        name = self._bare(line)
        return () if name is None else (item("not yet", f"{words(name)}: go on with what it reads.", label_style=WARN),)

    @property
    def _words_wanted(self) -> bool:
        """What is asked may be any words at all."""
        return self.prompt.kind == ASK and self.prompt.readings[0].kind is Kind.TEXT

    def _not_known(self, line: str) -> bool:
        """Whether the line says that what is asked can't be had, as F2 does."""
        reading = self.prompt.readings[0] if self.prompt.kind == ASK else None
        return reading is not None and says_not_known(reading.id, reading.kind, line)

    def _bare(self, line: str) -> str | None:
        """The reading that the line names without a value."""
        name = "-".join(line.lower().split())
        return None if self._words_wanted else reading_called(name, self.talk.names, self._here)

    @property
    def _here(self) -> Mapping[str, str]:
        """What names mean at this step."""
        return called_here([*(each.id for each in self.prompt.readings), *dict(self.prompt.known)])

    def _named(self, line: str) -> list[Named]:
        """The readings of ``cooler suction 12, head 180``; words are only words where those are asked."""
        found = named_in(self.talk.walk, line, self.talk.names, self._here)
        if self._words_wanted and not figures(self.talk.walk, found):
            return []
        return self._first_bare(found) or self._worked_out(line)

    def _first_bare(self, found: list[Named]) -> list[Named]:
        """``26 oz, amps 5.2``: a figure that begins the line, without a name, is of what is asked now."""
        if len(found) < 2 or self.prompt.kind != ASK or not found[0].piece[:1].isdigit():
            return found
        own = looked_at(self.talk.walk, found[0].piece, self.prompt.readings[0].id, found[0].piece)
        return [own, *found[1:]] if found[0].problem is not None and own.problem is None else found

    def _worked_out(self, line: str) -> list[Named]:
        """``superheat 12`` is no answer to whatever is asked."""
        if self._words_wanted or not line or line.lower().split()[0] not in WORKED_OUT:
            return []
        return [Named(line, problem=unknown(line, self.talk.names))]

    # ---- Enter

    def enter(self, line: str) -> None:
        prompt = self.prompt
        literal = line.startswith("=")
        line = line[1:].strip() if literal else line
        if self.picked(line) is None and self._not_known(line):
            reading = prompt.readings[0]
            not_had(self.talk, reading, line)
            return
        if not literal and self.picked(line) is None and self._tell(line):
            return
        if prompt.kind == ASK:
            self._answer(line)
        elif prompt.kind == WAIT:
            self._wait(line)
        elif prompt.kind in (CAUTION, DO):
            self._confirm(line)
        else:
            one = choice(self.choices, line, self.talk.mark)
            if one == OVERRULE[0]:
                self.talk.press("overrule")
            else:
                shown = len(self.talk.walk.findings)
                self.talk.act(lambda walk: walk.answer(one))
                if prompt.kind == OFFER:  # it stood above the offer: not once more on a page of its own
                    self.talk.findings_seen = max(self.talk.findings_seen, shown)

    def _tell(self, line: str) -> bool:
        """Whether the line named a reading and its value, asked for or not. Raises Refused for a name alone."""
        bare = self._bare(line)
        if bare is not None:
            raise Refused("no-value", f"{words(bare)}: what does it read?", "Type the value after the name.")
        named = self._named(line)
        if not named:
            return False
        record(self.talk, named)
        return True

    def _answer(self, line: str) -> None:
        reading, talk = self.prompt.readings[0], self.talk
        if reading.choices:
            line = self.picked(line) or line or choice(reading.choices, line, talk.mark)
        else:
            needed(line)
        talk.sure(line, reading.id, line)
        talk.act(lambda walk: walk.answer({reading.id: line}))
        talk.say_given()

    def _confirm(self, line: str) -> None:
        caution = self.prompt.kind == CAUTION
        said = ("read", "ok", "yes") if caution else ("done", "ok", "yes")
        if line and line.lower() not in said:
            problem = Refused("not-understood", f"{line!r} is no answer here.", f"Enter alone: {said[0]}. F1: help.")
            if not line.isdigit():
                raise problem
            self.talk.said = refused(problem)  # a stray number is not kept: the next Enter would only say it again
            return
        self.talk.act(lambda walk: walk.acknowledge() if caution else walk.done())

    def _wait(self, line: str) -> None:
        prompt, talk = self.prompt, self.talk
        if line or talk.mark is not None:
            other = choice(self.choices, line, talk.mark)
            if other == CUT_SHORT[0]:
                talk.press("skip")
            else:
                talk.act(lambda walk: walk.answer(other))
            return
        left = talk.waits.left(prompt)
        if left > 0:
            raise Refused("too-early", f"{clock_span(-int(-left // 1))} to go.", "Wait on; or cut it short.")
        talk.waited(None)


class Found(TalkMode):
    """A finding on the way: read it, then the walk goes on."""

    commands = True

    def view(self, width: int) -> View:
        found = self.talk.walk.findings[self.talk.findings_seen]
        return View((*finding_parts(found, self.talk.causes), *ruled_out(found)), hint="Enter: go on", page=True)

    def enter(self, line: str) -> None:
        nothing_else(line, "Enter goes on with the walk.")
        self.talk.findings_seen += 1


class Unrecorded(TalkMode):
    """The disk would not have it: nothing goes on before it does."""

    def __init__(self, talk: Talk, problem: Refused) -> None:
        super().__init__(talk)
        self.problem = problem

    def view(self, width: int) -> View:
        count = self.talk.visit.unrecorded
        kept = f"{count} {'entry is' if count == 1 else 'entries are'} not on the disk yet, but kept here meanwhile."
        parts = (
            item("NOT SAVED", self.problem.message, BAD, BAD),
            item("", self.problem.cure, STRONG),
            item("", kept),
            item("", "Enter tries again. F10 leaves without them."),
        )
        return View(parts, hint="Enter: try again")

    def enter(self, line: str) -> None:
        self.talk.record(line)
