"""The clocks of a visit, and how its moments are said."""

from __future__ import annotations

import time
from datetime import date, datetime


class SystemClock:
    """The wall clock with its offset, and seconds that never jump and count a sleeping machine too."""

    def now(self) -> datetime:
        return datetime.now().astimezone()

    def mono(self) -> float:
        if hasattr(time, "CLOCK_BOOTTIME"):
            return time.clock_gettime(time.CLOCK_BOOTTIME)
        return time.monotonic()

    def today(self) -> date:
        return self.now().date()
