"""What each key of a catalogue file means, in a trainer's words, and which shape stands behind it.

A shape is a name out of `catalogue.shapes`. The keys are the parser's own (`catalogue.KEYS`); a test holds the two
equal.
"""

from __future__ import annotations

from collections.abc import Mapping

from tui.tree.schema.said_of_trees import Told

_SETTLED: Told = ("yes", "yes: the decides that lead to it stop at a close call until it is settled.")

#: By section: what the file holds.
FILES: Mapping[str, str] = {
    "readings": "What a person can be asked for; and, without `ask`, results that trees share.",
    "instruments": "What readings are taken with, and how far each may be off.",
    "cautions": "What has to be read before the step it belongs to.",
    "causes": "What a walk can find.",
    "work": "Work and what it demands first, makes stale and leaves behind.",
    "left-on": "Things left on or open, and how each is cleared before any end.",
    "figures": "The one place where a number stands, with its source.",
    "places": "Where leaks are looked for, in lists by equipment.",
    "doubts": "What can hardly be so: asked about once, before it is taken.",
}

ENTRIES: Mapping[str, Mapping[str, Told]] = {
    "readings": {
        "ask": ("text", "The question. Without it the reading is no question, but a result that trees share."),
        "kind": ("kind", "What it is: a temperature, a mass, text, ... Or `answers`, where it is one of a few words."),
        "answers": ("text", "The words it can be, with commas: running, stopped, backwards."),
        "range": ("range", "What is accepted, from the lowest to the highest: -60 °F to 200 °F."),
        "unit": ("text", "The unit in which it is asked, if not the usual one of its kind."),
        "with": ("instrument", "The instrument it is taken with: that says how far it may be off."),
        "of": ("unit or circuit", "Whose it is: the circuit's (so where nothing stands), or the whole unit's."),
        "while": ("running or stopped", "Whether the compressor must run or stand for it."),
        "settles": ("yes", "yes: after work that disturbs it, it needs a wait first."),
        "must": ("yes", "yes: the walk can't go on without it."),
        "work": ("work", "The work that taking it is, if that has cautions of its own."),
        "remembered": ("yes", "yes: it stays true, so that the next visit to the unit knows it."),
        "stays": ("yes", "yes: known through the visit, also to one who begins anew after a finding."),
        "rating": ("yes", "yes: the most that the plate allows; a verdict against it should not be overruled."),
        "worked out": ("yes", "yes: a tree may work it out; then it is not asked."),
        "good for": ("text", "How long it stays fresh by itself: 4 hours. Without it: until work changes it."),
        "set": ("yes", "yes: never asked; known from the settings or from earlier visits."),
        "how": ("text", "How it is taken well and safely."),
    },
    "instruments": {
        "good to": ("text", "How far it may be off: 0.5 psi, 10 % of reading, 1 % of 250 psi."),
        "say": ("text", "What it is called on the screen."),
        "check": ("text", "How its error is taken out: zeroed in the air, held in ice water."),
        "checked good to": ("text", "How far it may be off once that was done."),
    },
    "cautions": {
        "say": ("text", "What the technician has to read, in one breath."),
        "when": ("text", "A test: only then. Without it: always. safety-class(refrigerant) is A3 or unknown."),
    },
    "causes": {
        "say": ("text", "What it is, for the technician."),
        "customer": ("text", "The same for the customer, without trade words."),
        "must be settled": _SETTLED,
        "not when": ("text", "A test that excludes it by itself: evaporator-fan is none fitted."),
        "not on": ("reasons", "Classes of equipment (A or B) on which it can't happen, each with the reason."),
    },
    "work": {
        "after cautions": ("cautions", "Cautions that must have been read, with commas."),
        "after work": ("works", "Work that must have been done, with commas; `A or B`: one of the two."),
        "needs": ("readings", "Readings that must be known, with commas."),
        "only if": ("tests", "A test, or a list of them: every way here must have passed a decide that states it."),
        "changes": (
            "changes",
            "Readings that are no longer fresh after it, with commas; also `running readings`, `standing readings`.",
        ),
        "undoes": ("works", "Work that it turns back, with commas."),
        "leaves": ("left on", "Things it leaves on or open, with commas."),
        "clears": ("left on", "Things it clears, with commas."),
        "compressor": ("running or stopped", "What the compressor does after it."),
        "must be settled": _SETTLED,
    },
    "left-on": {
        "tell": ("text", "How it is cleared: what the technician does before the end."),
        "work": ("work", "The work that this is."),
        "too much": ("text", "What is said as well where more of it was let in than the plate allows."),
        "stay by it": ("yes", "yes: nobody works on another circuit while it is on."),
    },
    "figures": {
        "kind": ("number kind", "What the number is: a time span, a temperature difference, ..."),
        "is": ("text", "The number with its unit: 5 dF. Or by and rows, where it depends on something."),
        "by": ("columns", "The columns of its table, with commas: readings that are words."),
        "rows": ("numbers", "For each case the number with its unit. Every combination stands in exactly one row."),
        "from": ("text", "Its source: the standard or the paper with its place; or common practice."),
    },
    "doubts": {
        "when": ("text", "A test of what can hardly be: recovery-after is below recovery-before."),
        "say": ("text", "What is asked about, in plain words."),
    },
}

#: An entry without these says nothing.
NEEDED: Mapping[str, tuple[str, ...]] = {
    "instruments": ("good to",),
    "cautions": ("say",),
    "causes": ("say",),
    "left-on": ("tell", "work"),
    "figures": ("kind",),
    "doubts": ("when", "say"),
}

PLACES: Mapping[str, str] = {
    "kinds": "What is said of each place: a name, and its words with commas, or `text`.",
    "places": "The places, each with a word for every one of the kinds.",
    "lists": "Lists of places, in the order in which they are looked at: by a reading, and a row for each case.",
}
LISTS: Mapping[str, Told] = {
    "by": ("columns", "The columns of the list, with commas: readings that are words."),
    "rows": ("numbers", "For each case the places, with commas. Every combination stands in exactly one row."),
}
