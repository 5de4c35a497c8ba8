"""One declaration for every command: its key, its words, what it does, when it is allowed."""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding


@dataclass(frozen=True, slots=True)
class Command:
    """`action` is the screen's action; `shown`: in the footer (six at most fit into 80 columns)."""

    key: str
    action: str
    words: str
    help: str
    shown: bool = True


COMMANDS = (
    Command("f1", "help", "Help", "this help, for the step at hand"),
    Command("f2", "couldnt", "Couldn't", "it cannot be had or done; asks why"),
    Command("f3", "undo", "Back", "take back the last answer; work done, waits and cautions stay"),
    Command("f4", "correct", "Correct", "put a slip right; shows what would change before it counts"),
    Command("f5", "details", "Details", "the whole table, trail and what is still possible; again: less"),
    Command("f6", "skip", "Skip wait", "cut a wait short; asks why", shown=False),
    Command("f7", "note", "Note", "a note in your own words", shown=False),
    Command("f8", "own_finding", "Own finding", "your own finding, beside the tool's", shown=False),
    Command("f9", "overrule", "Overrule", "at a close call: your verdict against the tool's", shown=False),
    Command("f10", "leave", "Leave", "leave; the visit stays open and can be resumed"),
)

BINDINGS = [
    Binding(command.key, command.action, command.words, show=command.shown, id=f"walk.{command.action}", priority=True)
    for command in COMMANDS
]
