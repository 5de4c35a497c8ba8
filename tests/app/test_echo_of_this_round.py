"""While one types, a reading is held against those of this round alone."""

from __future__ import annotations

from tests.app.typist import Typist, begun, bundled, known_of
from tests.record.helpers import HandClock
from tui.app.modes import Asked
from tui.app.talk import Talk


def at_suction_again() -> Talk:
    """Where suction is asked for the second time: gas went in, so nothing of the first round holds."""
    talk = Talk(begun(bundled(), clock=HandClock()))
    typist, seen = Typist(known_of("leak")), 0
    while (prompt := talk.walk.prompt) is not None:
        if prompt.kind == "ask" and prompt.readings[0].id == "suction":
            seen += 1
            if seen == 2:
                return talk
        line = typist.line(prompt) if isinstance(talk.mode, Asked) else ""
        talk.typing(line)
        assert talk.enter(line)
    raise AssertionError("suction was asked once only")


def test_superheat_is_never_of_two_rounds() -> None:
    walk = at_suction_again().walk
    assert "evaporator-outlet" in walk.values(), "of the first round it is known"
    assert not any("superheat" in each for each in walk.try_answer("30 °F", "evaporator-outlet").beside)
    walk.answer({"suction": "11 psig"})
    assert any("superheat" in each for each in walk.try_answer("30 °F", "evaporator-outlet").beside)
