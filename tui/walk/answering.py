"""The intents of a walk: what a person may do at a prompt, checked before anything changes."""

from __future__ import annotations

import math
import re
from abc import ABC, abstractmethod
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from tui.quantity import Kind, Quantity, Refused, Value, nearest, to_json
from tui.tree.model import Decide, FindingStep
from tui.walk import showing
from tui.walk.altitude import altitude_unit
from tui.walk.circuit import Circuit, Pending, key
from tui.walk.closeness import ways_of
from tui.walk.facts import agree
from tui.walk.kinds import ALTITUDE, CLOSE_CALL, GOOD_TO, SITE, spoken
from tui.walk.limits import limits_of
from tui.walk.machine import Machine
from tui.walk.places import place_said
from tui.walk.prompt import Prompt
from tui.walk.reading import accuracy_of, atmosphere_of, parse_reading, pick, quantity_of
from tui.walk.wording import said
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.tree.library import Library

Text = str | Quantity
NOTES = ("", "customer", "follow-up", "parts")
"""What a note can be about; empty: anything."""

_SHA256 = re.compile(r"[0-9a-f]{64}\Z")


def in_words(reason: str) -> bool:
    """Whether it says why: a figure alone, or one letter hit by a glove, says nothing to whoever reads it later."""
    return sum(each.isalpha() for each in reason) > 1


