"""Running the screen over a visit, until it is closed or left."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.desk.saying import how_to_resume
from tui.desk.session import Visit


def run_app(
    visit: Visit, notices: Iterable[str] = (), *, theme: str = "", keys: Mapping[str, str] | None = None
) -> bool:
    """True when the walk has ended and is closed; False when the person left, or the terminal went away.

    theme: one of `tui.app.themes`, empty for the usual one. keys: action to the key that does it.
    Says afterwards, on the ordinary screen, how to go on.
    """
    app = LowsideApp(Talk(visit, notices, keys), theme)
    if keys:
        app.set_keymap(keys)
    app.run()
    print(parting(visit))
    return visit.walk.closed


def parting(visit: Visit) -> str:
    """The last words, once the screen is gone."""
    if visit.walk.closed:
        return f"Closed: {visit.path}" if visit.path else "Closed."
    if visit.path is None:
        return "Left. Nothing was recorded."
    lost = visit.unrecorded
    missing = f"{lost} of its entries could not be written. " if lost else ""
    return missing + how_to_resume(visit.path)
