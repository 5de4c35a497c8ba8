"""The map: the tree down the page, how it went, where it is, what can still come; by sign and by word."""

from __future__ import annotations

import pytest

from tests.app.house import stands
from tests.app.lines import BEGINNING, TO_THE_WAIT, page, said, typed
from tests.app.typist import app_of, shown
from tui.app.forms import Page
from tui.app.map import AHEAD, EARLIER, HERE, LEFT_OUT, SKIPPED, WALKED, Map
from tui.app.modes import Asked
from tui.app.screen import LowsideApp
from tui.app.talk import Talk
from tui.proof.apart import Unreached


def rows(talk: Talk) -> dict[str, str]:
    """What stands beside each step of the map: sign and word. Of two that say the same, the upper one."""
    found: dict[str, str] = {}
    for line in page(talk).splitlines():
        label, words = line[:10].strip(), line[12:].strip()
        if label in (WALKED, HERE, SKIPPED, EARLIER, LEFT_OUT, AHEAD):
            found.setdefault(words.partition(" - ")[0].partition(" > ")[0], label)
    return found


def test_down_the_page_with_sign_and_word(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT)
    talk.press("map")
    assert "A small circuit" in page(talk)
    found = rows(talk)
    assert list(found)[:4] == ["ask: refrigerant", "ask: door", "ask: nameplate charge", "ask: fan, box wanted"]
    assert found["ask: fan, box wanted"] == "✓ walked"
    assert found["wait: settle down"] == "→ HERE"
    assert found["decide: what now"] == "○ ahead"
    assert found["found: came up"] == "○ ahead"
    assert found["found: fan is dead"] == "· left out", "from here it can't be come to"
    assert not any("work out" in name or "judge" in name for name in found)


def test_the_row_that_was_taken_and_the_round(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT)
    talk.press("map")
    text = page(talk)
    assert "decide: fan first - fan: running" in text
    assert "tree: readings - taken" in text
    assert "repeat: add - round 1" in text
    assert "    do: add some" in text


def test_a_way_that_leads_elsewhere_says_where(talk: Talk) -> None:
    typed(talk, "r134a", "yes", "14 oz", "stopped", "35")
    talk.press("map")
    assert "decide: fan first > fan is dead - fan: stopped" in page(talk)
    found = rows(talk)
    assert found["found: fan is dead"] == "→ HERE"
    assert "○ ahead" not in found.values(), "the walk is over"


def test_enter_tells_more_of_a_step_and_the_row_taken_in_it(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT)
    talk.press("map")
    typed(talk, "is it low")
    assert isinstance(talk.mode, Page)
    assert "✓ taken  suction level is low > connect" in page(talk)
    assert "way  suction level is as wanted or high > it is well" in page(talk)
    assert talk.enter("")
    assert isinstance(talk.mode, Map)
    assert talk.mode.choices[talk.mark or 0][0] == "is-it-low", "back to where it was"


def test_left_and_right_turn_to_the_calling_trees(talk: Talk) -> None:
    typed(talk, *BEGINNING[:-1])
    talk.press("map")
    assert "Readings" in page(talk)
    assert "called by  small" in page(talk)
    assert talk.turn(-1)
    assert "A small circuit" in page(talk)
    assert rows(talk)["tree: readings"] == "→ HERE"
    assert talk.turn(1)
    assert "called by  small" in page(talk)


def test_an_earlier_round_is_told_apart(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT)
    talk.act(lambda walk: walk.waited(600.0))
    typed(talk, "5")
    talk.press("map")
    found = rows(talk)
    assert "repeat: add - round 2" in page(talk)
    assert found["do: add some"] == "→ HERE"
    assert found["wait: settle down"] == "✓ earlier"
    assert found["decide: what now"] == "✓ earlier"


def test_going_back_takes_it_off_the_map(talk: Talk) -> None:
    typed(talk, *BEGINNING)
    talk.press("map")
    assert rows(talk)["do: connect"] == "→ HERE"
    talk.escape()
    talk.press("undo")
    talk.press("undo")
    talk.press("map")
    assert talk.turn(-1)
    assert rows(talk)["tree: readings"] == "→ HERE"
    assert rows(talk)["decide: is it low"] == "○ ahead"


