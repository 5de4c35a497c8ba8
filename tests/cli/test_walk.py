"""`walk` with an answers file, `replay`, `resume`, `settings`: what they leave, print and exit with."""

from __future__ import annotations

import io
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import ROOT, Command
from tests.cli.shapes import REPLAY, VERIFY, WALK, shaped
from tui.cli import visits

ANSWERS = ROOT / "tests" / "answers"
ENDS = {"leak": "short-of-charge", "drier": "drier-blocked", "ice": "evaporator-iced"}


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return tmp_path / "visit.jsonl"


@pytest.fixture
def walked(lowside: Command, log: Path) -> Path:
    """The session of the drier."""
    assert lowside("walk", "--answers", ANSWERS / "drier.yaml", "--log", log).code == 0
    return log


@pytest.mark.parametrize(("name", "cause"), ENDS.items())
def test_answers_end_in_the_right_cause(lowside: Command, log: Path, name: str, cause: str) -> None:
    done = lowside("walk", "--answers", ANSWERS / f"{name}.yaml", "--log", log, "--json")
    assert done.code == 0, done.err
    found = shaped(done.out, WALK)
    assert found["findings"][-1]["cause"] == cause
    assert found["session"] == str(log)
    assert found["steps"] > 0
    assert found["route"]
    assert lowside("verify", log).code == 0
    assert shaped(lowside("verify", log, "--json").out, VERIFY)["files"][0]["state"] == "whole"
    assert shaped(lowside("replay", log, "--json").out, REPLAY)["files"][0]["same"] is True
    assert lowside("replay", log, "--recompute").code == 0


def test_a_session_lies_in_the_home_under_the_units_name(lowside: Command, home: Path) -> None:
    assert lowside("walk", "--answers", ANSWERS / "ice.yaml", "--unit", "Bar 7").code == 0
    (session,) = (home / "sessions").glob("*.jsonl")
    assert "-Bar-7-" in session.name
    assert lowside("walk", "--answers", ANSWERS / "ice.yaml").code == 0
    assert len(list((home / "sessions").glob("*.jsonl"))) == 2


def test_what_was_done_is_marked_as_done_by_a_file(walked: Path) -> None:
    events = [json.loads(line) for line in walked.read_text("utf-8").splitlines()]
    assert {event.get("by") for event in events if event["event"] in ("done", "waited")} == {"answers file"}


def changed(tmp_path: Path, good: str, bad: str) -> Path:
    text = (ANSWERS / "leak.yaml").read_text("utf-8")
    assert good in text
    file = tmp_path / "answers.yaml"
    file.write_text(text.replace(good, bad), "utf-8")
    return file


@pytest.mark.parametrize(
    ("good", "bad", "says"),
    [
        ("    suction:", "    sucton:", "suction"),
        ("suction: [8.2 psig", "suction: [8.2 psgi", "Did you mean psig?"),
        ("suction: [8.2 psig", "suction: [8.2", "no unit"),
        ("suction: [8.2 psig", "suction: [8.2 °F", "temperature"),
        ("box-wanted: 38 °F", "box-wanted: 3800 °F", "3800"),
        ("box-wanted: 38 °F", "box-wanted: -500 °F", "absolute zero"),
        ("refrigerant: R-134a", "refrigerant: R-134q", "R-134a"),
        ("refrigerant: R-134a", "refrigerant: R-414B", "R-414B"),
        ("altitude: 300 ft", "altitude: 300000 ft", "altitude"),
        ("altitude: 300 ft", "altitud: 300 ft", "altitude"),
        ("tree: both-low", "tree: both-lo", "both-low"),
        ("scale: [217.66 oz, 216.67 oz]", "scale: [217.66 oz]", "scale asked 2 times"),
        ("circuits:", "circuit:", "circuits"),
        ("suction: [8.2 psig, 10.9 psig, 16.5 psig]", "suction: []", "the list of suction is empty"),
        ("altitude: 300 ft", "altitude: [300 ft, 400 ft]", "altitude is not asked"),
        ("    receiver: no\n", "    receiver: no\n    receiver: no\n", "second time"),
    ],
)
def test_bad_answers_are_refused_with_their_place(
    lowside: Command, tmp_path: Path, log: Path, good: str, bad: str, says: str
) -> None:
    file = changed(tmp_path, good, bad)
    done = lowside("walk", "--answers", file, "--log", log)
    assert done.code == 2
    assert f"{file}:" in done.err
    assert says in done.err
    assert "Traceback" not in done.err


