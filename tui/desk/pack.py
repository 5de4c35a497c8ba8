"""A library of trees in one file: a zip with a manifest, the same bytes for the same texts, checked when opened.

Zip, because every system can look into one and Python reads it without anything else; stored, not deflated, because
what a compressor makes of a text differs between its versions. Nothing in it is believed before it was looked at:
names, sizes and the digest of each text.
"""

from __future__ import annotations

import io
import json
import re
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from tui.quantity import Refused
from tui.quantity.dates import iso_date, read_date
from tui.record.canonical import canonical

FORMAT = "lowside-trees 1"
MANIFEST = "manifest.json"
ENDING = ".zip"
_FOLDERS = ("", "catalogue", "examples")
_NAME = re.compile(r"(?:(?:catalogue|examples)/)?([A-Za-z0-9][A-Za-z0-9_-]{0,59})\.yaml")
_RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])", re.IGNORECASE)  # devices on Windows
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,39}")
_MOST_BYTES = 2**20  # of one text, as for a tree
_MOST_FILES = 1000
_BEGINNING = (1980, 1, 1, 0, 0, 0)  # the earliest day a zip can hold: no clock gets into the bytes
_UNREADABLE = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError, OSError)
_NO_MANIFEST = (ValueError, KeyError, TypeError, AttributeError, RecursionError)
_AGAIN = "Copy it anew from whoever packed it."


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a pack says of itself. `texts`: each file's SHA-256, by its place in the library.

    edition: counts up from 1. approved_by: a role or an id, never a person's name; empty: nobody. date: ISO.
    """

    edition: int
    date: str
    approved_by: str
    texts: Mapping[str, str]

    @property
    def digest(self) -> str:
        """SHA-256 over places and digests of all texts: what was approved."""
        return sha256(canonical(dict(self.texts))).hexdigest()

    def said(self) -> dict[str, Any]:
        """As it stands in the file."""
        return {
            "format": FORMAT,
            "edition": self.edition,
            "digest": self.digest,
            "date": self.date,
            "approved_by": self.approved_by,
            "texts": dict(self.texts),
        }


def checked_id(approved_by: str) -> str:
    """Raises Refused for what is no id: it goes into the record of every visit."""
    if approved_by and not _ID.fullmatch(approved_by):
        cure = "One word of letters, digits and hyphens, such as lead-2: it goes into every visit, and no name does."
        raise Refused("not-an-id", f"{approved_by!r} is no id for whoever approves.", cure)
    return approved_by


def texts_of(folder: Path) -> dict[str, bytes]:
    """The files of a library in a folder, by place; what is no tree, catalogue or example stays out.

    Raises Refused for a name that another system could not take, and where there is no text at all.
    """
    found: dict[str, bytes] = {}
    for part in _FOLDERS:
        for file in sorted((folder / part).glob("*.yaml")):
            if file.name.startswith((".", "#")) or not file.is_file():
                continue
            place = f"{part}/{file.name}" if part else file.name
            _legal(str(file), place, found)
            found[place] = file.read_bytes().replace(b"\r\n", b"\n")
            if len(found[place]) > _MOST_BYTES:
                raise Refused("too-big", f"{file}: over 1 MiB: no tree is.", "Is it the right file? Move it away.")
    if not any(not place.startswith("examples/") for place in found):
        raise Refused("no-trees", f"{folder}: there is no tree and no catalogue in this folder.", "Name your trees.")
    return found


def manifest_of(texts: Mapping[str, bytes], edition: int, date: str, approved_by: str) -> Manifest:
    """Raises Refused for an edition, a day or an id that is none."""
    if edition < 1:
        raise Refused("bad-edition", f"{edition} is no edition.", "A whole number from 1 on.")
    day = iso_date(read_date(date))
    digests = {place: sha256(text).hexdigest() for place, text in sorted(texts.items())}
    return Manifest(edition, day, checked_id(approved_by), digests)


def packed(manifest: Manifest, texts: Mapping[str, bytes]) -> bytes:
    """The bytes of a pack: the same ones for the same texts and the same manifest, on any machine."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive:
        said = json.dumps(manifest.said(), ensure_ascii=False, indent=1, sort_keys=True) + "\n"
        for place, text in [(MANIFEST, said.encode()), *sorted(texts.items())]:
            entry = zipfile.ZipInfo(place, _BEGINNING)
            entry.create_system = 3  # else the system that packs would stand in the bytes
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, text)
    return out.getvalue()


