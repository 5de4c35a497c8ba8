"""`diff` tells what parts two sets of trees; `check --against` holds editions to their texts."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.cli.conftest import Command
from tests.cli.shapes import CHECK, DIFF, shaped
from tests.desk.visits import TO_THE_END, walked
from tests.proof.conftest import ALL_EXAMPLES, WALK_LIBRARY

pytestmark = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed here")

UP_TO_THE_PLATE = ("      on or high: came-up", "      on: never-came-up\n      high: came-up")
FAILS = ("    running: carry on", "    running: carry-on")


@pytest.fixture
def trees(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small library with examples in a folder of its own, which git keeps; the current folder is the one around."""
    around = tmp_path / "kept"
    folder = around / "trees"
    shutil.copytree(WALK_LIBRARY, folder)
    (folder / "examples").mkdir()
    (folder / "examples" / "small.yaml").write_text(ALL_EXAMPLES, "utf-8")
    monkeypatch.chdir(around)
    git("init", "--quiet")
    commit("The trees as they were")
    return folder


def git(*arguments: str) -> None:
    who = {f"GIT_{one}_{part}": "nobody" for one in ("AUTHOR", "COMMITTER") for part in ("NAME", "EMAIL")}
    subprocess.run(["git", *arguments], check=True, capture_output=True, env={**os.environ, **who})


def commit(subject: str) -> None:
    git("add", "--all")
    git("commit", "--quiet", "--message", subject)


def edit(folder: Path, *changes: tuple[str, str], file: str = "small.yaml") -> None:
    text = (folder / file).read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    (folder / file).write_text(text, "utf-8")


@pytest.fixture
def before(trees: Path, tmp_path: Path) -> Path:
    """The trees as they were, in another folder."""
    return shutil.copytree(trees, tmp_path / "before")


# ---- what it tells


def test_nothing_differs(lowside: Command, trees: Path, before: Path) -> None:
    for old, new in ((before, trees), ("HEAD", trees), ("HEAD", "HEAD")):
        done = lowside("diff", old, new)
        assert (done.code, done.err) == (0, "")
        assert "No difference" in done.out
        assert shaped(lowside("diff", old, new, "--json").out, DIFF)["same"] is True


def test_one_row_is_one_line(lowside: Command, trees: Path) -> None:
    edit(trees, UP_TO_THE_PLATE)
    done = lowside("diff", "HEAD", trees)
    assert done.code == 0
    assert "what-now: suction level on: was came-up, now never-came-up\n" in done.out
    assert "1 of 2 examples ends elsewhere." in done.out
    assert "comes-up: was short-of-charge at small/came-up, now drier-blocked at" in done.out
    assert "edition 1 as before: give it another" in done.out
    assert all(len(line) <= 80 for line in done.out.splitlines())


def test_the_same_for_programs(lowside: Command, trees: Path) -> None:
    edit(trees, UP_TO_THE_PLATE)
    found = shaped(lowside("diff", "HEAD", trees, "--json").out, DIFF)
    assert (found["old"], found["new"], found["same"]) == ("HEAD:trees", str(trees), False)
    assert found["elsewhere"] == [
        {
            "tree": "small",
            "step": "what-now",
            "kind": "row",
            "row": "on",
            "words": "suction level on",
            "old": "came-up",
            "new": "never-came-up",
            "by": ["suction-level"],
            "combinations": 1,
            "old_step": "",
            "new_step": "",
        }
    ]
    assert [each["name"] for each in found["examples"]["elsewhere"]] == ["comes-up"]
    assert found["sessions"] is None


def test_everything_at_once_is_told(lowside: Command, trees: Path) -> None:
    edit(
        trees,
        ("edition: 1", "edition: 2"),
        ("  tell: Cylinder on the scale.", "  tell: Stand the cylinder on the scale."),
        ("- ask: door\n", "- ask: door\n- caution: gloves\n"),
        ("      on or high: came-up", "      on or high: it-took-gas"),
        ("- finding: came-up", "- finding: it-took-gas"),
        ("  at most: 3 rounds", "  at most: 4 rounds"),
        ("    running: carry on", "    running: cannot-say"),
    )
    edit(trees, ("is: 5 dF", "is: 7 dF"), file="catalogue/figures.yaml")
    edit(trees, ("Gloves on.", "Gloves and glasses on."), file="catalogue/cautions.yaml")
    done = lowside("diff", "HEAD:trees", trees)
    assert done.code == 2, "the first caution and what follows the fan can't be reached any more"
    edit(trees, ("    running: cannot-say", "    running: carry on"))
    done = lowside("diff", "HEAD:trees", trees)
    for line in (
        "small, edition 1, now 2",
        "  renamed: came-up (finding) is now it-took-gas",
        "  new: caution-gloves (caution)",
        '  connect, tell: was "Cylinder on the scale.", now "Stand the cylinder on the',
        "  add, at most: was 3, now 4",
        '  cautions/gloves, say: was "Gloves on.", now "Gloves and glasses on."',
        "figure band",
        "  was 5 dF, now 7 dF",
        "  used by: judge readings/suction-level",
        "  on that hang: decide small/is-it-low, small/what-now",
        "  Changed alone it ends none of 2 examples elsewhere.",
        "None of 2 examples end elsewhere.",
    ):
        assert line in done.out.splitlines(), done.out
    shaped(lowside("diff", "HEAD:trees", trees, "--json").out, DIFF)


