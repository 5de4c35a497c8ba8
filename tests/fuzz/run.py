"""Runs the fuzzers one after the other: ``python tests/fuzz/run.py [--count N] [--seed S] [NAME ...]``.

Each fuzzer is a module of this folder with `run(count, seed)`: whatever comes out of it but the number tried
is a failure. The same seed gives the same inputs.
"""

from __future__ import annotations

import argparse
import sys
import time
import traceback
from importlib import import_module
from pathlib import Path

FUZZERS = ("quantity", "expression", "tree", "answers", "session", "wander")


def main() -> int:
    """Exit 0: nothing but refusals came out of any of them."""
    parser = argparse.ArgumentParser(description="Runs the fuzzers.")
    parser.add_argument("name", nargs="*", help=f"which of {', '.join(FUZZERS)}; none: all")
    parser.add_argument("--count", type=int, default=200_000, help="inputs for each")
    parser.add_argument("--seed", type=int, default=1, help="the same seed gives the same inputs")
    options = parser.parse_args()
    unknown = sorted(set(options.name) - set(FUZZERS))
    if unknown:
        parser.error(f"no such fuzzer: {', '.join(unknown)}")
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
    failed = [name for name in options.name or FUZZERS if not _well(name, options.count, options.seed)]
    print(f"failed: {', '.join(failed)}" if failed else "only refusals, no traceback")
    return 1 if failed else 0


def _well(name: str, count: int, seed: int) -> bool:
    began = time.monotonic()
    try:
        tried: int | None = import_module(f"tests.fuzz.{name}").run(count, seed)
    except Exception:  # noqa: BLE001  any exception at all is what we are looking for
        traceback.print_exc()
        tried = None
    outcome = "failed" if tried is None else "well"
    print(f"{name}: {count} inputs, seed {seed}, {time.monotonic() - began:.0f} s: {outcome}", flush=True)
    return tried == count


if __name__ == "__main__":
    sys.exit(main())
