"""Small files of the user's: read with a bound, written whole or not at all."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from tui.quantity.refused import Refused

LARGEST = 2**20  # bytes


def read_small(path: Path) -> str | None:
    """The text of a file, None where there is none. Raises Refused for what is too large or no text."""
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST + 1)
        if len(data) > LARGEST:
            raise Refused("too-big", f"{path}: over 1 MiB: no file of this kind is.", "Move it away.")
        return data.decode("utf-8-sig")
    except FileNotFoundError:
        return None
    except UnicodeDecodeError as error:
        raise Refused("not-text", f"{path}: not UTF-8 at byte {error.start + 1}.", "Save it as UTF-8.") from error
    except OSError as error:
        from tui.record.trouble import refusal

        raise refusal(error, path, "read") from error


def write_whole(path: Path, text: str) -> None:
    """Puts `text` in place of a file in one step, making its folder. Raises Refused; then nothing changed."""
    from tui.record.trouble import refusal
    from tui.record.writer import sync_folder

    beside = path.with_name(f".{path.name}.new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with beside.open("w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        os.replace(beside, path)
        sync_folder(path.parent)
    except OSError as error:
        with suppress(OSError):
            beside.unlink()
        raise refusal(error, path, "write") from error
