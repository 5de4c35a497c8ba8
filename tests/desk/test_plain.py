"""The plain driver: every step by typed lines, kind to slips, quiet on the screen, safe on the disk."""

from __future__ import annotations

import io
import resource
import signal
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.desk.visits import BEGINNING, CHARGE, SITE, TO_THE_END, begun, gone_on, library, typed, walked
from tests.record.helpers import HandClock
from tui.desk.line import cleaned
from tui.desk.plain import Plain, asked_unit, run_plain
from tui.desk.saying import choice_lines
from tui.desk.session import Visit
from tui.desk.typed import chosen
from tui.record import read, verify
from tui.walk import Prompt, Walk


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "visit.jsonl"


@pytest.fixture
def visit(path: Path) -> Iterator[Visit]:
    visit = begun(path)
    yield visit
    visit.leave()


def test_to_a_finding_and_closed(visit: Visit, path: Path) -> None:
    ended, shown = typed(visit, *TO_THE_END)
    assert ended
    assert "Found in main: short of charge" in shown
    assert "Next: Find the leak." in shown
    assert f"Closed: {path}" in shown
    assert verify(path).state == "whole"
    assert read(path).events == visit.walk.events
    assert [finding.cause for finding in visit.walk.findings] == ["short-of-charge"]


def test_one_enter_too_many_closes_nothing_for_good(path: Path) -> None:
    visit = begun(path)
    ended, shown = typed(visit, *TO_THE_END[:-1], "", "note leak at the flare")
    assert not ended
    assert not visit.walk.closed
    assert "Enter once more: close it." in shown
    assert visit.walk.events[-1]["text"] == "leak at the flare"
    ended, _ = typed(visit, "", "")
    assert ended
    visit.leave()


def test_nothing_a_dumb_terminal_or_a_screen_reader_stumbles_over(visit: Visit, path: Path) -> None:
    _, shown = typed(visit, *BEGINNING, "help", "table", "trail", "possible", "why", "correct", *CHARGE, "")
    assert all(sign == "\n" or sign.isprintable() for sign in shown)
    named = str(path)
    assert max(len(line) for line in shown.splitlines() if named not in line) <= len("> ") + 79


def test_a_question_says_what_is_wanted(visit: Visit) -> None:
    _, shown = typed(visit)
    assert "main, small/ask-refrigerant" in shown
    assert "  2  R-290" in shown
    _, shown = typed(visit, "2", "1")
    assert "Charge?" in shown
    assert "(in oz)" in shown


def test_the_last_question_of_a_screen_says_what_is_wanted_too(visit: Visit) -> None:
    """Once the others are told, its words are those of the whole screen, which was shown before them."""
    _, shown = typed(visit, *BEGINNING[:4])
    assert "Fan?" in shown
    assert "Box wanted?" in shown
    assert "No: " not in shown


@pytest.mark.parametrize("answer", ["1", "R-134a", "r-134a", "134a", "= R-134a"])
def test_a_choice_by_digit_or_word(visit: Visit, answer: str) -> None:
    typed(visit, answer)
    assert visit.walk.events[-1]["value"]["value"] == "R-134a"


def test_digits_name_a_choice_only_among_few() -> None:
    """``22`` among forty refrigerants is R-22, never the twenty-second of them."""
    few = Prompt("offer", choices=tuple((f"R-{n}", f"R-{n}") for n in range(20, 29)))
    many = Prompt("offer", choices=(*few.choices, ("R-134a", "R-134a")))
    assert chosen(few, "3") == "R-22"
    assert chosen(many, "3") is None
    assert chosen(many, "r-22") == "R-22"
    assert list(choice_lines(few.choices))[2] == "  3  R-22"
    assert "".join(choice_lines(many.choices)).startswith("One of: R-20, R-21")


