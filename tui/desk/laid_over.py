"""What lies over the trees that came with lowside: an installed library, one's own trees. For eyes and record."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

from tui.desk.home import Home
from tui.desk.installed import installed
from tui.quantity import Refused
from tui.record.canonical import canonical

INSTALLED, OWN = "installed", "own"
_EDITION = re.compile(r"^edition:\s*([0-9]{1,9})\s*(?:#.*)?$", re.MULTILINE)
_NAMED = 4  # trees named on a line; the others are counted
SHOWN = 12  # letters of a digest that a person compares


def laid_over(home: Home) -> list[dict[str, Any]]:
    """For the record, in the order they are laid: without any path. Empty if there are only lowside's trees.

    Each {name, digest, trees: {name: edition as text}, catalogue: [section]}, of an installed library also edition,
    approved_by, date and changed: [place]. Raises Refused where what is installed can't be read.
    """
    found = []
    one = installed(home.library)
    if one is not None:
        said: dict[str, Any] = {"name": INSTALLED, "edition": one.manifest.edition, "digest": one.manifest.digest}
        said |= {"approved_by": one.manifest.approved_by, "date": one.manifest.date}
        found.append(said | {"changed": list(one.changed())} | _inside(one.folder))
    inside = _inside(home.trees)
    if inside["trees"] or inside["catalogue"]:
        found.append({"name": OWN, "digest": _digest(home.trees)} | inside)
    return found


def _inside(folder: Path) -> dict[str, Any]:
    trees = {file.stem: _edition(file) for file in _texts(folder)}
    return {"trees": trees, "catalogue": [file.stem for file in _texts(folder / "catalogue")]}


def _texts(folder: Path) -> list[Path]:
    return [file for file in sorted(folder.glob("*.yaml")) if not file.name.startswith((".", "#"))]


def _edition(file: Path) -> str:
    try:
        found = _EDITION.search(file.read_text(encoding="utf-8", errors="replace"))
    except OSError:
        return ""
    return found[1] if found else ""


def _digest(folder: Path) -> str:
    """Over places and texts, line ends as in a pack; examples send nobody anywhere."""
    files = [*_texts(folder), *_texts(folder / "catalogue")]
    try:
        texts = {
            file.relative_to(folder).as_posix(): sha256(file.read_bytes().replace(b"\r\n", b"\n")).hexdigest()
            for file in files
        }
    except OSError as error:
        from tui.record.trouble import refusal

        raise refusal(error, folder, "read") from error
    return sha256(canonical(texts)).hexdigest()


def in_words(laid: Mapping[str, Any], *, briefly: bool = False) -> str:
    """One line for a person: whose trees, which edition, approved by whom, digest; unless briefly, what is in it."""
    return "; ".join(part for part in _parts(laid, briefly) if part)


def sentences(laid: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
    """What a person is told before a visit."""
    return tuple(f"{text[:1].upper()}{text[1:]}." for text in map(in_words, laid))


def _parts(laid: Mapping[str, Any], briefly: bool) -> Iterator[str]:
    if laid["name"] == INSTALLED:
        yield f"installed trees, edition {laid['edition']} of {laid['date']}"
        if laid["changed"]:
            yield f"CHANGED SINCE THEY WERE INSTALLED, approved by nobody ({_some(laid['changed'])})"
        else:
            yield f"approved by {laid['approved_by']}" if laid["approved_by"] else "approved by nobody"
    else:
        yield "own trees, approved by nobody"
    if not briefly:
        yield _some([f"{name} {edition}".strip() for name, edition in laid["trees"].items()])
        yield f"catalogue: {_some(laid['catalogue'])}" if laid["catalogue"] else ""
    yield f"digest {laid['digest'][:SHOWN]}"


def _some(names: list[str]) -> str:
    more = len(names) - _NAMED
    return ", ".join(names[:_NAMED]) + (f" and {more} more" if more > 0 else "")


def lines(home: Home) -> tuple[str, ...]:
    """A line for each, with what is the matter where they can't be read."""
    try:
        return sentences(laid_over(home))
    except Refused as problem:
        return (f"{problem.message} {problem.cure}".strip(),)
