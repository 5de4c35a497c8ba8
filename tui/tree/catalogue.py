"""The catalogue: entries of its files as the typed model, with every name in them looked up."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from tui.quantity import Accuracy, Kind, Refused
from tui.tree.classes import not_on
from tui.tree.expression import Parser
from tui.tree.figures import OWN, Figures
from tui.tree.model import (
    AllOf,
    Catalogue,
    Cause,
    Caution,
    Doubt,
    Figure,
    Instrument,
    LeftOn,
    Places,
    Reading,
    Test,
    Work,
)
from tui.tree.places import PARTS, read_places
from tui.tree.readings import read_reading
from tui.tree.report import Fields, Report, did_you_mean, shown, with_commas
from tui.tree.scope import Scope, Signature, Typed
from tui.tree.source import Mapping as Keys
from tui.tree.source import Node, Scalar
from tui.tree.source import Sequence as Items
from tui.tree.spot import Spot
from tui.tree.typing import Typer

SECTIONS = ("readings", "instruments", "cautions", "causes", "work", "left-on", "figures", "places", "doubts")
PLACES = ("places", "all")
_ONE = {
    "readings": "reading",
    "instruments": "instrument",
    "cautions": "caution",
    "causes": "cause",
    "work": "work",
    "left-on": "thing left on",
    "figures": "figure",
    "places": "list of places",
    "doubts": "doubt",
}
_GROUPS = {"running readings": "running", "standing readings": "stopped"}

Made = TypeVar("Made")
Ref = tuple[str, str]


@dataclass(slots=True)
class Entry:
    """One entry of a catalogue file: its key, what stands below it, and its lines."""

    key: Scalar
    node: Node
    text: str = ""


@dataclass(slots=True)
class Raw:
    """All entries by section. `open`: sections of which a file could not be read."""

    sections: dict[str, dict[str, Entry]] = field(default_factory=lambda: {s: {} for s in SECTIONS})
    open: set[str] = field(default_factory=set)


class Reader:
    """Reads the catalogue once for a library; trees then look names up in it.

    `refs` says which other entries each entry needs.
    """

    def __init__(
        self, raw: Raw, sums: Mapping[str, Signature], report: Report, trees: Collection[str] = ()
    ) -> None:
        self.raw = raw
        self.trees = trees  # names of all trees of the library, broken ones too
        self.sums = sums
        self.report = report
        self.refs: dict[Ref, set[Ref]] = {}
        self.typed: dict[str, Typed] = {}
        self.figures: dict[str, Typed] = {}
        self.place_names: dict[str, Typed] = {}
        self.excluding: set[str] = set()  # causes with a `not when` or a `not on`
        self.made: Mapping[str, Reading] = {}
        self.lists: Collection[str] = ()  # names of lists of places, broken ones too
        self.scope = Scope(self.typed, self.figures, raw.open)
        self.typer = Typer(self.scope, sums, report)
        self.parser = Parser(report, self.typer)

    def catalogue(self) -> Catalogue:
        """Everything that could be read; what is broken was told and is left out."""
        instruments = self._each("instruments", self._instrument)
        readings = self._readings(instruments)
        figures = self._figures()
        return Catalogue(
            readings=readings,
            instruments=instruments,
            cautions=self._each("cautions", self._caution),
            causes=self._each("causes", self._cause),
            works=self._each("work", self._work_of(readings)),
            left_on=self._each("left-on", self._left_on),
            figures=figures,
            places=self._places(),
            doubts=self._each("doubts", self._doubt),
        )

    # ---- looking up

    def ref(self, section: str, name: Scalar, needed_by: Ref | None = None) -> str | None:
        """The id of an entry that must exist; told and None where it doesn't."""
        if name.text in self.raw.sections[section]:
            if needed_by is not None:
                self.refs.setdefault(needed_by, set()).add((section, name.text))
            return name.text
        if section not in self.raw.open and not name.broken:
            known = self.raw.sections[section]
            cure = with_commas(name.text, known) or did_you_mean(
                name.text, known, f"Add it to catalogue/{section}.yaml."
            )
            message = f"There is no {_ONE[section]} {shown(name.text)}."
            if not known:
                self.raw.open.add(section)  # told once for all its names
                message, cure = f"{message[:-1]}, nor any other.", f"Put catalogue/{section}.yaml back, or write it."
            self.report.add(name.spot, "unknown-name", message, cure)
        return None

    def all_of(self, section: str, names: list[Scalar], needed_by: Ref | None = None) -> tuple[str, ...]:
        found = (self.ref(section, name, needed_by) for name in names)
        return tuple(dict.fromkeys(name for name in found if name is not None))

    def one_of(self, section: str, fields: Fields, key: str, needed_by: Ref | None = None) -> str | None:
        name = fields.text(key)
        return None if name is None else self.ref(section, name, needed_by)

    def need_names(self, needed_by: Ref) -> None:
        """Names met in expressions since the last call are needed by this entry."""
        self.refs.setdefault(needed_by, set()).update(self.scope.used)
        self.scope.used.clear()

    def test(self, scalar: Scalar | None) -> Test | None:
        test = self.parser.test(scalar)
        if test is not None:
            self.typer.test(test)
        return test

    # ---- sections

    def _each(self, section: str, make: Callable[[str, Fields, Spot], Made | None]) -> dict[str, Made]:
        made: dict[str, Made] = {}
        for name, entry in self.raw.sections[section].items():
            fields = self.fields(section, entry)
            if fields is None:
                continue
            self.scope.used.clear()
            found = make(name, fields, entry.key.spot)
            self.need_names((section, name))
            if found is not None:
                made[name] = found
        return made

    def fields(self, section: str, entry: Entry) -> Fields | None:
        """The keys of an entry; a work may have none."""
        node = entry.node
        if section == "work" and isinstance(node, Scalar) and not node.text and not node.broken:
            node = Keys([], entry.key.spot)
        if isinstance(node, Keys):
            what = f"The {_ONE[section]} {shown(entry.key.text)}"
            free = ("",) if section == "figures" else ()
            return Fields(node, KEYS[section], what, self.report, entry.key.spot, free)
        if not (isinstance(node, Scalar) and node.broken):
            self.report.add(
                entry.key.spot,
                "wrong-shape",
                f"{shown(entry.key.text)} has no keys below it.",
                f"Write lines such as `{KEYS[section][0]}: ...` below it.",
            )
        return None

    def _instrument(self, name: str, fields: Fields, spot: Spot) -> Instrument | None:
        fields.need("good to")
        good, checked = (self._accuracy(fields, key) for key in ("good to", "checked good to"))
        if good is None:
            return None
        return Instrument(name, spot, good, fields.words("say"), fields.words("check"), checked or "")

    def _accuracy(self, fields: Fields, key: str) -> str | None:
        found = fields.text(key)
        if found is None:
            return None
        try:
            Accuracy.declared(found.text)
        except Refused as refused:
            self.report.add(found.spot, "bad-number", refused.message, refused.cure)
            return None
        return found.text

    def _readings(self, instruments: Mapping[str, Instrument]) -> dict[str, Reading]:
        made: dict[str, Reading] = {}
        for name, entry in self.raw.sections["readings"].items():
            fields = self.fields("readings", entry)
            found = None if fields is None else read_reading(name, fields, entry.key, self, instruments)
            self.typed[name] = Typed(None) if found is None else Typed(found.kind, found.answers)
            if found is not None:
                made[name] = found
        self.made = made
        return made

    def _figures(self) -> dict[str, Figure]:
        reader = Figures(self.parser, self.typer)
        kinds: dict[str, tuple[Fields, Kind | None]] = {}
        for name, entry in self.raw.sections["figures"].items():
            fields = self.fields("figures", entry)
            if fields is not None:
                kinds[name] = fields, reader.kind(fields, entry.key, self.raw.sections["readings"])
            self.figures[name] = Typed(kinds[name][1] if fields is not None else None)
        made: dict[str, Figure] = {}
        for name, (fields, kind) in kinds.items():
            self.scope.used.clear()
            found = None if kind is None else reader.figure(name, fields, kind)
            self.need_names(("figures", name))
            if found is not None:
                made[name] = found
        return made

    def _caution(self, name: str, fields: Fields, spot: Spot) -> Caution:
        fields.need("say")
        return Caution(name, spot, fields.words("say"), self.test(fields.text("when")))

    def _cause(self, name: str, fields: Fields, spot: Spot) -> Cause:
        fields.need("say")
        settle = fields.yes("must be settled")
        classes = not_on(fields, self.typer, self.report)
        not_when = self.test(fields.text("not when"))
        if not_when is not None or classes:
            self.excluding.add(name)
        return Cause(name, spot, fields.words("say"), fields.words("customer"), settle, not_when, classes)

    def _left_on(self, name: str, fields: Fields, spot: Spot) -> LeftOn:
        fields.need("tell", "work")
        work = self.one_of("work", fields, "work", ("left-on", name))
        return LeftOn(name, spot, fields.words("tell"), work or "", fields.words("too much"), fields.yes("stay by it"))

    def _doubt(self, name: str, fields: Fields, spot: Spot) -> Doubt | None:
        fields.need("when", "say")
        test = self.test(fields.text("when"))
        return None if test is None else Doubt(name, spot, test, fields.words("say"))

    def _work_of(self, readings: Mapping[str, Reading]) -> Callable[[str, Fields, Spot], Work]:
        def work(name: str, fields: Fields, spot: Spot) -> Work:
            me = ("work", name)
            return Work(
                name,
                spot,
                after_cautions=self.all_of("cautions", fields.list("after cautions"), me),
                after_work=tuple(self._any_of(part, me) for part in fields.list("after work")),
                needs=self.all_of("readings", fields.list("needs"), me),
                only_if=self._only_if(fields),
                changes=self._changes(fields.list("changes"), readings, me),
                undoes=self.all_of("work", fields.list("undoes"), me),
                leaves=self.all_of("left-on", fields.list("leaves"), me),
                clears=self.all_of("left-on", fields.list("clears"), me),
                compressor=fields.one_of("compressor", ("running", "stopped")),
                settle=fields.yes("must be settled"),
            )

        return work

    def _any_of(self, part: Scalar, me: Ref) -> tuple[str, ...]:
        """``recovers refrigerant or shows it empty``."""
        at, names = 0, []
        for piece in part.text.split(" or "):
            names.append(part.part(at, at + len(piece)))
            at += len(piece) + 4
        return self.all_of("work", names, me)

    def _only_if(self, fields: Fields) -> tuple[Test, ...]:
        """One test, or one below the other; what `and` joins counts each for itself."""
        node = fields.node("only if")
        if isinstance(node, Items):
            scalars = [item for item in node.items if isinstance(item, Scalar)]
            if len(scalars) != len(node.items):
                self.report.add(node.spot, "wrong-shape", "Each line of `only if` is one test.", "Write `- X is word`.")
        else:
            one = fields.text("only if")
            scalars = [] if one is None else [one]
        tests: list[Test] = []
        for scalar in scalars:
            test = self.test(scalar)
            if test is not None:
                tests.extend(test.tests if isinstance(test, AllOf) else (test,))
        return tuple(tests)

    def _changes(self, names: list[Scalar], readings: Mapping[str, Reading], me: Ref) -> tuple[str, ...]:
        found: dict[str, None] = {}
        for name in names:
            group = _GROUPS.get(name.text)
            if group is not None:
                found.update((r.id, None) for r in readings.values() if r.while_ == group)
            elif name.text in self.raw.sections["readings"] or "readings" in self.raw.open:
                found.update((one, None) for one in self.all_of("readings", [name], me))
            else:
                known = [*_GROUPS, *self.raw.sections["readings"]]
                self.report.add(
                    name.spot,
                    "unknown-name",
                    f"There is no reading {shown(name.text)}.",
                    did_you_mean(name.text, known, f"Groups are: {', '.join(_GROUPS)}."),
                )
        return tuple(found)

    def _places(self) -> Places:
        self.scope.used.clear()
        places, self.place_names, self.lists = read_places(self.raw.sections["places"], self)
        self.need_names(PLACES)
        return places


KEYS: dict[str, tuple[str, ...]] = {
    "readings": (
        "ask",
        "kind",
        "answers",
        "range",
        "unit",
        "with",
        "of",
        "while",
        "settles",
        "must",
        "work",
        "remembered",
        "stays",
        "rating",
        "worked out",
        "good for",
        "set",
        "how",
    ),
    "instruments": ("good to", "say", "check", "checked good to"),
    "cautions": ("say", "when"),
    "causes": ("say", "customer", "must be settled", "not when", "not on"),
    "work": (
        "after cautions",
        "after work",
        "needs",
        "only if",
        "changes",
        "undoes",
        "leaves",
        "clears",
        "compressor",
        "must be settled",
    ),
    "left-on": ("tell", "work", "too much", "stay by it"),
    "figures": OWN,
    "places": PARTS,
    "doubts": ("when", "say"),
}
