"""From the command line to one command, and from anything that goes wrong to one message."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module

from tui.cli.output import prepare_streams, say, silence_stdout
from tui.quantity.refused import Refused

#: Each command is a module of this package with `arguments(parser)` and `run(options) -> int`.
COMMANDS = {
    "home": "go on, start, look at earlier visits, settings; the same as lowside alone",
    "walk": "walk a tree: on a screen, line by line, or from an answers file",
    "resume": "go on where the power went",
    "check": "prove the trees",
    "why": "explain a code that check prints",
    "examples": "walk the trees' examples; with --swap, look for rows that no example holds",
    "diff": "which answers end elsewhere with other trees, and which examples and visits",
    "new": "begin a tree of your own, or copy one to change it",
    "pack": "your trees in one file, to be installed elsewhere",
    "install": "trees out of one file, laid over those that came with lowside",
    "preview": "walk a tree while it is edited: each save is read at once, answers that fit are kept",
    "map": "a tree as a picture of its steps and ways, for Mermaid or Graphviz",
    "schema": "what may stand in a file, for editors that complete and explain",
    "verify": "is a session file whole",
    "replay": "does a session file still come to the same verdicts",
    "photo": "keep a photo with a visit, also after it was closed",
    "review": "all visits of a folder, those to be looked at first on top",
    "sheet": "a session as plain text, to paste into a work order",
    "demo": "watch an invented call that plays itself; stop it, take it over",
    "sat": "saturation temperature or pressure of a refrigerant",
    "settings": "show or set what lowside remembers about you",
}

#: What `lowside` alone does.
AT_HOME = ["home"]


def console() -> None:
    """Entry point of the command."""
    sys.exit(main(sys.argv[1:]))


def main(arguments: Sequence[str]) -> int:
    """Run one command line; returns its exit code. Every refusal becomes one message on stderr."""
    prepare_streams()
    try:
        code = _run(list(arguments) or AT_HOME)
        sys.stdout.flush()
    except BrokenPipeError:
        silence_stdout()
        return 2
    except KeyboardInterrupt:
        return 130
    except (Refused, OSError) as problem:
        from tui.cli.problems import in_words

        say(in_words(problem), sys.stderr)
        return 2
    return code


def _run(arguments: list[str]) -> int:
    name, *rest = arguments
    if name in ("-h", "--help", "help"):
        print(overview())
        return 0
    if name in ("-V", "--version"):
        from tui import __version__

        print(f"lowside {__version__}")
        return 0
    if name not in COMMANDS:
        raise _no_such_command(name)
    from tui.cli.parser import Parser

    command = import_module(f"tui.cli.{name}")
    parser = Parser(prog=f"lowside {name}", description=command.__doc__)
    command.arguments(parser)
    order = getattr(command, "in_order", list)
    return int(command.run(parser.parse_args(order(rest))))


def overview() -> str:
    """What `lowside --help` prints."""
    wide = max(map(len, COMMANDS))
    rows = "\n".join(f"  {name:<{wide}}  {say}" for name, say in COMMANDS.items())
    return (
        "Walks a refrigeration technician from a warm cabinet to a proven cause.\n\n"
        f"  {'lowside':<{wide}}  alone: home, on the screen\n\n"
        f"Commands (lowside COMMAND --help tells more):\n{rows}"
    )


def _no_such_command(name: str) -> Refused:
    from tui.quantity import nearest

    near = nearest(name, COMMANDS)
    guess = f"Did you mean {near}? " if near else ""
    kind = "option" if name.startswith("-") else "command"
    return Refused("misuse", f"lowside: there is no {kind} {name!r}.", f"{guess}lowside --help lists the commands.")
