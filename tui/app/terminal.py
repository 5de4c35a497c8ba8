"""The terminal, which may go away at any moment: a window closed, a link cut. Then the screen leaves by the door.

Not for Windows, whose console takes the program with it.
"""

from __future__ import annotations

import asyncio
import select
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from typing import TextIO

from textual.drivers.linux_driver import LinuxDriver


class Lasting:
    """A stream that takes what is written to it, also once nobody is there to see it.

    Textual's writer thread dies of a write that fails; its queue is then never emptied, and who writes to a full one
    waits for ever.
    """

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._gone = False

    def write(self, text: str) -> int:
        self._unless_gone(partial(self._stream.write, text))
        return len(text)

    def flush(self) -> None:
        self._unless_gone(self._stream.flush)

    def _unless_gone(self, do: Callable[[], object]) -> None:
        try:
            if not self._gone:
                do()
        except OSError:
            self._gone = True

    def fileno(self) -> int:
        return self._stream.fileno()


class Terminal(LinuxDriver):
    """Textual's driver, for a terminal that can go away."""

    _watching = False

    def start_application_mode(self) -> None:
        if not isinstance(self._file, Lasting) and sys.__stderr__ is not None:
            self._file = Lasting(sys.__stderr__)  # type: ignore[assignment]
        super().start_application_mode()  # type: ignore[no-untyped-call]
        if self.input_tty and not self._watching:
            self._watching = True
            loop = asyncio.get_running_loop()
            threading.Thread(target=self._watch, args=(loop,), name="terminal", daemon=True).start()

    def _sigcont_application(self, *_: object) -> None:
        """Goes on after Ctrl-Z, and only then.

        The system also sends SIGCONT when a terminal goes away, beside SIGHUP. Started a second time, the screen would
        have two threads that read keys and stop but one of them: the other reads an end of file for ever.
        """
        if self._must_signal_resume:
            super()._sigcont_application()

    def _watch(self, loop: asyncio.AbstractEventLoop) -> None:
        """Waits for the terminal to hang up: not every program that stands in one is sent a signal."""
        looked_at = select.poll()
        looked_at.register(self.fileno, 0)  # a hang-up is told unasked
        if any(state & select.POLLHUP for _, state in looked_at.poll()):
            with suppress(RuntimeError):  # the screen has gone already
                loop.call_soon_threadsafe(self._app.exit)
