"""What a picture of a tree shows beside the tree: rows that no example reaches, and where a walk went."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from tui.proof.cover import Uncovered
from tui.tree.chart import Place, Way
from tui.tree.check.graph import NEXT, SKIP
from tui.walk.passages import Passage


@dataclass(frozen=True, slots=True)
class Marks:
    """`bare`: (step, row) that no example reaches, a step itself with an empty row. `here`: step to the circuits that
    stand at it. `passed`, `over`: steps a walk came by, or passed over as not needed; `taken`: (step, row).
    """

    bare: frozenset[tuple[str, str]] = frozenset()
    here: dict[str, str] = field(default_factory=dict)
    passed: frozenset[str] = frozenset()
    over: frozenset[str] = frozenset()
    taken: frozenset[tuple[str, str]] = frozenset()

    def is_bare(self, part: Place | Way) -> bool:
        """Whether no example reaches it."""
        if isinstance(part, Place):
            return (part.name, "") in self.bare
        return bool(part.row) and (part.start, part.row) in self.bare

    def went(self, way: Way) -> bool:
        """Whether the walk went that way."""
        if way.kind == SKIP:
            return way.start in self.over
        if way.kind == NEXT:
            return way.start in self.passed - self.over and way.end in self.passed
        return (way.start, way.row) in self.taken


def marks_of(tree: str, missing: Iterable[Uncovered], passages: Sequence[Passage] = ()) -> Marks:
    """The marks on one tree. `passages`: of one walk, through any trees."""
    mine = [each for each in passages if each.tree.name == tree]
    here: dict[str, str] = {}
    for each in mine:
        if each.here:
            name = each.circuit or "the unit"
            here[each.here] = f"{here[each.here]}, {name}" if each.here in here else name
    return Marks(
        frozenset((gap.step, gap.row) for gap in missing if gap.tree == tree),
        here,
        frozenset(step for each in mine for step in each.passed),
        frozenset(step for each in mine for step in each.over),
        frozenset((step, row) for each in mine for step, (rows, _) in each.taken.items() for row in rows),
    )
