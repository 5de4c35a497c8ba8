"""Walk a tree: on the screen, line by line (--plain), or from an answers file (--answers).

Every answer is on the disk before the next question is shown: in FILE, or under a new name in your sessions.

Exit code: 0 it ended in a finding (cannot tell is one), 1 left or closed before any, 2 bad trees, answers or
session.
"""

from __future__ import annotations

import argparse
import sys
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.desk.session import Visit
    from tui.desk.settings import Settings
    from tui.tree.library import Library
    from tui.walk import Walk

#: The first of these that there is.
USUAL = ("call", "both-low")


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tree", nargs="?", metavar="TREE", help="by name; else the usual one")
    parser.add_argument("--unit", metavar="TAG", default="", help="the unit's tag")
    parser.add_argument("--log", metavar="FILE", help="the session file to write; it must not exist yet")
    parser.add_argument("--answers", metavar="FILE", help="take every answer from this file")
    parser.add_argument("--plain", action="store_true", help="line by line, for dumb terminals and screen readers")
    parser.add_argument("--json", action="store_true", help="print the findings for programs")


def run(options: argparse.Namespace) -> int:
    """Walk, then say what was found."""
    if options.answers:
        from tui.cli.libraries import load_to_walk

        return _from_answers(options, load_to_walk())
    from tui.cli.preferences import settings
    from tui.cli.visits import need_a_terminal

    need_a_terminal(plain=options.plain)
    visit = _line_by_line(options, settings()) if options.plain else _on_the_screen(options, settings())
    if visit is None:
        return 1
    if options.json:
        _print_shape(visit, [])
    return 0 if visit.walk.findings else 1


def _line_by_line(options: argparse.Namespace, mine: Settings) -> Visit:
    from tui.cli.libraries import load_to_walk
    from tui.cli.visits import show
    from tui.desk.plain import asked_unit
    from tui.walk.opening import has_tree

    shown = sys.stderr if options.json else sys.stdout
    library = load_to_walk()
    has_tree(library, options.tree or usual(library))
    unit = options.unit or asked_unit(sys.stdin, shown)
    visit, notices = begun(library, mine, unit, options.tree or "", options.log or "")
    show(visit, plain=True, notices=notices, shown=shown)
    return visit


def _on_the_screen(options: argparse.Namespace, mine: Settings) -> Visit | None:
    """The screen stands before the trees are read; None if it was left before."""
    from tui.cli.libraries import no_file
    from tui.cli.visits import show_start

    if options.tree and (refused := no_file(options.tree)) is not None:
        raise refused

    def prepare() -> Library:
        from tui.cli.libraries import load_to_walk

        for room in ("tui.desk.session", "tui.walk.core"):  # here it costs the person nothing
            import_module(room)
        library = load_to_walk()
        options.tree = options.tree or usual(library)
        return library

    def begin(library: Library, unit: str) -> tuple[Visit, tuple[str, ...]]:
        return begun(library, mine, unit, options.tree, options.log or "")

    return show_start(prepare, begin, mine, options.unit)


#: what a start refuses of the instruments in the settings
OF_THE_SETTINGS = frozenset({"no-such-instrument", "wrong-kind", "no-accuracy"})


def begun(
    library: Library, mine: Settings, unit: str, tree: str = "", log: str = ""
) -> tuple[Visit, tuple[str, ...]]:
    """A visit that knows what earlier ones say of the unit, and what a person should be told of that."""
    from tui.desk.before import before
    from tui.desk.clock import SystemClock
    from tui.desk.home import home
    from tui.desk.laid_over import laid_over, sentences
    from tui.walk import Walk

    today = SystemClock().today()
    laid = laid_over(home())
    known = before(home().sessions, unit, library, today)
    try:
        walk = Walk.start(
            library,
            tree or usual(library),
            history=known.items,
            site=mine.site(today),
            units=mine.units,
            instruments=mine.accuracies,
            unit=unit,
            technician=mine.technician,
            calibrated=mine.calibrations,
            laid_over=laid,
        )
    except Refused as refused:
        if refused.code not in OF_THE_SETTINGS:
            raise
        say = f"{home().settings}: instruments: {refused.message}"
        raise Refused(refused.code, say, f"{refused.cure} Mend it there.".strip()) from None
    return _visit(walk, log), (*sentences(laid), *known.notices)


def usual(library: Library) -> str:
    """The tree that is walked when none is named. Raises Refused where there is none of the usual ones."""
    for name in USUAL:
        if name in library.trees:
            return name
    raise Refused("no-tree", "None of the usual trees is there.", f"Name one of: {', '.join(library.trees)}.")


def _visit(walk: Walk, log: str) -> Visit:
    from tui.desk.clock import SystemClock
    from tui.desk.session import Visit

    if log:
        return Visit.begin(walk, SystemClock(), Path(log))
    from tui.desk.home import home
    from tui.desk.store import Store

    return Visit.begin_in(Store(home().sessions), walk, SystemClock(), walk.events[0]["unit"])


def _from_answers(options: argparse.Namespace, library: Library) -> int:
    """Nothing is asked of anybody."""
    from tui.desk.home import home
    from tui.desk.laid_over import laid_over
    from tui.walk.answers import Answers, begin, drive

    if options.plain:
        raise Refused("misuse", "lowside walk: --answers and --plain exclude each other.", "Leave one out.")
    answers = Answers.read(Path(options.answers))
    answers.tree = options.tree or answers.tree or usual(library)
    visit = _visit(begin(library, answers, unit=options.unit, laid_over=laid_over(home())), options.log or "")
    try:
        not_given = drive(visit.walk, answers, visit.act)
    finally:
        visit.leave()
    if options.json:
        _print_shape(visit, not_given)
    else:
        _print_findings(visit, not_given)
    return 0 if visit.walk.findings else 1


def _print_findings(visit: Visit, not_given: list[str]) -> None:
    from tui.desk.saying import finding_lines

    for finding in visit.walk.findings:
        print("\n".join(finding_lines(finding, visit.walk.library.catalogue.causes)))
    if not_given:
        print(f"Asked and not in the answers file: {', '.join(dict.fromkeys(not_given))}.")
    print(f"Recorded in {visit.path}.")


def _print_shape(visit: Visit, not_given: list[str]) -> None:
    from tui.cli.output import print_json
    from tui.walk.inputs import INPUTS

    walk = visit.walk
    print_json(
        {
            "findings": [
                {
                    "circuit": f.circuit,
                    "at": f.at,
                    "cause": f.cause,
                    "could_be": list(f.could_be),
                    "evidence": list(f.evidence),
                    "ruled_out": list(f.ruled_out),
                    "next": f.next,
                }
                for f in walk.findings
            ],
            "route": [
                {"circuit": t.circuit, "at": t.at, "row": t.row, "to": t.to, "close": list(t.close)}
                for t in walk.trail()
            ],
            "steps": sum(event["event"] in INPUTS for event in walk.events),
            "not_given": not_given,
            "session": str(visit.path) if visit.path else None,
        }
    )
