"""Pages of what the words of a tree must mean."""

from __future__ import annotations

from tui.tree.check.page import Page, page


def _decided(code: str, means: str, wrong: str, right: str) -> Page:
    """A page whose examples are the rows of a decide by needles and frost."""
    return page(code, means, _decide(wrong), _decide(right))


def _decide(rows: str) -> str:
    lines = "".join(f"    {row.strip()}\n" for row in rows.strip().split("\n"))
    head = "- ask: needles, frost\n- decide: steady\n  by: needles, frost\n  rows:\n"
    return f"{head}{lines}- back: seen\n- back: moving\n  name: moving"


_ROWS = """
    steady, any: carry on
    swinging, any: moving
"""


def _worked(code: str, means: str, wrong: str, right: str = "box-air - box-wanted") -> Page:
    """A page whose examples are one expression."""
    return page(code, means, _work(wrong), _work(right))


def _work(expression: str) -> str:
    return (
        f"- ask: box-air, box-wanted\n- work out: too-warm\n  as: {expression}\n"
        "- finding: seen\n  cause: cannot-tell\n"
        "  seen: Box <box-air>, wanted <box-wanted>, off by <too-warm>.\n  next: Go on."
    )


def _reading(code: str, means: str, wrong: str, right: str) -> Page:
    """A page whose examples are entries of readings.yaml."""
    head = "# catalogue/readings.yaml\n"
    return page(code, means, head + wrong, head + right)


