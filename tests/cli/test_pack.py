"""`lowside pack` and `lowside install`: from a trainer's folder to what a technician walks, and what stops it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tui.cli.libraries import load, usual_folders
from tui.cli.pack import _that_may_differ
from tui.cli.preferences import settings
from tui.cli.walk import begun
from tui.desk.installed import installed
from tui.desk.pack import manifest_of, packed, texts_of
from tui.tree.bundled import bundled_trees

ANSWERS = """\
tree: door-check
site: {altitude: 300 ft}
visit: {unit: K-12}
circuits: {main: {door-closes: yes, box-wanted: 38 °F, box-air: 60 °F}}
"""


@pytest.fixture
def mine(lowside: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a new tree, in the current folder."""
    monkeypatch.chdir(tmp_path)
    assert lowside("new", "door-check", "--in", "my-trees").code == 0
    return tmp_path / "my-trees"


def pack(lowside: Command, edition: int, *more: str) -> str:
    name = f"trees-edition-{edition}.zip"
    done = lowside("pack", "my-trees", "--edition", edition, "--date", "2026-11-30", *more)
    assert done.code == 0, done.out + done.err
    assert f"Written: {name}, edition {edition} of 2026-11-30" in done.out
    return name


def change(tree: Path, old: str, new: str) -> None:
    text = tree.read_text(encoding="utf-8")
    assert old in text
    tree.write_text(text.replace(old, new), encoding="utf-8")


def installed_tree(home: Path) -> Path:
    (tree,) = home.glob("library/*/door-check.yaml")
    return tree


def test_packed_installed_and_walked_it_stands_in_the_record_and_on_the_sheet(
    lowside: Command, home: Path, mine: Path
) -> None:
    name = pack(lowside, 1, "--approved-by", "lead-2")
    done = lowside("install", name)
    assert done.code == 0
    assert "edition 1 of 2026-11-30; approved by lead-2; door-check 1" in done.out
    (mine.parent / "a.yaml").write_text(ANSWERS, encoding="utf-8")
    assert lowside("walk", "--answers", "a.yaml", "--log", "visit.jsonl").code == 0
    opened = json.loads(Path("visit.jsonl").read_text(encoding="utf-8").splitlines()[0])
    (laid,) = opened["laid_over"]
    assert (laid["name"], laid["edition"], laid["approved_by"], laid["changed"]) == ("installed", 1, "lead-2", [])
    assert laid["trees"] == {"door-check": "1"}
    assert str(home) not in json.dumps(opened)
    assert lowside("replay", "visit.jsonl").code == 0
    sheet = " ".join(lowside("sheet", "visit.jsonl").out.split())
    assert "edition 1 of 2026-11-30; approved by lead-2; digest " + laid["digest"][:12] in sheet


def test_own_trees_lie_over_installed_ones_and_are_named_as_approved_by_nobody(
    lowside: Command, home: Path, mine: Path
) -> None:
    lowside("install", pack(lowside, 1, "--approved-by", "lead-2"))
    lowside("new", "door-check", "--copy")
    change(home / "trees" / "door-check.yaml", "edition: 1", "edition: 7")
    (mine.parent / "a.yaml").write_text(ANSWERS, encoding="utf-8")
    assert lowside("walk", "--answers", "a.yaml", "--log", "visit.jsonl").code == 0
    events = [json.loads(line) for line in Path("visit.jsonl").read_text(encoding="utf-8").splitlines()]
    assert [(each["name"], each["trees"]["door-check"]) for each in events[0]["laid_over"]] == [
        ("installed", "1"),
        ("own", "7"),
    ]
    assert next(event["edition"] for event in events if event["event"] == "entered") == "7"
    assert "own trees, approved by nobody" in " ".join(lowside("sheet", "visit.jsonl").out.split())


