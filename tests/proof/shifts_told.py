"""What shifted readings came to, counted and told: overall, by tree, by reading, the worst."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from tests.proof.shifting import BOTH, CHANGES, NO_END, OTHER, SAME, STOP, Outcome


def report(found: Sequence[Outcome]) -> Iterator[str]:
    """Overall, by tree, by reading, the worst."""
    counted = [outcome for outcome in found if outcome.came_to != NO_END]
    changed = [outcome for outcome in counted if outcome.came_to != SAME]
    names = {outcome.shift.example.name for outcome in found}
    yield f"{len(found)} shifts of {len(names)} examples, {len(found) - len(counted)} to no end."
    yield f"{len(changed)} of {len(counted)} change a finding: {_share(len(changed), len(counted))}"
    kinds = Counter(outcome.came_to for outcome in changed)
    yield "; ".join(f"{kind}: {kinds[kind]} ({_share(kinds[kind], len(changed))})" for kind in CHANGES)
    two = len(changed) - kinds[STOP]
    yield f"of those from a cause, to one that names both: {kinds[BOTH]} of {two} ({_share(kinds[BOTH], two)})"
    flips = sum(o.came_to == OTHER and len(o.old.named) == len(o.new.named) == 1 for o in changed if o.old and o.new)
    left_open = sum(outcome.close > 0 for outcome in changed)
    yield f"by way of a close call that was left open: {left_open} ({_share(left_open, len(changed))})"
    yield f"straight from one cause to another, naming no other: {flips}"
    yield from _table("tree", counted, lambda outcome: outcome.tree)
    yield from _table("reading", counted, lambda outcome: outcome.shift.reading)
    yield from _worst(changed)


def _table(title: str, counted: Sequence[Outcome], of: Callable[[Outcome], str]) -> Iterator[str]:
    yield f"\n{title:<26}{'shifts':>7}{'changed':>8}{'share':>8}" + "".join(f"{kind:>16}" for kind in CHANGES)
    groups: dict[str, list[Outcome]] = {}
    for outcome in counted:
        groups.setdefault(of(outcome), []).append(outcome)
    for name, group in sorted(groups.items(), key=lambda item: -sum(o.came_to != SAME for o in item[1])):
        kinds = Counter(outcome.came_to for outcome in group)
        changed = len(group) - kinds[SAME]
        line = f"{name:<26}{len(group):>7}{changed:>8}{_share(changed, len(group)):>8}"
        yield line + "".join(f"{kinds[kind]:>16}" for kind in CHANGES)


def _worst(changed: Sequence[Outcome]) -> Iterator[str]:
    """The twenty ways from finding to finding that most shifts went, those first that name no cause in common."""
    ways: dict[tuple[str, str, str, str], list[Outcome]] = {}
    for outcome in changed:
        if outcome.old is not None and outcome.new is not None:
            way = outcome.came_to, outcome.shift.reading, outcome.old.at, outcome.new.at
            ways.setdefault(way, []).append(outcome)
    ranked = sorted(ways.items(), key=lambda item: (-CHANGES.index(item[0][0]), -len(item[1])))
    yield "\nThe worst:"
    for (kind, reading, old, new), those in ranked[:20]:
        yield f"{len(those):>4} {kind}: {reading}: {old} -> {new}"
        yield f"     such as {said(those[0])}"


def said(outcome: Outcome) -> str:
    shift = outcome.shift
    number = f" ({shift.number + 1}.)" if shift.number else ""
    return f"{shift.example.name}: {shift.circuit or 'visit'} {shift.reading}{number} {shift.was} read as {shift.now}"


def _share(part: int, whole: int) -> str:
    return f"{100 * part / whole:.1f} %" if whole else "-"