def test_what_was_recorded_before_a_bad_answer_is_intact(lowside: Command, tmp_path: Path, log: Path) -> None:
    file = changed(tmp_path, "scale: [217.66 oz, 216.67 oz]", "scale: [217.66 oz]")
    assert lowside("walk", "--answers", file, "--log", log).code == 2
    found = shaped(lowside("verify", log, "--json").out, VERIFY)["files"][0]
    assert found["state"] == "open"
    assert len(log.read_text("utf-8").splitlines()) > 20


def test_absent_answers_are_counted(lowside: Command, tmp_path: Path, log: Path) -> None:
    file = changed(tmp_path, "    frost-pattern: only at the inlet\n", "")
    done = lowside("walk", "--answers", file, "--log", log, "--json")
    assert "frost-pattern" in shaped(done.out, WALK)["not_given"]


def test_work_on_the_unit_itself_can_be_not_done(lowside: Command, tmp_path: Path, log: Path) -> None:
    text = (ANSWERS / "call-ice.yaml").read_text("utf-8")
    file = tmp_path / "answers.yaml"
    file.write_text(text.replace("visit:\n", "visit:\n  couldn't: [call/save-the-goods]\n"), "utf-8")
    assert lowside("walk", "--answers", file, "--log", log).code == 0
    events = [json.loads(line) for line in log.read_text("utf-8").splitlines()]
    assert [e["step"] for e in events if e["event"] == "couldn't" and "readings" not in e] == ["save-the-goods"]


def test_a_file_that_exists_is_not_written_over(lowside: Command, walked: Path) -> None:
    before = walked.read_bytes()
    done = lowside("walk", "--answers", ANSWERS / "ice.yaml", "--log", walked)
    assert done.code == 2
    assert str(walked) in done.err
    assert walked.read_bytes() == before


def test_answers_that_are_not_there(lowside: Command, tmp_path: Path) -> None:
    done = lowside("walk", "--answers", tmp_path / "nowhere.yaml")
    assert done.code == 2
    assert "nowhere.yaml" in done.err


def test_no_such_tree_names_the_nearest(lowside: Command) -> None:
    done = lowside("walk", "both-lwo", "--plain")
    assert done.code == 2
    assert "both-low" in done.err


def test_a_plain_walk_can_be_left_and_resumed(lowside: Command, log: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("300 ft\nR-134a\nquit\n"))
    left = lowside("walk", "both-low", "--plain", "--log", log)
    assert left.code == 1
    assert "lowside resume" in left.out
    before = log.read_bytes()
    monkeypatch.setattr(sys, "stdin", io.StringIO("quit\n"))
    again = lowside("resume", log, "--plain")
    assert again.code == 1
    assert log.read_bytes().startswith(before)
    assert lowside("replay", log).code == 0


