"""What each key of a tree means, in a trainer's words, and which shape stands behind it.

A shape is a name out of `trees.shapes`. The keys are the parser's own (`steps.HEAD`, `forms.KEYS`); a test holds the
two equal.
"""

from __future__ import annotations

from collections.abc import Mapping

#: Shape and words.
Told = tuple[str, str]

HEAD: Mapping[str, Told] = {
    "tree": ("text", "The tree's name: that of its file, without .yaml."),
    "title": ("text", "One line that says what the tree is for. It is shown where the tree is offered."),
    "edition": ("text", "Counts up with every change that goes out, so that a session says which one it walked."),
    "of": ("unit or circuit", "What is walked: circuit - one refrigerant circuit; unit - the whole machine."),
    "unsettled": ("way", "Where a decide leads that can't tell, unless it says otherwise itself. A step further down."),
    "steps": ("steps", "What is done, one dash a step, down the page. The one way back is a repeat."),
}

COMMON: Mapping[str, Told] = {
    "name": ("text", "A name for this step, so that others can lead to it. Words with hyphens."),
    "why": ("text", "Why this is asked or done. The technician reads it under the question."),
    "how": ("text", "How it is done well and safely. Numbers are put in as <figure-name>."),
}

_ONLY_WHEN: Told = ("test", "Passed over unless this holds: equipment is walk-in cooler or walk-in freezer.")
_THEN: Told = ("way", "Where it goes on, if not at the step below.")
_CUT_SHORT: Told = ("way", "Where it goes on if the wait was shorter than asked, so that it proves nothing.")
_COULDNT: Told = ("way", "Where it goes on if this can't be had or done.")

STEPS: Mapping[str, Mapping[str, Told]] = {
    "ask": {
        "ask": ("asked readings", "Readings to be known and fresh, with commas: one screen. Known ones are not asked."),
        "question": ("text", "What the technician reads, instead of the readings' own questions."),
        "couldn't": _COULDNT,
        "only when": _ONLY_WHEN,
        "then": _THEN,
    },
    "caution": {
        "caution": ("cautions", "Cautions to be read before what follows, with commas. Each once a circuit."),
        "then": _THEN,
    },
    "do": {
        "do": ("text", "Something the technician does. Here stands its name, in words with hyphens."),
        "tell": ("text", "What the technician is told to do. Numbers are put in as <figure-name>."),
        "work": ("work", "Which work of the catalogue it is: that says what must come before and what it changes."),
        "couldn't": _COULDNT,
        "once": ("yes", "yes: not asked again while it is done and nothing has undone it."),
        "only when": _ONLY_WHEN,
        "then": _THEN,
    },
    "wait": {
        "wait": ("text", "Waiting until readings mean something. Here stands its name, in words with hyphens."),
        "for": ("time span", "How long: a figure's name, or a time such as 10 min."),
        "because": ("text", "What would go wrong without the wait."),
        "couldn't": _COULDNT,
        "cut short": _CUT_SHORT,
        "once": ("yes", "yes: not asked again while nothing has changed since a wait as long."),
        "only when": _ONLY_WHEN,
        "then": _THEN,
    },
    "work out": {
        "work out": ("results", "A sum. Here stands the name of its result."),
        "as": ("expression", "The sum: names, numbers with units, + - * /, and the trade's sums."),
        "only when": _ONLY_WHEN,
        "then": _THEN,
    },
    "judge": {
        "judge": ("results", "Is it low, on or high? Here stands the name of that verdict."),
        "compare": ("expression", "What is measured or worked out."),
        "with": ("number", "What it should be. Goes with band."),
        "band": ("number", "How far it may be off and still be on: a difference, such as 5 dF."),
        "on from": ("number", "From here up it is on, below it low. Instead of with and band."),
        "on to": ("number", "Up to here it is on, above it high. Instead of with and band."),
        "only when": _ONLY_WHEN,
        "then": _THEN,
    },
    "decide": {
        "decide": ("text", "The ways part. Here stands its name, in words with hyphens."),
        "by": ("columns", "The table's columns, with commas: readings and verdicts that are words. Goes with rows."),
        "rows": (
            "rows",
            "One line for each case: a word for each column, with commas, then where it leads. A cell may be "
            "`low or on`, `any` or `unknown`. Every combination stands in exactly one row.",
        ),
        "first of": (
            "rows",
            "Tests, the first that holds counts, each with where it leads; `otherwise` last. Instead of by and rows.",
        ),
        "unsettled": ("way", "Where it leads when what is unknown or too close could lead to several places."),
        "must be settled": (
            "yes",
            "yes: a close call stops here until it is settled. Needed before gas goes in, a circuit is opened or a "
            "part is condemned.",
        ),
        "overrule": ("yes", "no: at a close call the technician may not give a verdict of his own."),
    },
    "repeat": {
        "repeat": ("text", "Steps that are done several times. Here stands its name, in words with hyphens."),
        "at most": ("rounds", "The most rounds there may be, such as 12 rounds."),
        "for each": ("each place", "Instead of at most: one round for each place of a list, `place in leak-places`."),
        "each round": ("steps", "The steps of one round. `go round` begins the next."),
        "when rounds run out": ("way", "Where it goes on after the last round of at most."),
        "afterwards": ("way", "Where it goes on after the last place of for each."),
        "only when": _ONLY_WHEN,
    },
    "go": {
        "go": ("tree", "Another tree is walked now: which one."),
        "for each": ("each circuit", "circuit: it is walked for every circuit of the unit, each by itself."),
        "comes back": ("rows", "For each outcome of that tree (its `back` steps) where this one goes on."),
        "only when": _ONLY_WHEN,
        "then": _THEN,
    },
    "back": {
        "back": ("text", "The outcome with which this tree goes back to the one that called it."),
    },
    "finding": {
        "finding": ("text", "What was found: the end of a way. Here stands its name, in words with hyphens."),
        "cause": ("cause", "What it is. Or could be, where that can't be told."),
        "could be": ("causes", "What it still could be, with commas. Goes with told apart by."),
        "told apart by": ("text", "The test that would part them."),
        "seen": ("text", "What was seen that says so. Values are put in as <reading-name>."),
        "next": ("text", "What to do now. Never topping up and leaving."),
        "customer": ("text", "What the customer is told, where the cause's own words don't say enough."),
        "go on": ("tree", "The tree that follows by itself."),
        "offer": ("tree", "The tree that is offered; it follows if the technician says yes."),
        "still true": ("yes", "yes: nothing is done before what is offered begins; what was read is not asked again."),
        "leaving": ("left on", "What may be left as it is at this end, such as vacuum."),
    },
}

#: Keys that begin so may stand beside those of a step.
FREE: Mapping[str, Mapping[str, Told]] = {
    "repeat": {"when ": ("way", "Before each round: if this test holds, the rounds end and it goes on there.")},
}

#: A step without these says nothing.
NEEDED: Mapping[str, tuple[str, ...]] = {
    "do": ("tell", "work"),
    "wait": ("for", "because"),
    "work out": ("as",),
    "judge": ("compare",),
    "repeat": ("each round",),
    "finding": ("seen",),
}

#: Steps that an editor can put in with all they need.
AT_ONCE = ("do", "wait", "work out", "judge", "finding")
NEEDED_HEAD = ("tree", "title", "edition", "of", "steps")