def test_how_it_was_understood_is_said(visit: Visit) -> None:
    _, shown = typed(visit, *BEGINNING)
    assert "Taken as" in shown
    assert "psig" in shown.split("Taken as")[-1]


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (("",), "Nothing was typed"),
        (("banana",), "No: "),
        (("9",), "No: "),
        (("R-134a", "maybe"), "No: "),
        (("R-134a", "yes", "14 psig"), "No: "),
        (("R-134a", "yes", "14 oz", "running", "20 psig"), "No: "),
        (("couldn't",), "Say in a few words why"),
        (("couldn't see it",), "can't go on without refrigerant"),
        (("tell pressure 3 psig",), "No: "),
        (("tell suction",), "suction: what does it read?"),
        (("tell foo 3",), "no reading is called 'foo'"),
        (("tell suction 12 dF",), "No: "),
        (("correct suction 3 psig",), "No suction has been given yet"),
        (("skip it",), "no wait to skip"),
        (("back",), "Nothing to take back"),
        (("own nothing: because",), "no cause"),
        (("switch other",), "No: "),
        (("overrule low: because",), "No: "),
        (("x" * 100_000,), "No: "),
        (("R-134a\x1b[A\x00",), "No: "),
    ],
)
def test_slips_are_said_and_the_question_stays(visit: Visit, lines: tuple[str, ...], words: str) -> None:
    typed(visit, *lines[:-1])
    before = list(visit.walk.events)
    _, shown = typed(visit, lines[-1])
    assert words in shown
    assert visit.walk.events == before
    assert "Traceback" not in shown


def test_any_reading_at_any_time(visit: Visit) -> None:
    _, shown = typed(visit, "tell box wanted 35", "R-134a", "yes", "14 oz", "1")
    assert "box wanted: " in shown
    prompt = visit.walk.prompt
    assert prompt is not None
    assert prompt.kind == "caution"


def test_several_readings_in_one_line_and_the_wrong_one_is_named(visit: Visit) -> None:
    _, shown = typed(visit, "suction 4, box wanted 35, foo 3")
    assert {each.reading for each in visit.walk.given()} == {"suction", "box-wanted"}
    assert "No: 'foo 3': no reading is called 'foo'." in shown


def test_notes_own_findings_and_what_could_not_be_had(visit: Visit) -> None:
    _, shown = typed(
        visit, "R-134a", "yes", "note frost, 2 °C", "own drier blocked: it sweats", "couldn't read the plate"
    )
    assert "Noted." in shown
    assert [event["event"] for event in visit.walk.events[-4:]].count("noted") == 1
    assert any(event.get("reason") == "it sweats" for event in visit.walk.events)
    assert any(event.get("reason") == "read the plate" for event in visit.walk.events)


def test_plain_words_say_that_it_could_not_be_had(visit: Visit) -> None:
    typed(visit, "R-134a", "yes", "not known")
    assert [event["readings"] for event in visit.walk.events if event["event"] == "couldn't"] == [["nameplate-charge"]]


def test_back(visit: Visit) -> None:
    typed(visit, "R-134a", "yes", "back 2", "R-290")
    assert visit.walk.events[-1]["value"]["value"] == "R-290"


def test_a_correction_is_shown_before_it_counts(visit: Visit, path: Path) -> None:
    typed(visit, *BEGINNING)
    before = list(visit.walk.events)
    _, shown = typed(visit, "correct", "correct suction 14 psig", "no")
    assert "suction: 4" in shown
    assert "becomes 14.0 psig" in shown
    assert "Left as it was." in shown
    assert visit.walk.events == before
    _, shown = typed(visit, "correct suction 14 psig", "yes")
    assert "Corrected" in shown
    assert "corrected" in [event["event"] for event in visit.walk.events]
    assert read(path).events == visit.walk.events


def test_table_trail_and_what_is_possible(visit: Visit) -> None:
    _, shown = typed(visit, "table", "trail", "possible")
    assert "Nothing has been judged yet." in shown
    assert "Nothing has been decided yet." in shown
    assert "short-of-charge: short of charge" in shown
    _, shown = typed(visit, *BEGINNING, "?", "trail")
    assert "evaporating now: " in shown
    assert "wanted" in shown
    assert "low" in shown
    assert "main, fan first - fan: running" in shown


