"""Trees that were proven once need not be proven again at the next start: a small file keeps which they were.

Only the proofs are spared. The trees are read and typed at every start; another letter in them, another version
of this program or of Python, and they are proven anew. Whoever can write the file could as well change the
program, so it is no weaker than that.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

import tui
from tui.desk.files import read_small, write_whole
from tui.quantity.refused import Refused
from tui.tree.library import Library

#: The rooms whose code or data a proof can depend on.
_ROOMS = ("quantity", "refrigerant", "trade", "tree")
_KEPT = 16  # libraries remembered; the oldest goes first


def load_proven(*folders: Path, stamp: Path) -> Library:
    """As `Library.load`, without the proofs where `stamp` says they held; `problems` are then the reader's only.

    Raises BrokenLibrary. A stamp that can't be read or written costs time, nothing else.
    """
    library = Library.read(*folders)
    mark = _mark(library)
    known = _known(stamp)
    if mark in known:
        return library
    proven = library.proven()
    with suppress(Refused):
        write_whole(stamp, "\n".join([*known, mark][-_KEPT:]) + "\n")
    return proven


def _known(stamp: Path) -> list[str]:
    try:
        return (read_small(stamp) or "").split()
    except Refused:
        return []


def _mark(library: Library) -> str:
    """Of the texts, and of everything that judges them."""
    marked = sha256(f"{library.digest}\n{tui.__version__}\n{sys.version}\n".encode())
    package = os.path.dirname(tui.__file__)
    for room in _ROOMS:
        for name, stat in sorted(_files(os.path.join(package, room))):
            marked.update(f"{name}\0{stat.st_size}\0{stat.st_mtime_ns}\n".encode())
    return marked.hexdigest()


def _files(folder: str) -> Iterator[tuple[str, os.stat_result]]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                if entry.name != "__pycache__":
                    yield from _files(entry.path)
            else:
                yield entry.path, entry.stat()
