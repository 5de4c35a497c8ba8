"""Which causes the examples reach from the call, on which classes of equipment.

    python tests/proof/reached.py            what is missing
    python tests/proof/reached.py --raise    what is reached now into reached.txt, beside what stands there

`test_reached.py` holds every line of reached.txt: it may only grow.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.proof.table import Table

ROOT = Path(__file__).resolve().parents[2]
FLOOR = Path(__file__).with_name("reached.txt")
sys.path.insert(0, str(ROOT))

Place = tuple[str, str]  # cause, class


def wanted(made: Table) -> list[Place]:
    """Every cause on every class where it can happen. To fit no class is none."""
    from tui.proof.table import CANNOT_TELL, OTHER

    causes = (cause for cause in made.causes if cause != CANNOT_TELL)
    places = ((cause, class_) for cause in causes for class_ in made.classes if class_ != OTHER)
    return [place for place in places if place not in made.cannot]


def reached(made: Table) -> list[Place]:
    """Those in which an example ends alone that begins with the call."""
    return [place for place in wanted(made) if made.cell(*place).alone.from_call]


def floor() -> list[Place]:
    """What reached.txt holds: a cause, a colon, classes with commas."""
    lines = (line.partition(": ") for line in FLOOR.read_text(encoding="utf-8").splitlines())
    return [(cause, class_) for cause, _, classes in lines for class_ in classes.split(", ")]


def lines(places: Iterable[Place], in_order: Iterable[Place]) -> Iterator[str]:
    """As they stand in reached.txt."""
    chosen = set(places)
    by_cause: dict[str, list[str]] = {}
    for cause, class_ in dict.fromkeys((*in_order, *sorted(chosen))):
        if (cause, class_) in chosen:
            by_cause.setdefault(cause, []).append(class_)
    yield from (f"{cause}: {', '.join(classes)}" for cause, classes in by_cause.items())


def bundled() -> Table:
    """The table of the examples that come with lowside."""
    from tui.proof.reading import example_files, read_examples
    from tui.proof.table import table
    from tui.tree.library import Library

    trees = ROOT / "trees"
    library = Library.read(trees)
    return table(library, read_examples(library, example_files([trees])))


def main() -> None:
    """Print what is missing, or write what is reached."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--raise", dest="write", action="store_true", help="add what is reached to reached.txt")
    options = parser.parse_args()
    made = bundled()
    all_of_them, now = wanted(made), reached(made)
    if options.write:
        FLOOR.write_text("\n".join(lines({*floor(), *now}, all_of_them)) + "\n", encoding="utf-8")
    missing = [place for place in all_of_them if place not in now]
    print("\n".join(lines(missing, all_of_them)))
    print(f"{len(now)} of {len(all_of_them)} reached from the call, {len(missing)} missing.")


if __name__ == "__main__":
    main()