def test_a_wait_is_measured_and_cannot_be_hurried_without_a_reason(path: Path) -> None:
    clock = HandClock()
    visit = begun(path, clock)
    shown: list[str] = []
    lines = iter([*BEGINNING, *CHARGE[:4], "", "note while it settles", "later", None])

    def ask() -> str | None:
        line = next(lines)
        clock.seconds += 240 if line == "later" else 0
        return "" if line == "later" else line

    Plain(visit, ask, shown.append).run()
    said = "\n".join(shown)
    assert "Wait 4 min." in said
    assert said.count("to go.") == 1
    waited = next(event for event in visit.walk.events if event["event"] == "waited")
    assert 240 <= float(waited["actual"]) < 250
    assert "skipped_because" not in waited
    visit.leave()


def test_a_skipped_wait_says_why(visit: Visit) -> None:
    typed(visit, *BEGINNING, *CHARGE[:5])
    waited = next(event for event in visit.walk.events if event["event"] == "waited")
    assert waited["skipped_because"] == "it is steady already"
    assert float(waited["actual"]) < 240


@pytest.mark.parametrize("leaving", [(), ("quit",), ("exit",)])
def test_leaving_says_how_to_go_on(path: Path, leaving: tuple[str, ...]) -> None:
    shown = walked(path, *BEGINNING, *leaving)
    assert f"Go on with: lowside resume {path}" in shown
    assert verify(path).state == "open"
    shown = gone_on(path, *CHARGE, "", "close")
    assert "Found in main: short of charge" in shown
    assert verify(path).state == "whole"


def test_leaving_says_what_is_on(path: Path) -> None:
    shown = walked(path, *BEGINNING, "", "quit")
    assert "Not cleared yet: cylinder on (main). Cylinder closed and off." in shown
    assert "Not cleared" not in walked(path.with_name("other.jsonl"), *BEGINNING, "quit")


def test_closing_early_clears_the_cylinder_first(visit: Visit, path: Path) -> None:
    ended, shown = typed(visit, *BEGINNING, "", "close called away", "", "close")
    assert ended
    assert shown.index("Cylinder closed and off.") < shown.index("Closed: ")
    assert read(path).events[-1]["why"] == "called away"
    assert verify(path).state == "whole"


def test_a_slip_taken_back_is_not_among_the_readings_to_correct(visit: Visit) -> None:
    _, shown = typed(visit, *BEGINNING[:-1], "4", "back", "correct", "correct suction 3")
    assert "suction: 4" not in shown
    assert "No suction has been given yet." in shown


def test_ctrl_c_leaves_the_visit_open(visit: Visit, path: Path) -> None:
    shown: list[str] = []
    lines = iter(BEGINNING)

    def ask() -> str:
        try:
            return next(lines)
        except StopIteration:
            raise KeyboardInterrupt from None

    assert Plain(visit, ask, shown.append).run() is False
    assert "lowside resume" in shown[-1]
    assert read(path).events == visit.walk.events


def test_at_the_end_a_note_and_a_step_back_are_still_possible(visit: Visit, path: Path) -> None:
    ended, shown = typed(visit, *TO_THE_END[:-1], "note leak at the flare", "hello", "back", "trail")
    assert not ended
    assert "nothing to do here" in shown
    assert visit.walk.prompt is not None
    ended, _ = typed(visit, "15", "close")
    assert ended
    assert verify(path).state == "whole"


def test_without_a_file(path: Path) -> None:
    ended, shown = typed(begun(None), *TO_THE_END)
    assert ended
    assert shown.endswith("Closed.\n")
    _, shown = typed(begun(None), "quit")
    assert "Nothing was recorded." in shown


@pytest.fixture
def small_disk() -> Iterator[Callable[[int], None]]:
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)

    def limit(size: int) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))

    yield limit
    resource.setrlimit(resource.RLIMIT_FSIZE, before)
    signal.signal(signal.SIGXFSZ, ignored)


