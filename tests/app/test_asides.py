"""Correcting, overruling, own findings, pages, and a disk that says no."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.app.lines import BEGINNING, TO_THE_WAIT, events, page, said, typed
from tests.record.helpers import HandClock
from tui.app import keys
from tui.app.modes import Asked, Unrecorded
from tui.app.talk import Talk
from tui.quantity import Refused
from tui.record import Writer, verify

# ---- correcting


def test_a_correction_shows_what_it_changes_before_it_counts(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("correct")
    assert page(talk).index("suction 4.0 psig") < page(talk).index("box wanted 35 °F"), "the latest stands first"
    typed(talk, "1")
    talk.typing("15")
    assert "taken as 15.0 psig" in said(talk)
    typed(talk, "15")
    assert "suction: 4.0 psig becomes 15.0 psig." in page(talk)
    assert "as wanted instead of low" in page(talk)
    assert not events(talk, "corrected")
    typed(talk, "yes")
    assert events(talk, "corrected")[0]["reading"] == "suction"
    assert "Corrected" in said(talk)


def test_a_correction_can_be_left(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("correct")
    typed(talk, "1", "15", "2")
    assert not events(talk, "corrected")
    assert isinstance(talk.mode, Asked)


def test_a_choice_is_corrected_by_its_digit(talk: Talk) -> None:
    typed(talk, "1", "yes", "correct")
    typed(talk, "2", "2")
    assert "refrigerant: R-134a becomes R-290." in page(talk)


def test_a_wrong_new_value_is_refused_in_place(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("correct")
    typed(talk, "1")
    assert not talk.enter("8 oz")
    assert said(talk).startswith("NO")
    assert not talk.enter("4"), "what it says already"


# ---- close calls


def close(talk: Talk) -> None:
    """12.3 psig is 11 °F, within 1 dF (0.5 psi twice over) of where low begins."""
    typed(talk, *BEGINNING[:-1])
    for pressure in ("10.6", "10.8", "11", "11.2", "11.4", "11.6", "11.8", "12", "12.2", "12.4"):
        typed(talk, pressure)
        prompt = talk.walk.prompt
        if prompt is not None and prompt.kind == "close-call":
            return
        talk.press("undo")
        talk.press("undo")
    raise AssertionError("no pressure was close")


def test_a_close_call_is_overruled_with_a_reason(talk: Talk) -> None:
    close(talk)
    assert "Too close to call. Evaporating now" in page(talk)
    typed(talk, "give your own")
    assert "evaporating now low, as it reads: Cylinder on the scale" in " ".join(page(talk).split())
    typed(talk, "1", "compared with a second gauge")
    assert events(talk, "overruled")[0]["verdict"] == "low"
    assert events(talk, "overruled")[0]["reason"] == "compared with a second gauge"


def test_a_close_call_is_settled_by_zeroing(talk: Talk) -> None:
    close(talk)
    typed(talk, "1")
    assert "Open it to the air and zero it." in page(talk)
    typed(talk, "")
    assert events(talk, "instrument-checked")
    assert "Take it again." in page(talk)


# ---- one's own finding


def test_an_own_finding_stands_beside_the_tools(talk: Talk) -> None:
    typed(talk, "1")
    talk.press("own-finding")
    typed(talk, "short of", "oil at the flare nut")
    found = events(talk, "own-finding")[0]
    assert (found["cause"], found["reason"]) == ("short-of-charge", "oil at the flare nut")
    assert isinstance(talk.mode, Asked)


# ---- pages


def test_help_is_for_the_step_and_names_every_key(talk: Talk) -> None:
    talk.press("help")
    for command in keys.COMMANDS:
        assert command.help.split(";")[0] in page(talk)
    assert "small/ask-refrigerant" in page(talk)
    assert talk.press("help"), "its key again leaves it"
    assert isinstance(talk.mode, Asked)


def test_help_says_what_fits_the_reading(talk: Talk) -> None:
    typed(talk, *BEGINNING[:-1])
    talk.press("help")
    shown = page(talk)
    assert "a number alone is psig; or with its unit: barg, kPag, MPag, inHg" in shown
    assert "good to 0.5 psi" in shown
    assert "range  -14 psig to 200 psig" in shown


def test_details_say_which_step_ruled_what_out(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    ruled = talk.walk.ruled_out
    assert ruled
    talk.press("details")
    for at in ruled.values():
        assert page(talk).count(f"by {at.split('/')[-1].replace('-', ' ')}: ") == 1, "each step once"


def test_details_hold_the_whole_table_and_trail(talk: Talk) -> None:
    talk.press("details")
    assert "Nothing has been judged yet." in page(talk)
    typed(talk, "")
    typed(talk, *BEGINNING)
    talk.press("details")
    shown = page(talk)
    assert "evaporating now" in shown
    assert "▼ low" in shown
    assert "is it low" in shown
    assert "still possible" in shown
    assert not talk.enter("12"), "a page is for reading"
    talk.escape()
    assert isinstance(talk.mode, Asked)


def test_the_table_says_it_in_words_and_shapes(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    below = "\n".join(line.content.plain for line in talk.below(80, 10))
    assert "reading" in below
    assert "measured" in below
    assert "wanted" in below
    assert "difference" in below
    assert "▼ low" in below


# ---- a disk that says no


class Stubborn:
    """Stands in for the writer's way to the disk."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.refuses = False
        finish, append = Writer.finish, Writer.append

        def refusing(real: Callable[..., None]) -> Callable[..., None]:
            def call(writer: Writer, *given: object) -> None:
                if self.refuses:
                    raise Refused("no-space", "The disk is full.", "Free some space.")
                real(writer, *given)

            return call

        monkeypatch.setattr(Writer, "finish", refusing(finish))
        monkeypatch.setattr(Writer, "append", refusing(append))


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Stubborn:
    return Stubborn(monkeypatch)


