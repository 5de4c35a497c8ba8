"""What the scale says rules out lack of gas and too much of it, on the sheet too."""

from __future__ import annotations

from tests.review.test_no_line_struck_out import of_example
from tests.review.visits import flat, section


def test_too_much_is_ruled_out_by_the_scale() -> None:
    """Nobody reads a number there: it says that it was weighed."""
    sheet = of_example("weighed-right-then-the-compressor")
    ruled = flat(section(sheet, "MAIN: RULED OUT ON THE WAY"))
    assert "Too much refrigerant inside. Seen: weighed and right." in ruled
    assert "weighed for" not in sheet


def test_what_was_weighed_right_is_excluded() -> None:
    """It was possible before the scale, and stands under none of the findings after it."""
    sheet = of_example("weighed-right-then-the-valve")
    assert "Short of refrigerant" in section(sheet, "MAIN: WHY 1 OF 4, 09:30")
    for title in ("MAIN: WHY 2 OF 4, 09:30", "MAIN: WHY 3 OF 4, 09:30", "MAIN: WHY 4 OF 4, 09:30"):
        assert "Short of refrigerant" not in flat(section(sheet, title))
        assert "Too much refrigerant" not in flat(section(sheet, title))