def test_it_is_told_at_the_beginning_of_a_visit(lowside: Command, home: Path, mine: Path) -> None:
    lowside("install", pack(lowside, 1, "--approved-by", "lead-2"))
    visit, notices = begun(load(usual_folders()), settings(), "K-12", "door-check", "visit.jsonl")
    visit.leave()
    assert notices[0].startswith("Installed trees, edition 1 of 2026-11-30; approved by lead-2; door-check 1;")


def test_without_trees_of_ones_own_nothing_is_said(lowside: Command, tmp_path: Path) -> None:
    answers = Path(__file__).resolve().parents[1] / "answers" / "ice.yaml"
    assert lowside("walk", "--answers", answers, "--log", tmp_path / "visit.jsonl").code == 0
    assert "laid_over" not in json.loads((tmp_path / "visit.jsonl").read_text(encoding="utf-8").splitlines()[0])


def test_an_older_edition_needs_again(lowside: Command, home: Path, mine: Path) -> None:
    first = pack(lowside, 1)
    change(mine / "door-check.yaml", "edition: 1", "edition: 2")
    lowside("install", pack(lowside, 2))
    done = lowside("install", first)
    assert done.code == 2
    assert "edition 1 of 2026-11-30 is older than what is installed, edition 2" in done.err
    assert "--again" in done.err
    assert "edition: 2" in installed_tree(home).read_text(encoding="utf-8")
    assert lowside("install", first, "--again").code == 0
    assert "edition: 1" in installed_tree(home).read_text(encoding="utf-8")


def test_another_text_with_the_same_number_is_refused(lowside: Command, home: Path, mine: Path) -> None:
    lowside("install", pack(lowside, 1))
    Path("trees-edition-1.zip").unlink()
    change(mine / "door-check.yaml", "Look at the door.", "Look at the door and its hinges.")
    done = lowside("install", pack(lowside, 1))
    assert done.code == 2
    assert "edition 1 is installed already, with another text" in done.err


def test_the_same_once_more_changes_nothing(lowside: Command, home: Path, mine: Path) -> None:
    name = pack(lowside, 1)
    lowside("install", name)
    before = installed_tree(home).stat().st_mtime_ns
    done = lowside("install", name)
    assert (done.code, done.out) == (0, "Edition 1 is installed already. Nothing was changed.\n")
    assert installed_tree(home).stat().st_mtime_ns == before


def test_an_installed_tree_changed_by_hand_is_approved_by_nobody(lowside: Command, home: Path, mine: Path) -> None:
    name = pack(lowside, 1, "--approved-by", "lead-2")
    lowside("install", name)
    change(installed_tree(home), "Look at the door.", "Look at the door and its hinges.")
    (mine.parent / "a.yaml").write_text(ANSWERS, encoding="utf-8")
    lowside("walk", "--answers", "a.yaml", "--log", "visit.jsonl")
    opened = json.loads(Path("visit.jsonl").read_bytes().splitlines()[0])
    assert opened["laid_over"][0]["changed"] == ["door-check.yaml"]
    sheet = " ".join(lowside("sheet", "visit.jsonl").out.split())
    assert "CHANGED SINCE THEY WERE INSTALLED, approved by nobody (door-check.yaml)" in sheet
    assert "lead-2" not in sheet
    done = lowside("install", name)
    assert done.code == 2
    assert "was changed since: door-check.yaml" in done.err
    assert lowside("install", name, "--again").code == 0
    assert "hinges" not in installed_tree(home).read_text(encoding="utf-8")


def test_what_does_not_hold_is_not_packed(lowside: Command, mine: Path) -> None:
    change(mine / "door-check.yaml", "    yes, high: box-is-warm\n", "")
    done = lowside("pack", "my-trees", "--edition", 1)
    assert done.code == 1
    assert "gap: No row holds for" in done.out
    assert "These trees do not hold" in done.out
    assert not list(Path().glob("*.zip"))


