"""A library as a whole: folders laid over each other, texts that rebuild it, and one cause told once."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from tui.quantity import Kind
from tui.tree.bundled import bundled_trees
from tui.tree.embed import Parts, parts_of
from tui.tree.library import BrokenLibrary, Library
from tui.tree.model import Decide, Do, FindingStep, Go, Is, Judge, Repeat, WorkOut

HERE = Path(__file__).parents[1] / "fuzz" / "library"


def texts() -> dict[str, str]:
    return {file.relative_to(HERE).as_posix(): file.read_text("utf-8") for file in sorted(HERE.rglob("*.yaml"))}


def told(changed: dict[str, str | None]) -> list[str]:
    """``path:line:column: code: message`` of the small library with these texts in their place."""
    now = {path: text for path, text in {**texts(), **changed}.items() if text is not None}
    try:
        problems = list(Library.from_texts(now).problems)
    except BrokenLibrary as broken:
        problems = broken.problems
    return [
        f"{p.spot.path}:{p.spot.line}:{p.spot.column}: {p.code}: {p.message}" for p in problems if p.code != "no-next"
    ]


def swapped(path: str, old: str, new: str) -> dict[str, str | None]:
    text = texts()[path]
    assert text.count(old) == 1
    return {path: text.replace(old, new)}


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.load(HERE)


# ---- what is read


def test_trees(library: Library) -> None:
    assert list(library.trees) == ["call", "circuit", "look"]
    circuit = library.trees["circuit"]
    assert (circuit.title, circuit.edition, circuit.of, circuit.unsettled) == (
        "One circuit",
        "1",
        "circuit",
        "cannot-say",
    )
    assert library.trees["look"].outcomes == ("taken", "swinging")
    assert circuit.digest == hashlib.sha256((HERE / "circuit.yaml").read_bytes()).hexdigest()


def test_ids_of_steps(library: Library) -> None:
    named = library.trees["circuit"].named
    assert list(named) == [
        *("ask-refrigerant", "caution-gloves", "go-look", "is-it-low", "connect", "ask-scale", "add", "add-some"),
        *("ask-scale-2", "settle", "go-look-2", "net-added", "what-now", "was-short", "is-well", "cannot-say"),
    ]
    assert [name for name, step in named.items() if not step.labelled] == [
        *("ask-refrigerant", "caution-gloves", "go-look", "ask-scale", "ask-scale-2", "go-look-2"),
    ]
    assert named["add-some"].path == (6, 0)
    assert (named["add-some"].spot.line, named["add-some"].spot.column) == (28, 5)


def test_typed_steps(library: Library) -> None:
    circuit, look = library.trees["circuit"].named, library.trees["look"].named
    net, level, old = circuit["net-added"], look["suction-level"], look["old"]
    assert isinstance(net, WorkOut)
    assert isinstance(level, Judge)
    assert isinstance(old, Judge)
    assert (net.kind, level.sides, old.sides) == (Kind.MASS, ("low", "on", "high"), ("on", "high"))
    decide, add = circuit["is-it-low"], circuit["add"]
    assert isinstance(decide, Decide)
    assert decide.table is not None
    assert decide.must_be_settled
    assert decide.table.domains == (("running", "stopped"), ("low", "on", "high"))
    assert [row.to for row in decide.table.rows] == ["carry on", "is-well", "cannot-say"]
    assert isinstance(add, Repeat)
    assert (add.most, add.out, [line.to for line in add.stops]) == (3, "cannot-say", ["cannot-say"])
    finding, go = circuit["cannot-say"], library.trees["call"].named["go-circuit"]
    assert isinstance(finding, FindingStep)
    assert finding.could_be == ("short-of-charge", "refrigeration-is-well")
    assert isinstance(go, Go)
    assert go.each_circuit


def test_catalogue(library: Library) -> None:
    catalogue = library.catalogue
    charge, door = catalogue.readings["nameplate-charge"], catalogue.readings["power"]
    assert (charge.low, charge.high, charge.unit, charge.remembered) == (0.01, 500.0, "oz", True)
    assert (door.kind, door.answers, door.of) == (Kind.YES_NO, ("yes", "no"), "unit")
    oil = catalogue.readings["oil"].good_for
    assert oil is not None
    assert oil.si == 1800
    adds = catalogue.works["adds refrigerant"]
    assert adds.changes == ("needles", "suction", "scale")  # the group `running readings`, spread out
    assert adds.after_work == (("connects a cylinder",),)
    assert [isinstance(test, Is) for test in adds.only_if] == [True]
    td, settle = catalogue.figures["evaporator-td"], catalogue.figures["settle-time"]
    assert td.table is not None
    assert settle.table is not None
    assert {row.to: td.values[row.to].si for row in td.table.rows} == {
        "20 dF": pytest.approx(100 / 9),
        "10 dF": pytest.approx(50 / 9),
    }
    assert settle.table.columns == ("equipment", "fan")
    assert catalogue.places.kinds == {"place-metal": ("copper", "steel"), "place-how": ()}
    assert catalogue.places.lists["leak-places"].rows[0].to == "process tube, drier joints"


# ---- texts that rebuild it


@pytest.mark.parametrize("folder", [HERE, bundled_trees()], ids=["small", "bundled"])
def test_each_tree_is_rebuilt_from_what_it_uses(folder: Path) -> None:
    library = Library.load(folder)
    for name, tree in library.trees.items():
        entries: dict[str, dict[str, str]] = {}
        for section, entry in tree.uses:
            entries.setdefault(section, {})[entry] = library.entry_text(section, entry)
        again = Library.from_texts(Parts({name: tree.text}, entries).texts(), partial=True)
        assert list(again.trees) == [name]
        assert again.trees[name].uses == tree.uses
        assert list(again.trees[name].named) == list(tree.named)
        needed = [each for each in tree.uses if each[0] not in ("causes", "doubts")]  # those go with every tree
        if not needed:  # a tree that only sends on to others
            continue
        section, entry = needed[0]
        del entries[section][entry]
        with pytest.raises(BrokenLibrary):
            Library.from_texts(Parts({name: tree.text}, entries).texts(), partial=True)


def test_the_whole_is_rebuilt_with_the_same_digest(library: Library) -> None:
    assert Library.from_texts(parts_of(library).texts()).digest == library.digest


def test_the_digest_tells_every_change(library: Library) -> None:
    for path, text in texts().items():
        changed = text.replace("say: ", "say: Now - ", 1) if "say: " in text else text.replace("1", "2", 1)
        if changed != text:
            try:
                assert Library.from_texts({**texts(), path: changed}).digest != library.digest
            except BrokenLibrary:
                continue


def test_entry_text_leaves_out_what_belongs_to_the_next_entry() -> None:
    more = texts()["catalogue/cautions.yaml"] + "\n# --- of the cold\nice:\n  say: Cold.\n\n# end\n...\n"
    library = Library.from_texts({**texts(), "catalogue/cautions.yaml": more})
    assert library.entry_text("cautions", "flammable").endswith("say: No flame, no switch.\n")
    assert library.entry_text("cautions", "ice") == "ice:\n  say: Cold.\n"


def test_examples_and_other_files_are_not_trees(library: Library) -> None:
    more = {"examples/x.yaml": "a: b", "notes.txt": "hello", "old/call.yaml": "a: b"}
    assert Library.from_texts({**texts(), **more}).digest == library.digest


# ---- folders


def laid(tmp_path: Path, files: dict[str, str]) -> Path:
    for path, text in files.items():
        file = tmp_path / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, "utf-8")
    return tmp_path


def problems_in(*folders: Path) -> list[str]:
    try:
        problems = list(Library.load(*folders).problems)
    except BrokenLibrary as broken:
        problems = broken.problems
    return [f"{Path(p.spot.path).name}: {p.severity}: {p.code}: {p.message}" for p in problems if p.code != "no-next"]


def test_later_folders_override(tmp_path: Path) -> None:
    own = laid(
        tmp_path,
        {
            "call.yaml": texts()["call.yaml"].replace("edition: 1", "edition: 2"),
            "catalogue/figures.yaml": "suction-band: {kind: temperature difference, is: 7 dF, from: own}\n",
        },
    )
    library = Library.load(HERE, own)
    assert library.trees["call"].edition == "2"
    assert library.trees["circuit"].edition == "1"
    band = library.catalogue.figures["suction-band"]
    assert band.value is not None
    assert band.value.typed == "7 dF"
    assert "settle-time" in library.catalogue.figures
    assert library.entry_text("figures", "suction-band").endswith("from: own}\n")


def test_folders_that_are_none(tmp_path: Path) -> None:
    file = laid(tmp_path, {"f.yaml": "a: b\n"}) / "f.yaml"
    assert problems_in(tmp_path / "no") == ["no: error: not-found: There is no such folder."]
    assert problems_in(file) == ["f.yaml: error: not-a-file: This is a file; a folder was expected."]
    (tmp_path / "empty").mkdir()
    assert problems_in(tmp_path / "empty") == ["empty: error: not-found: There is no tree in this folder."]


def test_a_folder_without_right(monkeypatch: pytest.MonkeyPatch) -> None:
    def no(path: object) -> object:
        raise PermissionError(13, "no")

    monkeypatch.setattr(os, "scandir", no)
    assert problems_in(HERE)[0] == "library: error: no-right: You have no right to look into this folder."


def test_files_of_another_ending(tmp_path: Path) -> None:
    own = laid(
        tmp_path, {"call.yml": "a: b", ".call.yaml": "a: b", "#call.yaml": "a: b", "call.yaml~": "a", "call": "a"}
    )
    assert problems_in(HERE, own) == [
        "call.yml: warning: not-a-file: This file is not read: a tree's name ends in `.yaml`."
    ]


def test_a_folder_called_like_a_tree(tmp_path: Path) -> None:
    (tmp_path / "call.yaml").mkdir()
    assert problems_in(HERE, tmp_path) == [
        "call.yaml: error: not-a-file: This is a folder; a file was expected.",
    ]
    with pytest.raises(BrokenLibrary) as broken:
        Library.load(HERE, tmp_path)
    assert broken.value.cure == "Rename it, or take it out: what ends in `.yaml` is read."


def test_a_catalogue_file_that_is_none(tmp_path: Path) -> None:
    own = laid(tmp_path, {"catalogue/reading.yaml": "a: {kind: mass}\n"})
    assert problems_in(HERE, own) == ["reading.yaml: error: unknown-section: A catalogue has no `reading`."]


# ---- one cause, told once


def test_a_catalogue_file_that_cannot_be_read_is_told_once() -> None:
    for section in ("readings", "figures", "work", "causes", "cautions", "instruments", "left-on", "places"):
        found = told({f"catalogue/{section}.yaml": "a: [\n"})
        assert [problem.split(": ")[1] for problem in found] == ["bad-yaml"], section


def test_a_tree_that_cannot_be_read_is_told_once() -> None:
    assert told({"look.yaml": "tree: look\ntitle: a: b\n"}) == [
        "look.yaml:2:9: bad-yaml: A colon with a blank after it can't stand here."
    ]


def test_a_tree_that_is_missing_is_told_where_it_is_named() -> None:
    assert told({"look.yaml": None}) == [
        "circuit.yaml:10:7: no-such-tree: There is no tree `look`. The same in line 35.",
    ]


def test_a_reading_of_an_unknown_kind_is_told_once() -> None:
    assert told(swapped("catalogue/readings.yaml", "kind: gauge pressure", "kind: gage pressure")) == [
        "catalogue/readings.yaml:17:32: unknown-kind: `gage pressure` is no kind."
    ]


def test_a_broken_result_is_told_once() -> None:
    assert told(swapped("circuit.yaml", "(first(scale) - scale) / 1 + 0 g", "(first(scale) - scale) / 1 + 0 dF")) == [
        "circuit.yaml:40:36: wrong-kind: `(first(scale) - scale) / 1 + 0 dF`: "
        "A temperature difference can't be added to a mass."
    ]


def test_several_problems_in_one_run() -> None:
    both = {
        **swapped("call.yaml", "no: no-power", "no: no-pwoer"),
        **swapped("catalogue/work.yaml", "leaves: cylinder on", "leaves: cylinder in"),
        **swapped("look.yaml", "on to: 3650 d", "on to: 3650 days ago"),
    }
    assert told(both) == [
        "call.yaml:13:9: no-such-step: There is no step `no-pwoer` in this tree.",
        "catalogue/work.yaml:5:11: unknown-name: There is no thing left on `cylinder in`.",
        "look.yaml:23:20: bad-expression: `ago` can't stand here.",
    ]


def test_a_wrong_library_says_how_many() -> None:
    with pytest.raises(BrokenLibrary) as broken:
        Library.from_texts({**texts(), "call.yaml": "tree: cal\n", "look.yaml": "tree: look\n"})
    assert broken.value.code == "broken-trees"
    assert "(and " in broken.value.message


# ---- ways, results, ends


TREE = "tree: look\ntitle: T\nedition: 1\nof: circuit\n{head}steps:\n- ask: needles, equipment\n{steps}"
ENDS = "- back: taken\n  name: end\n- back: swinging\n  name: other\n"


def told_of(steps: str, head: str = "") -> list[str]:
    found = told({"look.yaml": TREE.format(head=head, steps=steps)})
    return [problem.removeprefix("look.yaml:") for problem in found if problem.startswith("look.yaml:")]


def test_a_default_way_must_lie_below_every_decide_that_needs_it() -> None:
    steps = "- back: swinging\n  name: other\n- decide: d\n  by: needles\n  rows:\n    steady: end\n    swinging: end\n"
    assert told_of(steps + "- back: taken\n  name: end\n", "unsettled: other\n") == [
        "5:12: jumps-up: `d` (line 10) has no `unsettled` of its own, and `other` (line 8) stands above it."
    ]
    assert told_of("- back: taken\n", "unsettled: nowhere\n") == [
        "5:12: no-such-step: There is no step `nowhere` in this tree."
    ]


def test_two_results_of_one_name_are_of_one_kind() -> None:
    steps = (
        "- ask: scale, suction\n- work out: x\n  as: scale + scale\n- work out: x\n  name: again\n  as: x * 2\n"
        "- work out: x\n  name: third\n  as: suction\n" + ENDS
    )
    assert [problem for problem in told_of(steps) if "wrong-kind" in problem] == [
        "13:13: wrong-kind: `x` is a gauge pressure here, and a mass in line 8."
    ]


def test_the_words_of_a_result_are_those_of_all_steps_that_give_it() -> None:
    steps = (
        "- ask: suction\n- judge: x\n  compare: suction\n  on to: 5 psig\n"
        "- judge: x\n  name: again\n  compare: suction\n  on from: 5 psig\n"
        "- decide: d\n  by: x\n  rows:\n    low or on: end\n" + ENDS
    )
    assert [problem for problem in told_of(steps) if "gap" in problem] == ["17:3: gap: No row holds for `high`."]


def test_results_that_hang_on_themselves() -> None:
    assert [p for p in told_of("- work out: x\n  as: y + 1\n- work out: y\n  as: x + 1\n" + ENDS) if "ring" in p] == [
        "7:13: in-a-ring: `x` is worked out from itself."
    ]
    chain = "".join(f"- work out: r{n}\n  as: r{n + 1} + 1\n" for n in range(400)) + "- work out: r400\n  as: 3\n"
    assert "too-deep" in told_of(chain + ENDS)[0]


def test_a_finding_goes_on_or_offers() -> None:
    steps = "- finding: f\n  cause: short-of-charge\n  seen: x\n  next: y\n  go on: circuit\n  offer: circuit\n"
    assert told_of(steps)[0] == "12:3: unknown-key: A finding with `go on` has no `offer`: it goes on by itself."


def test_what_is_still_true_is_said_of_an_offer() -> None:
    steps = "- finding: f\n  cause: short-of-charge\n  seen: x\n  next: y\n  still true: yes\n"
    assert told_of(steps)[0] == "7:3: missing-key: A step `finding` has no `offer`."


def test_a_list_names_nothing_twice() -> None:
    assert told_of("- caution: gloves, gloves\n" + ENDS)[0] == "7:20: duplicate-word: `gloves` stands twice."


# ---- pace


def test_a_library_of_three_thousand_lines_is_read_in_a_moment() -> None:
    """A ratio in one run: reading and typing against libyaml's bare events, both in CPU."""
    import time

    import yaml

    folder = bundled_trees()
    files = [file.read_text("utf-8") for file in [*folder.glob("*.yaml"), *(folder / "catalogue").glob("*.yaml")]]

    def events() -> None:
        for text in files:
            for _ in yaml.parse(text, Loader=yaml.CLoader):
                pass

    def best(act: object) -> float:
        assert callable(act)
        taken = []
        for _ in range(9):
            began = time.process_time()
            act()
            taken.append(time.process_time() - began)
        return min(taken)

    assert best(lambda: Library.read(folder)) < 16 * best(events)


def test_do_has_its_work(library: Library) -> None:
    step = library.trees["circuit"].named["connect"]
    assert isinstance(step, Do)
    assert (step.work, step.once) == ("connects a cylinder", False)
