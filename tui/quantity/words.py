"""Did you mean: the nearest known word to a mistyped one."""

from __future__ import annotations

from collections.abc import Iterable

LONGEST = 48
"""Words longer than this are not guessed at."""


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The known word that `word` most likely was meant to be, or None when none is near.

    Optimal string alignment distance (a swap of neighbours counts one), at most a third of the
    word's letters; case doesn't count. Of several equally near, the one that starts alike, then
    the first given.
    """
    sought = word.strip().casefold()
    if not sought or len(sought) > LONGEST:
        return None
    limit = max(1, len(sought) // 3)
    best: tuple[int, int] | None = None
    found: str | None = None
    for known in words:
        other = known.casefold()
        if not other or abs(len(other) - len(sought)) > limit:
            continue
        distance = _distance(sought, other, limit)
        if distance > limit or distance >= max(len(sought), len(other)):
            continue
        rank = (distance, 0 if other[0] == sought[0] else 1)
        if best is None or rank < best:
            best, found = rank, known
    return found


def _distance(a: str, b: str, limit: int) -> int:
    """Optimal string alignment distance; anything above `limit` may come back as limit + 1."""
    if a == b:
        return 0
    before: list[int] = []
    last = list(range(len(b) + 1))
    for i, letter in enumerate(a, 1):
        row = [i]
        for j, other in enumerate(b, 1):
            cost = min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == b[j - 2] and a[i - 2] == other:
                cost = min(cost, before[j - 2] + 1)
            row.append(cost)
        if min(row) > limit:
            return limit + 1
        before, last = last, row
    return last[-1]
