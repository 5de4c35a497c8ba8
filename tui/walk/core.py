"""Walk: the one object every driver talks to. See the methods; each leaves new events at the end."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from tui.quantity import Refused, Value, from_json, to_json
from tui.tree.embed import embed
from tui.walk import history, inputs, showing
from tui.walk.answering import Text
from tui.walk.circuit import Circuit
from tui.walk.echoing import echo_of
from tui.walk.facts import agree
from tui.walk.history import Input
from tui.walk.kinds import SITE, UNIT
from tui.walk.limits import heed
from tui.walk.looking import Looking
from tui.walk.machine import Machine
from tui.walk.naming import only_renamed, with_new_name
from tui.walk.opening import (
    as_reading,
    circuits_of,
    instead,
    open_machine,
    opened_event,
    remembered,
    renamed,
    righted,
)
from tui.walk.prompt import BoardRow, Change, Echo, Given, Prompt
from tui.walk.properties import RecordingProperties
from tui.walk.reach import Reach
from tui.walk.world import Event

if TYPE_CHECKING:
    from tui.tree.library import Library

Watch = Callable[[int, "Walk"], None]


class Walk(Looking):
    """A walk through a library's trees: a fold over `events`.

    Every method that is not accepted raises `Refused(code, message, cure)` and changes nothing.
    The walk reads no clock, file or screen; `events` are plain JSON-able dicts.
    """

    def __init__(self, library: Library, opened: Event, *, embed_texts: bool = True) -> None:
        """Use `start` or `from_events`."""
        self.library = library
        self.events: list[Event] = [opened]
        self._properties = RecordingProperties()
        self._reach = Reach(library)
        self._embed = embed_texts
        self._inputs: list[Input] = []
        self._opening = opened
        self._instead: dict[tuple[str, str], Input] = {}  # corrections of what was known beforehand
        self._emit: Callable[[Event], None] = self.events.append
        self._machine = self._fresh()
        self._closed = False
        self._earlier: tuple[int, frozenset[str]] = 0, frozenset()  # with how many events there were then

    # ---- beginning

    @classmethod
    def start(
        cls,
        library: Library,
        tree: str = "call",
        *,
        known: Mapping[str, Any] | None = None,
        history: Sequence[Mapping[str, str]] = (),
        site: Mapping[str, Any] | None = None,
        units: str = "US",
        instruments: Mapping[str, str] | None = None,
        unit: str = "",
        technician: str = "",
        calibrated: Mapping[str, str] | None = None,
        laid_over: Sequence[Mapping[str, Any]] = (),
        embed_texts: bool = True,
    ) -> Walk:
        """Begin. Nothing is asked yet; look at `prompt`.

        known: readings of the unit by id, and ``circuits``: {name: {reading: text}}. history: readings of
        earlier visits, each {circuit, reading, value} and, if known, visit (ISO date). site: altitude or
        barometer (text with unit), region, today (ISO date). units: ``US`` or ``SI``. instruments: id -> good to.
        technician: a random id, never a name. calibrated: instrument -> ISO date. laid_over:
        what the record says of trees laid over those of lowside. Raises Refused.
        """
        opened = opened_event(
            library,
            tree,
            known=known or {},
            history=history,
            site=site or {},
            units=units,
            instruments=instruments or {},
            unit=unit,
            technician=technician,
            calibrated=calibrated or {},
            laid_over=laid_over,
        )
        walk = cls(library, opened, embed_texts=embed_texts)
        walk.begin()
        return walk

    @classmethod
    def from_events(
        cls,
        library: Library,
        events: Iterable[Event],
        *,
        recompute: bool = False,
        way_only: bool = False,
        watch: Watch | None = None,
    ) -> Walk:
        """The walk that wrote these events; those it had no time to write are at the end of `events`.

        recompute: use today's property tables, not the results stored. way_only: numbers, verdicts and words
        may be others, as long as it leads to the same places and findings. watch: is shown the walk after each
        input, with the number of its event. Raises Refused
        (``does-not-replay``) where what follows an input is not what the events say, TreeMissing where
        all of it holds and then leads into a tree that this library lacks.
        """
        from tui.walk.replaying import replayed

        return replayed(cls, library, list(events), recompute=recompute, way_only=way_only, watch=watch)

    def _fresh(self, opening: Event | None = None) -> Machine:
        """A machine just opened, silent."""
        embedding = (lambda tree: dict(embed(self.library, tree))) if self._embed else None
        machine = Machine(self.library, self._properties, self._reach, lambda event: None, embed=embedding)
        open_machine(machine, self._opening if opening is None else opening)
        return machine

    def begin(self) -> None:
        """Enter the first tree and go to the first prompt (`start` has done it)."""
        self._begin(self._machine, self._emit)

    def _restart(self, emit: Callable[[Event], None], opening: Event | None = None) -> Machine:
        machine = self._fresh(opening)
        self._begin(machine, emit)
        return machine

    def _begin(self, machine: Machine, emit: Callable[[Event], None]) -> None:
        machine.emit = emit
        machine.begin(self._opening["tree"], circuits_of(self._opening))
        machine.advance()

    # ---- looking

    @property
    def prompt(self) -> Prompt | None:
        """What is asked of the person now; None when the walk has ended."""
        if self._closed:
            return None
        with self._properties.aside():
            return showing.prompt_of(self._machine)

    @property
    def closed(self) -> bool:
        return self._closed

    def board(self) -> list[BoardRow]:
        """What can be told of the circuit being walked: what is asked now, what is to come, what is had."""
        from tui.walk.board import board_of

        prompt = self.prompt
        asked = tuple(each.id for each in prompt.readings) if prompt is not None else ()
        with self._properties.aside():
            return board_of(self._machine, asked)

    def earlier(self) -> frozenset[str]:
        """Those names of `values` whose value is of before: work has changed the circuit since, or a reading it
        came from was taken anew."""
        if self._earlier[0] != len(self.events):  # a screen asks many times between two events
            circuit = self.looked_at()
            found = frozenset() if circuit is None else self._machine.earlier(circuit)
            self._earlier = len(self.events), frozenset(name.rpartition("/")[2] for name in found)
        return self._earlier[1]

    def given(self) -> list[Given]:
        """The readings that count, in the order they were given, as they can be corrected; also those not had."""
        from tui.walk.correcting import given_in

        return given_in(self, [*self._inputs, *self._instead.values()])

    def from_before(self) -> list[Given]:
        """What was known before this visit and still counts; `correct` takes it, as `tell` does by its name."""
        machine = self._machine
        return [
            Given(0, at.name, name, showing.shown_value(machine, at, name) + showing.since_when(machine, at, name))
            for at in (machine.unit, *(it for it in machine.circuits.values() if it.name in machine.names()))
            for name in at.facts.before
            if name in at.facts.fresh and name not in SITE
        ]

    def of_site(self) -> list[Given]:
        """Altitude and region, as they can be corrected: `correct` takes them."""
        from tui.walk.site import of_site

        return of_site(self)

    def contradicted(self, reading: str, text: Text, circuit: str | None = None) -> Given | None:
        """What was known before this visit and `tell` would put right at once; a driver shows that first.

        Raises Refused for what can't be told.
        """
        at = self._to_tell(reading, circuit)
        value = self._parsed(reading, text)
        known = (each for each in self.from_before() if (each.circuit, each.reading) == (at.name, reading))
        return None if agree(at.facts.values.get(reading), value) else next(known, None)

    def try_answer(self, text: str, reading: str | None = None, circuit: str | None = None) -> Echo:
        """How `text` would be understood at the prompt (or for `reading`, of that circuit); writes nothing."""
        prompt = self.prompt
        with self._properties.aside():
            return echo_of(self._machine, prompt, text, reading, circuit)

    def doubts(self, text: Text, reading: str, circuit: str | None = None) -> tuple[str, ...]:
        """What makes a value hardly possible beside what is known, in words; writes nothing.

        Empty too where it would not be accepted. Whoever asks a person says it before the value is given.
        """
        from tui.walk.doubting import doubts_of

        found = self.library.catalogue.readings.get(reading)
        at = self._machine.circuits.get(circuit or "") or self._machine.circuit()
        if found is None or at is None:
            return ()
        with self._properties.aside():
            try:
                return doubts_of(self._machine, at, reading, self._parsed(reading, text))
            except Refused:
                return ()

    # ---- going back

    def undo(self, n: int = 1) -> None:
        """Take back the last n answers: the place moves, work, waits and cautions stay."""
        back_to = history.undo_target(self._inputs, n)
        self._add({"event": "undone", "circuit": self._machine.current or "", "answers": n, "back_to": back_to})

    def undo_shows(self, n: int = 1) -> tuple[str, ...]:
        """What `undo` would take back and where the walk would stand, in words; the first line is what is taken back.

        Writes nothing. Raises Refused where there are not so many answers.
        """
        from tui.walk.correcting import taken_back

        with self._properties.aside():
            return taken_back(self, n)

    def correct(self, which: int | Given, text: Text, history: Sequence[Mapping[str, Any]] = ()) -> Change:
        """What would change if a reading had been `text`. Writes nothing. Raises Refused.

        which: the number of its event, or one of `given`, `from_before` or `of_site`. history: for the unit's tag,
        what earlier visits to that unit know, as `start` takes it; it counts instead of what those to the other did.
        """
        from tui.walk.correcting import first_take, proposal

        site = self._site_at(which)
        if site is not None:
            from tui.walk.site import site_proposal

            with self._properties.aside():
                return site_proposal(self, site, text)
        if isinstance(which, Given) and which in self.from_before():
            event_no, event = 0, self._known(which.circuit, which.reading)
        else:
            event_no = which.event_no if isinstance(which, Given) else which
            event = self._correctable(event_no)
        value = self._parsed(event["reading"], text)
        with self._properties.aside():
            items = tuple(remembered(self.library, item) for item in history)
            return proposal(self, first_take(self, event_no, event), event | self._read_on(event, value), value, items)

    def strike(self, which: Given) -> Change:
        """What would change if a reading of this visit had never been given; else as `correct`."""
        from tui.walk.correcting import proposal

        event = self._correctable(which.event_no)
        if self.of_opening(which.event_no) or self.library.catalogue.readings[which.reading].names:
            raise Refused("not-a-reading", "That can't be struck out, only put right.", "Type what is right instead.")
        with self._properties.aside():
            return proposal(self, which.event_no, event, None)

    def _site_at(self, which: int | Given) -> Given | None:
        """That one of `of_site`, if it is one."""
        named = which.reading if isinstance(which, Given) else ""
        return next((each for each in self.of_site() if named == each.reading or 0 < each.event_no == which), None)

    def _correctable(self, event_no: int) -> Event:
        if event_no not in (given.event_no for given in self.given()):
            raise Refused("not-a-reading", f"Event {event_no} is no reading that counts.", "Pick one from the list.")
        return as_reading(self._input(event_no))

    def _input(self, number: int) -> Event:
        everything = (*self._inputs, *self._instead.values())
        found = next((i.event for i in everything if i.number == number), None)
        if found is None:
            raise Refused("not-a-reading", f"Event {number} is no reading.", "Pick one from the list.")
        return found

    def _known(self, circuit: str, reading: str) -> Event:
        """What was known of it before the visit, as if an event had given it."""
        at = self._machine.circuits[circuit] if circuit else self._machine.unit
        value = at.facts.values[reading]
        assert value is not None
        return {"circuit": circuit, "reading": reading, "value": to_json(value)}

    def accept(self, change: Change) -> None:
        """Make the correction: the old figure stays in the record, the new one counts."""
        if change.at_version != len(self.events):
            raise Refused("outdated", "Something was answered since.", "Look at the correction again.")
        site = next((each for each in self.of_site() if each.reading == change.reading), None)
        if site is not None:
            from tui.walk.site import corrected

            self._add(corrected(self, site, change.text))
            return
        number = change.event_no
        event = self._correctable(number) if number else self._known(change.circuit, change.reading)
        value = None if change.struck else self._parsed(change.reading, change.text)
        self._correct(0 if self.of_opening(number) else number, event, value, change.history)

    def _correct(self, event_no: int, event: Event, value: Value | None, items: Sequence[Event] = ()) -> None:
        """value: None where it was never had."""
        corrected: Event = {"event": "corrected", "circuit": event["circuit"], "event_no": event_no}
        stored = None if value is None else to_json(value)
        corrected |= self._read_on(event, value)
        names = self.renames(event, stored)
        corrected |= {"renamed": names} if names else {}
        corrected |= {"history": list(items)} if event["reading"] == UNIT and event_no == 0 else {}
        self._add(corrected | {"reading": event["reading"], "value": stored, "was": event["value"]})

    def _read_on(self, event: Event, value: Value | None) -> Event:
        """The instrument of a reading that was not had before."""
        if value is None or event["value"] is not None:
            return {}
        return {key: part for key, part in self._reading(event["reading"], value, None).items() if key != "value"}

    def renames(self, event: Event, stored: Event | None) -> dict[str, str]:
        """Old name to new where a correction of that reading only gives the circuits other names."""
        if stored is None or event["value"] is None or not self.library.catalogue.readings[event["reading"]].names:
            return {}
        return only_renamed(str(from_json(event["value"])), str(from_json(stored)))

    def _put_right(self, at: Circuit, reading: str, value: Value) -> bool:
        known = reading in at.facts.before and reading in at.facts.fresh
        if not known or agree(at.facts.values.get(reading), value):
            return False
        self._correct(0, self._known(at.name, reading), value)
        return True

    # ---- for replaying and correcting

    @property
    def machine(self) -> Machine:
        return self._machine

    def use_properties(self, stored: list[list[Any]]) -> None:
        """Property results an event holds: they win over today's tables."""
        self._properties.give(stored)

    def use_beyond(self, stored: Mapping[str, list[str]]) -> None:
        """What an ``entered`` event says of trees that this library may not have."""
        self._reach.give(stored)

    def gather(self) -> list[Event]:
        """From now on derived events go to the list returned, not into `events`."""
        gathered: list[Event] = []
        self._emit = gathered.append
        self._machine.emit = self._emit
        return gathered

    def stop_gathering(self) -> None:
        self._emit = self.events.append
        self._machine.emit = self._emit

    @property
    def opening(self) -> Event:
        """The first event, with what was known beforehand as it was corrected since."""
        return self._opening

    def of_opening(self, number: int) -> bool:
        """Is this the number of what was known beforehand, or of a correction of that?"""
        return number == 0 or any(each.number == number for each in self._instead.values())

    def trial(self, number: int, event: Event) -> Machine:
        """A machine of its own in which that input was `event`; this walk stays as it is."""
        inputs = history.after_correction(self._inputs, number, event)
        return self.trial_of(inputs, instead(self._opening, event) if self.of_opening(number) else None)

    @property
    def inputs(self) -> list[Input]:
        return self._inputs

    def inputs_after_undo(self, n: int) -> list[Input]:
        """The inputs as they would count after `undo`. Raises Refused where there are not so many answers."""
        return history.after_undo(self._inputs, history.undo_target(self._inputs, n), self.library.catalogue)

    def trial_of(self, inputs: list[Input], opening: Event | None = None) -> Machine:
        """A machine of its own built from these inputs; this walk stays as it is."""
        return history.rebuild(lambda emit: self._restart(emit, opening), inputs, None, lambda derived: None)[0]

    def again(self, event: Event) -> None:
        """An input of another walk, which fits where this one stands."""
        self._add(event)

    # ---- inside

    def _add(self, event: Event) -> None:
        if self._closed and event["event"] not in ("noted", "photographed"):
            raise Refused("closed", "This visit is closed.", "Start a new one; notes and photos can be added.")
        number = len(self.events)
        self.events.append(event)
        self.fold(number, event)

    def fold(self, number: int, event: Event) -> None:
        """Fold one input into the state; derived events go to `_emit`."""
        kind = event["event"]
        if kind == "undone":
            counted = history.after_undo(self._inputs, event["back_to"], self.library.catalogue)
            self._machine, self._inputs = history.rebuild(self._restart, counted, None, self._emit)
        elif kind == "corrected":
            self._fold_corrected(number, event)
        else:
            self._inputs.append(Input(number, event))
            self._machine.now = number
            inputs.apply(self._machine, event)
            self._machine.take_up_astray()
            heed(self._machine)
            self._closed = self._closed or kind == "closed"

    def _fold_corrected(self, number: int, event: Event) -> None:
        corrected = event["event_no"]
        names = event.get("renamed", {})
        if names:
            self._rename(names)
        if corrected == 0:
            self._opening = instead(self._opening, event)
            self._instead[event["circuit"], event["reading"]] = Input(number, event)
            right = event
        else:
            right = righted(self._input(corrected), event)
        counted = history.after_correction(self._inputs, corrected, right)
        from_there = None if names else corrected  # with other names all else is as it was
        self._machine, self._inputs = history.rebuild(self._restart, counted, from_there, self._emit)

    def _rename(self, names: Mapping[str, str]) -> None:
        """What was given for a circuit stays with it under its new name."""
        self._opening = renamed(self._opening, names)
        self._inputs = [replace(each, event=with_new_name(each.event, names)) for each in self._inputs]
        self._instead = {
            (names.get(circuit, circuit), reading): replace(each, event=with_new_name(each.event, names))
            for (circuit, reading), each in self._instead.items()
        }
