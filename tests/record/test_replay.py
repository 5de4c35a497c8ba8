"""A recorded visit comes out the same with its own trees, and the first difference is named with others."""

from __future__ import annotations

import json
import shutil
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
import rfc8785

from tests.bundled import examples, library
from tests.desk.visits import BEGINNING, TO_THE_END, TREES, walked
from tests.record.helpers import HandClock, write_visit
from tui.quantity import Refused
from tui.record import Writer, read
from tui.record.replay import replay
from tui.tree.embed import pack, unpack
from tui.walk.answers import run_answers


@pytest.fixture
def visit(tmp_path: Path) -> Path:
    walked(tmp_path / "visit.jsonl", *TO_THE_END)
    return tmp_path / "visit.jsonl"


def rewritten(path: Path, n: int, **changes: Any) -> Path:
    """The file written anew with another event, every hash made to fit: what only a signature would show."""
    before, lines = "0" * 64, []
    for number, raw in enumerate(path.read_bytes().splitlines()):
        body = {**json.loads(raw), **(changes if number == n else {}), "prev": before}
        del body["hash"]
        body["hash"] = before = sha256(rfc8785.dumps(body)).hexdigest()
        lines.append(rfc8785.dumps(body) + b"\n")
    path.write_bytes(b"".join(lines))
    return path


def test_the_same_with_its_own_trees(visit: Path) -> None:
    replayed = replay(visit)
    assert (replayed.same, replayed.first) == (True, None)
    assert replayed.walked_with == "the trees in the session"


def test_the_same_with_todays_tables_and_trees(visit: Path) -> None:
    assert replay(visit, recompute=True).same
    replayed = replay(visit, trees=[TREES])
    assert replayed.same
    assert replayed.walked_with == str(TREES)


def test_an_open_and_a_torn_visit(tmp_path: Path) -> None:
    path = tmp_path / "visit.jsonl"
    walked(path, *BEGINNING)
    assert replay(path).same
    path.write_bytes(path.read_bytes()[:-9])
    assert replay(path).same


def test_wherever_the_power_went_what_is_there_holds(visit: Path) -> None:
    """Also where a tree was about to be entered and its text not yet written."""
    lines = visit.read_bytes().splitlines(keepends=True)
    for number in range(1, len(lines)):
        visit.write_bytes(b"".join(lines[:number]))
        assert replay(visit).same, f"cut after line {number}"


def test_an_edited_tree_is_named_by_its_first_difference(visit: Path, tmp_path: Path) -> None:
    shutil.copytree(TREES, tmp_path / "edited")
    figures = tmp_path / "edited/catalogue/figures.yaml"
    figures.write_text(figures.read_text().replace("is: 5 dF", "is: 40 dF"))
    first = replay(visit, trees=[tmp_path / "edited"]).first
    assert first is not None
    event = read(visit).events[first.n]
    assert event["event"] == "judged"
    assert first.what.startswith("judged")
    assert first.then != first.now


def test_a_verdict_changed_by_someone_who_can_hash(visit: Path) -> None:
    n = next(i for i, event in enumerate(read(visit).events) if event["event"] == "judged")
    first = replay(rewritten(visit, n, verdict="high")).first
    assert first is not None
    assert (first.n, first.then, first.now) == (n, "high", "low")


def test_a_last_digit_is_no_difference_and_a_ninth_is(visit: Path) -> None:
    n, event = next((i, e) for i, e in enumerate(read(visit).events) if e["event"] == "judged")
    number = float(event["value"]["value"])
    changed = {**event["value"], "value": repr(number * (1 + 1e-12))}
    assert replay(rewritten(visit, n, value=changed)).same
    changed = {**event["value"], "value": repr(number * (1 + 1e-7))}
    assert replay(rewritten(visit, n, value=changed)).first is not None


def test_a_lost_finding(visit: Path) -> None:
    n = next(i for i, event in enumerate(read(visit).events) if event["event"] == "finding")
    first = replay(rewritten(visit, n, cause="drier-blocked")).first
    assert first is not None
    assert first.n == n


