"""The forms a step can have, each with its keys."""

from __future__ import annotations

COMMON = ("name", "why", "how")
KEYS: dict[str, tuple[str, ...]] = {
    "ask": ("question", "couldn't", "only when", "then"),
    "caution": ("then",),
    "do": ("tell", "work", "couldn't", "once", "only when", "then"),
    "wait": ("for", "because", "couldn't", "cut short", "once", "only when", "then"),
    "work out": ("as", "only when", "then"),
    "judge": ("compare", "with", "band", "on from", "on to", "only when", "then"),
    "decide": ("by", "rows", "first of", "unsettled", "must be settled", "overrule"),
    "repeat": ("at most", "for each", "each round", "when rounds run out", "afterwards", "only when"),
    "go": ("for each", "comes back", "only when", "then"),
    "back": (),
    "finding": (
        "cause", "could be", "told apart by", "seen", "next", "customer", "go on", "offer", "still true", "leaving",
    ),
}
FORMS = tuple(KEYS)
STEP_KEYS = frozenset(COMMON).union(*KEYS.values())
