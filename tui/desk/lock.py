"""One visit, one program: a lock beside the session file, never on it."""

from __future__ import annotations

import os
from errno import EISDIR
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused
from tui.record.trouble import refusal

if TYPE_CHECKING:
    from filelock import BaseFileLock


class SessionLock:
    """Holds ``<session>.lock``. The system lets go of it when the program dies, however it dies."""

    def __init__(self, session: Path) -> None:
        """Raises Refused where `session` is a folder."""
        if session.is_dir():
            raise refusal(IsADirectoryError(EISDIR, ""), session, "keep the visit there")
        self.path = session.with_name(f"{session.name}.lock")
        self._session = session
        self._lock: BaseFileLock | None = None

    def acquire(self) -> SessionLock:
        """Takes the lock at once. Raises Refused (``open-elsewhere``) where another has it."""
        from filelock import FileLock, Timeout  # here, because it costs the start of every program

        lock = FileLock(self.path, timeout=0)
        try:
            os.stat(self.path.parent)  # or it would make the folder, mistyped as it may be
            lock.acquire()
        except Timeout:
            raise Refused(
                "open-elsewhere",
                f"{self._session}: this visit is open in another window or program.",
                "Go on there, or close it there first.",
            ) from None
        except OSError as error:
            raise refusal(error, self.path, "lock the visit") from error
        self._lock = lock
        return self

    def release(self) -> None:
        """Lets go; the empty lock file stays, for taking it away could let two in."""
        if self._lock is not None:
            self._lock.release()
            self._lock = None
