"""Example files: names, each with a visit's raw readings, the findings expected, and why these figures."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from tui.proof.examples import Example, Found
from tui.quantity import Refused, nearest
from tui.tree import source
from tui.tree.library import CATALOGUE, Library
from tui.tree.model import FindingStep
from tui.tree.report import listed, with_commas
from tui.tree.spot import Spot
from tui.tree.unread import ENDING
from tui.walk.answers import Answers

#: Of an example, besides those of an answers file.
OWN_KEYS = ("why", "expect")
FOUND_KEYS = ("circuit", "cause", "at", "could_be")


def example_files(paths: Sequence[Path], *, may_lack: bool = False) -> list[Path]:
    """The example files that these paths name: files, folders of them, or folders of trees with ``examples`` in.

    Raises Refused for a path that is not there, and unless they `may_lack` where there is no example at all.
    """
    found: list[Path] = []
    for path in paths:
        if not path.exists():
            raise Refused("missing", f"{path}: there is no such file or folder.", "Name a file of examples.")
        found += _in_folder(path) if path.is_dir() else [path]
    if not found and not may_lack:
        where = ", ".join(map(str, paths))
        cure = "Name one, or a folder of them; lowside examples --write makes some."
        raise Refused("no-examples", f"{where}: there is no file of examples.", cure)
    return list(dict.fromkeys(found))


def _in_folder(folder: Path) -> list[Path]:
    """What stands in a folder of trees itself are trees, no examples."""
    inside = folder / "examples"
    holds = inside if os.path.isdir(inside) else folder
    os.listdir(holds)  # without the right to look, it only seems to hold none
    if holds is folder and (os.path.isdir(folder / CATALOGUE) or any(map(_is_tree, folder.glob(f"*{ENDING}")))):
        return []
    return sorted(holds.glob(f"*{ENDING}"))


def _is_tree(file: Path) -> bool:
    try:
        with file.open(encoding="utf-8", errors="replace") as text:
            return any(line.startswith("tree:") for line in text.read(4096).splitlines())
    except OSError:
        return False


def read_examples(library: Library, files: Sequence[Path]) -> list[Example]:
    """Every example of these files; one of a later folder stands for one of the same name in an earlier.

    Raises Refused with all that is wrong with them, one a line.
    """
    examples: dict[str, Example] = {}
    wrong: list[Refused] = []
    names: dict[str, Spot] = {}
    for file in files:
        try:
            text = source.read_bytes(file)
            node = source.read_text(str(file), text, flow=True)
        except Refused as refused:
            wrong.append(refused)
            continue
        for key, value in node.entries:
            try:
                _new_name(key, names)
                examples[key.text] = _example(library, key, value)
            except Refused as refused:
                wrong.append(refused)
    if wrong:
        raise Refused(wrong[0].code, "\n".join(str(refused) for refused in wrong))
    return list(examples.values())


def _new_name(key: source.Scalar, names: dict[str, Spot]) -> None:
    first = names.get(key.text)
    if first is not None and Path(first.path).parent == Path(key.path).parent:
        raise _refused(key.spot, f"an example is called {key.text!r} already: {first.path}:{first.line}.", "Rename it.")
    names[key.text] = key.spot


def _example(library: Library, key: source.Scalar, node: source.Node) -> Example:
    if not isinstance(node, source.Mapping):
        raise _refused(key.spot, f"{key.text}: a visit was expected here.", "Write why, circuits and expect below it.")
    why = node.get("why")
    if not isinstance(why, source.Scalar) or not why.text.strip():
        raise _refused(key.spot, f"{key.text} has no `why`.", "Say in it where its figures come from.")
    expected = node.get("expect")
    if isinstance(expected, source.Mapping):
        say = f"{key.text}: below `expect` stands a list, each finding with a dash."
        raise _refused(expected.spot, say, "Write `- {cause: ..., at: ...}`.")
    if not isinstance(expected, source.Sequence) or not expected.items:
        raise _refused(key.spot, f"{key.text} has no `expect`.", "List the findings it ends in.")
    answers = Answers.from_node(node, key.path, besides=OWN_KEYS)
    circuits = list(answers.circuits)
    found = tuple(_found(library, answers.tree, circuits, item) for item in expected.items)
    return Example(key.text, key.spot, why.text, answers, found)


def _found(library: Library, tree: str, circuits: list[str], node: source.Node) -> Found:
    if not isinstance(node, source.Mapping):
        raise _refused(node.spot, "a finding was expected here.", "For example: {cause: short-of-charge, at: …}")
    said: dict[str, str] = {}
    could_be: tuple[str, ...] = ()
    for key, value in node.entries:
        if key.text not in FOUND_KEYS:
            raise _unknown(key.spot, key.text, FOUND_KEYS)
        if key.text == "could_be":
            could_be = tuple(_causes(library, value))
        else:
            said[key.text] = _text(value).text
    at, cause = _needed(node, "at"), _needed(node, "cause")
    if cause.text != "cannot-tell" and cause.text not in library.catalogue.causes:
        raise _unknown(cause.spot, cause.text, library.catalogue.causes)
    _check_place(library, at, tree)
    circuit = _circuit(library, circuits, said.get("circuit"), at, node.spot)
    return Found(circuit, cause.text, at.text, could_be)


def _circuit(library: Library, circuits: list[str], said: str | None, at: source.Scalar, spot: Spot) -> str:
    """The one it is said of, or the only one; a finding of the whole unit has none."""
    if library.trees[at.text.partition("/")[0]].of == "unit":
        if said:
            raise _refused(spot, f"{at.text} is found of the whole unit.", "Leave out `circuit`.")
        return ""
    circuit = said if said is not None else circuits[0] if len(circuits) == 1 else ""
    if circuit not in circuits:
        raise _unknown(spot, circuit, circuits)
    return circuit


def _needed(node: source.Mapping, key: str) -> source.Scalar:
    value = node.get(key)
    if value is None:
        raise _refused(node.spot, f"a finding without `{key}`.", "Write circuit, cause and at.")
    return _text(value)


def _text(node: source.Node) -> source.Scalar:
    if not isinstance(node, source.Scalar):
        raise _refused(node.spot, "one word was expected here.", "")
    return node


def _causes(library: Library, node: source.Node) -> Iterator[str]:
    items = node.items if isinstance(node, source.Sequence) else [node]
    for item in items:
        word = _text(item)
        if word.text and word.text not in library.catalogue.causes:
            raise _unknown(word.spot, word.text, library.catalogue.causes)
        if word.text:
            yield word.text


def _check_place(library: Library, at: source.Scalar, begun: str) -> None:
    tree, slash, step = at.text.partition("/")
    if not slash:
        say = f"`at` is TREE/STEP, and {at.text!r} has no `/`."
        has = [name for name, found in library.trees.items() if tree in found.named]
        near = f"{begun if begun in has else has[0]}/{tree}" if has else ""
        raise _refused(at.spot, say, f"Did you mean {near}?" if near else "Such as door-check/box-is-cold.")
    if tree not in library.trees:
        raise _unknown(at.spot, tree, library.trees)
    findings = [name for name, found in library.trees[tree].named.items() if isinstance(found, FindingStep)]
    if step not in findings:
        raise _unknown(at.spot, at.text, [f"{tree}/{name}" for name in findings])


def _unknown(spot: Spot, name: str, names: Iterable[str]) -> Refused:
    known = sorted(names)
    near, joined = nearest(name, known), with_commas(name, known)
    cure = joined or (f"Did you mean {near}?" if near else f"There are: {listed(known)}.")
    return _refused(spot, f"there is nothing called {name!r}.", cure)


def _refused(spot: Spot, say: str, cure: str) -> Refused:
    return Refused("bad-example", f"{spot.path}:{spot.line}:{spot.column}: {say}", cure)
