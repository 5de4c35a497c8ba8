"""A home of real files for the screen's tests: what stands there, and a person who waits for it."""

from __future__ import annotations

from pathlib import Path

from tests.app.typist import screen_text, shown
from tui.app.front import Begun, Front
from tui.app.home import Home
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.desk.clock import SystemClock
from tui.desk.session import Visit, resume
from tui.desk.store import Store
from tui.tree.library import Library
from tui.walk import Walk

SIZES = ((80, 24), (100, 30), (140, 45))
SITE = {"altitude": "300 ft", "today": "2026-11-25"}


def front_of(folder: Path, *, known: bool = True) -> Front:
    if known:
        (folder / "settings.yaml").write_text("altitude: 300 ft\n", encoding="utf-8")
    store = Store(folder / "sessions")

    def start(library: Library, unit: str, tree: str) -> Begun:
        walk = Walk.start(library, tree or "call", site=SITE, unit=unit)
        return Visit.begin_in(store, walk, SystemClock(), unit), ("a notice",)

    def again(library: Library, path: Path) -> Begun:
        resumed = resume(path, library, SystemClock())
        return resumed.visit, resumed.notices

    today = SystemClock().today
    return Front(folder / "sessions", folder / "settings.yaml", lambda: today().isoformat(), start, again)


def app_at(folder: Path, trees: Library, *, known: bool = True) -> tuple[LowsideApp, Home]:
    home = Home(front_of(folder, known=known))
    return LowsideApp(home, begin=lambda: home.begin(lambda: trees)), home


def left_open(folder: Path, trees: Library, unit: str = "K-7") -> Path:
    visit, _ = front_of(folder).start(trees, unit, "")
    visit.act(lambda walk: walk.answer({"circuits": "1"}))
    visit.leave()
    assert visit.path is not None
    return visit.path


def newer(session: bytes) -> bytes:
    """As a later program might write it: what it holds differs too, else one digit was flipped."""
    return session.replace(b"lowside-session 1", b"lowside-session 9", 1).replace(b'"K-7"', b'"K-77"', 1)


async def wait_for_talk(app: LowsideApp, pilot: object) -> Talk:
    for _ in range(100):
        await pilot.pause(0.05)  # type: ignore[attr-defined]
        if isinstance(app.talk, Talk):
            return app.talk
    raise AssertionError(screen_text(app))


async def stands(app: LowsideApp, pilot: object, words: str) -> str:
    """The page, once these words stand on it: files are read while it stands."""
    for _ in range(100):
        if words in " ".join(shown(app, "page").split()):
            return " ".join(shown(app, "page").split())
        await pilot.pause(0.05)  # type: ignore[attr-defined]
    raise AssertionError(f"{words!r} never came:\n{screen_text(app)}")
