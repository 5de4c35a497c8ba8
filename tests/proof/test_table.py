"""Causes by classes of equipment, counted from what examples say."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.proof.conftest import ALL_EXAMPLES
from tui.proof.reading import example_files, read_examples
from tui.proof.table import OTHER, SEVERAL_CIRCUITS, Cell, Count, Table, heads, table
from tui.tree.library import Library

TREES = Path(__file__).resolve().parents[2] / "trees"

TOLD = """
{name}:
  why: {why}
  tree: {tree}
  circuits: {circuits}
  expect: {expect}
"""
ONE, TWO = "{{main: {{{0}}}}}", "{{left: {{{0}}}, right: {{{0}}}}}"
COOLER = "equipment: reach-in cooler"
FAN = "cause: evaporator-fan, at: both-low/fan-stopped"
NAMED = "cause: cannot-tell, at: both-low/cannot-compare, could_be: [{0}]"


@pytest.fixture(scope="module")
def bundled() -> Library:
    return Library.read(TREES)


def counted(bundled: Library, folder: Path, *told: tuple[str, str, str, str]) -> Table:
    """Of examples told as why, tree, circuits, expect."""
    file = folder / "told.yaml"
    texts = [
        TOLD.format(name=f"e-{n}", why=why, tree=tree, circuits=circuits, expect=expect)
        for n, (why, tree, circuits, expect) in enumerate(told)
    ]
    file.write_text("".join(texts), encoding="utf-8")
    return table(bundled, read_examples(bundled, [file]))


def a_finding(bundled: Library) -> str:
    """Some finding of a circuit that names several."""
    return next(
        f"{tree.name}/{name}"
        for tree in bundled.trees.values()
        if tree.of == "circuit"
        for name, step in tree.named.items()
        if getattr(step, "could_be", ())
    )


def test_alone_and_among_several_are_told_apart(bundled: Library, tmp_path: Path) -> None:
    several = f"{{circuit: main, cause: cannot-tell, at: {a_finding(bundled)}, could_be: [evaporator-fan, overcharge]}}"
    fan = f"{{circuit: main, {FAN}}}"
    one = ONE.format(COOLER)
    made = counted(
        bundled,
        tmp_path,
        ("Invented.", "call", one, f"[{several}, {fan}]"),
        ("Invented.", "both-low", one, f"[{fan}, {fan}]"),
        ("Invented.", "both-low", one, f"[{several}]"),
    )
    assert made.cell("evaporator-fan", "reach-in cooler") == Cell(alone=Count(2, 1), several=Count(1, 0))
    assert made.cell("overcharge", "reach-in cooler") == Cell(several=Count(2, 1))
    assert made.cell("overcharge", "prep table") == Cell()
    assert made.cell("cannot-tell", "reach-in cooler") == Cell(), "it is the several that count"


def test_what_nobody_has_looked_at_is_counted_apart(bundled: Library, tmp_path: Path) -> None:
    made = counted(bundled, tmp_path, ("unreviewed", "call", ONE.format(COOLER), f"[{{{FAN}}}]"))
    assert made.cell("evaporator-fan", "reach-in cooler") == Cell(unreviewed=Count(1, 1))


def test_two_circuits_are_a_class_and_what_fits_none_is_other(bundled: Library, tmp_path: Path) -> None:
    made = counted(
        bundled,
        tmp_path,
        ("Invented.", "call", TWO.format(COOLER), f"[{{circuit: left, {FAN}}}]"),
        ("Invented.", "call", ONE.format("equipment: none of these"), f"[{{{FAN}}}]"),
        ("Invented.", "call", ONE.format(""), "[{cause: supply-fault, at: call/no-power}]"),
    )
    assert set(made.cells) == {
        ("evaporator-fan", SEVERAL_CIRCUITS),
        ("evaporator-fan", OTHER),
        ("supply-fault", OTHER),
    }


def test_classes_have_heads_of_three_letters_no_two_alike(bundled: Library) -> None:
    classes = [*table(bundled, []).classes, "household freezers", "household frames", "a b", "a b c", "a", "ab"]
    short = heads(classes)
    assert list(short) == classes
    assert len(set(short.values())) == len(classes)
    assert {len(head) for head in short.values()} == {3}


def test_a_library_without_classes_has_a_table_too(library: Library, examples: Path) -> None:
    made = table(library, read_examples(library, [examples]))
    assert made.classes == (SEVERAL_CIRCUITS, OTHER)
    assert made.cell("evaporator-fan", OTHER).alone == Count(1, 0)
    assert ALL_EXAMPLES.count("cause: evaporator-fan") == 1


def test_no_bundled_example_ends_alone_where_the_catalogue_says_it_cannot_be(bundled: Library) -> None:
    made = table(bundled, read_examples(bundled, example_files([TREES])))
    assert made.cannot, "else nothing is compared"
    assert [place for place in made.cannot if made.cell(*place).alone.examples] == []
