"""Places that were looked at one after the other: which one a reading was taken at.

A record says at which step a reading was taken, not at which place of the list: the rounds are counted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from tui.review.account import Account, Entry
from tui.review.taken import takes
from tui.review.wording import Wording
from tui.tree.model import UNKNOWN, Ask, Decide, Repeat, Step

_TAKEN = ("answered", "told", "couldn't")


@dataclass(slots=True)
class Round:
    """One place's turn: `begun` and `latest` are the numbers of its first and last reading."""

    tree: str
    place: str
    begun: int
    latest: int


@dataclass(slots=True)
class _Running:
    places: list[str]
    by_decision: bool
    over: bool = True
    rounds: list[Round] = field(default_factory=list)


def rounds_of(account: Account, wording: Wording, circuit: str, word: Callable[[str, Entry], str]) -> list[Round]:
    """The rounds over places on a circuit, in order; `word` is what a reading said before an entry."""
    running: dict[tuple[str, str], _Running] = {}
    found: list[Round] = []
    for entry in account.of(*_TAKEN, "routed", "entered", circuit=circuit):
        tree = str(entry.event.get("tree", ""))
        if entry.kind == "entered":
            running = {key: state for key, state in running.items() if key[0] != tree}
        elif entry.kind == "routed":
            if entry.event.get("to") == "go round":
                for key, state in running.items():
                    state.over = state.over or key[0] == tree
        else:
            found += _taken(running, wording, entry, word)
    return found


def _taken(
    running: dict[tuple[str, str], _Running], wording: Wording, entry: Entry, word: Callable[[str, Entry], str]
) -> list[Round]:
    """The round that a reading begins, if it does; else the one it belongs to is longer."""
    tree, step = str(entry.event["tree"]), str(entry.event["step"])
    repeat = _repeat_with(wording, tree, step)
    if repeat is None:
        return []
    state = running.get((tree, repeat.name))
    if state is None:
        ends = isinstance(repeat.steps[-1], Decide)
        state = running[tree, repeat.name] = _Running(_places(wording, repeat, entry, word), ends)
    first = next(each for each in repeat.steps if isinstance(each, Ask))
    reading = entry.event.get("reading", next(iter(entry.event.get("readings", ())), ""))
    begins = step == first.name and reading == first.readings[0]
    if begins and (state.over or not state.by_decision) and len(state.rounds) < len(state.places):
        state.over = False
        state.rounds.append(Round(tree, state.places[len(state.rounds)], entry.n, entry.n))
        return state.rounds[-1:]
    if state.rounds:
        state.rounds[-1].latest = entry.n
    return []


def _repeat_with(wording: Wording, tree: str, step: str) -> Repeat | None:
    """The repeat over places in which a step asks."""
    found = None if wording.library is None else wording.library.trees.get(tree)
    steps: Iterable[Step] = () if found is None else found.named.values()
    over = (each for each in steps if isinstance(each, Repeat) and each.places is not None)
    return next((each for each in over if any(s.name == step and isinstance(s, Ask) for s in each.steps)), None)


def _places(wording: Wording, repeat: Repeat, at: Entry, word: Callable[[str, Entry], str]) -> list[str]:
    assert wording.catalogue is not None
    table = wording.catalogue.places.lists[str(repeat.places)]
    row = table.row_for(tuple(word(column, at) or UNKNOWN for column in table.columns))
    return [] if row is None else [place.strip() for place in row.to.split(",")]


def of_place(rounds: Iterable[Round], entry: Entry, wording: Wording) -> bool:
    """Whether a reading was taken at a place of a list."""
    inside = any(each.begun <= entry.n <= each.latest for each in rounds)
    return inside and _repeat_with(wording, str(entry.event["tree"]), str(entry.event["step"])) is not None


def searched(account: Account, wording: Wording, circuit: str, rounds: Iterable[Round]) -> list[tuple[str, str]]:
    """Each place with what was seen there, in the order of the search."""
    rows = []
    for each in rounds:

        def mine(entry: Entry, _: str, each: Round = each) -> bool:
            return entry.circuit == circuit and of_place([each], entry, wording)

        said = ", ".join(f"{label} {text}" for label, text in takes(account, mine).items())
        rows.append((each.place, said))
    return rows