PAGES = (
    _decided(
        "gap",
        "A combination of words that no row names. Every combination stands in one row; the message names one.",
        "steady, any: carry on\nswinging, thin or none: moving",
        _ROWS,
    ),
    _decided(
        "clash",
        "A combination of words that two rows name. Order means nothing in a table, so neither comes first.",
        _ROWS + "any, block of ice: moving",
        _ROWS,
    ),
    _decided(
        "bad-table",
        "A row has not as many cells as the table has columns, or `any` stands beside other words.",
        "steady: carry on\nswinging, any: moving",
        _ROWS,
    ),
    _decided(
        "duplicate-word",
        "A word stands twice in one cell or in one list of answers.",
        "steady or steady, any: carry on\nswinging, any: moving",
        _ROWS,
    ),
    _decided(
        "not-an-answer",
        "A word that the thing it is compared with can never be; most often a slip of the pen.",
        "steady, any: carry on\nswings, any: moving",
        _ROWS,
    ),
    _decided(
        "no-such-step",
        "A way leads to a step that this tree does not have, or that has no name.",
        "steady, any: carry on\nswinging, any: movin",
        _ROWS,
    ),
    _decided(
        "no-round",
        "`go round` stands outside of a repeat.",
        "steady, any: carry on\nswinging, thin or none: moving\nswinging, block of ice: go round",
        _ROWS,
    ),
    page(
        "jumps-up",
        "Steps run down the page. The one way back is a `repeat` with a stated most.",
        """
        - ask: needles
          name: look
        - decide: steady
          by: needles
          rows:
            steady: carry on
            swinging: look
        - back: seen
        """,
        """
        - repeat: look
          at most: 3 rounds
          each round:
          - ask: needles
          - decide: steady
            by: needles
            rows:
              steady: seen
              swinging: go round
          when rounds run out: seen
        - back: seen
          name: seen
        """,
    ),
    page(
        "jumps-into",
        "A way leads into a repeat from outside of it. Go to the repeat itself.",
        """
        - ask: needles
        - decide: steady
          by: needles
          rows:
            steady: again
            swinging: carry on
        - repeat: look
          at most: 3 rounds
          each round:
          - ask: frost
            name: again
          when rounds run out: carry on
        - finding: seen
          cause: cannot-tell
          seen: Frost.
          next: Go on.
        """,
        """
        - ask: needles
        - decide: steady
          by: needles
          rows:
            steady: look
            swinging: carry on
        - caution: moving-fans
          then: look
        - repeat: look
          at most: 3 rounds
          each round:
          - ask: frost
          - decide: iced
            first of:
              frost is none: seen
              otherwise: go round
          when rounds run out: carry on
        - finding: seen
          cause: cannot-tell
          seen: Frost.
          next: Go on.
        """,
    ),
    page(
        "runs-into",
        """A step falls into the one below, though some other step jumps to that one: it looks as if the author
        forgot to end the path. If it is meant, `then:` says so.""",
        """
        - ask: needles
        - decide: steady
          by: needles
          rows:
            steady: carry on
            swinging: moving
        - caution: gloves
        - caution: moving-fans
          name: moving
        - back: seen
        """,
        """
        - ask: needles
        - decide: steady
          by: needles
          rows:
            steady: carry on
            swinging: moving
        - caution: gloves
          then: moving
        - caution: moving-fans
          name: moving
        - back: seen
        """,
    ),
    page(
        "otherwise-last",
        "The last line of `first of` is `otherwise`, and no line stands below it.",
        """
        - ask: frost
        - decide: iced
          first of:
            frost is none: carry on
        - back: seen
        """,
        """
        - ask: frost
        - decide: iced
          first of:
            frost is none: carry on
            otherwise: carry on
        - back: seen
        """,
    ),
    page(
        "two-steps",
        "Two steps stand behind one dash. One step, one dash, one screen.",
        """
        - caution: gloves
          back: seen
        """,
        """
        - caution: gloves
        - back: seen
        """,
    ),
    page(
        "unknown-step",
        "A step begins with a word that is no step.",
        """
        - beck: seen
        """,
        """
        - back: seen
        """,
    ),
    page(
        "no-such-tree",
        "A tree is named that the library does not have.",
        """
        - go: take-sucton
          comes back:
            taken: carry on
            swinging: carry on
        - back: seen
        """,
        """
        - go: take-suction
          comes back:
            taken: carry on
            swinging: carry on
        - back: seen
        """,
    ),
    page(
        "not-asked-for",
        "A name without `ask` in readings.yaml is worked out, not asked.",
        """
        - ask: suction-level
        - back: seen
        """,
        """
        - go: take-suction
          comes back:
            taken: carry on
            swinging: carry on
        - back: seen
        """,
    ),
    page(
        "duplicate-name",
        "A name stands for two things.",
        """
        - back: seen
          name: end
        - back: done
          name: end
        """,
        """
        - back: seen
        """,
    ),
    _worked(
        "unknown-name",
        "A name that neither the catalogue nor this tree has; the nearest right one is named.",
        "box-air - box-wnated",
    ),
    _worked(
        "wrong-kind",
        """Kinds that don't go together: two temperatures can't be added, and a gauge pressure is no absolute one. °F
        and °C are temperatures, dF and dC differences.""",
        "box-air + box-wanted",
    ),
    _worked(
        "bad-expression",
        "A line that is no expression or no test. Minus has blanks round it; tests say `is above`, `is at most`.",
        "box-air - (box-wanted",
    ),
    _worked(
        "bad-number",
        "A number without its unit, or with one that is not known.",
        "box-air - 5 degrees",
        "box-air - 5 °F",
    ),
    _worked("in-a-ring", "A result is worked out from itself.", "too-warm + 1 dF"),
    _reading(
        "unknown-kind",
        "A kind of quantity that is not known.",
        "slope:\n  ask: How steep?\n  kind: angle\n  of: circuit",
        "slope:\n  ask: How long?\n  kind: length\n  of: circuit",
    ),
    _reading(
        "bad-name",
        "A name that expressions could not read: letters, digits and single hyphens, a letter first.",
        "2nd-look:\n  ask: And again?\n  answers: yes, no\n  of: circuit",
        "second-look:\n  ask: And again?\n  answers: yes, no\n  of: circuit",
    ),
    _reading(
        "bad-range",
        "A range that holds nothing, or is none.",
        "shell:\n  ask: The shell?\n  kind: temperature\n  range: 200 °F to 0 °F\n  of: circuit",
        "shell:\n  ask: The shell?\n  kind: temperature\n  range: 0 °F to 200 °F\n  of: circuit",
    ),
)
