"""What can hardly be so is asked about once, before it is taken; a day on the wrong side of today never is."""

from __future__ import annotations

import pytest

from tests.app.lines import events, said
from tests.app.typist import Typist, begun, bundled, known_of
from tests.record.helpers import HandClock
from tui.app.modes import Asked
from tui.app.talk import Talk
from tui.quantity import Refused
from tui.tree.library import Library


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


@pytest.fixture
def talk(trees: Library) -> Talk:
    """At the suction of a short circuit."""
    talk = Talk(begun(trees, "both-low", clock=HandClock()))
    walk = talk.walk
    typist = Typist(known_of("leak"))
    while walk.prompt is not None and not (walk.prompt.kind == "ask" and walk.prompt.readings[0].id == "suction"):
        line = typist.line(walk.prompt) if isinstance(talk.mode, Asked) else ""
        talk.typing(line)
        assert talk.enter(line), said(talk)
    return talk


def taken(talk: Talk, reading: str) -> bool:
    return any(e.get("reading") == reading for e in (*events(talk, "told"), *events(talk, "answered")))


@pytest.mark.parametrize(
    ("first", "line", "reading", "says"),
    [
        ("plate amps 9.5 A", "amps 65 A", "amps", "many times the amps"),
        ("recovery before 17.5 lb", "recovery after 15 lb", "recovery-after", "lighter than before"),
        ("micron 450 micron", "micron held 48 micron", "micron-held", "does not get deeper"),
        ],
)
def test_it_is_asked_about_once_and_then_believed(talk: Talk, first: str, line: str, reading: str, says: str) -> None:
    assert talk.enter(first), said(talk)
    assert not talk.enter(line)
    assert says in said(talk)
    assert not taken(talk, reading)
    assert talk.enter(line), "said again, it is believed"
    assert taken(talk, reading)


def test_what_can_be_is_taken_at_once(talk: Talk) -> None:
    for line in ("plate amps 9.5 A", "amps 6.5 A", "recovery before 17.5 lb", "recovery after 20 lb"):
        assert talk.enter(line), said(talk)


def test_another_text_after_a_doubt_is_looked_at_anew(talk: Talk) -> None:
    assert talk.enter("plate amps 9.5 A")
    for line in ("amps 65 A", "amps 66 A"):
        assert not talk.enter(line)
    assert talk.enter("amps 6.5 A")


@pytest.mark.parametrize(
    ("reading", "day", "ok"),
    [
        ("charge-last-right", "2027-01-01", False),
        ("charge-last-right", "2026-11-25", True),
        ("recovery-machine-made", "2031-05-05", False),
        ("recovery-machine-made", "2019-06", True),
        ("search-date", "2026-11-25", True),
        ("repair-date", "2026-12-20", True),
    ],
)
def test_a_day_on_the_wrong_side_of_today_is_refused(talk: Talk, reading: str, day: str, ok: bool) -> None:
    if ok:
        talk.walk.tell(reading, day)
        return
    with pytest.raises(Refused) as refused:
        talk.walk.tell(reading, day)
    assert "today is 2026-11-25" in refused.value.message


def test_a_year_alone_says_what_to_type(talk: Talk) -> None:
    echo = talk.walk.try_answer("2019", "recovery-machine-made")
    assert not echo.ok
    assert "2019-01-01" in echo.cure
