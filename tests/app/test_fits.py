"""At 80x24 every prompt of the bundled trees shows question, choices, cautions and line without scrolling."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.app.typist import bundled
from tests.record.helpers import HandClock
from tui.app import keys
from tui.app.choices import BLANK, choice_parts
from tui.app.look import prompt_parts
from tui.app.screen import page_height
from tui.app.sheet import laid_out
from tui.app.talk import Talk
from tui.app.view import View
from tui.desk.session import Visit
from tui.proof.examples import Example
from tui.proof.reading import example_files, read_examples
from tui.tree.bundled import bundled_trees
from tui.walk import Prompt, Walk
from tui.walk.answers import begin, drive

WIDTH, HEIGHT = 80, 24
LIBRARY = bundled()
EXAMPLES = read_examples(LIBRARY, example_files([bundled_trees()]))


_seen: set[tuple[object, ...]] = set()


def new(prompt: Prompt) -> bool:
    """Whether this screen was not looked at in another example: of what is asked, the words are nearly all."""
    screen = (prompt.kind, prompt.tree, prompt.step, prompt.words, prompt.why, prompt.cautions, prompt.choices)
    if prompt.kind != "offer" and screen in _seen:
        return False
    _seen.add(screen)
    return True


def shows_all(talk: Talk) -> str:
    """What is wrong with the screen as it would stand now; empty if nothing is."""
    view = talk.view(WIDTH)
    parts = [*view.parts, *choice_parts(view.choices, None)]
    lines = [line for line in laid_out(parts, WIDTH) if line is not BLANK]
    room = page_height(HEIGHT, view)
    if len(lines) > room:
        return f"{len(lines)} lines, room for {room}"
    wide = [line.content.plain for line in lines if line.content.cell_length > WIDTH]
    if wide:
        return f"too wide: {wide}"
    flat = " ".join(" ".join(line.content.plain.split()) for line in lines).lower()
    return "; ".join(f"not there: {text}" for text in wanted(talk) if " ".join(text.lower().split()) not in flat)


def wanted(talk: Talk) -> Iterator[str]:
    """Every word a person must see before answering."""
    prompt = talk.walk.prompt
    if prompt is None:
        return
    if prompt.kind != "caution":
        yield prompt.words
    yield from prompt.cautions
    choices = prompt.readings[0].choices if prompt.readings else prompt.choices
    yield from (say for _, say in choices)


def watched(example: Example, look: Callable[[Walk], None]) -> None:
    """Walks an example, looking at the screen before every intent."""
    walk = begin(LIBRARY, example.answers, embed_texts=False)

    def act(intent: Callable[[Walk], object]) -> None:
        look(walk)
        intent(walk)

    drive(walk, example.answers, act)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.name)
def test_every_prompt_fits(example: Example) -> None:
    wrong: list[str] = []

    def look(walk: Walk) -> None:
        prompt = walk.prompt
        if prompt is None or not new(prompt):
            return
        talk = Talk(Visit(walk, HandClock()))
        talk.findings_seen = len(walk.findings)
        if problem := shows_all(talk):
            wrong.append(f"{prompt.tree}/{prompt.step}: {problem}")
        bottom = sum(len(f"{key} {command.words}") + 2 for key, command in talk.commands(WIDTH)) + 1
        if bottom > WIDTH:
            wrong.append("the bottom line is too long")

    watched(example, look)
    assert not wrong


def test_six_cautions_at_once_fit() -> None:
    """The longest six that there are, as if one step had them all."""
    says = sorted((caution.say for caution in LIBRARY.catalogue.cautions.values()), key=len)[-6:]
    parts = prompt_parts(Prompt("caution", cautions=tuple(says)))
    lines = [line for line in laid_out(parts, WIDTH) if line is not BLANK]
    assert len(lines) <= page_height(HEIGHT, View(()))


def test_leave_help_and_back_stay_in_a_narrow_bottom_line() -> None:
    walk = Walk.start(LIBRARY, "both-low", site={"altitude": "0 ft"})
    for width in (40, 60, 80, 140):
        shown = [command for _, command in keys.in_the_bottom_line(walk, width, lambda command: command.key)]
        assert {"help", "undo", "leave"} <= {command.action for command in shown}
        assert sum(len(keys.said(command)) + 2 for command in shown) + 1 <= width


def test_every_command_has_one_key_and_one_word() -> None:
    assert len({command.key for command in keys.COMMANDS}) == len(keys.COMMANDS)
    words = [word for command in keys.COMMANDS for word in command.typed]
    assert len(set(words)) == len(words)
    assert all("+" not in command.key for command in keys.COMMANDS), "no chords"
    readings = LIBRARY.catalogue.readings
    assert not set(words) & set(readings), "no word of a command is a reading"


def test_the_trees_are_there() -> None:
    assert len(EXAMPLES) >= 40
    assert Path(bundled_trees()).is_dir()
