"""The one screen: draws what the talk has to show, and hands it every key. Updated in place."""

from __future__ import annotations

import asyncio
import gc
import signal
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import ClassVar

from textual import events
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.content import Content
from textual.driver import Driver
from textual.style import Style
from textual.timer import Timer
from textual.widgets import Static

from tui.app import keypad, keys
from tui.app.choices import BLANK, choice_parts
from tui.app.conversation import Conversation
from tui.app.entry import Entry
from tui.app.sheet import FAINT, STRONG, Line, joined, laid_out, margin, shown, styled, window
from tui.app.signs import plain_terminal, plainly
from tui.app.themes import THEMES, USUAL
from tui.app.view import LOW, View
from tui.quantity import Refused

PATIENCE = 0.0002  # seconds that reading may hold up a key
FIRST_KEY = 0.15  # seconds left to the first key before the reading begins
WIDE = 120  # screens of so many columns have a panel beside the question
QUESTION = 82  # columns that the question then has, at least
PANEL = 56  # columns of the panel, at most
BUTTONS = Content.assemble(
    Content.styled("  Enter  ", "bold reverse").stylize(Style.from_meta({"@click": "app.go()"})),
    " ",
    Content.styled(" Keys ", "reverse").stylize(Style.from_meta({"@click": "app.command('keypad')"})),
)
Begin = Callable[[], Callable[[], Conversation]]
STYLES = Path(__file__).with_name("lowside.tcss").read_text(encoding="utf-8")


def _around(height: int) -> int:
    """Rows that are neither page nor what is said: top, line, keys, and the blank ones about them."""
    return 3 if height < LOW else 5


def page_height(height: int, view: View) -> int:
    """Rows above the line: all but those for what is said under it, of which a page to read needs fewest."""
    said = 1 if view.page else 2 if height < LOW else 3
    return max(1, height - _around(height) - said)


def panel_width(width: int) -> int:
    """Columns of the panel beside the question; 0 where there is no room for one."""
    return min(PANEL, width - QUESTION) if width >= WIDE else 0


def bindings() -> list[BindingType]:
    """The commands' keys, and those that move within the screen. None of them needs two keys at once."""
    made: list[BindingType] = [
        Binding(command.key, f"command('{command.action}')", command.words, id=command.action, priority=True)
        for command in keys.COMMANDS
    ]
    return [
        *made,
        Binding("ctrl+c,ctrl+q", "command('leave')", priority=True),
        Binding("escape", "leave_aside", priority=True),
        Binding("up", "move(-1)", priority=True),
        Binding("down", "move(1)", priority=True),
        Binding("pageup", "turn(-1)", priority=True),
        Binding("pagedown", "turn(1)", priority=True),
    ]


class Page(Static):
    """What is above the line; a click on a choice takes it."""

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.app.clicked(event.x, event.y)  # type: ignore[attr-defined]

    def on_mouse_scroll_down(self) -> None:
        self.app.action_turn(1)  # type: ignore[attr-defined]

    def on_mouse_scroll_up(self) -> None:
        self.app.action_turn(-1)  # type: ignore[attr-defined]