def test_a_full_disk_holds_the_next_question_back(visit: Visit, path: Path, small_disk: Callable[[int], None]) -> None:
    typed(visit, "R-134a")
    small_disk(path.stat().st_size + 50)
    shown: list[str] = []
    lines = iter(["yes", "", "room", "14 oz", None])

    def ask() -> str | None:
        line = next(lines)
        if line == "room":
            small_disk(1 << 20)
        return line

    Plain(visit, ask, shown.append).run()
    said = "\n".join(shown)
    assert said.count("the disk is full") + said.count("the disk took only a part") == 2
    assert said.index("kept here meanwhile") < said.index("Charge?")
    assert read(path).events == visit.walk.events
    assert visit.walk.events[-1]["reading"] == "nameplate-charge"


def test_a_disk_that_stays_full(visit: Visit, path: Path, small_disk: Callable[[int], None]) -> None:
    typed(visit, "R-134a")
    before = read(path).events
    small_disk(path.stat().st_size + 50)
    _, shown = typed(visit, "yes", "", "quit")
    assert "lowside resume" in shown
    visit.leave()
    small_disk(1 << 20)
    assert read(path).events == before
    shown = gone_on(path, "yes", "14 oz")
    assert "The last line was torn" in shown
    assert "Fan?" in shown


def test_lines_are_cleaned() -> None:
    assert cleaned(" 12\tpsig\r\n") == "12 psig"
    assert cleaned("a\udc80b\x07 \u2028c") == "a b c"


# ---- own findings, the trail in words, the unit's tag


def test_own_finding_by_its_words_beside_the_tools(visit: Visit) -> None:
    _, shown = typed(visit, "own", *BEGINNING, "own Drier blocked: frost behind it", *CHARGE, "", "table", "")
    assert "  refrigeration is well: the circuit is well" in shown, "a list to choose from"
    assert "Your own finding in main: drier blocked - frost behind it" in shown
    assert shown.index("Found in main") < shown.index("Your own finding in main")
    (own,) = visit.walk.own_findings
    assert own == ("main", "drier-blocked", "frost behind it")


def test_own_finding_needs_a_reason(visit: Visit) -> None:
    _, shown = typed(visit, "own drier blocked", "own nonsense: because")
    assert "Say in a few words why" in shown
    assert "There is no cause called 'nonsense'" in shown
    assert visit.walk.own_findings == ()


def test_the_trail_is_in_words(visit: Visit) -> None:
    _, shown = typed(visit, *BEGINNING, "trail")
    assert "main, is it low - suction level is low" in shown
    assert "suction-level" not in shown


@pytest.mark.parametrize(
    ("lines", "unit"), [("K-12\n", "K-12"), ("\n", ""), ("", ""), ("  K \t12\n", "K 12"), ("x" * 70 + "\nK\n", "K")]
)
def test_the_units_tag_is_asked(lines: str, unit: str) -> None:
    shown = io.StringIO()
    assert asked_unit(io.StringIO(lines), shown) == unit
    assert shown.getvalue().startswith("Which unit is it?")


def test_a_letter_no_terminal_knows_stops_neither_the_tag_nor_the_walk(visit: Visit) -> None:
    """One and the same input: its first line is read for the tag, the rest by the walk."""
    typed_in = io.TextIOWrapper(io.BytesIO(b"K-12\nquit\n"), encoding="ascii")
    shown = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    assert asked_unit(typed_in, shown) == "K-12"
    assert run_plain(visit, typed_in, shown, ["\u20ac"]) is False


def known_before(path: Path) -> Visit:
    history = [{"circuit": "main", "reading": "nameplate-charge", "value": "14 oz", "visit": "2026-05-01"}]
    walk = Walk.start(library(), "small", site=SITE, unit="K-12", history=history)
    return Visit.begin(walk, HandClock(), path)


