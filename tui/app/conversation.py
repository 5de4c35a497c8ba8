"""What the screen draws and hands its keys to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Callable

    from tui.app.keys import Command
    from tui.app.sheet import Line, Part
    from tui.app.view import View
    from tui.quantity import Refused


class Conversation(Protocol):
    """`said` stands under the line; `mark` is the place of the choice that Enter would take.
    `mistyped`: the line just refused can be typed over. `theme`: colours just chosen, else empty.
    `keypad`: whether the keys on the screen are wanted. `height`: rows of the screen, as it tells. `after`:
    what stands there when this is over; None: the screen goes.

    Methods that give a bool say whether the line is to be emptied: what stood in it was understood.
    """

    said: tuple[Part, ...]
    mark: int | None
    mistyped: bool
    theme: str
    keypad: bool
    height: int
    after: Callable[[], Conversation] | None

    @property
    def ready(self) -> bool:
        """What follows may take its place."""

    def cannot(self, problem: Refused) -> bool:
        """What was to follow can't be. Whether this stands on and says so."""

    @property
    def over(self) -> bool:
        """The screen can go."""

    @property
    def in_aside(self) -> bool:
        """ESC has something to leave."""

    @property
    def ticking(self) -> bool:
        """A clock has to be shown."""

    def view(self, width: int) -> View:
        """What stands above the line."""

    def title(self) -> tuple[str, str]:
        """The top line: what stands left and right in it."""

    def below(self, width: int, height: int, *, alone: bool) -> list[Line]:
        """The picture so far, in so many lines at most; `alone`: nothing stands beside it."""

    def side(self, width: int, height: int) -> list[Line]:
        """What stands beside it on a wide screen."""

    def commands(self, width: int) -> list[tuple[str, Command]]:
        """The keys of the bottom line, as far as they fit."""

    def typing(self, text: str) -> None:
        """The line has changed."""

    def left_over(self) -> str:
        """What the line holds after it was emptied."""

    def move(self, by: int) -> bool:
        """Up or down among the choices."""

    def turn(self, by: int) -> bool:
        """Left or right on an empty line; whether it did anything."""

    def click(self, place: int) -> bool:
        """A choice was clicked."""

    def enter(self, text: str) -> bool:
        """Enter, with this in the line."""

    def press(self, action: str) -> bool:
        """The key of a command."""

    def escape(self) -> None:
        """Leave what a key began."""

    def tick(self) -> bool:
        """Some time went by; whether to ring."""
