"""Every figure of the bench in one table: ``python tests/bench/run.py [--runs N]``; exit 1 if one is over.

Ratios only, all measured in this run on this machine, so that they mean the same on another one.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))


def main() -> int:
    """Measure, print, judge."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument(
        "--runs", type=int, default=15, help="starts of each program in a terminal, interleaved"
    )
    options = parser.parse_args()

    from tests.bench.answering import answer_figures
    from tests.bench.events import event_figures
    from tests.bench.proving import proving_figures
    from tests.bench.saturation import saturation_figures
    from tests.bench.terminal import start_figures
    from tests.bench.visit import visit_figures

    figures, sample = answer_figures()
    screen = [*start_figures(options.runs), *visit_figures(options.runs)]
    figures = [*screen, *figures, *saturation_figures(), *proving_figures(), *event_figures(sample)]
    print(f"{'figure':<52} {'measured':>9} {'limit':>7}")
    for figure in figures:
        print(figure.row())
    return 0 if all(figure.well for figure in figures) else 1


if __name__ == "__main__":
    sys.exit(main())