def unpacked(file: Path) -> tuple[Manifest, dict[str, bytes]]:
    """The manifest of a pack and its texts, each looked at. Raises Refused with what is wrong."""
    try:
        with zipfile.ZipFile(file) as archive:
            texts = _read(file, archive)
    except FileNotFoundError:
        raise Refused("missing", f"{file}: there is no such file.", "Look at its name and folder.") from None
    except PermissionError:
        raise Refused("no-right", f"{file}: you have no right to read it.", "Change its rights.") from None
    except IsADirectoryError:
        cure = "Name the file that lowside pack wrote."
        raise Refused("not-a-file", f"{file}: this is a folder.", cure) from None
    except _UNREADABLE as error:
        raise _damaged(file, "it is no zip file, or not the whole of one") from error
    manifest = _manifest(file, texts.pop(MANIFEST, None))
    _compare(file, manifest, texts)
    return manifest, texts


def _read(file: Path, archive: zipfile.ZipFile) -> dict[str, bytes]:
    entries = archive.infolist()
    if len(entries) > _MOST_FILES:
        raise Refused("too-big", f"{file}: more than {_MOST_FILES} files in it: no library is.", _AGAIN)
    texts: dict[str, bytes] = {}
    for entry in entries:
        if entry.filename != MANIFEST or entry.filename in texts:
            _legal(str(file), entry.filename, texts)
        with archive.open(entry) as stream:
            text = stream.read(_MOST_BYTES + 1)
        if len(text) > _MOST_BYTES:
            raise Refused("too-big", f"{file}: {entry.filename} in it is over 1 MiB: no tree is.", _AGAIN)
        texts[entry.filename] = text
    return texts


def _legal(file: str, place: str, there: Mapping[str, bytes]) -> None:
    """Raises Refused for a place outside a library, or a name that some system can't have."""
    if place.startswith(("/", "\\")) or ".." in re.split(r"[/\\]", place) or ":" in place:
        say = f"{file}: {place!r} would be written outside the folder of the trees."
        raise Refused("outside", say, "Do not install it. Ask whoever gave it to you.")
    found = _NAME.fullmatch(place)
    if found is None:
        cure = "Letters, digits, hyphens, at most 60, then .yaml; in catalogue/, examples/ or beside them."
        raise Refused("bad-name", f"{file}: {place!r} is no name in a library.", cure)
    if _RESERVED.fullmatch(found[1]):
        raise Refused("bad-name", f"{file}: Windows can't have a file called {found[1]}.", "Give it another name.")
    twin = next((other for other in there if other.lower() == place.lower()), None)
    if twin is not None:
        say = f"{file}: {twin} and {place} would be one file on Windows."
        raise Refused("name-twice", say, "Give one of them another name.")


def _manifest(file: Path, raw: bytes | None) -> Manifest:
    if raw is None:
        cure = "Name the file that lowside pack wrote."
        raise Refused("foreign", f"{file}: there is no {MANIFEST} in it: it is no library of lowside.", cure)
    return manifest_in(file, raw)


def manifest_in(file: Path, raw: bytes | str) -> Manifest:
    """The manifest with this text, which must agree with itself. `file` is how messages name it. Raises Refused."""
    try:
        said = json.loads(raw)
        if said["format"] != FORMAT:
            cure = "Bring lowside up to date."
            raise Refused("newer", f"{file}: it is of the form {said['format']!r}, not {FORMAT!r}.", cure)
        edition, texts = said["edition"], said["texts"]
        if type(edition) is not int or not isinstance(said["approved_by"], str) or not isinstance(texts, dict):
            raise TypeError
        manifest = Manifest(edition, said["date"], checked_id(said["approved_by"]), texts)
        whole = edition >= 1 and manifest.digest == said["digest"] and iso_date(read_date(said["date"])) == said["date"]
    except _NO_MANIFEST as error:
        raise _damaged(file, f"its {MANIFEST} can't be read") from error
    if not whole:
        raise _damaged(file, f"its {MANIFEST} does not agree with itself")
    return manifest


def _compare(file: Path, manifest: Manifest, texts: Mapping[str, bytes]) -> None:
    now = {place: sha256(text).hexdigest() for place, text in texts.items()}
    for place in sorted({*now, *manifest.texts}):
        if place not in now:
            raise _damaged(file, f"{place} is missing")
        if place not in manifest.texts:
            raise _damaged(file, f"{place} was added after it was packed")
        if now[place] != manifest.texts[place]:
            raise _damaged(file, f"{place} is not what was packed")


def _damaged(file: Path, how: str) -> Refused:
    return Refused("damaged", f"{file}: damaged or changed: {how}. Nothing was installed.", _AGAIN)