def test_recorded_visits(lowside: Command, trees: Path, tmp_path: Path) -> None:
    sessions = tmp_path / "sessions"
    sessions.mkdir()
    walked(sessions / "2026-11-25T0930-K-12-abcd.jsonl", *TO_THE_END)
    edit(trees, UP_TO_THE_PLATE)
    done = lowside("diff", "HEAD", trees, "--sessions", sessions)
    assert done.code == 0
    assert "1 of 1 recorded visit would have gone another way." in done.out
    assert "small/what-now: was came-up, now" in " ".join(done.out.split())
    (told,) = shaped(lowside("diff", "HEAD", trees, "--sessions", sessions, "--json").out, DIFF)["sessions"]
    assert (told["state"], told["parted"]["at"]) == ("other", "small/what-now")
    (sessions / "other.jsonl").write_text("{}\n", "utf-8")
    done = lowside("diff", "HEAD", trees, "--sessions", sessions)
    assert done.code == 2, "a file could not be looked at"
    assert "other.jsonl" in done.err
    assert "1 of 1 recorded visit" in done.out, "and the others were"


def test_a_folder_without_recorded_visits_is_refused(lowside: Command, trees: Path, tmp_path: Path) -> None:
    for folder, says in ((tmp_path / "nowhere", "no such folder"), (tmp_path, "no recorded visit")):
        done = lowside("diff", "HEAD", trees, "--sessions", folder)
        assert done.code == 2
        assert says in done.err


# ---- which trees


def test_a_broken_side_is_told_as_check_tells_it(lowside: Command, trees: Path, before: Path) -> None:
    edit(trees, FAILS)
    done = lowside("diff", before, trees)
    assert done.code == 2
    assert done.out == ""
    told = next(line for line in lowside("check", trees).out.splitlines() if "no-such-step" in line)
    assert told in done.err.splitlines()
    assert f"The trees of {trees} do not hold, so nothing was compared." in done.err


def test_a_broken_revision_is_told_by_its_own_name(lowside: Command, trees: Path, before: Path) -> None:
    edit(trees, FAILS)
    commit("Broken")
    done = lowside("diff", "HEAD", before)
    assert done.code == 2
    assert done.err.startswith("HEAD:trees/small.yaml:")
    assert "The trees of HEAD:trees do not hold" in done.err