class Answering(ABC):
    """Answers, acts and remarks. Each raises Refused and changes nothing where it is not accepted.

    `by` marks what a program did for a person (``answers file``); `units_needed`: no bare numbers.
    """

    library: Library
    by: str = ""
    units_needed: bool = False
    _machine: Machine

    @property
    @abstractmethod
    def prompt(self) -> Prompt | None:
        """What is asked of the person now."""

    @abstractmethod
    def _add(self, event: Event) -> None:
        """Keep an input event and fold it in."""

    @abstractmethod
    def _put_right(self, at: Circuit, reading: str, value: Value) -> bool:
        """Where the value contradicts what was known before this visit, that is corrected with all that rests on it."""

    @abstractmethod
    def looked_at(self) -> Circuit | None:
        """The circuit being walked, else the one that ended last."""

    # ---- answering

    def answer(self, given: Text | Mapping[str, Text], instrument: str | None = None) -> None:
        """Answer the prompt: text, a Quantity, a choice id, or {reading: text} for several at once.

        instrument: an accuracy (``0.2 psi``) if it was not read on the usual instrument. Not all
        of several need be given; the rest is asked on. Raises Refused.
        """
        prompt = self._expect("ask", CLOSE_CALL, "offer", "which-circuit", "wait")
        if prompt.kind == "offer":
            self.accept_offer(pick(prompt, given) == "yes")
        elif prompt.kind in ("which-circuit", "wait"):
            self.switch(pick(prompt, given))
        elif prompt.kind == CLOSE_CALL:
            self._put("answered", choice=pick(prompt, given))
        elif prompt.readings[0].id == ALTITUDE:
            self._answer_altitude(given)
        elif prompt.readings[0].id == GOOD_TO:
            self._answer_good_to(given)
        else:
            self._answer_readings(prompt, given, instrument)

    def _answer_readings(self, prompt: Prompt, given: Text | Mapping[str, Text], instrument: str | None) -> None:
        if not isinstance(given, Mapping):
            given = {prompt.readings[0].id: given}
        asked = {reading.id for reading in prompt.readings}
        for name in given:
            if name not in asked:
                raise Refused("not-asked", f"{name!r} is not asked here.", "Asked: " + ", ".join(sorted(asked)))
        parsed = {name: self._parsed(name, text) for name, text in given.items()}
        for name, value in parsed.items():
            self._agrees(self._here(), name, value)
        for name, value in parsed.items():
            self._put("answered", reading=name, **self._reading(name, value, instrument))

    def _answer_altitude(self, given: Any) -> None:
        text = next(iter(given.values())) if isinstance(given, Mapping) else given
        value = quantity_of(text, Kind.LENGTH, altitude_unit(self._machine.units))
        atmosphere = atmosphere_of(value)
        self._put("answered", reading=ALTITUDE, value=to_json(value), atmosphere=atmosphere)

    def _answer_good_to(self, given: Any) -> None:
        text = str(next(iter(given.values())) if isinstance(given, Mapping) else given)
        instrument = self._pending().instrument
        accuracy_of(self.library.catalogue, instrument, text)
        self._put("instrument-checked", instrument=instrument, how="better", good_to=text)

    def acknowledge(self) -> None:
        """The cautions shown were read."""
        self._expect("caution")
        self._put("caution-acknowledged", cautions=list(self._pending().cautions))

    def done(self) -> None:
        """What was told was done."""
        prompt = self._expect("do")
        pending = self._pending()
        if pending.instrument:
            good_to = self.library.catalogue.instruments[pending.instrument].checked_good_to
            self._put("instrument-checked", instrument=pending.instrument, how="checked", good_to=good_to)
        else:
            left: Event = {"left": pending.left} if pending.left else {}
            left |= {"over": pending.over} if pending.over else {}
            limits = limits_of(self._machine, self._here(), prompt.work)
            self._put("done", work=prompt.work, **left, **({"limits": limits} if limits else {}))

    def waited(self, seconds: float, skipped_because: str | None = None) -> None:
        """The wait is over. Less than was asked needs a reason."""
        prompt = self._expect("wait")
        asked = prompt.seconds or 0.0
        if not 0.0 <= seconds < math.inf:
            raise Refused("out-of-range", f"{seconds} is no time that one can wait.", "Give seconds, from 0 up.")
        if seconds < asked and not (skipped_because or "").strip():
            cure = "Wait on, or say why it was cut short."
            raise Refused("too-early", f"Only {seconds:.0f} of {asked:.0f} seconds are over.", cure)
        if seconds < asked and not in_words(skipped_because or ""):
            raise Refused("no-reason", "Say in a few words why it is cut short.", "For example: no time to wait.")
        skipped = {"skipped_because": skipped_because.strip()} if skipped_because and seconds < asked else {}
        self._put("waited", asked=repr(asked), actual=repr(float(seconds)), **skipped)

    def accept_offer(self, yes: bool) -> None:
        """Go on with the tree offered, or not. Its title is kept: a tree that is not entered is not in the record."""
        prompt = self._expect("offer")
        step = self.library.trees[prompt.tree].named[prompt.step]
        offered = self.library.trees.get(step.offer or "") if isinstance(step, FindingStep) else None
        self._put("offered", accepted=bool(yes), **({"title": offered.title} if offered is not None else {}))

    def switch(self, circuit: str) -> None:
        """Work on another circuit: at which-circuit, or while one waits."""
        prompt = self._expect("which-circuit", "wait")
        if circuit not in dict(prompt.choices):
            cure = "There are: " + ", ".join(dict(prompt.choices)) if prompt.choices else "Wait on."
            raise Refused("no-such-circuit", f"No other open circuit is called {circuit!r}.", cure)
        self._put("switched", circuit=prompt.circuit, to=circuit)

    def tell(self, reading: str, text: Text, circuit: str | None = None, instrument: str | None = None) -> None:
        """Any reading, at any time; an ask for it then finds it known. Raises Refused.

        One that contradicts what was known before this visit corrects that: what was decided on it is decided anew.
        """
        at = self._to_tell(reading, circuit)
        value = self._parsed(reading, text)
        if self._put_right(at, reading, value):
            return
        self._agrees(at, reading, value)
        event: Event = {"event": "told", "circuit": at.name, "reading": reading}
        prompt = self.prompt
        asked = prompt is not None and reading in (each.id for each in prompt.readings)
        where = self._where(at.name) if asked else {}
        self._add(event | where | self._reading(reading, value, instrument))

    def _to_tell(self, reading: str, circuit: str | None) -> Circuit:
        """Where a reading is told. Raises Refused for what can't be told."""
        if reading in SITE:
            cure = f"What it changes is shown first: correct {reading}, and what is right."
            raise Refused("of-site", f"The {reading} is no reading: it is corrected.", cure)
        found = self.library.catalogue.readings.get(reading)
        if found is None or found.ask is None:
            names = [r.id for r in self.library.catalogue.readings.values() if r.ask]
            close = nearest(reading, names)
            cure = f"Did you mean {close}?" if close else "Names are those the questions have."
            raise Refused("no-such-reading", f"There is no reading called {reading!r}.", cure)
        return self._circuit_for(found.of, circuit)

    def couldnt(self, reason: str, reading: str | None = None) -> None:
        """What is asked (or this one of several) could not be had or done. Raises Refused if it must."""
        prompt = self._expect("ask", "do", "wait")
        if not in_words(reason):
            raise Refused("no-reason", "Say in a few words why it could not be had.", "For example: no port.")
        if prompt.readings and prompt.readings[0].id == ALTITUDE:
            sea = {"pa": repr(101325.0), "source": "sea level, not set"}
            self._put("couldn't", readings=[ALTITUDE], reason=reason.strip(), atmosphere=sea)
        elif prompt.kind == "ask":
            self._couldnt_readings(prompt, reason.strip(), reading)
        elif self._has_other_way(self._pending()):
            self._put("couldn't", reason=reason.strip())
        else:
            raise Refused("must", "This step has no other way: it has to be done.", "Do it, or leave and resume later.")

    @staticmethod
    def _has_other_way(pending: Pending) -> bool:
        """Work or a wait with its ``couldn't``; an instrument's check goes back to the close call."""
        if pending.left:
            return False
        return bool(pending.instrument or getattr(pending.step, "couldnt", None))

    def _couldnt_readings(self, prompt: Prompt, reason: str, reading: str | None) -> None:
        names = [r.id for r in prompt.readings]
        if reading is not None and reading not in names:
            raise Refused("not-asked", f"{reading!r} is not asked here.", "Asked: " + ", ".join(names))
        chosen = names if reading is None else [reading]
        must = [
            name
            for name in chosen
            if name in self.library.catalogue.readings and self.library.catalogue.readings[name].must
        ]
        if must:
            raise Refused("must", f"It can't go on without {spoken(must[0])}.", "Find it out, or stop here.")
        if self._pending().retake:
            self._put("couldn't", readings=chosen, reason=reason)
            return
        for name in chosen:  # each by itself, as answers are: so each can be put right
            self._put("couldn't", readings=[name], reason=reason)

    def overrule(self, verdict: str, reason: str) -> None:
        """At a close call: the person's verdict (``low``; ``suction-level low`` where several are)."""
        prompt = self._expect(CLOSE_CALL)
        if not prompt.may_overrule:
            raise Refused("may-not-overrule", "This verdict can't be overruled: safety hangs on it.", "Measure again.")
        if not in_words(reason):
            raise Refused("no-reason", "Say in a few words why.", "For example: gauge compared with a second one.")
        name, word = self._overruled(verdict)
        self._put("overruled", name=name, verdict=word, reason=reason.strip())

    @property
    def verdicts(self) -> tuple[tuple[str, str], ...]:
        """At a close call that may be overruled: (what `overrule` takes, in words) of every verdict."""
        prompt = self.prompt
        if prompt is None or not prompt.may_overrule:
            return ()
        pending = self._pending()
        if not isinstance(pending.step, Decide) or pending.decision is None:
            return ()
        ways = ways_of(self._machine, self._here(), pending.step, pending.decision)
        return tuple((f"{column} {word}", f"{words}: {lead}") for column, word, words, lead in ways)

    def _overruled(self, verdict: str) -> tuple[str, str]:
        pending, circuit = self._pending(), self._here()
        assert pending.decision is not None
        head, _, word = verdict.rpartition(" ")
        columns = [c for c in pending.decision.close if not head or spoken(c) == spoken(head.strip(" :"))]
        table = getattr(pending.step, "table", None)
        if table is None or not columns:
            raise Refused(
                "not-asked",
                f"{verdict!r} names no close verdict.",
                "Close: " + ", ".join(map(said, pending.decision.close)),
            )
        words = table.domains[table.columns.index(columns[0])]
        if word not in words:
            raise Refused("not-a-choice", f"{word!r} is no verdict here.", "One of: " + ", ".join(words))
        return key(self.library.catalogue, circuit.frame.program.tree.name, columns[0]), word

    def own_finding(self, cause: str, reason: str) -> None:
        """The person's own finding, beside the tool's. Both stay in the record."""
        causes = self.library.catalogue.causes
        if cause not in causes:
            close = nearest(cause, causes)
            raise Refused(
                "no-such-cause",
                f"There is no cause called {cause!r}.",
                f"Did you mean {close}?" if close else "",
            )
        if not in_words(reason):
            raise Refused("no-reason", "Say in a few words why.", "What did you see?")
        circuit = self.looked_at()
        name = circuit.name if circuit is not None else ""
        self._add({"event": "own-finding", "circuit": name, "cause": cause, "reason": reason.strip()})

    def note(self, text: str, about: str = "") -> None:
        """A note, in the person's own words. about: one of `NOTES`, for what stands by itself on paper.

        Raises Refused.
        """
        if not text.strip():
            raise Refused("empty", "The note is empty.", "Type it after `note`.")
        if about not in NOTES:
            raise Refused("not-a-choice", f"A note can't be about {about!r}.", f"About: {', '.join(NOTES[1:])}.")
        kind = {"about": about} if about else {}
        self._add({"event": "noted", "circuit": self._machine.current or "", "text": text, **kind})

    def photo(self, name: str, digest: str) -> None:
        """A photo by file name and SHA-256 (64 hexadecimal digits)."""
        if not name.strip():
            raise Refused("empty", "The photo has no name.", "Give the name of its file.")
        if not _SHA256.match(digest):
            raise Refused("not-a-digest", f"{digest!r} is no SHA-256.", "It has 64 digits, 0-9 and a-f.")
        self._add({"event": "photographed", "circuit": self._machine.current or "", "name": name, "digest": digest})

    def resumed(self) -> None:
        """Mark that the session goes on after a break."""
        self._add({"event": "resumed", "circuit": ""})

    def close(self, why: str = "") -> None:
        """End the session; only notes and photos follow. `why` when it ends before a finding.

        Where a cylinder is on or a circuit open, that is cleared first: the prompts then are that work,
        and once there is none, close again.
        """
        machine = self._machine
        if why.strip() and not in_words(why):
            raise Refused("no-reason", "Say in a few words why it ends here.", "For example: no more time today.")
        why = why.strip() or machine.closing or ("ended" if machine.over else "left")
        if not machine.over and machine.left_open():
            self._add({"event": "closing", "circuit": "", "why": why})
        else:
            self._add({"event": "closed", "circuit": "", "why": why})

    # ---- inside

    def _expect(self, *kinds: str) -> Prompt:
        prompt = self.prompt
        if prompt is None:
            raise Refused("ended", "The walk has ended.", "Look at the findings, or start anew.")
        if prompt.kind not in kinds:
            raise Refused("not-now", f"The walk waits for something else: {prompt.words}", f"It is a {prompt.kind}.")
        return prompt

    def _here(self) -> Circuit:
        circuit = self._machine.circuit()
        assert circuit is not None
        return circuit

    def _pending(self) -> Pending:
        pending = self._here().pending
        assert pending is not None
        return pending

    def _circuit_for(self, of: str, circuit: str | None) -> Circuit:
        if of == "unit":
            return self._machine.unit
        name = circuit or self._machine.current
        names = self._machine.names()
        if name is None and len(names) == 1:
            name = names[0]
        if name is None or name not in names:
            there = ", ".join(names)
            cure = f"Say which: {there}" if there else "Name the circuits first (one: type 1), then say it again."
            raise Refused("which-circuit", "That reading belongs to a circuit.", cure)
        return self._machine.circuits[name]

    def _parsed(self, reading: str, text: Text) -> Value:
        found = self.library.catalogue.readings[reading]
        return parse_reading(self._machine, found, text, units_needed=self.units_needed)

    def _reading(self, name: str, value: Value, instrument: str | None) -> Event:
        """The value as the event holds it, with the instrument it was read on."""
        event: Event = {"value": to_json(value)}
        used = self.library.catalogue.readings[name].instrument
        if used is not None and isinstance(value, Quantity):
            if instrument is not None:
                accuracy_of(self.library.catalogue, used, instrument)
            count = self._machine.checked.get(used, 0)
            source = f"{used}#{count}" if count else used
            event |= {"instrument": used, "good_to": instrument or self._machine.good_to(used)}
            event["source"] = f"{used}#{instrument}" if instrument else source
        return event

    def _agrees(self, circuit: Circuit, name: str, value: Value) -> None:
        """A reading taken again while nothing has changed must be the same within reason."""
        facts = self._machine.holder(circuit, name)
        pending = circuit.pending
        if name not in facts.fresh or (pending is not None and pending.retake):
            return
        if not agree(facts.values.get(name), value):
            shown = showing.shown_value(self._machine, circuit, name)
            say = f"You gave {shown} for {spoken(name)} before, and nothing has changed since."
            raise Refused("differs", say, "Correct the earlier one if it was a slip, or take it back.")

    def _put(self, kind: str, **data: Any) -> None:
        """An input at the present prompt."""
        prompt = self.prompt
        assert prompt is not None
        event = {"event": kind, "circuit": prompt.circuit, "tree": prompt.tree, "step": prompt.step}
        self._add(event | self._where(prompt.circuit) | data | ({"by": self.by} if self.by else {}))

    def _where(self, circuit: str) -> Event:
        """The place that a circuit's round is about, or that an act beside the round is told of."""
        there = self._machine.circuits.get(circuit)
        if there is None or not there.frames:
            return {}
        step = there.pending.step if there.pending is not None else there.frame.step
        return dict(place_said(there, step, self.library.catalogue.places.kinds))
