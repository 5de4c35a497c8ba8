"""A short run of the fuzzer of session files; the long one is ``python tests/fuzz/run.py session``."""

from tests.fuzz import session


def test_damaged_files_end_in_a_verdict() -> None:
    assert session.run(1500, 20261125) == 1500