def test_two_revisions_from_any_folder_of_the_repository(
    lowside: Command, trees: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    edit(trees, UP_TO_THE_PLATE)
    commit("Another way")
    for folder in (trees.parent, trees, trees / "examples"):
        monkeypatch.chdir(folder)
        done = lowside("diff", "HEAD~1", "HEAD")
        assert (done.code, done.err) == (0, "")
        assert "From HEAD~1:trees to HEAD:trees:" in done.out
        assert "what-now: suction level on" in done.out


def test_several_folders_of_trees_in_a_revision(lowside: Command, trees: Path, tmp_path: Path) -> None:
    shutil.move(trees, trees.parent / "one")
    shutil.copytree(trees.parent / "one", trees.parent / "two")
    commit("Two of them")
    done = lowside("diff", "HEAD", "HEAD")
    assert done.code == 2
    assert "one, two" in done.err
    assert "REVISION:FOLDER" in done.err
    assert lowside("diff", "HEAD:one", "HEAD:two").code == 0
    assert "HEAD:one" in lowside("diff", "HEAD", trees.parent / "one").out, "where the other side lies"
    assert lowside("diff", "HEAD:three", "HEAD:two").code == 2


def test_own_trees_are_laid_over_those_that_come_with_lowside(
    lowside: Command, trees: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = trees.parent / "mine"
    own.mkdir()
    mine = "tree: mine\ntitle: Mine\nedition: 1\nof: circuit\nsteps:\n- ask: needles\n- finding: seen\n"
    mine += "  cause: cannot-tell\n  seen: Needles <needles>.\n  next: Go on.\n"
    (own / "mine.yaml").write_text(mine, "utf-8")
    commit("Own trees")
    (own / "mine.yaml").write_text(mine.replace("edition: 1", "edition: 2"), "utf-8")
    done = lowside("diff", "HEAD", own)
    assert (done.code, done.err) == (0, "")
    assert done.out.splitlines()[-1].startswith(("mine, edition 1, now 2; nothing else", "None of")), done.out


@pytest.mark.parametrize("unknown", ["no-such-branch", "HEAD~99", "--help-me", "-x", "", "C:\\trees", "HEAD:nowhere"])
def test_an_unknown_revision_is_told_in_plain_words(lowside: Command, trees: Path, unknown: str) -> None:
    done = lowside("diff", "--", unknown, trees)
    assert done.code == 2
    assert "Traceback" not in done.err
    assert "fatal" not in done.err
    assert unknown.partition(":")[0] in done.err


def test_no_repository(lowside: Command, trees: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    done = lowside("diff", "HEAD", trees)
    assert done.code == 2
    assert "HEAD: there is no such folder, and the current folder lies in no git repository." in done.err


def test_no_git(lowside: Command, trees: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    done = lowside("diff", "HEAD", trees)
    assert done.code == 2
    assert "git" in done.err
    assert "Name a folder, or install git." in done.err
    assert lowside("diff", trees, trees).code == 0, "folders need no git"


def test_a_repository_that_has_lost_something(lowside: Command, trees: Path) -> None:
    """One object after the other taken away, whatever it is of: a message, and no tree left out without a word."""
    edit(trees, UP_TO_THE_PLATE)
    kept = sorted(trees.parent.glob(".git/objects/??/*"))
    assert len(kept) > 10
    for file in kept:
        content = file.read_bytes()
        file.unlink()
        done = lowside("diff", "HEAD", trees)
        assert (done.code, done.out) == (2, "")
        assert done.err.startswith("HEAD: ")
        file.write_bytes(content)
    assert lowside("diff", "HEAD", trees).code == 0


def test_no_examples_are_no_examples(lowside: Command, trees: Path) -> None:
    shutil.rmtree(trees / "examples")
    commit("Without")
    edit(trees, UP_TO_THE_PLATE)
    assert "There is no example, so none was walked." in lowside("diff", "HEAD", trees).out.splitlines()


def test_nothing_in_the_repository_is_touched(lowside: Command, trees: Path) -> None:
    edit(trees, UP_TO_THE_PLATE)
    kept = {file: file.stat().st_mtime_ns for file in trees.parent.rglob("*") if file.is_file()}
    lowside("diff", "HEAD", trees)
    assert {file: file.stat().st_mtime_ns for file in trees.parent.rglob("*") if file.is_file()} == kept


def test_line_ends_are_no_difference(lowside: Command, trees: Path) -> None:
    """As a checkout on Windows has them."""
    file = trees / "small.yaml"
    file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    assert lowside("check", "--against", "HEAD", trees).code == 0
    assert "No difference in what they ask, say and do." in lowside("diff", "HEAD", trees).out.splitlines()


# ---- check --against


def test_a_changed_text_of_an_old_edition_is_a_problem(lowside: Command, trees: Path, before: Path) -> None:
    edit(trees, ("title: A small circuit", "title: One small circuit"))
    for against in ("HEAD", before):
        done = lowside("check", trees, "--against", against, "--format", "json")
        assert done.code == 1
        (problem,) = [each for each in shaped(done.out, CHECK)["problems"] if each["severity"] == "error"]
        assert (problem["code"], problem["path"]) == ("old-edition", str(trees / "small.yaml"))
        assert (problem["line"], problem["cure"]) == (3, "Write `edition: 2`.")
    assert lowside("check", trees).code == 0, "only against something"


@pytest.mark.parametrize(("edition", "code"), [("1", 1), ("0", 1), ("2", 0), ("2026", 0)])
def test_which_editions_are_later(lowside: Command, trees: Path, edition: str, code: int) -> None:
    edit(trees, ("title: A small circuit", "title: One small circuit"), ("edition: 1", f"edition: {edition}"))
    assert lowside("check", trees, "--against", "HEAD").code == code


def test_a_tree_that_is_new_or_the_same_needs_no_other_edition(lowside: Command, trees: Path) -> None:
    text = (trees / "small.yaml").read_text("utf-8")
    text = text.replace("tree: small", "tree: little").replace("offer: small", "offer: little")
    (trees / "little.yaml").write_text(text, "utf-8")
    edit(trees, ("is: 5 dF", "is: 7 dF"), file="catalogue/figures.yaml")
    done = lowside("check", trees, "--against", "HEAD")
    assert "old-edition" not in done.out
    assert done.code == 0, done.out


def test_against_what_is_not_there(lowside: Command, trees: Path) -> None:
    assert lowside("check", trees, "--against", "no-such-branch").code == 2


def test_a_broken_tree_is_held_to_its_edition_too(lowside: Command, trees: Path) -> None:
    edit(trees, FAILS)
    done = lowside("check", trees, "--against", "HEAD")
    assert done.code == 1
    assert "no-such-step" in done.out
    assert "old-edition" in done.out
