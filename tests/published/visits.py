"""A visit out of a plain mapping, walked through the trees that come with the package."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from tui.proof.reading import read_examples
from tui.quantity import Quantity
from tui.tree.library import Library
from tui.tree.spot import Spot
from tui.walk.answers import Answers, Given, run_answers
from tui.walk.core import Walk
from tui.walk.prompt import Finding

TREES = Path(__file__).parents[2] / "trees"
SITE = {"altitude": "0 ft", "today": "2026-11-25"}
CALL = {
    "unit": "T-1",
    "job": "1",
    "complaint": "warm",
    "complaint-since": "yesterday",
    "product-inside": "no",
    "power-on": "yes",
    "control-calls": "yes",
}
_HERE = Spot("test", 1, 1)

Said = Mapping[str, str | Sequence[str]]


@cache
def library() -> Library:
    return Library.load(TREES)


def walked(tree: str, said: Said, site: Mapping[str, str] = SITE) -> Walk:
    """The whole walk with these answers; what is not among them could not be had."""
    answers = Answers("test", _HERE, tree=tree, site=_givens(site), circuits={"main": _givens(said)})
    if tree == "call":
        answers.visit = _givens(CALL)
    return run_answers(library(), answers, embed_texts=False)


def found(walk: Walk) -> Finding:
    """The last finding."""
    return walk.findings[-1]


def names(finding: Finding) -> set[str]:
    """Every cause that a finding names."""
    return {finding.cause, *finding.could_be} - {"cannot-tell"}


def _givens(said: Said) -> dict[str, Given]:
    return {name: _given(text) for name, text in said.items()}


def _given(text: str | Sequence[str]) -> Given:
    texts = (text,) if isinstance(text, str) else tuple(text)
    return Given(texts, (_HERE,) * len(texts), _HERE, listed=not isinstance(text, str))


def figure(name: str, *answers: str) -> Quantity:
    """A figure of the catalogue, by these answers where it stands in rows."""
    one = library().catalogue.figures[name]
    if one.value is not None:
        return one.value
    assert one.table is not None
    rows = [row for row in one.table.rows if all(c is None or a in c for a, c in zip(answers, row.cells, strict=True))]
    assert len(rows) == 1, (name, answers)
    return one.values[rows[0].to]


def example(file: str, name: str) -> tuple[str, dict[str, str], dict[str, str | Sequence[str]]]:
    """Tree, site and answers of one bundled example, to be walked with other answers."""
    one = next(e for e in read_examples(library(), [TREES / "examples" / f"{file}.yaml"]) if e.name == name)
    site = {key: given.texts[0] for key, given in one.answers.site.items()}
    (circuit,) = one.answers.circuits.values()
    said: dict[str, str | Sequence[str]] = {
        reading: given.texts if given.listed else given.texts[0] for reading, given in circuit.items()
    }
    return one.answers.tree, site, said
