"""The talk without a screen: what a line and a key do at the walk's own questions."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.app.lines import BEGINNING, TO_THE_WAIT, events, page, said, typed
from tests.app.typist import Typist, asks, begun, bundled, known_of
from tests.record.helpers import HandClock
from tui.app.dialogue import REST
from tui.app.ending import AtEnd
from tui.app.modes import Asked
from tui.app.talk import Talk

# ---- choosing


def test_a_digit_marks_and_enter_takes(talk: Talk) -> None:
    talk.typing("2")
    assert talk.mark == 1
    assert said(talk) == "taken as R-290"
    assert not events(talk, "answered"), "nothing is taken before Enter"
    assert talk.enter("2")
    assert events(talk, "answered")[0]["reading"] == "refrigerant"
    assert said(talk) == "recorded refrigerant: R-290"


def test_nothing_is_chosen_beforehand(talk: Talk) -> None:
    assert not talk.enter("")
    assert "Nothing is chosen yet" in said(talk)
    assert not events(talk, "answered")


def test_arrows_mark_and_go_round(talk: Talk) -> None:
    talk.move(1)
    assert talk.mark == 0
    talk.move(-1)
    assert talk.mark == 2
    assert talk.enter("")
    assert said(talk) == "recorded refrigerant: R-448A"


def test_a_click_takes(talk: Talk) -> None:
    assert talk.click(0)
    assert said(talk) == "recorded refrigerant: R-134a"


def test_a_refrigerant_goes_by_its_other_names_and_is_marked(talk: Talk) -> None:
    talk.typing("134a")
    assert talk.mark == 0
    assert said(talk) == "taken as R-134a"


def test_another_refrigerant_is_never_taken_for_one_that_begins_like_it(talk: Talk) -> None:
    """R-13 begins R-134a, and is another one."""
    for line in ("R-13", "r13", "R-1"):
        talk.typing(line)
        assert talk.mark is None
        assert said(talk).startswith("not yet")
        assert not talk.enter(line)
    assert not events(talk, "answered")


def test_arrows_put_the_mark_in_the_place_of_what_was_typed(talk: Talk) -> None:
    typed(talk, "1")
    talk.typing("ye")
    assert talk.mark == 0
    assert talk.move(1), "the line goes: Enter must take what is marked"
    assert said(talk) == ""
    assert talk.enter("")
    assert said(talk) == "recorded door: no"


def test_arrows_leave_words_of_ones_own(talk: Talk) -> None:
    typed(talk, "1", "yes")
    talk.press("couldnt")
    talk.typing("the plate is painted over")
    assert not talk.move(1)
    assert talk.mark is None
    typed(talk, "the plate is painted over")
    assert events(talk, "couldn't")[0]["reason"] == "the plate is painted over"


def test_words_may_be_begun(talk: Talk) -> None:
    typed(talk, "1", "y")
    assert said(talk) == "recorded door: yes"


def test_a_wrong_choice_names_the_nearest(talk: Talk) -> None:
    typed(talk, "1", "yes", "14 oz")
    assert not talk.enter("runing")
    assert "running" in said(talk)


# ---- readings


def test_the_echo_says_how_a_figure_is_understood(talk: Talk) -> None:
    typed(talk, *BEGINNING[:-1])
    talk.typing("8.2")
    assert "taken as 8.2 psig = 0.57 barg" in said(talk)
    assert "R-134a saturated at 3" in said(talk), "3.1 °F: dew point of R-134a at 8.2 psig, by the tables' own tests"
    assert "below wanted" in said(talk)


def test_the_echo_judges_once_and_by_all_that_is_wanted() -> None:
    talk = Talk(begun(bundled(), clock=HandClock()))
    typist, echoes = Typist(known_of("leak")), []
    while (prompt := talk.walk.prompt) is not None:
        line = typist.line(prompt)
        talk.typing(line)
        if asks("evaporator-outlet")(prompt):
            echoes.append(said(talk).partition("°C ")[2])
        typed(talk, line)
    assert echoes == [
        "superheat 31.9 dF, 16.9 dF above wanted",
        "superheat 26 dF, 11 dF above wanted",
        "superheat 11 dF, wanted 5 dF to 15 dF",
    ], "5 to 15 dF is wanted, as the table says; that it is at least 5 dF tells less"


def test_a_wrong_unit_is_said_while_typing_and_refused(talk: Talk) -> None:
    typed(talk, *BEGINNING[:-1])
    talk.typing("8 oz")
    assert said(talk).startswith("not yet")
    assert not talk.enter("8 oz")
    assert said(talk).startswith("NO")
    assert "psig" in said(talk), "the cure names the unit"


def test_any_reading_by_its_name_at_any_time(talk: Talk) -> None:
    typed(talk, "suction 4 psig")
    assert said(talk) == "recorded suction: 4.0 psig"
    assert events(talk, "told")[0]["reading"] == "suction"
    talk.typing("box wanted 35")
    assert said(talk).startswith("taken as box wanted: 35 °F"), "the echo names the reading it goes to"


@pytest.mark.parametrize("line", ["suction pressure 4 psig", "SUCTION: 4 psi", "suction=4", "suction pressure is 4"])
def test_a_reading_by_its_name_as_people_write_it(talk: Talk, line: str) -> None:
    talk.typing(line)
    assert said(talk).startswith("taken as suction: 4.0 psig")
    typed(talk, line)
    assert said(talk) == "recorded suction: 4.0 psig"


def test_a_name_alone_waits_for_its_value(talk: Talk) -> None:
    talk.typing("box wanted")
    assert said(talk) == "not yet box wanted: go on with what it reads."
    assert not talk.enter("box wanted")
    assert "box wanted: what does it read?" in said(talk)
    assert not talk.mistyped, "what is missing can be typed on"


def test_what_is_worked_out_cannot_be_told_and_the_echo_knows() -> None:
    talk = Talk(begun(bundled(), clock=HandClock()))
    talk.typing("superheat 12")
    assert said(talk).startswith("not yet")
    assert not talk.enter("superheat 12")
    assert not events(talk, "told")


def test_one_of_a_board_can_be_typed_first(talk: Talk) -> None:
    typed(talk, *BEGINNING[:3])
    assert "Box wanted?" in page(talk)
    typed(talk, "box wanted 35")
    assert events(talk, "told") == []
    assert events(talk, "answered")[-1]["reading"] == "box-wanted"
    assert "known  box wanted 35 °F" in page(talk)


def test_an_answer_that_reads_like_a_command_begins_with_equals(talk: Talk) -> None:
    assert not talk.enter("= note")
    assert talk.aside is None
    assert "none of these" in said(talk) or "NO" in said(talk)


# ---- cautions, work, a key held down


def test_cautions_need_enter_and_nothing_else(talk: Talk) -> None:
    typed(talk, *BEGINNING[:5])
    assert "CAUTION" in page(talk)
    assert not talk.enter("whatever")
    assert not events(talk, "caution-acknowledged")
    typed(talk, "")
    assert events(talk, "caution-acknowledged")


def test_a_stray_number_at_a_caution_is_not_in_the_way_of_the_next_enter(talk: Talk) -> None:
    typed(talk, *BEGINNING[:5])
    assert talk.enter("2"), "the line is emptied"
    assert "'2' is no answer here" in said(talk)
    assert not events(talk, "caution-acknowledged")


def test_a_key_held_down_reads_no_caution(talk: Talk, clock: HandClock, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(talk, *BEGINNING[:4])
    talk.enter("35")
    at = clock.seconds
    monkeypatch.setattr(clock, "mono", lambda: at)
    for _ in range(30):
        at += 0.04
        assert not talk.enter("")
    assert not events(talk, "caution-acknowledged")
    at += REST + 0.01
    assert talk.enter("")
    assert events(talk, "caution-acknowledged")


# ---- back, couldn't, note


def test_back_takes_the_last_answer_back(talk: Talk) -> None:
    typed(talk, "1", "yes")
    assert talk.press("undo")
    assert "Take back: door yes?" in page(talk)
    assert "Does the door close?" in page(talk), "what would be asked then"
    assert talk.press("undo"), "its key again does it"
    assert "Door" in page(talk) or "door" in page(talk)
    typed(talk, "back", "1")
    assert "Refrigerant?" in page(talk)
    assert not talk.press("undo")
    assert "Nothing to take back" in said(talk)


def test_going_back_can_be_left(talk: Talk) -> None:
    typed(talk, "1", "yes", "back", "no")
    assert not events(talk, "undone")
    assert "Charge" in page(talk)


def test_couldnt_asks_why_and_offers_reasons(talk: Talk) -> None:
    typed(talk, "1", "yes")
    assert talk.press("couldnt")
    assert "Why can't it be had? Charge?" in page(talk)
    assert not talk.enter("")
    typed(talk, "1")
    assert events(talk, "couldn't")[0]["reason"] == "no port or no fitting for it"


def test_couldnt_with_words_of_ones_own(talk: Talk) -> None:
    typed(talk, "1", "yes", "couldn't the plate is painted over")
    assert events(talk, "couldn't")[0]["reason"] == "the plate is painted over"


def test_what_must_be_had_cannot_be_left_out(talk: Talk) -> None:
    assert not talk.press("couldnt")
    assert "can't go on without an answer: Refrigerant?" in said(talk)
    assert talk.aside is None


def test_a_note_is_kept_as_it_was_typed(talk: Talk) -> None:
    long = "Kälte [red]läuft[/] " * 250
    assert talk.press("note")
    typed(talk, long)
    assert events(talk, "noted")[0]["text"] == " ".join(long.split())
    assert isinstance(talk.mode, Asked)


def test_escape_leaves_an_aside_and_never_goes_back(talk: Talk) -> None:
    typed(talk, "1")
    talk.press("note")
    talk.escape()
    assert isinstance(talk.mode, Asked)
    count = len(talk.walk.events)
    talk.escape()
    assert len(talk.walk.events) == count


def test_what_was_typed_is_there_again_after_help_and_notes(talk: Talk) -> None:
    typed(talk, "1", "yes")
    talk.typing("14 o")
    assert talk.press("help")
    assert talk.left_over() == ""
    assert talk.press("help"), "its key again leaves it"
    assert talk.left_over() == "14 o"
    assert "not yet" in said(talk), "and is said back"
    assert talk.press("couldnt")
    assert talk.left_over() == ""
    talk.typing("the plate is")
    assert talk.press("note")
    assert talk.left_over() == ""
    talk.typing("oil under the")
    assert talk.press("note")
    assert talk.left_over() == "oil under the", "the same key is no way to lose it"
    typed(talk, "oil under the coil")
    assert talk.left_over() == "the plate is"
    assert "Why can't it be had?" in page(talk)
    assert "Noted." in said(talk)
    talk.escape()
    assert talk.left_over() == "14 o"


def test_what_was_typed_for_a_question_is_not_put_to_the_next(talk: Talk) -> None:
    typed(talk, "1", "yes")
    talk.typing("14 o")
    assert talk.press("couldnt")
    typed(talk, "1")
    assert talk.left_over() == ""
    typed(talk, "note a hose leaks")
    assert talk.left_over() == ""


def test_a_refused_line_can_be_typed_over(talk: Talk) -> None:
    typed(talk, "1", "yes")
    assert not talk.enter("14 pisg")
    assert talk.mistyped
    assert talk.press("note")
    assert not talk.mistyped


@pytest.mark.parametrize("line", ["0.4 kg 3.5", "no " * 40], ids=["a little more", "long"])
def test_a_line_that_needs_only_a_little_or_is_long_is_kept(talk: Talk, line: str) -> None:
    typed(talk, "1", "yes")
    assert not talk.enter(line)
    assert not talk.mistyped


def test_a_key_that_means_nothing_here_says_so(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of(unit="")
    assert not talk.press("skip")
    assert "Cut short: not at this step" in said(talk)
    assert not talk.press("overrule")


# ---- waits


def test_a_wait_is_over_only_when_it_is(talk: Talk, clock: HandClock) -> None:
    typed(talk, *TO_THE_WAIT)
    assert "to go" in page(talk)
    assert not talk.enter("")
    assert "to go" in said(talk)
    assert not talk.tick()
    clock.seconds += 1000
    assert talk.tick(), "it rings"
    assert not talk.tick(), "once"
    assert "The time is over." in page(talk)
    typed(talk, "")
    assert float(str(events(talk, "waited")[0]["actual"])) > 1000
    assert not talk.ticking


def test_a_wait_is_cut_short_with_a_reason(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT, "skip")
    assert "Why is this wait cut short?" in page(talk)
    typed(talk, "1")
    assert events(talk, "waited")[0]["skipped_because"] == "it is steady already"


def test_a_wait_that_is_a_proof_says_where_it_goes_when_cut_short(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of("held")
    typed(talk, "50 °F")
    leads = "found: short of charge"
    assert "1 cut it short: then it proves nothing; asks why" in page(talk)
    typed(talk, "1")
    shown = " ".join(page(talk).split())
    assert f"It proves nothing then - {leads}" in shown
    assert "steady" not in shown, "no reason where only the time proves it"
    typed(talk, "1")
    assert [each.at for each in talk.walk.findings] == ["held/not-held"]


def test_another_circuit_meanwhile_and_its_wait_rings(talk_of: Callable[..., Talk], clock: HandClock) -> None:
    talk = talk_of("small", known={"circuits": {"cooler": {}, "freezer": {}}})
    assert "Which circuit" in page(talk)
    typed(talk, "cooler", *TO_THE_WAIT)
    assert "work on freezer meanwhile" in page(talk)
    typed(talk, "1")
    assert talk.title()[0].startswith("K-12  freezer")
    clock.seconds += 1000
    assert talk.tick()
    assert "cooler: its wait is over" in said(talk)


def test_a_correction_leaves_every_running_wait_alone(talk_of: Callable[..., Talk], clock: HandClock) -> None:
    talk = talk_of("small", known={"circuits": {"cooler": {}, "freezer": {}}})
    typed(talk, "cooler", *TO_THE_WAIT, "1", *(line for line in TO_THE_WAIT if line != "yes"))
    clock.seconds += 100
    talk.press("correct")
    typed(talk, "freezer box wanted 35 °F", "34 °F", "yes")
    assert events(talk, "corrected")
    assert talk.walk.prompt is not None
    assert 100 < talk.waits.waited(talk.walk.prompt) < 110
    typed(talk, "1")
    assert talk.walk.prompt is not None
    assert talk.walk.prompt.circuit == "cooler"
    assert 100 < talk.waits.waited(talk.walk.prompt) < 120


def test_an_answer_taken_back_and_given_again_leaves_the_wait_running(talk: Talk, clock: HandClock) -> None:
    typed(talk, *TO_THE_WAIT)
    clock.seconds += 100
    talk.press("undo")
    typed(talk, "yes")
    assert events(talk, "undone")
    assert talk.walk.prompt is not None
    assert talk.walk.prompt.kind == "ask"
    assert not talk.ticking, "no wait stands now"
    typed(talk, TO_THE_WAIT[-1])
    assert talk.walk.prompt.kind == "wait"
    assert 100 < talk.waits.waited(talk.walk.prompt) < 110


def test_a_wait_after_new_work_begins_anew(talk: Talk, clock: HandClock) -> None:
    typed(talk, *TO_THE_WAIT)
    clock.seconds += 1000
    typed(talk, "", "4", "", "4900 g")
    assert talk.walk.prompt is not None
    assert talk.walk.prompt.kind == "wait"
    assert talk.waits.waited(talk.walk.prompt) < 10


def test_a_reading_of_another_circuit_by_its_name(talk_of: Callable[..., Talk]) -> None:
    talk = talk_of("small", known={"circuits": {"cooler": {}, "freezer": {}}})
    typed(talk, "freezer suction 9 psig")
    assert events(talk, "told")[0]["circuit"] == "freezer"


# ---- to the end


def test_to_the_finding_and_closed(talk: Talk, clock: HandClock) -> None:
    typed(talk, *TO_THE_WAIT, "skip it is steady already", "15", "")
    assert isinstance(talk.mode, AtEnd)
    assert "FOUND" in page(talk)
    assert "Find the leak." in page(talk)
    assert not talk.over
    clock.seconds += 1
    typed(talk, "")
    assert not talk.over, "one Enter closes nothing for good"
    assert "nothing in it can be corrected after that" in page(talk)
    talk.escape()
    assert isinstance(talk.mode, AtEnd)
    assert talk.press("undo"), "it can still be gone back"
    talk.escape()
    typed(talk, "")
    typed(talk, "")
    assert talk.over
    assert events(talk, "closed")[0]["why"] == "ended"


def test_a_word_closes_at_once(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT, "skip it is steady already", "15", "", "close")
    assert talk.over


def test_a_stop_rules_nothing_out() -> None:
    talk = Talk(begun(bundled(), clock=HandClock()))
    before = talk.walk.still_possible
    typed(talk, "r717", "yes")
    assert isinstance(talk.mode, AtEnd)
    assert "R-717" in page(talk)
    assert "ruled out" not in page(talk)
    (found,) = events(talk, "finding")
    assert found["ruled_out"] == []
    assert found["still_possible"] == sorted(before)


def test_the_end_takes_notes_and_goes_back(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT, "skip it is steady already", "15", "", "note gauge hose leaks")
    assert events(talk, "noted")
    assert not talk.enter("12")
    assert talk.press("undo")
    assert talk.press("undo")
    assert isinstance(talk.mode, Asked)


def test_an_offer_stands_under_its_finding(talk: Talk) -> None:
    typed(talk, *BEGINNING[:-1], "15")
    assert "FOUND" in page(talk)
    assert "Go on with: A small circuit?" in page(talk)
    typed(talk, "no")
    assert isinstance(talk.mode, AtEnd)


def test_a_finding_read_above_its_offer_is_not_shown_once_more(talk: Talk) -> None:
    typed(talk, *BEGINNING[:-1], "15")
    found = len(talk.walk.findings)
    typed(talk, "yes")
    assert len(talk.walk.findings) == found
    assert isinstance(talk.mode, Asked), "the walk goes on at once"


def test_leaving_leaves_the_visit_open(talk: Talk) -> None:
    typed(talk, "1")
    talk.press("leave")
    assert talk.over
    assert not talk.walk.closed
