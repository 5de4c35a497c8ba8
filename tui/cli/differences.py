"""A difference as lines to read: tree by tree, then the catalogue, figures, examples and recorded visits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from textwrap import TextWrapper
from typing import TYPE_CHECKING

from tui.cli.parser import WIDTH
from tui.proof.diff.difference import CHANGED, GONE, NEW, RENAMED, Difference, TreeChange
from tui.proof.diff.parts import CATALOGUE, Changed
from tui.proof.diff.sessions import NEITHER, OTHER
from tui.proof.diff.ways import ORDER, UNNAMED, Elsewhere

if TYPE_CHECKING:
    from tui.proof.diff.figures import FigureChange, UsedBy
    from tui.proof.diff.sessions import Session
    from tui.proof.diff.tried import Ending, EndsElsewhere, Tried
    from tui.proof.examples import Found

_AROUND = 3  # words shown beside those that changed
_NAMED = 8  # examples named where only a figure changed


def lines(
    old: str, new: str, found: Difference, walked: Tried, sessions: Sequence[Session] | None
) -> Iterator[str]:
    """All of it, to the width of a small terminal."""
    yield from _folded(0, f"From {old} to {new}:")
    if found.nothing:
        laid_out = f" {_count(len(found.trees), 'text')} laid out otherwise." if found.trees else ""
        yield f"No difference in what they ask, say and do.{laid_out}"
    for tree in dict.fromkeys([*(each.tree for each in found.trees), *(each.tree for each in found.elsewhere)]):
        yield from _tree(tree, found)
    yield from _catalogue(found)
    for figure in found.figures:
        yield from _figure(figure, walked)
    if not found.nothing:
        yield from _examples(walked)
    if sessions is not None:
        yield from _sessions(sessions)


def _folded(depth: int, text: str) -> Iterator[str]:
    """Lines that begin `depth` steps in; what runs over stands further in."""
    indent = "  " * depth
    folder = TextWrapper(WIDTH, indent, f"{indent}    ", break_on_hyphens=False, break_long_words=False)
    yield from folder.wrap(text)


# ---- trees


def _tree(tree: str, found: Difference) -> Iterator[str]:
    about = next((each for each in found.trees if each.tree == tree), TreeChange(tree, CHANGED, "", ""))
    told = list(_within(tree, found))
    if about.change == CHANGED and not told and about.old_edition == about.new_edition:
        return
    yield ""
    yield from _folded(0, f"{tree}{_edition(about, told)}")
    yield from told


def _edition(tree: TreeChange, told: Sequence[str]) -> str:
    if tree.change != CHANGED:
        edition = tree.new_edition if tree.change == NEW else tree.old_edition
        return f": this tree is {tree.change}, edition {edition}"
    if tree.old_edition != tree.new_edition:
        return f", edition {tree.old_edition}, now {tree.new_edition}{'' if told else '; nothing else'}"
    return f", edition {tree.new_edition} as before: give it another" if tree.new_edition else ""


def _within(tree: str, found: Difference) -> Iterator[str]:
    for step in found.steps:
        if step.tree == tree and step.change == RENAMED:
            yield from _folded(1, f"renamed: {step.was} ({step.does}) is now {step.step}")
        elif step.tree == tree:
            yield from _folded(1, f"{step.change}: {step.step} ({step.does})")
    for each in found.elsewhere:
        if each.tree == tree:
            yield from _folded(1, _elsewhere(each))
    for changed in found.changed:
        if changed.where.partition("/")[0] == tree:
            yield from _folded(1, _changed(changed, changed.where.partition("/")[2] or "head"))


def _elsewhere(each: Elsewhere) -> str:
    many = f" ({each.combinations} combinations)" if each.combinations > 1 else ""
    step = f"{each.step}: " if each.step else ""
    if each.kind == ORDER:
        return f"{step}{each.words}"
    row = " (no row names this)" if each.kind == UNNAMED else ""
    was = f"was {_to(each.old, each.old_step)}" if each.old is not None else "new"
    now = f"now {_to(each.new, each.new_step)}" if each.new is not None else "now not there"
    return f"{step}{each.words}{row}: {was}, {now}{many}"


def _to(destination: str | None, step: str) -> str:
    return f"{destination} (to {step})" if step else f"{destination}"


def _changed(each: Changed, where: str) -> str:
    was, now = _apart(each.old, each.new) if each.read else (each.old, each.new)
    return f"{where}, {each.part}: was {_shown(was, each.read)}, now {_shown(now, each.read)}"


def _shown(text: str, read: bool) -> str:
    return f'"{text}"' if read and text else text or "nothing"


def _apart(old: str, new: str) -> tuple[str, str]:
    """Both shortened to the words that differ and a few beside them."""
    was, now = old.split(), new.split()
    if not was or not now:
        return old, new
    same = 0
    while same < min(len(was), len(now)) and was[same] == now[same]:
        same += 1
    end = 0
    while end < min(len(was), len(now)) - same and was[-1 - end] == now[-1 - end]:
        end += 1
    start, after = max(0, same - _AROUND), max(0, end - _AROUND)
    return _cut(was, start, after), _cut(now, start, after)


def _cut(words: Sequence[str], start: int, after: int) -> str:
    kept = " ".join(words[start : len(words) - after])
    return f"{'… ' if start else ''}{kept}{' …' if after else ''}"


# ---- the catalogue and its figures


def _catalogue(found: Difference) -> Iterator[str]:
    changed = [each for each in found.changed if each.where.startswith(CATALOGUE)]
    if not (found.entries or changed):
        return
    yield ""
    yield "catalogue"
    for entry in found.entries:
        yield from _folded(1, f"{entry.change}: {entry.section}/{entry.entry}")
    for each in changed:
        yield from _folded(1, _changed(each, each.where.removeprefix(CATALOGUE)))


def _figure(change: FigureChange, walked: Tried) -> Iterator[str]:
    yield ""
    named = {NEW: " is new", GONE: " is gone"}.get(change.change, "")
    yield f"figure {change.figure}{named}"
    for value in change.values:
        row = f"{value.row}: " if value.row else ""
        yield from _folded(1, f"{row}was {value.old or 'none'}, now {value.new or 'none'}")
    direct = [use for use in change.used_by if not use.through]
    through = [use for use in change.used_by if use.through]
    if direct:
        yield from _folded(1, f"used by: {_uses(direct)}")
    if through:
        yield from _folded(1, f"on that hang: {_uses(through)}")
    alone = walked.alone.get(change.figure)
    if alone is None:
        yield "  It can't be tried alone."
    elif walked.walked:
        yield from _folded(1, f"Changed alone it ends {_of(alone, walked)} elsewhere{_names(alone)}.")


def _uses(uses: Sequence[UsedBy]) -> str:
    by_kind: dict[str, list[str]] = {}
    for use in uses:
        by_kind.setdefault(use.does, []).append(use.at)
    return "; ".join(f"{kind} {', '.join(places)}" for kind, places in by_kind.items())


def _of(endings: Sequence[EndsElsewhere], walked: Tried) -> str:
    return f"{len(endings) or 'none'} of {_count(walked.walked, 'example')}"


def _names(endings: Sequence[EndsElsewhere]) -> str:
    if not endings:
        return ""
    more = f" and {len(endings) - _NAMED} more" if len(endings) > _NAMED else ""
    return f": {', '.join(each.name for each in endings[:_NAMED])}{more}"


# ---- what comes of it


def _examples(walked: Tried) -> Iterator[str]:
    yield ""
    if not walked.walked:
        yield "There is no example, so none was walked."
        return
    yield f"{_of(walked.elsewhere, walked).capitalize()} {'ends' if len(walked.elsewhere) == 1 else 'end'} elsewhere."
    for each in walked.elsewhere:
        was, now = _first_apart(each.old, each.new)
        yield from _folded(1, f"{each.name}: was {was}, now {now}")


def _first_apart(old: Ending, new: Ending) -> tuple[str, str]:
    """The first finding that is another, of each; why a visit comes to no end where it doesn't."""
    pairs = zip_longest(old.found, new.found)
    was, now = next(((was, now) for was, now in pairs if was != now), (None, None))
    one_place = was is not None and now is not None and was.at == now.at
    return _finding(old, was, one_place), _finding(new, now, one_place)


def _finding(ending: Ending, found: Found | None, with_causes: bool) -> str:
    """`with_causes`: what it could be is all that tells it from the other."""
    if ending.refused:
        return f"no end ({ending.refused})"
    if found is None:
        return "nothing more"
    could_be = f" (could be {', '.join(found.could_be)})" if with_causes and found.could_be else ""
    return f"{found.cause} at {found.at}{could_be}"


def _sessions(sessions: Sequence[Session]) -> Iterator[str]:
    other = [each for each in sessions if each.state == OTHER]
    yield ""
    yield f"{len(other) or 'None'} of {_count(len(sessions), 'recorded visit')} would have gone another way."
    for each in other:
        parted = each.parted
        assert parted is not None
        at = f", {parted.at}" if parted.at else ""
        yield from _folded(1, f"{each.path}, line {parted.line}{at}: was {parted.then}, now {parted.now}")
    lost = [each for each in sessions if each.state == NEITHER]
    if lost:
        yield from _folded(1, f"{_count(len(lost), 'visit')} can't be followed: recorded with still other trees.")


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"
