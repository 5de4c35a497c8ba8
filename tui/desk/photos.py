"""Photos of a visit: copied beside its session, under a name that every system bears, never over another."""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from collections.abc import Iterator
from contextlib import suppress
from errno import ENOENT
from hashlib import sha256
from pathlib import Path
from typing import BinaryIO

from tui.desk.lock import SessionLock
from tui.desk.store import photo_folder
from tui.quantity import Refused
from tui.record import Clock, Writer
from tui.record.trouble import refusal
from tui.record.writer import sync_folder

LARGEST = 100 * 2**20  # bytes
LONGEST_NAME = 80  # characters
_PIECE = 2**20
_ODD = re.compile(r"[^\w.]+")
_DEVICES = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?\Z", re.IGNORECASE)


def keep(session: Path | None, typed: str) -> tuple[str, str]:
    """Copies the photo that `typed` names into the session's folder: (name there, SHA-256 in hex).

    Raises Refused for one that is missing, unreadable, empty, too big or no file, and where there is no session file.
    """
    if session is None:
        raise Refused("no-file", "This visit has no file, so there is no place for photos.", "Note what it shows.")
    source = _named(typed)
    folder = photo_folder(session)
    try:
        with _opened(source) as stream:
            if source.resolve().parent == folder.resolve():
                return source.name, _digest(stream)
            return _copied(stream, folder, safe_name(source.name))
    except OSError as error:
        blamed = source if error.filename in (None, str(source)) else Path(os.fsdecode(error.filename))
        raise refusal(error, blamed, "keep the photo") from error


def keep_after(session: Path, typed: str, clock: Clock) -> Path:
    """Keeps a photo with a visit that nobody walks now, open or closed: where it lies.

    Raises Refused as `keep`, and for a session that is missing, damaged, newer, foreign or open elsewhere.
    """
    if not session.is_file():
        raise refusal(FileNotFoundError(ENOENT, ""), session, "add a photo")
    lock = SessionLock(session).acquire()
    try:
        with Writer.resume(session, clock, closed_too=True) as writer:
            name, digest = keep(session, typed)
            writer.append({"event": "photographed", "circuit": "", "name": name, "digest": digest})
    finally:
        lock.release()
    return photo_folder(session) / name


def safe_name(name: str) -> str:
    """A file's name with everything odd in it made a hyphen; its ending stays."""
    plain = _ODD.sub("-", unicodedata.normalize("NFC", name)).strip("-. ")
    stem, dot, ending = plain.rpartition(".")
    stem, ending = (stem, dot + ending) if dot and stem and len(ending) < 10 else (plain, "")
    stem = stem[: LONGEST_NAME - len(ending)].strip("-.") or "photo"
    return f"photo-{stem}{ending}" if _DEVICES.match(stem + ending) else stem + ending


def _named(typed: str) -> Path:
    """The path as people type it or drag it in: in quotes, with ``~``, with blanks behind backslashes."""
    text = typed.strip()
    if len(text) > 1 and text[0] == text[-1] and text[0] in "'\"":
        text = text[1:-1]
    if not text:
        raise Refused("empty", "Which photo?", "Give the path of its file.")
    path = Path(os.path.expanduser(text))
    if os.name != "nt" and "\\" in text and not os.path.lexists(path):
        path = Path(os.path.expanduser(re.sub(r"\\(.)", r"\1", text)))
    return path


def _opened(source: Path) -> BinaryIO:
    try:
        about = os.stat(source)
    except ValueError as error:  # a NUL or half a character in the name
        raise Refused("bad-name", f"{str(source)!r}: {error}.", "Check the name.") from error
    if not stat.S_ISREG(about.st_mode):
        what = "a folder" if stat.S_ISDIR(about.st_mode) else "a device or a pipe"
        raise Refused("not-a-file", f"{source}: this is {what}, not a photo.", "Name the photo's own file.")
    if about.st_size > LARGEST:
        say = f"{source}: {about.st_size // 2**20} MiB are too much for a photo; {LARGEST // 2**20} MiB at most."
        raise Refused("too-big", say, "Make it smaller, or note where it is kept.")
    if about.st_size == 0:
        raise Refused("empty", f"{source}: there is nothing in it.", "Take the photo again, or name another file.")
    return source.open("rb")


def _pieces(stream: BinaryIO) -> Iterator[bytes]:
    """Never more than the largest, should the file grow meanwhile."""
    left = LARGEST
    while left > 0 and (piece := stream.read(min(_PIECE, left))):
        left -= len(piece)
        yield piece


def _digest(stream: BinaryIO) -> str:
    digest = sha256()
    for piece in _pieces(stream):
        digest.update(piece)
    return digest.hexdigest()


def _copied(stream: BinaryIO, folder: Path, name: str) -> tuple[str, str]:
    folder.mkdir(exist_ok=True)
    sync_folder(folder.parent)  # else the power could take the folder, and the record would name what is not there
    digest = sha256()
    path, copy = _new(folder, name)
    try:
        with copy:
            for piece in _pieces(stream):
                digest.update(piece)
                copy.write(piece)
            copy.flush()
            os.fsync(copy.fileno())
        sync_folder(folder)
    except BaseException:
        with suppress(OSError):
            path.unlink()  # ours, and not whole
        raise
    return path.name, digest.hexdigest()


def _new(folder: Path, name: str) -> tuple[Path, BinaryIO]:
    """A file of this name, or the next that is free whatever the capitals: pump.jpg, pump-2.jpg."""
    there = {each.casefold() for each in os.listdir(folder)}
    stem, ending = os.path.splitext(name)
    number = 1
    while True:
        free = name if number == 1 else f"{stem}-{number}{ending}"
        if free.casefold() not in there:
            with suppress(FileExistsError):
                return folder / free, (folder / free).open("xb")
        number += 1
