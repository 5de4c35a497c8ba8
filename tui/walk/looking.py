"""What a walk shows of itself: findings, verdicts, what is known, what is left on. Nothing here changes it."""

from __future__ import annotations

from tui.quantity import Value
from tui.walk import showing
from tui.walk.answering import Answering
from tui.walk.circuit import Circuit
from tui.walk.history import Input
from tui.walk.prompt import Finding, Row, TrailEntry
from tui.walk.waiting import Waiting, waiting_of


class Looking(Answering):
    """The looking part of a walk; see `Walk`."""

    _inputs: list[Input]

    @property
    def findings(self) -> list[Finding]:
        """What was found so far, in order."""
        return [showing.finding_of(event) for event in self._machine.findings]

    @property
    def still_possible(self) -> tuple[str, ...]:
        """Cause ids that can still be found on the circuit being walked."""
        circuit = self._machine.circuit()
        return tuple(sorted(circuit.still_possible)) if circuit is not None else ()

    @property
    def ruled_out(self) -> dict[str, str]:
        """Causes of the circuit being walked that were ruled out, with the step that did it."""
        circuit = self._machine.circuit()
        if circuit is None:
            return {}
        return {c: at for c, at in circuit.ruled_out.items() if c not in circuit.still_possible}

    @property
    def circuits(self) -> tuple[str, ...]:
        return self._machine.names()

    @property
    def units(self) -> str:
        return self._machine.units

    def table(self) -> list[Row]:
        """What was judged on the circuit being walked: measured against wanted."""
        circuit = self.looked_at()
        return [] if circuit is None else showing.table_of(self._machine, circuit)

    def values(self) -> dict[str, Value]:
        """What is known of the circuit being walked: readings and results by their names."""
        circuit = self.looked_at()
        if circuit is self._machine.unit and len(self._machine.circuits) == 1:  # the unit itself is still walked
            circuit = next(iter(self._machine.circuits.values()))
        everywhere = [self._machine.unit.facts, *([] if circuit is None else [circuit.facts])]
        found = {name: value for facts in everywhere for name, value in facts.values.items() if value is not None}
        return {name.rpartition("/")[2]: value for name, value in found.items()}

    def trail(self) -> list[TrailEntry]:
        """Every decision on the way to where the walk stands, in order; none that was taken back."""
        return showing.trail_of(self._machine)

    @property
    def own_findings(self) -> tuple[tuple[str, str, str], ...]:
        """(circuit, cause, reason) of what the person found beside the tool, in order."""
        own = (each.event for each in self._inputs if each.event["event"] == "own-finding")
        return tuple((event["circuit"], event["cause"], event["reason"]) for event in own)

    @property
    def left_on(self) -> tuple[tuple[str, str], ...]:
        """(circuit, id in the catalogue's left-on) of everything that is on or open now."""
        everywhere = (self._machine.unit, *self._machine.circuits.values())
        return tuple((circuit.name, thing) for circuit in everywhere for thing in circuit.facts.left)

    def waiting(self) -> dict[Waiting, float]:
        """Every wait that stands now, of whichever circuit, with the seconds it asks for."""
        return waiting_of(self._machine, [each.event for each in self._inputs])

    def looked_at(self) -> Circuit | None:
        """The circuit being walked, else the one that ended last."""
        circuit = self._machine.circuit()
        if circuit is None and self._machine.findings:
            return self._machine.circuits.get(self._machine.findings[-1]["circuit"])
        return circuit