def test_the_opening_holds_who_walks_and_with_what(
    lowside: Command, log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lowside("settings", "set", "technician", "p-1f0c22ab")
    lowside("settings", "set", "instruments.low-gauge.good-to", "0.3 psi")
    lowside("settings", "set", "instruments.low-gauge.calibrated", "2026-03-01")
    monkeypatch.setattr(sys, "stdin", io.StringIO("quit\n"))
    lowside("walk", "both-low", "--plain", "--log", log)
    opened = json.loads(log.read_text("utf-8").splitlines()[0])
    assert opened["technician"] == "p-1f0c22ab"
    assert opened["instruments"] == {"low-gauge": "0.3 psi"}
    assert opened["calibrated"] == {"low-gauge": "2026-03-01"}


def test_an_instrument_of_the_settings_that_no_tree_has_is_told_with_its_file(
    lowside: Command, log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert lowside("settings", "set", "instruments.low-gauge.good-to", "0 psi").code == 2
    lowside("settings", "set", "instruments.low-gage.good-to", "0.3 psi")
    monkeypatch.setattr(sys, "stdin", io.StringIO("quit\n"))
    done = lowside("walk", "both-low", "--plain", "--log", log)
    assert done.code == 2
    for words in ("settings.yaml", "low-gage", "Did you mean low-gauge?"):
        assert words in done.err
    assert not log.exists()


def test_without_a_terminal_there_is_no_screen_and_no_session(program: Command, home: Path) -> None:
    for arguments in ((), ("walk",), ("resume",)):
        done = program(*arguments)
        assert done.code == 2
        assert "--plain" in done.err
    assert not home.exists()


def test_a_tree_that_is_not_there_is_refused_before_the_screen_asks_anything(
    lowside: Command, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(visits, "need_a_terminal", lambda plain: None)
    monkeypatch.setattr(visits, "show_start", lambda *_: pytest.fail("the screen was opened"))
    done = lowside("walk", "bothlow")
    assert (done.code, done.err) == (2, "There is no tree called 'bothlow'.\n  Did you mean both-low?\n")
    assert not home.exists()
    (home / "trees").mkdir(parents=True)
    (home / "trees" / "mine.yaml").write_text("tree: mine\n", "utf-8")
    monkeypatch.setattr(visits, "show_start", lambda *_: None)
    assert lowside("walk", "mine").code == 1, "whether it holds is told on the screen"


def test_the_latest_open_visit_is_resumed(lowside: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    assert lowside("resume", "--plain").code == 2
    monkeypatch.setattr(sys, "stdin", io.StringIO("quit\n"))
    lowside("walk", "both-low", "--plain", "--unit", "K-12")
    monkeypatch.setattr(sys, "stdin", io.StringIO("quit\n"))
    done = lowside("resume", "--plain")
    assert done.code == 1
    assert "K-12" in done.out


def test_a_closed_visit_is_not_resumed(lowside: Command, walked: Path) -> None:
    done = lowside("resume", walked, "--plain")
    assert done.code == 2
    assert "closed" in done.err


def test_a_replay_with_other_trees_names_the_first_difference(lowside: Command, walked: Path, tmp_path: Path) -> None:
    trees = tmp_path / "trees"
    shutil.copytree(ROOT / "trees", trees)
    figures = trees / "restriction.yaml"
    text = figures.read_text("utf-8")
    figures.write_text(text.replace("edition: 1", "edition: 2", 1), "utf-8")
    assert lowside("replay", walked, "--trees", trees).code == 0, "an edition alone changes nothing"
    assert "it-is-the-drier" in text
    figures.write_text(text.replace("it-is-the-drier", "the-drier-it-is"), "utf-8")
    done = lowside("replay", walked, "--trees", trees, "--json")
    assert done.code == 1, done.err
    first = shaped(done.out, REPLAY)["files"][0]["first"]
    assert "it-is-the-drier" in str(first["then"])
    assert "the-drier-it-is" in str(first["now"])


def test_settings_are_shown_set_and_refused(lowside: Command, home: Path) -> None:
    assert "not there yet" in lowside("settings").out
    assert lowside("settings", "set", "altitude", "5000", "ft").code == 0
    assert (home / "settings.yaml").exists()
    assert "altitude: 5000 ft" in lowside("settings").out
    high = json.loads(lowside("sat", "R-134a", "0 psig", "--json").out)
    assert high["dew"]["degC"] < -29, "84.3 kPa at 5000 ft by the standard atmosphere of ISO 2533"
    assert lowside("settings", "set", "altitude", "-30 ft").code == 0
    for key, value in (("altitude", "99999 ft"), ("altitud", "3 ft"), ("units", "metric")):
        done = lowside("settings", "set", key, value)
        assert done.code == 2
        assert key[:7] in done.err
    assert "altitude: -30 ft" in lowside("settings").out


def test_a_walk_from_answers_loads_neither_screen_nor_property_library(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "tui", "walk", "--answers", str(ANSWERS / "leak.yaml")],
        cwd=ROOT,
        env={**os.environ, "LOWSIDE_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=True,
    )
    loaded = {line.rpartition("|")[2].strip().split(".")[0] for line in done.stderr.splitlines()}
    assert "tui" in loaded
    assert loaded.isdisjoint({"textual", "rich", "CoolProp", "numpy", "asyncio"})


@pytest.mark.parametrize("name", sorted(path.stem for path in ANSWERS.glob("*.yaml")))
def test_every_visit_from_answers_is_whole_and_replays(lowside: Command, log: Path, name: str) -> None:
    """Also where its circuits do not stand in the order of the alphabet."""
    assert lowside("walk", "--answers", ANSWERS / f"{name}.yaml", "--log", log).code == 0
    assert lowside("verify", log).code == 0
    assert lowside("replay", log).code == 0
    assert lowside("replay", "--recompute", log).code == 0
    assert "SERVICE SHEET" in lowside("sheet", log).out
