"""On a screen of ten rows the question stands there, whatever is marked; why and how come behind the choices."""

from __future__ import annotations

import pytest

from tests.app.typist import app_of, begun, bundled, screen_text
from tui.tree.library import Library


@pytest.fixture(scope="module")
def trees() -> Library:
    return bundled()


@pytest.mark.parametrize("key", ["1", "2", "up", "down"])
async def test_the_question_stays(trees: Library, key: str) -> None:
    visit = begun(trees)
    visit.walk.answer("R-134a")
    visit.walk.answer("yes")
    visit.walk.tell("equipment", "walk-in cooler")
    while visit.walk.prompt is not None and not (visit.walk.prompt.why or visit.walk.prompt.how):
        prompt = visit.walk.prompt
        if prompt.kind == "caution":
            visit.walk.acknowledge()
        else:
            reading = prompt.readings[0]
            visit.walk.answer(reading.choices[0][0] if reading.choices else "300 psig")
    asked = visit.walk.prompt
    assert asked is not None
    app = app_of(visit)
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.press(key)
        await pilot.pause()
        stands = " ".join(screen_text(app).split())
        assert " ".join((asked.words or asked.readings[0].words).split()[:3]) in stands
