"""A stream that nobody sees any more: whoever writes to it goes on."""

from __future__ import annotations

import io
import sys
import threading
from errno import EIO

import pytest

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="its console takes the program with it")


class Gone(io.StringIO):
    """As a terminal that has hung up."""

    tried = 0

    def write(self, text: str) -> int:
        self.tried += 1
        raise OSError(EIO, "Input/output error")


def test_a_screen_that_is_gone_holds_nobody_up() -> None:
    """Many more writes than the writer's queue holds; without `Lasting` the writer dies and its queue stays full."""
    from textual.drivers._writer_thread import MAX_QUEUED_WRITES, WriterThread

    from tui.app.terminal import Lasting

    stream = Gone()
    writer = WriterThread(Lasting(stream))  # type: ignore[arg-type]
    writer.start()

    def paint() -> None:
        for _ in range(3 * MAX_QUEUED_WRITES):
            writer.write("x")
        writer.stop()

    painting = threading.Thread(target=paint, daemon=True)
    painting.start()
    painting.join(10)
    assert not painting.is_alive()
    assert stream.tried == 1


def test_what_can_be_written_is_written() -> None:
    from tui.app.terminal import Lasting

    stream = io.StringIO()
    assert Lasting(stream).write("a box") == 5
    assert stream.getvalue() == "a box"
