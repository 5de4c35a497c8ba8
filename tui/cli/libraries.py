"""Which trees a command reads."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused
from tui.tree.bundled import bundled_trees

if TYPE_CHECKING:
    from tui.tree.library import Library
    from tui.tree.spot import Problem

_PARTS = ("catalogue", "examples")
_ENDING = ".yaml"
_WHOLE = ("causes", "cautions", "instruments", "readings", "work")  # what no library of its own can be without
_CURE = "Name a folder of trees, or a file in one."


def usual_folders() -> list[Path]:
    """The trees that come with lowside; over them what was installed; over that the user's own. Raises Refused."""
    from tui.desk.home import home
    from tui.desk.installed import installed

    mine = home()
    one = installed(mine.library)
    folders = [bundled_trees()] if one is None else [bundled_trees(), one.folder]
    return [*folders, mine.trees] if mine.trees.is_dir() else folders


def folders_of(paths: Sequence[str]) -> list[Path]:
    """The folders a library is loaded from for these paths. Raises Refused for what is not there."""
    return _laid_over([_folder(Path(path)) for path in paths])


@dataclass(frozen=True, slots=True)
class ForExamples:
    """`folders` make the library, `paths` hold the examples; what is not reached is told of trees in `told`."""

    folders: list[Path]
    paths: list[Path]
    told: list[Path]


def for_examples(paths: Sequence[str]) -> ForExamples:
    """Examples may also lie where no trees are. Trees laid over those of lowside are held by the examples of both."""
    if not paths:
        folders = usual_folders()
        return ForExamples(folders, folders, folders)
    beside = []
    for path in map(Path, paths):
        if not path.exists():
            raise no_such(path, "Name a file of examples, or a folder of trees.")
        if os.path.isdir(path / "examples"):
            beside.append(path)
        elif "examples" in (path.name, path.parent.name) or path.is_dir():
            beside.append(_around(path))
    told = [folder for folder in beside if _holds_trees(folder)]
    folders = _laid_over(told)
    named = list(map(Path, paths))
    over = bool(told) and folders[0] not in told and all(path.is_dir() for path in named)
    return ForExamples(folders, [folders[0], *named] if over else named, told)


def trees_beside(folder: Path) -> list[Path]:
    """The folders that a folder of trees belongs to, be there any in it yet or not. Raises Refused."""
    if not folder.is_dir():
        raise no_such(folder, "Name the folder of your trees, or make it.")
    return _laid_over([folder])


def _laid_over(named: Sequence[Path]) -> list[Path]:
    if not named:
        return usual_folders()
    unlike = list(dict.fromkeys(named))
    if any(map(_stands_alone, unlike)):
        return unlike
    return [bundled_trees(), *unlike]


def _stands_alone(folder: Path) -> bool:
    """Whether it is a library of its own; entries of one section or the other take the place of lowside's."""
    return all(os.path.isfile(folder / "catalogue" / f"{section}{_ENDING}") for section in _WHOLE)


def _folder(path: Path) -> Path:
    """The folder of trees that a path means. Raises Refused where there is nothing to prove."""
    if not path.exists():
        raise no_such(path, "Name a folder of trees.")
    if not path.is_dir() and path.suffix != _ENDING:
        cure = f"Rename it: {path.stem}{_ENDING}." if path.suffix in (".yml", ".txt", "") else _CURE
        raise Refused("no-trees", f"{path}: this is no tree: a tree's name ends in {_ENDING}.", cure)
    folder = _around(path)
    os.listdir(folder)  # without the right to look, it only seems to hold none
    if not _holds_trees(folder):
        raise Refused("no-trees", f"{folder}: there is no tree and no catalogue in this folder.", _instead(folder))
    return folder


def no_such(path: Path, cure: str) -> Refused:
    """The refusal of a path that is not there; a name that is near is the cure."""
    from tui.tree.near import meant

    return Refused("missing", f"{path}: there is no such file or folder.", meant(path, cure))


def _instead(folder: Path) -> str:
    """What lies there under a wrong name, else what to name."""
    from tui.tree.unread import unread

    found = next(unread(folder), None)
    return _CURE if found is None else f"{found.spot.path}: {found.message} {found.cure}"


def no_file(tree: str) -> Refused | None:
    """The refusal where no file of the usual trees has this name; looked for before anything is read."""
    from tui.quantity import nearest

    names = {file.stem for folder in usual_folders() for file in folder.glob(f"*{_ENDING}")}
    if tree in names:
        return None
    near = nearest(tree.removesuffix(_ENDING), names)
    cure = f"Did you mean {near}?" if near else f"There are: {', '.join(sorted(names))}."
    return Refused("no-such-tree", f"There is no tree called {tree!r}.", cure)


def _around(path: Path) -> Path:
    """A part of a library stands for the whole of it."""
    folder = path if path.is_dir() else path.parent
    return folder.parent if folder.name in _PARTS and folder.parent != folder else folder


def _holds_trees(folder: Path) -> bool:
    return any(folder.glob(f"*{_ENDING}")) or any(folder.glob(f"catalogue/*{_ENDING}"))


def load(folders: Sequence[Path]) -> Library:
    """The proven library; raises BrokenLibrary with all its problems."""
    from tui.tree.library import Library

    return Library.load(*folders)


def load_to_walk() -> Library:
    """The usual trees, as `load`; what was proven at an earlier start is not proven again."""
    from tui.desk.home import home
    from tui.desk.proven import load_proven

    return load_proven(*usual_folders(), stamp=home().proven)


def problems_in(folders: Sequence[Path]) -> list[Problem]:
    """Problems that stop and warnings, in file order; also of a library that can't be loaded."""
    from tui.tree.library import BrokenLibrary

    problems: Iterable[Problem]
    try:
        problems = load(folders).problems
    except BrokenLibrary as broken:
        problems = broken.problems
    return sorted(problems, key=lambda problem: problem.spot)
