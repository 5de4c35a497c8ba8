"""The clocks of waits: started when the wait is first shown, running on while another circuit is worked on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tui.desk.typed import place_of
from tui.walk.kinds import WAIT
from tui.walk.prompt import Prompt


@dataclass(slots=True)
class _Running:
    since: float
    seconds: float
    circuit: str
    rung: bool = False


class Waits:
    """`mono` gives seconds that never jump."""

    def __init__(self, mono: Callable[[], float]) -> None:
        self._mono = mono
        self._running: dict[tuple[str, ...], _Running] = {}

    def begin(self, prompt: Prompt | None) -> None:
        """A prompt is shown; if it is a wait that does not run yet, it begins."""
        if prompt is not None and prompt.kind == WAIT:
            self._running.setdefault(place_of(prompt), _Running(self._mono(), prompt.seconds or 0.0, prompt.circuit))

    @property
    def any(self) -> bool:
        return bool(self._running)

    def waited(self, prompt: Prompt) -> float:
        """Seconds since this wait began."""
        found = self._running.get(place_of(prompt))
        return max(0.0, self._mono() - found.since) if found is not None else 0.0

    def left(self, prompt: Prompt) -> float:
        """Seconds it has still to run; below zero when it is over."""
        return (prompt.seconds or 0.0) - self.waited(prompt)

    def end(self, prompt: Prompt) -> None:
        self._running.pop(place_of(prompt), None)

    def forget(self) -> None:
        """The place has moved: whatever is waited for again begins anew."""
        self._running.clear()

    def ring(self) -> list[str]:
        """Circuits whose wait has just come to its end; each is said once."""
        now = self._mono()
        over = [each for each in self._running.values() if not each.rung and now - each.since >= each.seconds > 0]
        for each in over:
            each.rung = True
        return [each.circuit for each in over]