def test_what_does_not_hold_is_not_installed(lowside: Command, home: Path, mine: Path) -> None:
    """A pack that another lowside, or nobody, has proven."""
    lowside("install", pack(lowside, 1))
    change(mine / "door-check.yaml", "    yes, high: box-is-warm\n", "")
    texts = texts_of(mine)
    Path("two.zip").write_bytes(packed(manifest_of(texts, 2, "2026-11-30", ""), texts))
    done = lowside("install", "two.zip")
    assert done.code == 1
    assert "gap: No row holds for" in done.out
    assert "so nothing was installed" in done.out
    assert "high: box-is-warm" in installed_tree(home).read_text(encoding="utf-8")
    assert len(list((home / "library").iterdir())) == 2, "the one before, and what says that it counts"


def test_own_trees_that_do_not_fit_are_named(lowside: Command, home: Path, mine: Path) -> None:
    (home / "trees").mkdir(parents=True)
    (home / "trees" / "caller.yaml").write_text(
        "tree: caller\ntitle: Calls\nedition: 1\nof: circuit\nsteps:\n- go: not-there\n", encoding="utf-8"
    )
    done = lowside("install", pack(lowside, 1))
    assert done.code == 1
    assert f"your own trees in {home / 'trees'} do not fit over them" in done.out


def test_a_pack_is_never_written_over(lowside: Command, mine: Path) -> None:
    pack(lowside, 1)
    done = lowside("pack", "my-trees", "--edition", 1)
    assert done.code == 2
    assert "is there already" in done.err


def test_the_next_number_is_one_above_what_is_installed(lowside: Command, mine: Path) -> None:
    lowside("install", pack(lowside, 4))
    assert "edition 5 of" in lowside("pack", "my-trees").out


def test_installed_trees_that_are_gone_are_told_with_the_cure(lowside: Command, home: Path, mine: Path) -> None:
    import shutil

    name = pack(lowside, 1)
    lowside("install", name)
    shutil.rmtree(installed_tree(home).parent)
    done = lowside("check")
    assert done.code == 2
    assert "the installed trees are gone" in done.err
    assert "--again" in done.err
    assert lowside("install", name, "--again").code == 0
    assert lowside("check").code == 0
    (home / "library" / "installed.json").write_text("{", encoding="utf-8")
    assert "can't be read" in lowside("check").err


@pytest.mark.parametrize(
    ("arguments", "code"), [(("pack", "nowhere"), 2), (("install", "nowhere.zip"), 2), (("pack", "--edition", "0"), 2)]
)
def test_what_cant_be_is_told(lowside: Command, mine: Path, arguments: tuple[str, ...], code: int) -> None:
    done = lowside(*arguments)
    assert done.code == code
    assert done.err


def test_when_the_power_goes_before_it_counts_the_one_before_is_walked(
    lowside: Command, home: Path, mine: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lowside("install", pack(lowside, 1))
    change(mine / "door-check.yaml", "edition: 1", "edition: 2")
    second = pack(lowside, 2)
    with monkeypatch.context() as cut:
        cut.setattr("tui.cli.install._hold", gone)
        with pytest.raises(PowerGone):
            lowside("install", second)
    assert len(list(home.glob("library/*/door-check.yaml"))) == 2
    one = installed(home / "library")
    assert one is not None
    assert (one.manifest.edition, one.changed()) == (1, ())
    assert lowside("install", second).code == 0
    assert "edition: 2" in installed_tree(home).read_text(encoding="utf-8"), "what was left over is gone"


class PowerGone(Exception):
    """The power went here."""


def gone(*_: object) -> bool:
    raise PowerGone


def test_what_can_come_into_no_changed_tree_is_spared_and_nothing_else(lowside: Command, mine: Path) -> None:
    library = load([bundled_trees(), mine])
    assert _that_may_differ(library, mine) == {"door-check"}
    lowside("new", "gas-check", "--copy", "--in", "my-trees")
    library = load([bundled_trees(), mine])
    assert {"gas-check", "both-low", "call", "door-check"} <= _that_may_differ(library, mine)
    (mine / "catalogue").mkdir()
    (mine / "catalogue" / "causes.yaml").write_text("", encoding="utf-8")
    assert _that_may_differ(library, mine) == set(library.trees)
