"""Sets the torn end of a session file aside, so that it can go on."""

from __future__ import annotations

import os
import shutil
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import BinaryIO

from tui.quantity.refused import Refused
from tui.record.reader import OPEN, TORN, WHOLE, Reading, read
from tui.record.trouble import refusal
from tui.record.writer import sync_folder


@dataclass(frozen=True, slots=True)
class Recovered:
    """`aside`: the new file with the torn bytes, None where nothing was torn. `reading`: the file now."""

    reading: Reading
    aside: Path | None
    message: str


def recover(path: Path | str) -> Recovered:
    """Moves a torn last line to ``<stem>.torn-<n>`` beside the file; the caller holds the lock.

    The file is cut only after the side file is safely on the disk. Raises Refused for a file that is
    altered, newer or foreign, or when the side file cannot be written: then nothing has changed.
    """
    path = Path(path)
    reading = read(path)
    if reading.state in (OPEN, WHOLE):
        return Recovered(reading, None, "")
    if reading.state != TORN:
        raise Refused(reading.state, f"{path}: {reading.message}", _CURES.get(reading.state, ""))
    if not reading.lines:
        message = f"{path}: nothing whole is recorded in it: the power went while the first line was written."
        raise Refused("nothing-recorded", message, "Start the visit again under another name.")
    try:
        aside = _set_aside(path, reading.size)
    except OSError as error:
        raise refusal(error, path, "set its torn end aside") from error
    message = f"The last line was torn ({reading.torn_bytes} bytes); it now lies in {aside.name}."
    return Recovered(read(path), aside, f"{message} Everything before it is whole.")


_CURES = {
    "altered": "The lines before it can be read; start a new visit to go on.",
    "newer": "Use the newer program.",
    "foreign": "Name a session file.",
}


def _set_aside(path: Path, size: int) -> Path:
    with path.open("r+b") as log:
        log.seek(size)
        aside, side = _new_side_file(path)
        with side:
            shutil.copyfileobj(log, side)
            side.flush()
            os.fsync(side.fileno())
        sync_folder(path.parent)
        log.truncate(size)
        log.flush()
        os.fsync(log.fileno())
    return aside


def _new_side_file(path: Path) -> tuple[Path, BinaryIO]:
    for number in count(1):
        aside = path.with_name(f"{path.stem}.torn-{number}")
        try:
            return aside, aside.open("xb")
        except FileExistsError:
            continue
    raise AssertionError("count() does not end")
