"""Two libraries compared: nothing where nothing differs, each change told once and as what it is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.proof.conftest import WALK_LIBRARY
from tui.proof.diff.combinations import LEFT_OPEN
from tui.proof.diff.difference import GONE, MOVED, NEW, RENAMED, Difference, difference
from tui.proof.diff.figures import UsedBy, Value
from tui.proof.diff.parts import Changed, Entry
from tui.proof.diff.ways import LINE, ORDER, ROW, UNNAMED, WAY
from tui.proof.forks import Fork, forks, retargeted
from tui.tree.bundled import bundled_trees
from tui.tree.library import Library
from tui.tree.model import Decide, Table

Edit = Callable[..., Library]


def texts() -> dict[str, str]:
    return {file.relative_to(WALK_LIBRARY).as_posix(): file.read_text("utf-8") for file in WALK_LIBRARY.rglob("*.yaml")}


def edited(*changes: tuple[str, str, str], partial: bool = False) -> Library:
    """The small library with texts put in the place of others: (file, old, new)."""
    found = texts()
    for file, old, new in changes:
        assert old in found[file], old
        found[file] = found[file].replace(old, new, 1)
    return Library.from_texts(found, partial=partial)


def small(*changes: tuple[str, str]) -> Library:
    return edited(*(("small.yaml", old, new) for old, new in changes))


@pytest.fixture(scope="module")
def bundled() -> Library:
    return Library.load(bundled_trees())


def test_a_library_does_not_differ_from_itself(library: Library, bundled: Library) -> None:
    for one in (library, bundled):
        again = difference(one, one)
        assert again == Difference()
        assert again.nothing


def test_layout_and_order_of_rows_are_no_difference(library: Library) -> None:
    rows = "    running: carry on\n    stopped: fan-is-dead\n"
    other = "    # the fan first\n    stopped: fan-is-dead\n    running: carry on\n"
    found = difference(library, small((rows, other), ("    on or high: it-is-well", "    high or on: it-is-well")))
    assert found.nothing
    assert [tree.tree for tree in found.trees] == ["small"], "though the text is another"


def test_the_name_of_the_step_below_is_carry_on(library: Library) -> None:
    caution = "- caution: gloves, flammable"
    named = small(("    running: carry on", "    running: on-with-it"), (caution, f"{caution}\n  name: on-with-it"))
    assert difference(library, named).elsewhere == []


BUNDLED = Library.read(bundled_trees())
SENT_ELSEWHERE = [
    (fork, instead) for tree in BUNDLED.trees.values() for fork in forks(tree) for instead in fork.others
]


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(SENT_ELSEWHERE))
def test_one_fork_sent_elsewhere_is_one_outcome(sent: tuple[Fork, str]) -> None:
    """Any row, line, end of rounds or outcome of the trees that come with lowside."""
    fork, instead = sent
    old = replace(BUNDLED, trees={fork.tree: BUNDLED.trees[fork.tree]})
    tree = retargeted(old.trees[fork.tree], fork, instead)
    found = difference(old, replace(old, trees={fork.tree: tree}))
    named = [each for each in found.elsewhere if each.kind != UNNAMED]
    assert [(each.tree, each.step, each.old, each.new) for each in named] == [(fork.tree, fork.step, fork.to, instead)]
    step = tree.named[fork.step]
    if isinstance(step, Decide) and step.table is not None:
        assert named[0].combinations == combinations_of(step.table, fork.row)
    assert (found.steps, found.changed, found.figures) == ([], [], [])


def test_two_calls_of_one_tree_are_not_taken_for_each_other(bundled: Library) -> None:
    """Sent where the other one leads, a call says the same as that other."""
    way = "under-a-high-head", "go-hidden-blockage", "nothing seen"
    fork = next(fork for fork, _ in SENT_ELSEWHERE if fork.way == way)
    other = "cleaned-under-a-suction-that-is-on"
    tree = retargeted(bundled.trees["under-a-high-head"], fork, other)
    found = difference(bundled, replace(bundled, trees={**bundled.trees, "under-a-high-head": tree}))
    assert [(each.step, each.new) for each in found.elsewhere] == [("go-hidden-blockage", other)]
    assert found.steps == []


def combinations_of(table: Table, source: str) -> int:
    row = next(row for row in table.rows if row.source == source)
    many = 1
    for cell, domain in zip(row.cells, table.domains, strict=True):
        many *= len(domain) + 1 if cell is None else len(cell)
    return many


def test_a_row_that_leads_elsewhere(library: Library) -> None:
    (named,) = difference(library, small(("      low: go round", "      low: never-came-up"))).elsewhere
    assert (named.tree, named.step, named.kind, named.by) == ("small", "what-now", ROW, ("suction-level",))
    assert (named.row, named.words) == ("low", "suction level low")
    assert (named.old, named.new, named.combinations) == ("go round", "never-came-up", 1)


def test_what_is_not_known_is_told_apart(library: Library) -> None:
    """Low or high, both went round; now that they part, a level that is not known has no place to go."""
    alike = edited(("small.yaml", "      low: go round\n", "      low: came-up\n"), partial=True)
    told = {(each.kind, each.row): (each.old, each.new, each.new_step) for each in difference(alike, library).elsewhere}
    assert told == {
        (ROW, "low"): ("came-up", "go round", ""),
        (UNNAMED, "unknown"): ("came-up", LEFT_OPEN, "cannot-say"),
    }


def test_what_can_not_stay_open_is_not_told_of_as_open() -> None:
    """Without a way for it the proofs have shown that the level is known."""
    without = ("small.yaml", "unsettled: cannot-say\n", "")
    alike = edited(without, ("small.yaml", "      low: go round\n", "      low: came-up\n"), partial=True)
    (told,) = difference(alike, edited(without, partial=True)).elsewhere
    assert (told.kind, told.row) == (ROW, "low")


def test_ways_of_other_steps(library: Library) -> None:
    new = small(
        ("  when rounds run out: never-came-up", "  when rounds run out: over-the-plate"),
        ("    couldn't: no-scale\n  - wait", "    couldn't: cannot-say\n  - wait"),
        ("  when net is above nameplate-charge: over-the-plate", "  when net is above nameplate-charge: never-came-up"),
        ("unsettled: cannot-say", "unsettled: no-scale"),
        ("  offer: small\n", ""),
    )
    told = {(each.step, each.kind, each.row): (each.old, each.new) for each in difference(library, new).elsewhere}
    assert told == {
        ("", WAY, "unsettled"): ("cannot-say", "no-scale"),
        ("add", WAY, "when rounds run out"): ("never-came-up", "over-the-plate"),
        ("add", LINE, "when net is above nameplate-charge"): ("over-the-plate", "never-came-up"),
        ("ask-scale-2", WAY, "couldn't"): ("no-scale", "cannot-say"),
        ("it-is-well", WAY, "offer"): ("small", None),
    }


STOPPED = "    fan is stopped: fan-is-dead\n"
DOOR = "    door is yes: carry on\n"
RUNNING = "    fan is running: it-is-well\n"
def test_the_trees_own_way_for_what_stays_open_need_not_be_named(library: Library) -> None:
    named = small(("  by: suction-level\n  must", "  by: suction-level\n  unsettled: cannot-say\n  must"))
    assert difference(library, named).elsewhere == []
    other = small(("  by: suction-level\n  must", "  by: suction-level\n  unsettled: no-scale\n  must"))
    for old in (library, named):
        (told,) = difference(old, other).elsewhere
        assert (told.step, told.row, told.old, told.new) == ("is-it-low", "unsettled", "cannot-say", "no-scale")
    (back,) = difference(other, library).elsewhere
    assert (back.old, back.new) == ("no-scale", "cannot-say")


LINES = f"- decide: fan-first\n  first of:\n{STOPPED}{DOOR}{RUNNING}    otherwise: carry on\n"


def in_lines(*changes: tuple[str, str]) -> Library:
    rows = "- decide: fan-first\n  by: fan\n  rows:\n    running: carry on\n    stopped: fan-is-dead\n"
    lines = LINES
    for old, new in changes:
        assert old in lines
        lines = lines.replace(old, new, 1)
    return edited(("small.yaml", rows, lines), partial=True)


def test_lines_by_their_tests() -> None:
    old = in_lines()
    new = in_lines((RUNNING, "    fan is running: carry on\n"), (DOOR, ""))
    told = [(each.kind, each.row, each.old, each.new) for each in difference(old, new).elsewhere]
    assert told == [(LINE, "door is yes", "carry on", None), (LINE, "fan is running", "it-is-well", "carry on")]


def test_lines_in_another_order_only_where_it_can_matter() -> None:
    (told,) = difference(in_lines(), in_lines((STOPPED, ""), (DOOR, DOOR + STOPPED))).elsewhere
    assert (told.kind, told.words) == (ORDER, "door is yes now stands above fan is stopped")
    last = in_lines((DOOR, ""), (RUNNING, RUNNING + DOOR))
    first = in_lines((DOOR, ""), (STOPPED, ""), (RUNNING, RUNNING + STOPPED + DOOR))
    assert difference(last, first).nothing, "a fan can't be both running and stopped"


def test_a_decide_by_tests_that_was_a_table(library: Library) -> None:
    found = difference(library, in_lines())
    assert found.elsewhere == []
    assert found.changed == [Changed("small/fan-first", "by", "by fan", "first of")]


def test_steps_renamed_and_moved(library: Library) -> None:
    door, plate = "- ask: door\n", "- ask: nameplate-charge\n  couldn't: no-plate\n"
    new = small(
        (f"{door}{plate}", f"{plate}{door}"),
        ("- finding: over-the-plate", "- finding: past-the-plate"),
        ("nameplate-charge: over-the-plate", "nameplate-charge: past-the-plate"),
    )
    found = difference(library, new)
    assert [(step.step, step.change, step.was) for step in found.steps] == [
        ("past-the-plate", RENAMED, "over-the-plate"),
        ("ask-nameplate-charge", MOVED, ""),
    ]
    assert found.elsewhere == [], "a way to a step of another name is the same way"
    assert found.names == {"small": {"over-the-plate": "past-the-plate"}}
    back = difference(new, library)
    assert {step.change for step in back.steps} == {RENAMED, MOVED}


def test_a_step_put_between_is_new_and_sends_nobody_elsewhere(library: Library) -> None:
    more = small(("- ask: door\n", "- ask: door\n- caution: gloves\n"))
    found = difference(library, more)
    assert [(step.step, step.change, step.does) for step in found.steps] == [("caution-gloves", NEW, "caution")]
    assert found.elsewhere == []
    assert [(step.step, step.change) for step in difference(more, library).steps] == [("caution-gloves", GONE)]


def test_a_made_name_that_shifts_is_not_told(library: Library) -> None:
    """The second `ask: scale` of the page becomes the third where one is put above."""
    more = small(("- decide: is-it-low", "- ask: box-wanted\n- ask: box-wanted\n- decide: is-it-low"))
    once = small(("- decide: is-it-low", "- ask: box-wanted\n- decide: is-it-low"))
    found = difference(once, more)
    assert [step.change for step in found.steps] == [NEW]


def test_words_to_read_and_the_rest(library: Library) -> None:
    new = small(
        ("  tell: Cylinder on the scale.", "  tell: Stand the cylinder on the scale."),
        ("  at most: 3 rounds", "  at most: 4 rounds"),
        ("- ask: fan, box-wanted", "- ask: fan"),
        ("title: A small circuit", "title: One small circuit"),
    )
    assert set(difference(library, new).changed) == {
        Changed("small", "title", "A small circuit", "One small circuit", read=True),
        Changed("small/connect", "tell", "Cylinder on the scale.", "Stand the cylinder on the scale.", read=True),
        Changed("small/add", "at most", "3", "4"),
        Changed("small/ask-fan", "ask", "fan, box-wanted", "fan"),
    }


def test_trees_that_came_and_went(library: Library) -> None:
    more = {**texts(), "other.yaml": "tree: other\ntitle: Other\nedition: 1\nof: circuit\nsteps:\n- back: seen\n"}
    found = difference(library, Library.from_texts(more, partial=True))
    assert [(tree.tree, tree.change, tree.new_edition) for tree in found.trees] == [("other", NEW, "1")]
    found = difference(Library.from_texts(more, partial=True), library)
    assert [(tree.tree, tree.change, tree.old_edition) for tree in found.trees] == [("other", GONE, "1")]


def test_another_edition_alone_is_told(library: Library) -> None:
    found = difference(library, small(("edition: 1", "edition: 2")))
    assert not found.nothing
    assert [(tree.old_edition, tree.new_edition) for tree in found.trees] == [("1", "2")]


def test_the_catalogue(library: Library) -> None:
    more = "\nearmuffs:\n  say: Cover your ears.\n"
    path = "catalogue/cautions.yaml"
    found = difference(library, Library.from_texts({**texts(), path: texts()[path] + more}))
    assert found.entries == [Entry("cautions", "earmuffs", NEW)]


def test_a_figure_and_who_uses_it(bundled: Library, tmp_path: Path) -> None:
    figure = bundled.catalogue.figures["suction-band"]
    assert figure.value is not None
    doubled = replace(figure, value=replace(figure.value, si=figure.value.si * 2, typed="10 dF"))
    catalogue = replace(bundled.catalogue, figures={**bundled.catalogue.figures, "suction-band": doubled})
    (change,) = difference(bundled, replace(bundled, catalogue=catalogue)).figures
    assert (change.figure, change.values) == ("suction-band", (Value("", figure.value.typed, "10 dF"),))
    assert UsedBy("one-set/suction-level", "judge") in change.used_by
    assert UsedBy("charge-test/what-it-did", "decide", ("suction-level",)) in change.used_by
    assert not any(use.at.endswith("/settle") for use in change.used_by), "no wait hangs on it"


def test_a_wait_uses_its_figure(bundled: Library) -> None:
    figure = bundled.catalogue.figures["settle-time"]
    without = {name: each for name, each in bundled.catalogue.figures.items() if name != "settle-time"}
    gone = replace(bundled, catalogue=replace(bundled.catalogue, figures=without))
    (change,) = difference(bundled, gone).figures
    assert change.change == GONE
    assert UsedBy("charge-test/settle", "wait") in change.used_by
    assert figure.id == change.figure


def test_a_row_of_a_figure(bundled: Library) -> None:
    figure = bundled.catalogue.figures["evaporator-td"]
    assert figure.table is not None
    rows = tuple(replace(row, to="14 dF") if row.to == "12 dF" else row for row in figure.table.rows)
    values = {**figure.values, "14 dF": replace(figure.values["12 dF"], si=figure.values["12 dF"].si * 14 / 12)}
    other = replace(figure, table=replace(figure.table, rows=rows), values=values)
    catalogue = replace(bundled.catalogue, figures={**bundled.catalogue.figures, figure.id: other})
    (change,) = difference(bundled, replace(bundled, catalogue=catalogue)).figures
    assert change.values == (Value("reach-in freezer", "12 dF", "14 dF"),)
