"""Quick sums, anywhere: a short form for each, its result at once, and the result into the step's line."""

from __future__ import annotations

from tui.app.sums.around import Surroundings, around_of
from tui.app.sums.which import quick_sums

__all__ = ["Surroundings", "around_of", "quick_sums"]