class LowsideApp(App[None]):
    """One talk on one screen. The line always has the focus."""

    CSS = STYLES
    BINDINGS: ClassVar[list[BindingType]] = bindings()
    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = "#entry"
    TITLE = "lowside"

    def __init__(
        self, talk: Conversation, theme: str = "", begin: Begin | None = None, *, plain: bool | None = None
    ) -> None:
        """`begin` does what takes long, off the screen, and gives what makes the talk that follows `talk`.

        plain: signs of ASCII alone; None: where the terminal's encoding has no others.
        """
        super().__init__()
        self._plain = plain_terminal() if plain is None else plain
        self.talk = talk
        self.trouble: BaseException | None = None
        self._begin = begin
        self._made: Callable[[], Conversation] | None = None
        self._theme_wanted = theme
        self._lines: list[Line] = []
        self._from = 0
        self._said_height = 3
        self._panel = 0
        self._pad_height = 0
        self._timer: Timer | None = None
        self._unsaid: str | None = None

    def get_driver_class(self) -> type[Driver]:
        if sys.platform == "win32":
            return super().get_driver_class()
        from tui.app.terminal import Terminal

        return Terminal

    def compose(self) -> ComposeResult:
        yield Static(id="top", markup=False)
        yield Static(id="side", markup=False)
        yield Page(id="page", markup=False)
        with Container(id="line"):
            yield Static(id="label", markup=False)
            yield Entry(self.typed, self.entered, self.crossed)
            yield Static(BUTTONS, id="go", markup=False)
        yield Static(id="said", markup=False)
        yield Static(id="below", markup=False)
        yield Static(id="pad", markup=False)
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        for theme in THEMES:
            self.register_theme(theme)
        wanted = self._theme_wanted
        self.theme = wanted if wanted in {theme.name for theme in THEMES} else USUAL
        self._listen_to_signals()
        self.paint()
        if self._begin is not None:
            self.set_timer(FIRST_KEY, partial(self._begin_aside, self._begin))

    # ---- beginning

    def _begin_aside(self, begin: Begin) -> None:
        loop = asyncio.get_running_loop()
        often = sys.getswitchinterval()
        sys.setswitchinterval(PATIENCE)

        def say(then: Callable[..., None], *what: object) -> None:
            with suppress(RuntimeError):  # the person has left meanwhile: the loop is closed
                loop.call_soon_threadsafe(then, *what)

        def run() -> None:
            try:
                say(self._begun, begin())
            except (Refused, OSError) as problem:
                say(self._unreadable, problem)
            finally:
                sys.setswitchinterval(often)
                if (defect := sys.exc_info()[1]) is not None:
                    say(self._cannot, defect)  # ours: it must not leave the screen standing there for ever

        threading.Thread(target=run, name="reading the trees", daemon=True).start()

    def _cannot(self, problem: BaseException) -> None:
        """The trees can't be read, or the walk that was wished for can't be begun."""
        if isinstance(problem, Refused) and self.talk.cannot(problem):
            self.paint()
            return
        self.trouble = problem
        self.exit()

    def _unreadable(self, problem: BaseException) -> None:
        """The trees can't be read: every wish for a walk is told so."""

        def again() -> Conversation:
            raise problem

        self._made = again
        self._cannot(problem)

    def _begun(self, make: Callable[[], Conversation]) -> None:
        """The trees are read."""
        if not self.is_running:
            return
        gc.freeze()  # the trees stay as long as the screen: no pause to look through them
        gc.enable()
        self._made = make
        self._go_over()

    def _go_over(self) -> None:
        """To the walk, once its trees are read and the opening is answered. What was typed meanwhile is not lost."""
        if self._made is None or not self.talk.ready:
            return
        try:
            self._turn_to(self._made())
        except (Refused, OSError) as problem:
            self._cannot(problem)
            return
        self._unsaid = None
        self.talk.typing(self.query_one(Entry).value)
        self.paint()

    def _turn_to(self, talk: Conversation) -> None:
        """Another conversation; whoever wanted keys on the screen still does."""
        talk.keypad = self.talk.keypad
        self.talk = talk

    def _listen_to_signals(self) -> None:
        """A terminal that goes away, or a polite kill, leaves by the door: the terminal is put right."""
        loop = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP"):
            number = getattr(signal, name, None)
            if number is not None and sys.platform != "win32":
                loop.add_signal_handler(number, self.exit)

    # ---- painting

    def on_resize(self) -> None:
        """Textual takes the new size over after this; it must be painted for that one."""
        self.call_later(self.paint)

    @property
    def room(self) -> int:
        """Columns of the question."""
        return self.size.width - self._panel

    def paint(self) -> None:
        """Everything, where it has changed."""
        width, height = self.size
        low = height < LOW
        self._wear()
        self.talk.height = height
        self.screen.set_class(low, "low")
        self.screen.set_class(self._plain, "plain")
        self.screen.set_class(not margin(width), "slim")
        view = self.talk.view(width)  # a page has all of it; nothing else looks at the width
        self._paint_side(0 if view.page else panel_width(width))
        self._paint_pad(view)
        how = {"numbered": view.numbered, "side_by_side": view.side_by_side}
        choices = choice_parts(view.choices, self.talk.mark, **how)
        parts = [*view.parts, *([BLANK, *choices] if view.choices else []), *view.after]
        self._paint_page(laid_out(parts, self.room), page_height(height - self._pad_height, view), view)
        self._put("label", Content(shown(view.label or ">")))
        entry = self.query_one(Entry)
        hint = f" {view.hint}"  # the cursor stands on the blank, not on a letter
        if entry.placeholder != hint:
            entry.placeholder = hint
        self._paint_top(width)
        self._paint_keys(width)
        self.paint_said()
        self._paint_below(view.below)
        self._keep_time()

    def _wear(self) -> None:
        """The colours that were just chosen."""
        if self.talk.theme and self.talk.theme != self.theme:
            self.theme = self.talk.theme

    def _paint_side(self, wide: int) -> None:
        """The panel, while there is something to tell; else the question has the whole width."""
        lines = self.talk.side(wide - 3, self.size.height - 4) if wide else []
        self._panel = wide if lines else 0
        side = self.query_one("#side", Static)
        side.display = bool(lines)
        if lines:
            side.styles.width = self._panel
            self._put("side", joined(lines))

    def _paint_pad(self, view: View) -> None:
        """Keys on the screen, if they are wanted and the question is not one of choices alone."""
        wanted = self.talk.keypad and not view.page
        pad = self.query_one("#pad", Static)
        pad.display = wanted
        rows = keypad.rows_of(keypad.NUMBER if view.units else keypad.WORDS, view.units) if wanted else []
        self._pad_height = len(rows)
        if wanted:
            self._put("pad", Content("\n").join(keypad.drawn(rows, self.room)))

    def paint_said(self) -> None:
        """What stands under the line: never less room than usual, so that nothing jumps while one types."""
        height = self.size.height - self._pad_height
        usual = 2 if height < LOW else 3
        room = max(1, height - _around(height) - len(self._lines))
        lines = laid_out(self.talk.said, self.room)
        if len(lines) > min(room, 6):
            lines = [*lines[: min(room, 6) - 1], Line(Content(" " * margin(self.room) + "..."))]
        self._said_height = max(min(usual, room), len(lines))
        self._put("said", joined(lines + [BLANK] * (self._said_height - len(lines))))

    def _paint_below(self, wanted: bool) -> None:
        height = self.size.height - self._pad_height
        left = height - _around(height) - len(self._lines) - self._said_height - (height >= LOW)
        lines = self.talk.below(self.room, left, alone=not self._panel) if wanted and left > 0 else []
        self._put("below", joined([BLANK, *lines] if height >= LOW else lines))

    def _paint_page(self, lines: list[Line], height: int, view: View) -> None:
        """A page to read keeps its blank lines and is turned; a question gives them up first, its words never."""
        pinned = len(laid_out(view.parts[: view.pinned], self.room))
        if len(lines) > height and not view.page:
            lines = [line for line in lines if line is not BLANK]
        marked = self.talk.mark
        head = lines[: min(pinned, max(0, height - 2))]
        lines, height = lines[len(head) :], height - len(head)
        here = next((n for n, line in enumerate(lines) if any(c == marked for _, _, c in line.spots)), None)
        if here is not None and view.amid and self._from == 0 and here > height - height // 3:
            self._from = here - height // 2
        elif here is not None:
            self._from = min(self._from, here) if here < self._from else max(self._from, here - height + 2)
        shown_lines, self._from = window(lines, height, self._from, margin(self.room))
        self._lines = [*head, *shown_lines]
        self._put("page", joined(self._lines))

    def _paint_top(self, width: int) -> None:
        left, right = self.talk.title()
        room = width - len(left) - len(right) - 2
        said = Content.styled(shown(f" {left}"), STRONG)
        self._put("top", said + styled(" " * room + right, FAINT) if room > 0 else said)

    def _paint_keys(self, width: int) -> None:
        pieces = [Content(" ")]
        for key, command in self.talk.commands(width):
            style = Style.from_meta({"@click": f"app.command('{command.action}')"})
            said = Content.assemble((key.upper(), STRONG), f" {command.words}").stylize(style)
            pieces += [said, Content("  ")]
        self._put("keys", Content("").join(pieces))

    def _put(self, where: str, content: Content) -> None:
        """Only what has changed costs anything."""
        widget = self.query_one(f"#{where}", Static)
        content = plainly(content) if self._plain else content
        before = widget.content
        if not isinstance(before, Content):
            widget.update(content)
        elif not before.is_same(content):
            same_size = where != "label" and before.plain.count("\n") == content.plain.count("\n")
            widget.update(content, layout=not same_size)

    # ---- time

    def _keep_time(self) -> None:
        """A clock runs only while something is waited for."""
        if self.talk.ticking and self._timer is None:
            self._timer = self.set_interval(0.5, self._tick)
        elif not self.talk.ticking and self._timer is not None:
            self._timer.stop()
            self._timer = None

    def _tick(self) -> None:
        if self.talk.tick():
            self.bell()
        self.paint()

    # ---- keys, lines, clicks

    def typed(self, text: str) -> None:
        """The line has changed: first it is drawn, then said back, once for all the keys that came meanwhile."""
        if self._unsaid is None:
            self.call_after_refresh(self._say_back)
        self._unsaid = text

    def _say_back(self) -> None:
        text, self._unsaid = self._unsaid, None
        if text is None:
            return
        marked = self.talk.mark
        self.talk.typing(text)
        if self.talk.mark != marked:
            self.paint()
        else:
            self.paint_said()

    def entered(self, text: str) -> None:
        """A whole line."""
        self._say_back()  # Enter on an empty line takes what is marked: the mark must be that of the line as it is
        taken = self.talk.enter(text)
        self._done(taken)
        if not taken and text and self.talk.mistyped:
            self.query_one(Entry).select_all()

    def crossed(self, by: int) -> None:
        """Left or right, with nothing in the line."""
        if self.talk.turn(by):
            self.paint()

    def action_command(self, action: str) -> None:
        self._say_back()
        self._done(self.talk.press(action))

    def action_leave_aside(self) -> None:
        if self.talk.in_aside:
            self._say_back()
            self.talk.escape()
            self._done(True)
        elif self.query_one(Entry).value:
            self.query_one(Entry).put("")
            self.talk.typing("")
            self.paint()

    def action_move(self, by: int) -> None:
        self._say_back()
        if self.talk.view(self.room).choices or any(line.spots for line in self._lines):
            if self.talk.move(by):
                self.query_one(Entry).put("")
            self.paint()
        else:
            self.action_turn(by, 1)

    def action_turn(self, by: int, lines: int = 0) -> None:
        self._say_back()
        self._from = max(0, self._from + by * (lines or max(1, len(self._lines) - 2)))
        self.talk.mark = None
        self.paint()

    def action_pad(self, key: str) -> None:
        """A key on the screen."""
        entry = self.query_one(Entry)
        if key == keypad.ENTER:
            self.entered(entry.value)
        elif key == keypad.CLEAR:
            entry.value = ""
        elif key == keypad.DELETE:
            entry.action_delete_left()
        else:
            entry.insert_text_at_cursor(" " if key == keypad.SPACE else key if len(key) == 1 else f" {key}")

    def action_go(self) -> None:
        """Enter, by the mouse."""
        self.entered(self.query_one(Entry).value)

    def clicked(self, x: int, y: int) -> None:
        """A click on the page."""
        choice = self._lines[y].choice_at(x) if 0 <= y < len(self._lines) else None
        if choice is not None:
            self._say_back()
            self._done(self.talk.click(choice))

    def _done(self, emptied: bool) -> None:
        """Something was done: leave, or show what came of it."""
        if self.talk.over:
            if self.talk.after is None:
                self.exit()
                return
            self._turn_to(self.talk.after())
            emptied = True
        if emptied:
            self._from = 0
            self.query_one(Entry).put(self.talk.left_over(), selected=True)
        self.paint()
        self._go_over()
