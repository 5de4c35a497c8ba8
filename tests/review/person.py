"""Somebody who walks a bundled call by hand, and slips, doubts and hurries as people do."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from tests.record.helpers import HandClock
from tests.review.visits import Recorded
from tui.desk.session import Visit
from tui.tree.library import Library
from tui.walk import Walk
from tui.walk.answers import Answers, Driver
from tui.walk.kinds import WAIT
from tui.walk.prompt import Prompt

Deed = Callable[["Person"], None]


class Person(Driver):
    """Answers from a file, but as a person does: waits are waited, and `deeds` are done first at their steps.

    deeds: ``close-call``, ``tree/step`` or the id of the reading asked, to what is done when it is come to first.
    """

    def __init__(self, library: Library, answers: Path, path: Path, deeds: Mapping[str, Deed]) -> None:
        given = Answers.read(answers)
        visit = {name: found.texts[0] for name, found in given.visit.items()}
        site = {name: found.texts[0] for name, found in given.site.items()}
        known: dict[str, Any] = {"circuits": {name: {} for name in given.circuits}}
        walk = Walk.start(library, given.tree, known=known, site=site, unit=visit["unit"], technician="p-1f0c22ab")
        clock = HandClock()
        self.recorded = Recorded(Visit.begin(walk, clock, path), clock, path)
        self.deeds = dict(deeds)
        super().__init__(walk, given, lambda intent: self.recorded.act(intent))

    def go(self) -> Recorded:
        """To the end of the walk, then closed."""
        while (prompt := self.walk.prompt) is not None:
            names = (prompt.kind, f"{prompt.tree}/{prompt.step}", *(each.id for each in prompt.readings[:1]))
            deed = next((self.deeds.pop(name) for name in names if name in self.deeds), None)
            if deed is not None:
                deed(self)
            else:
                self.step(prompt)
        if not self.walk.closed:
            self.recorded.act(lambda walk: walk.close())
        assert not self.deeds, f"never come to: {sorted(self.deeds)}"
        return self.recorded

    def step(self, prompt: Prompt) -> None:
        if prompt.kind == WAIT:
            self.recorded.act(lambda walk: walk.waited(prompt.seconds or 0.0))
        else:
            super().step(prompt)

    def does(self, *acts: Callable[[Walk], object]) -> None:
        self.recorded.act(*acts)
