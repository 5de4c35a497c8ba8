"""Every broken file is told in the right place, with the right code, in the words that were read and agreed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.broken.broken import EXPECTED, files, places_of, problems_of, said_of


@pytest.mark.parametrize("file", files(), ids=lambda file: file.stem)
def test_told_where_it_is(file: Path) -> None:
    first = file.read_text("utf-8").split("\n", 1)[0]
    assert list(dict.fromkeys(places_of(file))) == first.removeprefix("# ").split()


def test_words() -> None:
    assert "\n".join(said_of(file) for file in files()) == EXPECTED.read_text("utf-8")


def test_every_problem_has_a_cure_and_a_sentence() -> None:
    for file in files():
        for problem in problems_of(file):
            assert problem.cure, (file.name, problem.code)
            assert problem.message[-1] == ".", problem.message
