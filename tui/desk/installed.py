"""The library of trees that was installed out of one file: put there whole or not at all.

Each is unpacked into a folder of its own, with a name that no other has; then one small file, replaced in one step,
says which of them counts. A power cut between the two leaves the one before.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from itertools import count
from pathlib import Path

from tui.desk.files import read_small, write_whole
from tui.desk.pack import Manifest, manifest_in
from tui.quantity import Refused
from tui.record.trouble import refusal
from tui.record.writer import sync_folder

_COUNTS = "installed.json"
_AGAIN = "Install it again (lowside install FILE --again), or delete that folder: then only the trees that came"


@dataclass(frozen=True, slots=True)
class Installed:
    """`folder` holds its trees."""

    folder: Path
    manifest: Manifest

    def changed(self) -> tuple[str, ...]:
        """Places of texts that are no longer what was installed, in order."""
        now = {place: _digest(self.folder / place) for place in self.manifest.texts}
        added = {
            file.relative_to(self.folder).as_posix() for file in self.folder.rglob("*.yaml")
        } - self.manifest.texts.keys()
        return tuple(sorted({place for place, then in self.manifest.texts.items() if now[place] != then} | added))


def installed(library: Path) -> Installed | None:
    """What is installed in this folder, None if nothing is. Raises Refused where it can't be used."""
    file = library / _COUNTS
    text = read_small(file)
    if text is None:
        return None
    cure = f"{_AGAIN} with lowside are left, and your own."
    try:
        manifest = manifest_in(file, text)
        folder = library / Path(str(json.loads(text)["folder"])).name
    except (Refused, KeyError) as problem:
        raise Refused("damaged", f"{file}: what is installed can't be read.", cure) from problem
    if not folder.is_dir():
        raise Refused("damaged", f"{folder}: the installed trees are gone.", cure)
    return Installed(folder, manifest)


def unpack_into(library: Path, manifest: Manifest, texts: Mapping[str, bytes]) -> Path:
    """Write the texts into a new folder; it does not count yet. Raises Refused."""
    name = f"{manifest.edition}-{manifest.digest[:12]}"
    folder = next(
        each for n in count(1) if not (each := library / (name if n == 1 else f"{name}-{n}")).exists()
    )
    try:
        for place, text in texts.items():
            file = folder / place
            file.parent.mkdir(parents=True, exist_ok=True)
            with file.open("wb") as stream:
                stream.write(text)
                stream.flush()
                os.fsync(stream.fileno())
        for made in {(folder / place).parent for place in texts}:
            sync_folder(made)
    except OSError as error:
        shutil.rmtree(folder, ignore_errors=True)
        raise refusal(error, folder, "write") from error
    return folder


def make_it_count(library: Path, manifest: Manifest, folder: Path) -> None:
    """From now on this one is walked; those before are deleted. Raises Refused; then nothing changed."""
    said = json.dumps(manifest.said() | {"folder": folder.name}, ensure_ascii=False, indent=1, sort_keys=True) + "\n"
    write_whole(library / _COUNTS, said)
    for other in library.iterdir():
        if other.is_dir() and other != folder:
            shutil.rmtree(other, ignore_errors=True)


def _digest(file: Path) -> str:
    try:
        return sha256(file.read_bytes()).hexdigest()
    except OSError:
        return ""
