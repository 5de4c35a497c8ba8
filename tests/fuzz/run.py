"""Runs the fuzzers one after the other: ``python tests/fuzz/run.py [--count N] [--seed S] [NAME ...]``.

Each fuzzer is a script of this folder that takes --count and --seed, and exits 1 when an input brought anything
but a refusal. The same seed gives the same inputs.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
FUZZERS = ("quantity", "expression", "tree", "answers", "session")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("name", nargs="*", help=f"which of {', '.join(FUZZERS)}; none: all")
    parser.add_argument("--count", type=int, default=200_000, help="inputs for each")
    parser.add_argument("--seed", type=int, default=1, help="the same seed gives the same inputs")
    options = parser.parse_args()
    unknown = set(options.name) - set(FUZZERS)
    if unknown:
        parser.error(f"no such fuzzer: {', '.join(sorted(unknown))}")
    failed = [name for name in options.name or FUZZERS if not _well(name, options.count, options.seed)]
    print(f"failed: {', '.join(failed)}" if failed else "no traceback")
    return 1 if failed else 0


def _well(name: str, count: int, seed: int) -> bool:
    script = HERE / f"{name}.py"
    began = time.monotonic()
    command = [sys.executable, str(script), "--count", str(count), "--seed", str(seed)]
    code = subprocess.run(command, cwd=HERE.parents[1], check=False).returncode
    print(f"{name}: {count} inputs, seed {seed}, {time.monotonic() - began:.0f} s, exit {code}", flush=True)
    return code == 0


if __name__ == "__main__":
    sys.exit(main())
