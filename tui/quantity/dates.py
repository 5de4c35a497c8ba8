"""Days: reading and printing them without a clock. A date is seconds since 1970-01-01."""

from __future__ import annotations

from tui.quantity.refused import Refused
from tui.quantity.typed import quoted
from tui.quantity.units import DAY

FIRST_YEAR, LAST_YEAR = 1900, 2200
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December")
_CURE = "Write year-month-day, such as 2026-11-25; or the month alone, 2026-11."


def days_of(year: int, month: int, day: int) -> int:
    """Days since 1970-01-01 of a day of the Gregorian calendar (H. Fliegel and T. van Flandern's way)."""
    shifted = year - (month <= 2)
    era = shifted // 400
    of_era = shifted - era * 400
    of_year = (153 * (month + (-3 if month > 2 else 9)) + 2) // 5 + day - 1
    return era * 146097 + of_era * 365 + of_era // 4 - of_era // 100 + of_year - 719468


def day_of(days: int) -> tuple[int, int, int]:
    """Year, month, day of that many days since 1970-01-01."""
    days += 719468
    era = days // 146097
    of_era = days - era * 146097
    year = (of_era - of_era // 1460 + of_era // 36524 - of_era // 146096) // 365
    of_year = of_era - (365 * year + year // 4 - year // 100)
    moved = (5 * of_year + 2) // 153
    month = moved + (3 if moved < 10 else -9)
    return year + era * 400 + (month <= 2), month, of_year - (153 * moved + 2) // 5 + 1


def month_length(year: int, month: int) -> int:
    """Days in a month."""
    if month == 2:
        return 29 if year % 4 == 0 and (year % 100 != 0 or year % 400 == 0) else 28
    return 30 if month in (4, 6, 9, 11) else 31


def seconds_of(year: int, month: int, day: int) -> float:
    """SI value of a day. Refused ``unreadable`` or ``out-of-range`` for one that doesn't exist."""
    if not 1 <= month <= 12:
        raise Refused("unreadable", f"There is no month {month}.", _CURE)
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise Refused("out-of-range", f"The year {year} is not between {FIRST_YEAR} and {LAST_YEAR}.", _CURE)
    if not 1 <= day <= month_length(year, month):
        raise Refused("unreadable", f"{MONTHS[month - 1]} {year} has no day {day}.", _CURE)
    return days_of(year, month, day) * DAY


def read_date(text: str) -> float:
    """SI value of a day as people write it.

    ``2026-11-25``, ``20261125``, ``25 Nov 2026``, ``Nov 25, 2026``, ``25.11.2026`` (one reading only). A month alone
    is its first day: ``2026-11``, ``11/2026``, ``Nov 2026``.
    Refused ``ambiguous`` for ``03/04/2026`` and years of two digits.
    """
    parts = _split(text) if text.isascii() else []
    if len(parts) == 1 and len(parts[0]) == 8 and parts[0].isdigit():
        parts = [parts[0][:4], parts[0][4:6], parts[0][6:]]
    if len(parts) == 2:
        return _month(text, parts)
    if len(parts) == 1 and len(parts[0]) == 4 and parts[0].isdigit():
        cure = f"{_CURE} Only the year is known? Its first day: {parts[0]}-01-01."
        raise Refused("unreadable", f"{quoted(text)} is a year alone, not a day.", cure)
    if len(parts) != 3:
        raise Refused("unreadable", f"{quoted(text)} is no date.", _CURE)
    named = [i for i, part in enumerate(parts) if part.isalpha()]
    if named:
        return _with_month_name(text, parts, named)
    if not all(part.isdigit() for part in parts):
        raise Refused("unreadable", f"{quoted(text)} is no date.", _CURE)
    if len(parts[0]) == 4 and len(parts[1]) <= 2 and len(parts[2]) <= 2:
        return seconds_of(int(parts[0]), int(parts[1]), int(parts[2]))
    if len(parts[2]) == 4 and len(parts[0]) <= 2 and len(parts[1]) <= 2:
        return _year_last(text, int(parts[0]), int(parts[1]), int(parts[2]))
    if all(len(part) <= 2 for part in parts):
        raise Refused("ambiguous", f"{quoted(text)}: which of these is the year?", _CURE)
    raise Refused("unreadable", f"{quoted(text)} is no date.", _CURE)


def _month(text: str, parts: list[str]) -> float:
    """The first day of a month, its year in four digits."""
    years = [part for part in parts if part.isdigit() and len(part) == 4]
    others = [part for part in parts if part not in years]
    if len(years) != 1 or len(others) != 1:
        raise Refused("unreadable", f"{quoted(text)} is no date.", _CURE)
    if others[0].isdigit() and len(others[0]) <= 2:
        return seconds_of(int(years[0]), int(others[0]), 1)
    return _with_month_name(text, ["1", others[0], years[0]], [1])


def _split(text: str) -> list[str]:
    for mark in "/.,-":
        text = text.replace(mark, " ")
    return text.split(" ") if "  " not in text else text.split()


def _year_last(text: str, first: int, second: int, year: int) -> float:
    if first <= 12 and second <= 12 and first != second:
        raise Refused("ambiguous", f"{quoted(text)} can be read as two different days.", _CURE)
    day, month = (first, second) if second <= 12 else (second, first)
    return seconds_of(year, month, day)


def _with_month_name(text: str, parts: list[str], named: list[int]) -> float:
    word = parts[named[0]].casefold()
    months = [i for i, name in enumerate(MONTHS, 1) if len(word) >= 3 and name.casefold().startswith(word)]
    if word == "sept":
        months = [9]
    numbers = [part.removesuffix("st").removesuffix("nd").removesuffix("rd").removesuffix("th")
               for i, part in enumerate(parts) if i != named[0]]
    if len(named) != 1 or len(months) != 1 or not all(n.isdigit() and len(n) in (1, 2, 4) for n in numbers):
        raise Refused("unreadable", f"{quoted(text)} is no date.", _CURE)
    years = [n for n in numbers if len(n) == 4]
    if len(years) != 1:
        raise Refused("ambiguous", f"{quoted(text)}: give the year with four digits.", _CURE)
    day = next(n for n in numbers if len(n) != 4)
    return seconds_of(int(years[0]), months[0], int(day))


def iso_date(si: float) -> str:
    """``2026-11-25`` of seconds since 1970-01-01."""
    year, month, day = day_of(int(si // DAY))
    return f"{year:04d}-{month:02d}-{day:02d}"


def long_date(si: float) -> str:
    """``25 November 2026`` of seconds since 1970-01-01."""
    year, month, day = day_of(int(si // DAY))
    return f"{day} {MONTHS[month - 1]} {year}"
