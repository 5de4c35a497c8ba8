"""What one wrong reading does to a verdict.

    python tests/proof/wrong_reading.py [--tree TREE] [--sample N [--seed S]] [--list]

Every number that an example gives, was asked for and was taken with an instrument is shifted, one at a time, by twice
what the instrument is good to, up and down, and the visit walked again. Where it then finds something else, does either
finding still name the other's cause? It counts and ends with 0; `test_wrong_reading.py` holds a sample.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))


def main() -> None:
    """Walk them and print."""
    from tests.proof.shifting import NOTHING, OTHER, outcomes, sample
    from tests.proof.shifts_told import report, said
    from tui.proof.reading import example_files, read_examples
    from tui.tree.library import Library

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tree", help="only examples that begin with this tree")
    parser.add_argument("--sample", type=int, help="only so many examples, chosen at random")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--list", action="store_true", help="every change that names no cause in common")
    options = parser.parse_args()
    library = Library.load(ROOT / "trees")
    examples = read_examples(library, example_files([ROOT / "trees"]))
    examples = [each for each in examples if options.tree in (None, each.answers.tree)]
    if options.sample:
        examples = sample(examples, options.sample, options.seed)
    found = list(outcomes(library, examples))
    print("\n".join(report(found)))
    if options.list:
        for outcome in found:
            if outcome.came_to in (OTHER, NOTHING) and outcome.old and outcome.new:
                print(f"{outcome.came_to}: {outcome.old.at} -> {outcome.new.at}: {said(outcome)}")


if __name__ == "__main__":
    main()
