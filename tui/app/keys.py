"""One declaration for every command: its key, its words, what may be typed for it, when it is allowed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tui.walk.kinds import ASK, CAUTION, DO, WAIT

if TYPE_CHECKING:
    from tui.walk import Walk


@dataclass(frozen=True, slots=True)
class Command:
    """`typed`: words that do the same as the key, for terminals that keep function keys to themselves.

    `takes`: more may follow the word (``note two hoses leak``). `rank`: the lower, the longer it stays
    in the bottom line when that gets narrow.
    """

    key: str
    action: str
    words: str
    help: str
    typed: tuple[str, ...]
    allowed: Callable[[Walk], bool]
    takes: bool = False
    rank: int = 99


def _always(walk: Walk) -> bool:
    return True


def _kind(*kinds: str) -> Callable[[Walk], bool]:
    def allowed(walk: Walk) -> bool:
        prompt = walk.prompt
        return prompt is not None and prompt.kind in kinds

    return allowed


def _judged(walk: Walk) -> bool:
    return any(event["event"] in ("judged", "worked-out") for event in walk.events)


def _asking(walk: Walk) -> bool:
    """A caution is read before anything is typed."""
    return bool(walk.circuits) and walk.prompt is not None and walk.prompt.kind != CAUTION


LAST_KEY = 12  # the last function key that every keyboard has

COMMANDS = (
    Command("f1", "help", "Help", "what this step wants, and all keys", ("help", "?"), _always, rank=1),
    Command(
        "f2",
        "couldnt",
        "Couldn't",
        "it can't be had or done; asks why",
        ("couldn't", "couldnt", "couldn’t"),
        _kind(ASK, DO, WAIT),
        takes=True,
        rank=3,
    ),
    Command("f3", "undo", "Back", "take back the last answer; work and waits stay", ("back", "undo"), _always, rank=2),
    Command(
        "f4",
        "correct",
        "Correct",
        "mend a slip (also: correct head 180); shows what it changes",
        ("correct",),
        lambda walk: bool(walk.given() or walk.from_before() or walk.of_site()),
        takes=True,
        rank=6,
    ),
    Command(
        "f5", "details", "Details", "all of table, way and causes left", ("details", "table", "trail"), _always, rank=7
    ),
    Command("f6", "working", "Working", "the sum behind a number, and its source", ("working",), _judged, rank=9),
    Command("f7", "pictures", "Picture", "the readings as a picture", ("picture", "pictures"), _always, rank=10),
    Command("f8", "board", "Board", "all readings at once, in any order", ("board",), _asking, rank=5),
    Command("f9", "sums", "Sums", "quick sums: saturation, superheat, units", ("sums",), _always, rank=8),
    Command(
        "f10",
        "leave",
        "Leave",
        "leave; the visit stays open to be resumed",
        ("leave", "quit", "exit"),
        _always,
        rank=1,
    ),
    Command("f11", "note", "Note", "a note in your own words", ("note",), _always, takes=True, rank=11),
    Command("f12", "menu", "Menu", "everything that can be done now", ("menu",), _always, rank=4),
    # ---- by the menu or by their words; a key can be set for each
    Command(
        "f13",
        "skip",
        "Cut short",
        "cut a wait short; asks why",
        ("skip",),
        _kind(WAIT),
        takes=True,
    ),
    Command("f14", "own-finding", "Own finding", "your own finding, beside the tool's", ("own",), _always),
    Command(
        "f15",
        "overrule",
        "Overrule",
        "at a close call: your verdict against the tool's",
        ("overrule",),
        lambda walk: bool(walk.verdicts),
    ),
    Command("f16", "photo", "Photo", "keep a photo with this visit", ("photo",), _always, takes=True),
    Command(
        "f17",
        "close",
        "End here",
        "end the visit here; what is left on is cleared first; asks why",
        ("close",),
        lambda walk: walk.prompt is not None,
        takes=True,
    ),
    Command("f20", "map", "Map", "the tree down the page: where you are, what is ahead", ("map",), _always),
    Command("f18", "theme", "Colours", "cellar, daylight or sunlight", ("colours", "colors"), _always),
    Command("f19", "keypad", "Keypad", "keys on the screen, for a mouse or a finger", ("keypad",), _always),
)

BY_ACTION = {command.action: command for command in COMMANDS}
_BY_WORD = {word: command for command in COMMANDS for word in command.typed}


def command_of(line: str) -> tuple[Command, str] | None:
    """The command that a typed line is, with what follows its word."""
    word, _, rest = line.partition(" ")
    found = _BY_WORD.get(word.lower())
    if found is None or (rest and not found.takes):
        return None
    return found, rest.strip()


def in_the_bottom_line(walk: Walk, width: int, key_of: Callable[[Command], str]) -> list[tuple[str, Command]]:
    """The commands that are allowed now and fit into `width` cells, each with its key, in the order of the keys."""
    kept: list[Command] = []
    left = width - 1
    for command in sorted(COMMANDS, key=lambda command: command.rank):
        key = key_of(command)
        if not has_key(key) or not command.allowed(walk):
            continue
        left -= len(said(command, key)) + 2
        if left < 0:
            break
        kept.append(command)
    return [(key_of(command), command) for command in sorted(kept, key=COMMANDS.index)]


def has_key(key: str) -> bool:
    """Whether a keyboard has this key."""
    return not (key.startswith("f") and key[1:].isdigit() and int(key[1:]) > LAST_KEY)


def said(command: Command, key: str = "") -> str:
    """``F2 Couldn't``."""
    return f"{(key or command.key).upper()} {command.words}"
