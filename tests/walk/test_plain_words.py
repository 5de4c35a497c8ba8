"""What the walk says of its ways is said as a person would: no ids, no arrows, no words of the program."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tui.walk import Walk
from tui.walk.rows import row_words
from tui.walk.wording import OTHERWISE, plain


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("compressor runs is runs steadily", "compressor runs steadily"),
        ("receiver is no", "receiver no"),
        ("door closes is not yes", "door closes not yes"),
        ("suction level is low", "suction level is low"),
        ("test pressure is above low side rating", "test pressure is above low side rating"),
    ],
)
def test_a_test_in_plain_words(text: str, said: str) -> None:
    assert plain(text) == said


def test_the_last_line_of_tests_is_no_word_of_the_program() -> None:
    assert row_words(None, OTHERWISE) == "in every other case"


def test_what_is_taken_back_is_named_whatever_it_was(start: Callable[..., Walk]) -> None:
    walk = start("small")
    walk.answer("R-134a")
    walk.couldnt("no plate to be seen", walk.prompt.readings[0].id if walk.prompt else None)
    gone, *others = walk.undo_shows()
    assert gone.endswith("couldn't be had")
    assert not any("->" in each or "answered" in each for each in (gone, *others))
