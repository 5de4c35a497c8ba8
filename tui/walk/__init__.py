"""The walk: a pure state machine over events, its prompts and answers. Draws nothing, stores nothing."""

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
