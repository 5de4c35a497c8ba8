"""Command: ``python -m tui.refrigerant.build [--compare] [REFRIGERANT ...]``."""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from tui.refrigerant.build import nitrogen, tables, viscosity
from tui.refrigerant.build.compare import differences
from tui.refrigerant.facts import entries
from tui.refrigerant.table import DATA, SATURATION

_OTHERS = {"nitrogen": nitrogen.build, "viscosity": viscosity.build}


def main(arguments: Sequence[str] | None = None) -> int:
    """0: written, or equal to the checked-in tables; 1: different; 2: a name that is not carried."""
    options = _parser().parse_args(arguments)
    unknown = sorted(set(options.refrigerant) - {*entries(), *_OTHERS})
    if unknown:
        print(f"not carried: {', '.join(unknown)}", file=sys.stderr)
        return 2
    began = time.monotonic()
    wrong = 0
    for path, data in _built(options.refrigerant):
        if options.compare:
            wrong += _report(path, data)
        else:
            path.write_text(_text(data), encoding="utf-8", newline="\n")
            print(f"wrote {path.relative_to(DATA)}")
    seconds = time.monotonic() - began
    print(f"{'compared' if options.compare else 'built'} in {seconds:.0f} s; {wrong} differ")
    return 1 if wrong else 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tui.refrigerant.build", description=__doc__)
    parser.add_argument("refrigerant", nargs="*", help="ids as in facts.json, nitrogen or viscosity; none: all")
    parser.add_argument(
        "--compare", action="store_true", help="compare with the checked-in tables, write nothing"
    )
    return parser


def _built(wanted: Sequence[str]) -> Iterator[tuple[Path, dict[str, Any]]]:
    for name, facts in entries().items():
        if not wanted or name in wanted:
            yield SATURATION / f"{name}.json", tables.build(name, facts)
    for name, build in _OTHERS.items():
        if not wanted or name in wanted:
            yield DATA / f"{name}.json", build()


def _report(path: Path, data: dict[str, Any]) -> int:
    """Print what differs from the checked-in file; 1 if anything does."""
    if not path.exists():
        print(f"{path.name}: missing")
        return 1
    found = differences(json.loads(path.read_text(encoding="utf-8")), json.loads(_text(data)))
    for line in found[:5]:
        print(f"{path.name}: {line}")
    return 1 if found else 0


def _text(data: dict[str, Any]) -> str:
    """One key a line: a changed column is one changed line."""
    lines = ",\n".join(f" {json.dumps(k)}: {json.dumps(v, ensure_ascii=False)}" for k, v in data.items())
    return f"{{\n{lines}\n}}\n"


if __name__ == "__main__":
    sys.exit(main())
