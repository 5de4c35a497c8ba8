"""Trees as a folder or as a git revision has them, read without touching anything but a folder of our own."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.tree.spot import Problem

_FILE_MODES = ("100644", "100755")
_CATALOGUE, _EXAMPLES, _ENDING = "catalogue", "examples", ".yaml"
_CURE = "Name a folder, a revision (such as HEAD~1), or both as REVISION:FOLDER."


@dataclass(frozen=True, slots=True)
class Side:
    """`name`: as messages call it. `folders`: what a library is loaded from. `copy`: where a revision's files lie."""

    name: str
    folders: tuple[Path, ...]
    copy: Path | None = None

    def named(self, path: str | Path) -> str:
        """A path as the person who asked knows it."""
        if self.copy is None or not Path(path).is_relative_to(self.copy):
            return str(path)
        return f"{self.name}/{Path(path).relative_to(self.copy).as_posix()}"

    def placed(self, problem: Problem) -> Problem:
        """The problem with its place named so."""
        return replace(problem, spot=replace(problem.spot, path=self.named(problem.spot.path)))

    def examples(self) -> dict[str, Path]:
        """Its files of examples, by how messages name them."""
        from tui.proof.reading import example_files

        return {self.named(file): file for file in example_files(self.folders, may_lack=True)}


@contextmanager
def side(text: str, beside: Sequence[str | Path] = ()) -> Iterator[Side]:
    """A folder of trees, or those of a git revision of the repository that the current folder lies in.

    beside: folders it is compared with; a revision's trees are looked for in the same place. Raises Refused.
    """
    from tui.cli.libraries import folders_of

    if Path(text).exists():
        yield Side(text, tuple(folders_of([text])))
        return
    with tempfile.TemporaryDirectory(prefix="lowside-") as made:
        copy = Path(made) / "trees"
        name = _copied(text, beside, copy)
        yield Side(name, tuple(folders_of([str(copy)])), copy)


def _copied(text: str, beside: Sequence[str | Path], copy: Path) -> str:
    """Write the trees of a revision; how it is then called."""
    revision, colon, place = text.partition(":")
    top, prefix = _repository(text)
    files = _files(text, revision, top)
    folder = PurePosixPath(place.replace("\\", "/")) if colon else _place(text, top, prefix, beside, files)
    wanted = {path: blob for path, blob in files.items() if _part_of(folder, path)}
    if not wanted:
        raise Refused("no-trees", f"{revision}: there is no tree in {folder} in this revision.", _CURE)
    for path, content in zip(wanted, _contents(text, list(wanted.values()), top), strict=True):
        target = copy / path.relative_to(folder)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
    return f"{revision}:{folder}"


def _part_of(folder: PurePosixPath, path: PurePosixPath) -> bool:
    """A tree, a file of the catalogue or one of examples. A name that is no name everywhere is left out."""
    if path.suffix != _ENDING or any(sign in path.name for sign in '\\:*?"<>|'):
        return False
    return path.parent in (folder, folder / _CATALOGUE, folder / _EXAMPLES)


# ---- which folder

_Files = Mapping[PurePosixPath, str]


def _place(
    text: str, top: Path, prefix: PurePosixPath, beside: Sequence[str | Path], files: _Files
) -> PurePosixPath:
    """Where the other side's trees lie, else those of the current folder, else the only ones there are."""
    likely = [_inside(Path(folder), top) for folder in reversed(beside)]
    for folder in (*filter(None, likely), prefix / "trees", _around(prefix)):
        if any(path.parent == folder and path.suffix == _ENDING for path in files):
            return folder
    found = sorted({path.parent.parent for path in files if path.parent.name == _CATALOGUE and path.suffix == _ENDING})
    called = [folder for folder in found if folder.name == "trees"]
    if len(found) == 1 or len(called) == 1:
        return (called or found)[0]
    if not found:
        raise Refused("no-trees", f"{text}: there is no folder of trees in this revision.", _CURE)
    which = ", ".join(map(str, found))
    raise Refused("which-trees", f"{text}: this revision has several folders of trees: {which}.", _CURE)


def _inside(folder: Path, top: Path) -> PurePosixPath | None:
    """The folder as the repository has it; None where it lies elsewhere."""
    folder = (folder if folder.is_dir() else folder.parent).resolve()
    top = top.resolve()
    if not folder.is_relative_to(top):
        return None
    return _around(PurePosixPath(folder.relative_to(top).as_posix()))


def _around(folder: PurePosixPath) -> PurePosixPath:
    """A part of a library stands for the whole of it."""
    return folder.parent if folder.name in (_CATALOGUE, _EXAMPLES) else folder


# ---- git


def _repository(text: str) -> tuple[Path, PurePosixPath]:
    """Its top folder, and the current folder as it has it."""
    done = _git(text, ["rev-parse", "--show-toplevel", "--show-prefix"])
    if done.returncode != 0:
        said, *_ = [*done.stderr.decode("utf-8", "replace").splitlines(), ""]
        if "not a git repository" in said:
            message = f"{text}: there is no such folder, and the current folder lies in no git repository."
        else:
            message = f"{text}: there is no such folder, and git can't look here: {said}"
        raise Refused("no-repository", message, "Name a folder, or change to one that git keeps.")
    top, prefix = done.stdout.decode("utf-8", "replace").split("\n")[:2]
    return Path(top), PurePosixPath(prefix)


def _files(text: str, revision: str, top: Path) -> dict[PurePosixPath, str]:
    """All files of a revision with their blobs."""
    known = None if revision.startswith("-") or not revision else _git(
        text, ["rev-parse", "--verify", "--quiet", f"{revision}^{{tree}}"]
    )
    if known is None or known.returncode != 0:
        raise Refused("no-revision", f"{text}: there is no such folder, and git knows no such revision here.", _CURE)
    tree = known.stdout.decode("ascii").strip()
    done = _git(text, ["ls-tree", "-r", "-z", "--full-tree", tree], top)
    if done.returncode != 0:
        raise _lost(text)
    files = {}
    for line in filter(None, done.stdout.decode("utf-8", "surrogateescape").split("\0")):
        about, _, path = line.partition("\t")
        mode, _, blob = about.split()
        if mode in _FILE_MODES:
            files[PurePosixPath(path)] = blob
    return files


def _contents(text: str, blobs: Sequence[str], top: Path) -> Iterator[bytes]:
    """The bytes of each blob, as they were recorded: no line ends are changed."""
    done = _git(text, ["cat-file", "--batch"], top, "".join(f"{blob}\n" for blob in blobs).encode("ascii"))
    rest = done.stdout
    for _ in blobs:
        head, rest = rest.split(b"\n", 1) if b"\n" in rest else (rest, b"")
        try:
            size = int(head.split()[2])
        except (IndexError, ValueError):
            raise _lost(text) from None
        yield rest[:size]
        rest = rest[size + 1 :]


def _lost(text: str) -> Refused:
    return Refused("git-failed", f"{text}: git has lost a part of this revision.", "Try: git fsck, or name a folder.")


def _git(
    text: str, arguments: Sequence[str], folder: Path | None = None, typed: bytes = b""
) -> subprocess.CompletedProcess[bytes]:
    git = shutil.which("git")
    if git is None:
        message = f"{text}: there is no such folder, and git, which could know such a revision, is not installed here."
        raise Refused("no-git", message, "Name a folder, or install git.")
    environment = {**os.environ, "LC_ALL": "C", "GIT_TERMINAL_PROMPT": "0"}
    return subprocess.run([git, *arguments], cwd=folder, input=typed, capture_output=True, env=environment, check=False)
