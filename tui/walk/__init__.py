"""The walk: a pure state machine over events, its prompts and answers. Draws nothing, stores nothing.

Names are fetched when they are first used: a screen needs the prompts long before it needs the machine.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.walk.core import Walk
    from tui.walk.opening import FORMAT
    from tui.walk.prompt import AskFor, Change, Echo, Finding, Given, Prompt, Row, TrailEntry
    from tui.walk.replaying import Difference, DoesNotReplay

__all__ = [
    "FORMAT",
    "AskFor",
    "Change",
    "Difference",
    "DoesNotReplay",
    "Echo",
    "Finding",
    "Given",
    "Prompt",
    "Row",
    "TrailEntry",
    "Walk",
]

_WHERE = {"Walk": "core", "FORMAT": "opening", "Difference": "replaying", "DoesNotReplay": "replaying"}


def __getattr__(name: str) -> object:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found: object = getattr(import_module(f"tui.walk.{_WHERE.get(name, 'prompt')}"), name)
    globals()[name] = found
    return found
