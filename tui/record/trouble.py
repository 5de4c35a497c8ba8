"""What the disk says when it says no, in a person's words."""

from __future__ import annotations

import errno
from pathlib import Path

from tui.quantity.refused import Refused

_SPACE = "Make room on that disk, then go on: nothing recorded so far is touched."
_DEVICE = "Copy the file to another disk before anything else; this one may be failing."
_NAME = "Check the name and the folder."
_RIGHT = "Give yourself the right to write there, or choose another place."

_WORDS: dict[int, tuple[str, str, str]] = {
    errno.ENOSPC: ("disk-full", "the disk is full", _SPACE),
    errno.EDQUOT: ("disk-full", "your share of the disk is used up", _SPACE),
    errno.EFBIG: ("disk-full", "the file may not grow any further on this disk", _SPACE),
    errno.EIO: ("disk-error", "the disk reports an error", _DEVICE),
    errno.ENXIO: ("disk-error", "the disk does not answer", _DEVICE),
    errno.ENODEV: ("disk-error", "the disk does not answer", _DEVICE),
    errno.EACCES: ("no-right", "you have no right to that", _RIGHT),
    errno.EPERM: ("no-right", "you have no right to that", _RIGHT),
    errno.EROFS: ("read-only", "that disk or folder is read-only", "Choose a place that can be written to."),
    errno.ENOENT: ("missing", "there is no such file or folder", _NAME),
    errno.ENOTDIR: (
        "missing",
        "a part of that path is a file, not a folder",
        _NAME,
    ),
    errno.EISDIR: ("not-a-file", "that is a folder", "Name a file."),
    errno.EEXIST: ("exists", "that file is already there", "Choose another name; nothing was overwritten."),
    errno.ENAMETOOLONG: ("bad-name", "that name is too long", "Choose a shorter name."),
    errno.ELOOP: ("bad-name", "that path leads in a circle of links", "Name the file itself."),
    errno.ESTALE: ("gone", "the folder is no longer reachable", "Bring the network folder or the disk back."),
    errno.EMFILE: ("busy", "too many files are open", "Close other programs, then try again."),
    errno.ENFILE: ("busy", "too many files are open", "Close other programs, then try again."),
}


def refusal(error: OSError, path: Path | str, doing: str) -> Refused:
    """`error` as one message: what could not be done (`doing`: "write", "open" ...), where, the cure."""
    code, words, cure = _WORDS.get(
        error.errno or 0,
        ("disk-error", (error.strerror or str(error)).lower(), "Try again, or choose another place."),
    )
    return Refused(code, f"{path}: cannot {doing}: {words}.", cure)