@pytest.mark.parametrize("command", ["correct", "tell"])
def test_what_was_known_before_is_corrected_with_the_proposal_first(path: Path, command: str) -> None:
    visit = known_before(path)
    _, shown = typed(visit, "r134a", f"{command} nameplate charge 9 oz", "no")
    assert "nameplate charge: 14 oz becomes 9 oz." in shown.replace(" (from the visit of 2026-05-01)", "")
    assert "Type yes to correct it" in shown
    assert "Left as it was." in shown
    assert "corrected" not in [event["event"] for event in visit.walk.events]
    typed(visit, f"{command} nameplate charge 9 oz", "yes")
    assert [event["event"] for event in visit.walk.events].count("corrected") == 1
    assert [each.reading for each in visit.walk.from_before()] == ["unit"]
    visit.leave()


def test_altitude_and_region_are_corrected_line_by_line(visit: Visit) -> None:
    _, shown = typed(visit, *BEGINNING, "correct", "correct altitude 6000 ft", "yes", "correct region EU", "yes")
    assert "altitude: 0 ft" in shown
    assert "region: not set" in shown
    assert "altitude: 0 ft becomes 6000 ft." in shown
    assert "- evaporating now:" in shown
    assert [(each.reading, each.shown) for each in visit.walk.of_site()] == [("altitude", "6000 ft"), ("region", "EU")]
    _, shown = typed(visit, "tell altitude 500 ft")
    assert "correct altitude" in shown


def two_circuits(path: Path) -> Visit:
    walk = Walk.start(library(), "named-unit", site=SITE, unit="K-12")
    visit = Visit.begin(walk, HandClock(), path)
    typed(visit, "cooler, freezer", "cooler", *BEGINNING[:4], "35")
    for reading, text in (("refrigerant", "R-290"), ("box-wanted", "0 °F")):
        visit.act(lambda walk, reading=reading, text=text: walk.tell(reading, text, "freezer"))  # type: ignore[misc]
    return visit


def test_of_several_circuits_the_one_that_is_meant_is_corrected(path: Path) -> None:
    visit = two_circuits(path)
    _, shown = typed(visit, "correct freezer box wanted 5", "yes")
    assert "freezer box wanted: 0 °F becomes 5 °F." in shown
    assert "5 °F" in [each.shown for each in visit.walk.given() if each.circuit == "freezer"]
    assert "35 °F" in [each.shown for each in visit.walk.given() if each.circuit == "cooler"]
    _, shown = typed(visit, "correct box wanted 36", "no")
    assert "cooler box wanted: 35 °F becomes 36 °F." in shown, "the one at hand"
    visit.leave()


def test_where_no_circuit_is_at_hand_it_is_asked_which(path: Path) -> None:
    visit = Visit.begin(Walk.start(library(), "named-unit", site=SITE, unit="K-12"), HandClock(), path)
    typed(visit, "cooler, freezer")
    for circuit, text in (("cooler", "35 °F"), ("freezer", "0 °F")):
        visit.act(lambda walk, circuit=circuit, text=text: walk.tell("box-wanted", text, circuit))  # type: ignore[misc]
    _, shown = typed(visit, "correct", "correct box wanted 36")
    assert "cooler box wanted: 35 °F" in shown
    assert "freezer box wanted: 0 °F" in shown
    assert "No: Of which circuit? It was given for cooler, freezer." in shown
    assert "correct cooler box wanted 36" in shown
    typed(visit, "correct cooler box wanted 36", "yes")
    assert [each.shown for each in visit.walk.given() if each.reading == "box-wanted"] == ["36 °F", "0 °F"]
    visit.leave()


def test_going_back_says_what_it_took_back(visit: Visit) -> None:
    _, shown = typed(visit, *BEGINNING, "back")
    assert "Taken back: suction 4.0 psig." in shown


@pytest.mark.parametrize("command", ["correct region", "tell suction"])
def test_a_name_without_a_value_is_asked_for_its_value(visit: Visit, command: str) -> None:
    _, shown = typed(visit, command)
    assert f"No: {command.split()[1]}: what does it read?" in shown


def test_the_table_says_what_was_judged_before_the_last_work(visit: Visit) -> None:
    _, shown = typed(visit, *BEGINNING, "table")
    assert "not taken again since" not in shown
    _, shown = typed(visit, "", "100 oz", "", "table")
    assert "was low (earlier, not taken again since)" in " ".join(shown.split())
