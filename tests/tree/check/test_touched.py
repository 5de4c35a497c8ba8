"""A tree is solved once for all states that differ in nothing it touches: that is quick, and changes no word."""

from __future__ import annotations

import re
from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from random import Random

import pytest

from tests.broken.broken import BASE, HERE
from tests.bundled import TREES
from tui.tree.check import Graph, holds, prove
from tui.tree.check.names import Names
from tui.tree.check.prove import prover
from tui.tree.check.touched import Touched
from tui.tree.library import BrokenLibrary, Library
from tui.tree.spot import Problem

SEED = 20261201
MUTATIONS = 20
TELL = """tree: tell
title: What was seen
edition: 1
of: circuit
steps:
- decide: worth-it
  by: needles
  rows:
    steady: told
    swinging: carry on
- back: not worth it
- finding: told
  cause: cannot-tell
  seen: Frost - <frost>.
  next: Look again.
"""
TWICE = """tree: twice
title: Looked at on one way, not on the other
edition: 1
of: circuit
steps:
- ask: needles
- decide: which
  by: needles
  rows:
    steady: carry on
    swinging: not-looked
- ask: frost
- go: tell
  comes back:
    not worth it: unclear
- go: tell
  name: not-looked
  comes back:
    not worth it: carry on
- finding: unclear
  cause: cannot-tell
  seen: Needles <needles>.
  next: Look again.
"""


def with_all_touched(library: Library, monkeypatch: pytest.MonkeyPatch) -> list[Problem]:
    """What is told if every tree is taken to touch everything, so that each state is solved by itself."""
    proofs = import_module("tui.tree.check.prove")
    with monkeypatch.context() as patch:
        patch.setattr(proofs, "touched", lambda ops, layout, *_: dict.fromkeys(ops, Touched(layout.whole)))
        return prove(library.trees, library.catalogue)


def test_broken_trees_are_told_in_the_same_words(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    told = 0
    for file in sorted(HERE.glob("*.yaml")):
        (tmp_path / file.name).write_bytes(file.read_bytes())
        try:
            library = Library.read(BASE, tmp_path)
        except BrokenLibrary:
            continue
        finally:
            (tmp_path / file.name).unlink()
        problems = prove(library.trees, library.catalogue)
        assert problems == with_all_touched(library, monkeypatch), file.name
        assert holds(library.trees, library.catalogue) is not any(p.severity == "error" for p in problems), file.name
        told += any("Way:" in problem.message for problem in problems)
    assert told >= 20


def test_what_only_the_second_way_into_a_tree_lacks_is_told(tmp_path: Path) -> None:
    (tmp_path / "tell.yaml").write_text(TELL, "utf-8")
    (tmp_path / "twice.yaml").write_text(TWICE, "utf-8")
    library = Library.read(BASE, tmp_path)
    told = {problem.code: problem.message for problem in prove(library.trees, library.catalogue)}
    way = "twice: ask-needles > which (swinging) > not-looked > tell: worth-it (steady) > told"
    assert f"Way: {way}." in told["not-asked"]


def test_bundled_trees_that_lack_a_step_are_told_in_the_same_words(monkeypatch: pytest.MonkeyPatch) -> None:
    texts, random, told = bundled_texts(), Random(SEED), 0
    names = [name for name in texts if "/" not in name]
    for _ in range(MUTATIONS):
        name = random.choice(names)
        try:
            library = Library.from_texts({**texts, name: _one_step_less(texts[name], random)}, partial=True)
        except BrokenLibrary:
            continue
        problems = prove(library.trees, library.catalogue)
        assert problems == with_all_touched(library, monkeypatch)
        told += any("Way:" in problem.message for problem in problems)
    assert told >= 3


def test_twice_the_trees_are_twice_the_work() -> None:
    texts = bundled_texts()
    names = sorted(name.removesuffix(".yaml") for name in texts if "/" not in name)
    again = {f"{name}-again.yaml": _renamed(texts[f"{name}.yaml"], names) for name in names}
    once, twice = states_solved(texts), states_solved({**texts, **again})
    assert once < twice <= 2.1 * once


def bundled_texts() -> dict[str, str]:
    """By path below the folder of trees, without the examples."""
    files = [*TREES.glob("*.yaml"), *TREES.glob("catalogue/*.yaml")]
    return {file.relative_to(TREES).as_posix(): file.read_text("utf-8") for file in files}


def states_solved(texts: Mapping[str, str]) -> int:
    """Nodes of all trees, each counted as often as its tree was solved."""
    library = Library.from_texts(texts)
    graph, names = Graph(library.trees), Names.of(library.trees, library.catalogue)
    contexts = prover(library.trees, library.catalogue, graph, names).solver.contexts
    return sum(len(context.before) for context in contexts)


def _renamed(text: str, names: list[str]) -> str:
    """A tree under another name, which leads to others under theirs."""
    ways = "|".join(map(re.escape, names))
    return re.sub(rf"(?m)^( *(?:- )?(?:tree|go|go on|offer): )({ways})$", r"\1\2-again", text)


def _one_step_less(text: str, random: Random) -> str:
    lines = text.split("\n")
    starts = [number for number, line in enumerate(lines) if line.startswith("- ")]
    at = random.randrange(len(starts) - 1)
    del lines[starts[at] : starts[at + 1]]
    return "\n".join(lines)