def test_the_walk_stands_while_the_disk_refuses_and_nothing_is_lost(
    talk_of: Callable[..., Talk], tmp_path: Path, disk: Stubborn, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "visit.jsonl"
    talk = talk_of(path=path)
    typed(talk, "1")
    real = talk.visit.act

    def fills_up(intent: Callable[[object], object]) -> object:
        def then_full(walk: object) -> object:
            result = intent(walk)
            disk.refuses = True
            return result

        return real(then_full)

    with monkeypatch.context() as once:
        once.setattr(talk.visit, "act", fills_up)
        assert talk.enter("yes")
    assert isinstance(talk.mode, Unrecorded)
    assert "NOT SAVED" in page(talk)
    assert said(talk) == "", "not recorded, so not said to be"
    assert [command.action for _, command in talk.commands(80)] == ["leave"], "the only key that does something now"
    assert "The disk is full." in page(talk)
    assert "1 entry is not on the disk yet" in page(talk)
    assert not talk.press("note"), "first the disk"
    talk.enter("14 o")
    assert "Tried again: no." in said(talk)
    assert talk.left_over() == "14 o", "typed too early, kept for the question"
    disk.refuses = False
    typed(talk, "14 o")
    assert talk.left_over() == "14 o"
    assert "It is on the disk now." in said(talk)
    assert "Charge?" in page(talk)
    typed(talk, "14 oz")
    talk.visit.leave()
    assert verify(path).state == "open"
    assert len(path.read_text(encoding="utf-8").splitlines()) == len(talk.walk.events)


def test_notices_stand_until_something_is_done(talk_of: Callable[..., Talk]) -> None:
    visit = talk_of().visit
    talk = Talk(visit, ("The trees have changed since.",))
    assert "The trees have changed since." in page(talk)
    typed(talk, "1")
    assert "The trees have changed" not in page(talk)


def test_the_whole_small_walk_leaves_one_wait_and_no_trace_of_asides(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT)
    for action in ("help", "details", "note", "correct", "own-finding", "skip"):
        talk.press(action)
        talk.escape()
    assert talk.walk.events[-1]["event"] == "answered"


# ---- ending early, photos, own findings at the end, what was known before


def test_ending_early_asks_why(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("close")
    assert "Why does the visit end here?" in page(talk)
    talk.escape()
    assert isinstance(talk.mode, Asked)
    talk.press("close")
    assert not talk.enter(""), "a reason is needed"
    assert not talk.enter("7"), "and a figure that is none of the choices is no reason"
    assert "Say in a few words why it ends here." in said(talk)
    typed(talk, "1")
    assert not talk.over, "how the unit is left is shown first"
    assert "Nobody has written who comes back" in page(talk)
    typed(talk, "1")
    assert talk.over
    assert events(talk, "closed")[0]["why"] == "the customer calls it off"


def test_how_it_is_left_is_told_before_it_is_closed(talk: Talk) -> None:
    typed(talk, *BEGINNING, "", "100 oz", "", "98 oz")
    typed(talk, "close no more gas here")
    assert "First clear what is left on" in said(talk)
    typed(talk, "", "")
    assert "Close this visit?" in page(talk)
    typed(talk, "3", "Thursday, with gas")
    assert not talk.over
    assert "Thursday, with gas" in page(talk)
    assert "Nobody has written" not in page(talk)
    typed(talk, "no")
    assert not talk.over
    assert talk.walk.prompt is None


def test_what_is_left_on_is_cleared_before_it_ends(talk: Talk) -> None:
    typed(talk, *BEGINNING, "")
    assert talk.walk.left_on
    typed(talk, "close no more gas here")
    assert not talk.over
    assert "First clear what is left on" in said(talk)
    prompt = talk.walk.prompt
    assert prompt is not None
    assert prompt.kind == "do"
    typed(talk, "")
    assert talk.walk.prompt is None
    typed(talk, "close")
    assert talk.over
    assert not talk.walk.left_on
    assert events(talk, "closed")[0]["why"] == "no more gas here"


def test_an_ending_can_be_taken_back(talk: Talk) -> None:
    typed(talk, *BEGINNING, "")
    typed(talk, "close no more gas here")
    talk.press("undo")
    assert "Take back: ending the visit?" in page(talk)
    typed(talk, "1")
    prompt = talk.walk.prompt
    assert prompt is not None
    assert prompt.kind == "ask"


def test_a_photo_is_kept(talk_of: Callable[..., Talk], tmp_path: Path) -> None:
    talk = talk_of(path=tmp_path / "visit.jsonl")
    photo = tmp_path / "leak.jpg"
    photo.write_bytes(b"light")
    talk.press("photo")
    assert not talk.enter(str(tmp_path / "none.jpg"))
    assert said(talk).startswith("NO")
    typed(talk, f"'{photo}'")
    assert "Kept with this visit as leak.jpg." in said(talk)
    assert (tmp_path / "visit" / "leak.jpg").read_bytes() == b"light"
    assert events(talk, "photographed")[0]["name"] == "leak.jpg"
    assert isinstance(talk.mode, Asked)


def test_own_finding_stands_beside_the_tools_at_the_end(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("own-finding")
    assert "drier blocked" in page(talk)
    typed(talk, "drier blocked", "frost behind it")
    typed(talk, "", "100 oz", "", "98 oz", "skip it is steady", "15", "")
    assert talk.walk.prompt is None
    assert "your own  drier blocked - frost behind it" in page(talk)
    assert "FOUND  short of charge" in page(talk)


def test_what_was_known_before_is_told_anew(talk_of: Callable[..., Talk]) -> None:
    history = [{"circuit": "main", "reading": "nameplate-charge", "value": "14 oz", "visit": "2026-05-01"}]
    talk = talk_of(history=history)
    talk.press("correct")
    assert "nameplate charge 14 oz (from the visit of 2026-05-01)" in page(talk)
    typed(talk, "1", "9 oz")
    assert "nameplate charge: 14 oz becomes 9 oz." in page(talk)
    typed(talk, "1")
    assert events(talk, "corrected")[0]["reading"] == "nameplate-charge"
    assert [each.reading for each in talk.walk.from_before()] == ["unit"]


def test_the_way_is_in_words(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("details")
    assert "is it low - suction level is low" in page(talk)
    assert "suction-level" not in page(talk)


# ---- the place, and what was known before


def test_the_altitude_is_corrected_like_a_reading(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("correct")
    assert "altitude 300 ft" in page(talk)
    typed(talk, "altitude")
    talk.typing("6000")
    assert "6000 ft" in said(talk)
    typed(talk, "6000")
    assert "altitude: 300 ft becomes 6000 ft." in page(talk)
    assert "evaporating now:" in page(talk)
    assert not events(talk, "corrected")
    typed(talk, "1")
    assert events(talk, "corrected")[0]["reading"] == "altitude"
    assert talk.walk.of_site()[0].shown == "6000 ft"


def test_the_region_is_set_on_the_way(talk: Talk) -> None:
    talk.press("correct")
    typed(talk, "region", "EU", "1")
    assert talk.walk.values()["region"] == "EU"


@pytest.mark.parametrize("board", [False, True])
def test_what_was_known_before_and_is_typed_otherwise_is_shown_first(
    talk_of: Callable[..., Talk], board: bool
) -> None:
    history = [{"circuit": "main", "reading": "nameplate-charge", "value": "14 oz", "visit": "2026-05-01"}]
    talk = talk_of(history=history)
    if board:
        talk.press("board")
    typed(talk, "nameplate-charge 9 oz")
    assert "nameplate charge: 14 oz becomes 9 oz." in page(talk)
    assert not events(talk, "corrected")
    typed(talk, "2")
    assert not events(talk, "corrected")
    typed(talk, "nameplate-charge 9 oz", "1")
    assert events(talk, "corrected")[0]["reading"] == "nameplate-charge"


def test_of_several_on_the_board_one_known_otherwise_is_typed_alone(talk_of: Callable[..., Talk]) -> None:
    history = [{"circuit": "main", "reading": "nameplate-charge", "value": "14 oz", "visit": "2026-05-01"}]
    talk = talk_of(history=history)
    talk.press("board")
    talk.enter("nameplate charge 9 oz; fan running")
    assert "known otherwise" in said(talk)
    assert not events(talk, "corrected")
    assert [event["reading"] for event in events(talk, "told")] == ["fan"]
    assert talk.left_over() == "nameplate charge 9 oz"


def rounds_in(talk: Talk) -> list[str]:
    """The times beside the decision that each round takes."""
    talk.press("details")
    found = [line.split()[0] for line in page(talk).splitlines() if "what now - " in line]
    talk.escape()
    return found


def test_each_line_of_the_way_has_the_time_of_its_own_round(
    talk_of: Callable[..., Talk], clock: HandClock, tmp_path: Path
) -> None:
    talk = talk_of(path=tmp_path / "visit.jsonl")
    typed(talk, *TO_THE_WAIT)
    typed(talk, "skip it is steady", "4")
    first = rounds_in(talk)
    assert len(first) == 1
    clock.seconds += 600
    typed(talk, "", "96 oz", "skip it is steady", "4.2")
    both = rounds_in(talk)
    assert both[0] == first[0]
    minutes = [int(each.split(":")[0]) for each in both]
    assert minutes[1] >= minutes[0] + 10
    clock.seconds += 600
    given = next(each for each in talk.walk.given() if each.reading == "box-wanted")
    talk.act(lambda walk: walk.accept(walk.correct(given, "36 °F")))
    assert rounds_in(talk) == both, "a correction decides anew, but the rounds were when they were"
    talk.act(lambda walk: walk.undo())
    assert rounds_in(talk) == both[:1]
    talk.visit.leave()


# ---- names of circuits


def test_a_name_that_is_refused_stays_in_the_line_to_be_mended(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of("named-unit")
    assert not talk.enter("cooler, banana 12 oz psig")
    assert "12 oz" in said(talk)
    assert not talk.mistyped, "the next key does not type over it"
    typed(talk, "cooler, freezer")
    assert talk.walk.circuits == ("cooler", "freezer")


def test_a_misspelt_name_is_mended_letter_by_letter(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of("named-unit")
    typed(talk, "coler, freezer")
    talk.press("correct")
    typed(talk, "circuits")
    assert talk.left_over() == "coler, freezer"
    typed(talk, "cooler, freezer")
    assert "circuits: coler, freezer becomes cooler, freezer." in page(talk)
    typed(talk, "1")
    assert {name for name, _ in talk.walk.prompt.choices} == {"cooler", "freezer"}  # type: ignore[union-attr]


def test_a_cylinder_on_a_misspelt_circuit_is_cleared_before_anything_else(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of("named-unit")
    typed(talk, "coler, freezer", "coler", *BEGINNING, "")
    talk.press("correct")
    typed(talk, "circuits", "freezer, icebox")
    assert "Cylinder closed and off." in page(talk)
    typed(talk, "1")
    assert "left on coler, which is walked no more" in page(talk)
    typed(talk, "")
    assert not talk.walk.left_on
    assert "Which circuit" in page(talk)


def test_the_table_tells_what_was_judged_before_the_last_work(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    assert "▼ low" in "\n".join(line.content.plain for line in talk.below(80, 10))
    typed(talk, "", "100 oz", "")
    below = "\n".join(line.content.plain for line in talk.below(80, 10))
    assert "◇ was low" in below
    assert "▼ low" not in below
