"""Anything that goes wrong, in words: what, where, and what would be right."""

from __future__ import annotations

import errno
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.tree.spot import Problem

_WORDS = {
    errno.ENOENT: ("there is no such file or folder", "Check the name."),
    errno.EACCES: ("no right to open or change it", "Ask for the right, or choose another place."),
    errno.EPERM: ("no right to open or change it", "Ask for the right, or choose another place."),
    errno.EROFS: ("the folder is read-only", "Choose another place."),
    errno.EISDIR: ("it is a folder, and a file is wanted", "Name a file."),
    errno.ENOTDIR: ("a part of the path is a file, not a folder", "Check the path."),
    errno.ENOSPC: (
        "the disk is full; what was recorded before is intact",
        "Make room and go on with lowside resume.",
    ),
    errno.EDQUOT: ("your share of the disk is full", "Make room and go on with lowside resume."),
    errno.EIO: (
        "the disk reports a fault; what was recorded before is intact",
        "Copy the file to another disk.",
    ),
    errno.ENAMETOOLONG: ("the name is too long", "Choose a shorter one."),
    errno.ELOOP: ("its links run in a ring", "Name the real file."),
}


def in_words(problem: Refused | OSError) -> str:
    """One message; a broken library lists its problems, one a line, each with its place."""
    if isinstance(problem, OSError):
        return _system(problem)
    if problem.code == "broken-trees":
        lines = [problem_line(each) for each in getattr(problem, "problems", ()) if each.severity == "error"]
        return "\n".join([*lines, "The trees do not hold, so nothing was started. See: lowside check"])
    return "\n  ".join(part for part in (problem.message, problem.cure) if part)


def _system(problem: OSError) -> str:
    what, cure = _WORDS.get(problem.errno or 0, ((problem.strerror or str(problem)).lower(), ""))
    where = f"{problem.filename}: " if problem.filename is not None else ""
    return "\n  ".join(part for part in (f"{where}{what}.", cure) if part)


def problem_line(problem: Problem) -> str:
    """``path:line:column: code: message cure``, as editors and people find it."""
    spot = problem.spot
    kind = "" if problem.severity == "error" else f" {problem.severity}:"
    text = f"{problem.message} {problem.cure}".strip()
    return f"{spot.path}:{spot.line}:{spot.column}:{kind} {problem.code}: {text}"
