"""A short run of the fuzzer on every test run; the long one is `tests/fuzz/quantity.py`."""

from __future__ import annotations

import importlib.util
from pathlib import Path


def test_a_thousand_mutated_answers() -> None:
    path = Path(__file__).resolve().parents[1] / "fuzz" / "quantity.py"
    spec = importlib.util.spec_from_file_location("fuzz_quantity", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert module.run(2000, 7) == 2000
