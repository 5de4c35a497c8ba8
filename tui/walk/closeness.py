"""A close call in figures: what was read against which limit, how far off, how sure; and where each verdict leads."""

from __future__ import annotations

from collections.abc import Iterator

from tui.quantity import COVERAGE, Quantity, Refused, difference_of, show, usual_unit
from tui.tree.model import AllOf, AnyOf, Compare, Decide, Table, Test
from tui.walk import deciding
from tui.walk.circuit import Circuit
from tui.walk.deciding import Decision
from tui.walk.evidence import quantity_of
from tui.walk.kinds import spoken
from tui.walk.leading import leads_to
from tui.walk.machine import Machine
from tui.walk.rows import verdict_word
from tui.walk.world import Event


def figures_of(machine: Machine, circuit: Circuit, step: Decide, decision: Decision) -> list[str]:
    """``Suction 13.3 psig is 0.6 psi below its limit of 13.9 psig; the error can be 1.0 psi.`` and so on."""
    if step.table is not None:
        judged = [judged_as(circuit, name) for name in decision.close]
        return [said for event in judged if event is not None for said in _judged(machine, event)]
    close = [line.test for line in step.lines if line.test is not None and line.source in decision.close]
    return [said for test in close for said in _tested(machine, circuit, test)]


def judged_as(circuit: Circuit, name: str) -> Event | None:
    """The latest event that judged this, on this circuit."""
    found = [e for e in circuit.evidence.values() if e["event"] == "judged" and e["name"] == name]
    return found[-1] if found else None


def _judged(machine: Machine, event: Event) -> Iterator[str]:
    value, low, high = (quantity_of(event[part]) for part in ("value", "low", "high"))
    edges = [edge for edge in (low, high) if edge is not None]
    if value is not None and edges:
        edge = min(edges, key=lambda each: abs(each.si - value.si))
        yield _apart(machine, spoken(event["compared"]), value, edge, float(event.get("u") or 0.0))


def _tested(machine: Machine, circuit: Circuit, test: Test) -> Iterator[str]:
    if isinstance(test, AllOf | AnyOf):
        for each in test.tests:
            yield from _tested(machine, circuit, each)
        return
    if not isinstance(test, Compare):
        return
    evaluator = machine.evaluator(circuit)
    left, right = evaluator.quantity(test.left), evaluator.quantity(test.right)
    if left is not None and right is not None and evaluator.truth(test).close:
        name = getattr(test.left, "name", "")
        yield _apart(machine, spoken(name) if name else "the sum", left, right, (left - right).u)


def _apart(machine: Machine, name: str, value: Quantity, edge: Quantity, u: float) -> str:
    unit = usual_unit(value, machine.units)
    try:
        gap = value - edge
    except Refused:
        return f"{name} {show(value, unit)}, limit {show(edge, unit)}.".capitalize()
    side = "below" if gap.si < 0 else "above"
    off = gap_shown(machine.units, value, Quantity(gap.kind, abs(gap.si)))
    error = gap_shown(machine.units, value, Quantity(difference_of(value.kind), COVERAGE * u))
    said = f"{name} {show(value, unit)} is {off} {side} its limit of {show(edge, unit)}; the error can be {error}."
    return f"{said[:1].upper()}{said[1:]}"


def gap_shown(units: str, value: Quantity, gap: Quantity) -> str:
    """A difference in the unit that the value itself is shown in: microns of microns."""
    return show(gap, "micron" if usual_unit(value, units) == "micron" else usual_unit(gap, units))


def ways_of(machine: Machine, circuit: Circuit, step: Decide, decision: Decision) -> list[tuple[str, str, str, str]]:
    """(column, verdict, its words, where it leads) of every verdict of a close column, the others as they read.

    Empty for a decision by tests.
    """
    if step.table is None:
        return []
    scope = machine.scope(circuit)
    found = []
    for column in decision.close:
        now, event = scope.get(column), judged_as(circuit, column)
        name = spoken(event["compared"] if event is not None else column)
        for word in step.table.domains[step.table.columns.index(column)]:
            as_read = ", as it reads" if word == now else ""
            lead = _lead(machine, circuit, step, step.table, {column: word})
            found.append((column, word, f"{name} {verdict_word(word)}{as_read}", lead))
    return found


def _lead(machine: Machine, circuit: Circuit, step: Decide, table: Table, supposed: dict[str, str]) -> str:
    scope = machine.scope(circuit)

    def word_of(column: str) -> tuple[str, tuple[str, ...]]:
        word = supposed.get(column) or scope.get(column)
        return (word if isinstance(word, str) else "unknown"), ()

    return leads_to(machine, circuit, step, deciding.by_table(table, word_of).to)


def led_by(machine: Machine, circuit: Circuit, step: Decide, decision: Decision) -> str:
    """Where the verdicts lead, in one text."""
    scope = machine.scope(circuit)
    ways = ways_of(machine, circuit, step, decision)
    near = [way for way in ways if way[1] in (scope.get(way[0]), *scope.others(way[0]))]
    if near:
        return " ".join(f"{words[:1].upper()}{words[1:]}: {_ended(lead)}" for _, _, words, lead in near)
    others = " or ".join(leads_to(machine, circuit, step, each) for each in decision.elsewhere)
    return f"As it reads: {_ended(leads_to(machine, circuit, step, decision.to))} The other way: {_ended(others)}"


def _ended(lead: str) -> str:
    return lead if lead.endswith(("...", "?")) else f"{lead}."