def test_an_altered_file_differs_where_it_was_altered(visit: Path) -> None:
    raw = visit.read_bytes()
    visit.write_bytes(raw.replace(b'"14 oz"', b'"15 oz"'))
    first = replay(visit).first
    assert first is not None
    assert read(visit).line == first.n + 1
    assert "hash" in first.now


@pytest.mark.parametrize("contents", [b"", b'{"at":"2026', b"tree: small\n"])
def test_what_cannot_be_replayed(tmp_path: Path, contents: bytes) -> None:
    path = tmp_path / "visit.jsonl"
    path.write_bytes(contents)
    with pytest.raises(Refused) as refused:
        replay(path)
    assert str(path) in refused.value.message


def test_lines_that_are_whole_but_no_walk(tmp_path: Path) -> None:
    first = replay(write_visit(tmp_path / "visit.jsonl"), trees=[TREES]).first
    assert first is not None
    assert (first.n, first.what, first.now) == (0, "opened", "no event that a walk writes")


def test_an_event_that_no_walk_writes_is_named(visit: Path) -> None:
    n = next(i for i, event in enumerate(read(visit).events) if event["event"] == "answered") + 3
    first = replay(rewritten(visit, n, circuit=["main"])).first
    assert first is not None
    assert (first.n, first.now) == (n, "no event that a walk writes")


def test_a_property_result_that_was_changed_is_named(visit: Path) -> None:
    def numbers(event: dict[str, Any]) -> bool:
        return any("value" in result for *_, result in event.get("properties", ()))

    n, event = next((i, e) for i, e in enumerate(read(visit).events) if numbers(e))
    changed = [
        [*key, {**result, "value": repr(float(result["value"]) * 1.01)} if "value" in result else result]
        for *key, result in event["properties"]
    ]
    first = replay(rewritten(visit, n, properties=changed)).first
    assert first is not None
    assert (first.n, first.what) == (n, "worked-out value")
    # the same was looked up again later, and that one is as it was
    first = replay(rewritten(visit, n + 1, properties=event["properties"])).first
    assert first is not None
    assert first.n == n
    assert first.what.startswith("dew-temperature R-134a ")


def test_a_tree_whose_text_was_changed_is_named(visit: Path) -> None:
    n, event = next((i, e) for i, e in enumerate(read(visit).events) if e["event"] == "entered")
    first = replay(rewritten(visit, n, text=pack(unpack(event["text"]) + "# no step\n"))).first
    assert first is not None
    assert (first.n, first.what) == (n, f"text of the tree {event['tree']}")


def test_a_step_too_many_is_named_with_what_is_asked(visit: Path, tmp_path: Path) -> None:
    shutil.copytree(TREES, tmp_path / "edited")
    tree = tmp_path / "edited" / f"{read(visit).events[1]['tree']}.yaml"
    one = "- caution: gloves\n- do: look\n  tell: Look.\n  work: nothing risky\n"
    tree.write_text(tree.read_text("utf-8").replace("steps:\n", f"steps:\n{one}", 1), "utf-8")
    first = replay(visit, trees=[tmp_path / "edited"]).first
    assert first is not None
    assert first.now == f"caution at {tree.stem}/caution-gloves"


def test_an_older_file_that_told_a_figure_in_both_systems_is_the_same(tmp_path: Path) -> None:
    """Its finding says both; the trees in it say both; only one of them is shown now."""
    example = next(each for each in examples() if each.name == "sensor-reads-too-cold")
    walk = run_answers(library(), example.answers)
    path = tmp_path / "visit.jsonl"
    with Writer.create(path, HandClock()) as writer:
        for event in walk.events:
            writer.append(event)
    found = ((n, event["next"]) for n, event in enumerate(walk.events) if event["event"] == "finding")
    n, told = next((n, told) for n, told in found if "iced water - 32 °F on" in told)
    both = told.replace("32 °F on", "32 °F (0 °C) on")
    assert replay(rewritten(path, n, next=both)).same
    assert not replay(rewritten(path, n, next=both.replace("(0 °C)", "(1 bar)"))).same