def test_escape_leaves_it_and_the_word_opens_it(talk: Talk) -> None:
    typed(talk, "map")
    assert isinstance(talk.mode, Map)
    talk.escape()
    assert isinstance(talk.mode, Asked)
    typed(talk, "menu")
    typed(talk, "map")
    assert isinstance(talk.mode, Map)
    assert not talk.enter("nothing like it")
    assert said(talk).startswith("NO")


def on_the_page(app: LowsideApp) -> str:
    return shown(app, "page")


@pytest.mark.parametrize("plain", [False, True])
async def test_at_80x24_it_opens_where_the_walk_is(talk: Talk, plain: bool) -> None:
    """With what was and what comes around it; and in ASCII where a console has no more."""
    typed(talk, *TO_THE_WAIT)
    app = app_of(talk.visit)
    app._plain = plain
    async with app.run_test(size=(80, 24)) as pilot:
        await stands(app, pilot, "settle")
        app.action_command("map")
        await stands(app, pilot, "HERE")
        text = on_the_page(app)
        lines = text.splitlines()
        here = next(number for number, line in enumerate(lines) if "HERE" in line)
        assert 4 < here < len(lines) - 4
        assert "ahead" in text
        assert "walked" in text
        assert all(len(line) <= 80 for line in lines)
        assert text.isascii() == plain
        await pilot.press("pageup", "pageup")
        assert "A small circuit" in on_the_page(app)
        await pilot.press("pagedown", "pagedown", "pagedown")
        assert "found: cannot say" in on_the_page(app)


def test_on_a_narrow_screen_each_step_keeps_to_one_line(talk: Talk) -> None:
    typed(talk, *TO_THE_WAIT)
    talk.press("map")
    assert all(len(line) <= 40 for line in page(talk, 40).splitlines())
    steps = [line for line in page(talk, 40).splitlines() if line[:1] in "✓→–·○" and line.strip()]
    assert len(steps) == len(talk.mode.choices)
    after = page(talk, 40).splitlines()
    assert after[after.index(steps[0]) : after.index(steps[-1]) + 1] == steps


def test_in_the_beginning(talk: Talk) -> None:
    """Before the first answer all of it lies ahead."""
    talk.press("map")
    found = rows(talk)
    assert found["ask: refrigerant"] == "→ HERE"
    assert set(list(found.values())[1:]) == {"○ ahead"}


# ---- what no example reaches


def looked(talk: Talk, problem: str = "", *bare: tuple[str, str]) -> None:
    """As if the examples had been walked."""
    found = Unreached("small", (), "")
    found.problem, found.bare = problem, frozenset(bare)
    talk.unreached["small"] = found


def test_it_looks_for_rows_without_an_example_only_when_asked(talk: Talk) -> None:
    talk.press("map")
    assert "type rows to look for rows that no example reaches" in page(talk)
    assert not talk.mode.busy
    assert talk.enter("rows")
    assert talk.mode.busy
    assert "looking for rows that no example reaches ..." in page(talk)
    talk.unreached["small"].close()


def test_rows_without_an_example_are_marked(talk: Talk) -> None:
    looked(talk, "", ("fan-first", "stopped"), ("fan-is-dead", ""))
    talk.press("map")
    text = page(talk)
    assert "2 rows or steps here marked [no example]" in text
    assert "decide: fan first [no example: 1 row]" in text
    (found,) = [line for line in text.splitlines() if "found: fan is dead" in line]
    assert found.endswith(" [no example]")
    assert text.count("[no example") == 3, "with the line that counts them"


def test_a_way_without_an_example_is_marked_where_the_step_is_told(talk: Talk) -> None:
    looked(talk, "", ("fan-first", "stopped"))
    talk.press("map")
    typed(talk, "fan first")
    (row,) = [line for line in page(talk).splitlines() if "no example" in line]
    assert "fan: stopped" in row


def test_that_all_is_reached_and_that_it_can_not_be_told(talk: Talk) -> None:
    looked(talk)
    talk.press("map")
    assert "every step and row here is reached by one" in page(talk)
    looked(talk, "the trees do not hold")
    assert "it can't be told what they reach: the trees do not hold" in page(talk)
