"""Running the screen over a visit, until it is closed or left."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tui.app.screen import LowsideApp

if TYPE_CHECKING:
    from tui.app.front import Front
    from tui.app.home import Home
    from tui.app.talk import Talk
    from tui.desk.session import Visit
    from tui.tree.library import Library

Keys = Mapping[str, str]


def run_app(
    visit: Visit,
    notices: Iterable[str] = (),
    *,
    theme: str = "",
    keys: Keys | None = None,
    plain: bool | None = None,
) -> bool:
    """True when the walk has ended and is closed; False when the person left, or the terminal went away.

    theme: one of `tui.app.themes`, empty for the usual one. keys: action to the key that does it.
    plain: signs of ASCII alone; None: as the terminal's encoding has it.
    Says afterwards, where the screen was drawn (stderr), how to go on.
    """
    from tui.app.talk import Talk

    _run(LowsideApp(Talk(visit, notices, keys), theme, plain=plain), keys)
    print(parting(visit), file=sys.stderr)
    return visit.walk.closed


@dataclass(frozen=True, slots=True)
class Start:
    """A visit still to begin: `prepare` reads the trees (in a thread), `begin` opens the file for a unit's tag
    and gives what a person should be told.

    unit: the tag where it is known; else it is asked meanwhile.
    """

    prepare: Callable[[], Library]
    begin: Callable[[Library, str], tuple[Visit, tuple[str, ...]]]
    unit: str


def run_start(
    start: Start, *, theme: str = "", keys: Keys | None = None, plain: bool | None = None
) -> Visit | None:
    """As `run_app`, but the screen is there before the trees are read. None if it was left before.

    Raises what `prepare` and `begin` raise, once the screen is gone.
    """
    from tui.app.opening import Opening

    opening = Opening(start.unit)
    begun: list[Visit] = []

    def prepare() -> Callable[[], Talk]:
        library = start.prepare()
        from tui.app.talk import Talk

        def begin() -> Talk:
            visit, notices = start.begin(library, opening.unit)
            begun.append(visit)
            return Talk(visit, notices, keys)

        return begin

    app = LowsideApp(opening, theme, prepare, plain=plain)
    _run(app, keys)
    if app.trouble is not None:
        raise app.trouble
    if not begun:
        print("Left before the visit had begun.", file=sys.stderr)
        return None
    print(parting(begun[0]), file=sys.stderr)
    return begun[0]


def run_home(
    front: Front, prepare: Callable[[], Library], *, theme: str = "", plain: bool | None = None, said: str = ""
) -> Home:
    """Home, and every visit begun or gone on with from there, until the person leaves.

    prepare: reads the trees, in a thread. said: what is told at first. Lets go of every visit; says nothing of them.
    """
    from tui.app.home import Home

    home = Home(front)
    if said:
        home.say(said)
    app = LowsideApp(home, theme, lambda: home.begin(prepare), plain=plain)
    try:
        _run(app, front.keys)
    finally:
        for visit in home.visits:
            visit.leave()
    if app.trouble is not None:
        raise app.trouble
    return home


def _run(app: LowsideApp, keys: Keys | None) -> None:
    if keys:
        app.set_keymap(keys)
    app.run()


def parting(visit: Visit) -> str:
    """The last words, once the screen is gone."""
    if visit.walk.closed and not visit.unrecorded:
        return f"Closed: {visit.path}" if visit.path else "Closed."
    if visit.path is None:
        return "Left. Nothing was recorded."
    from tui.desk.saying import how_to_resume

    lost = visit.unrecorded
    missing = f"{lost} of its entries could not be written. " if lost else ""
    return missing + how_to_resume(visit.path)
