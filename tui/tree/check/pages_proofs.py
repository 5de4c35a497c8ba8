"""Pages of what is proven of ends, names and other trees, and of the warnings."""

from __future__ import annotations

from tui.tree.check.page import page

PAGES = (
    page(
        "unreachable",
        """No path leads to this step, or a line above always holds before this one. What nobody can reach
        nobody has tried; it is most often a fork that was meant to lead to it.""",
        """
        - ask: needles
        - back: seen
        - finding: it-swings
          cause: cannot-tell
          seen: Needles <needles>.
          next: Wait till it is steady.
        """,
        """
        - ask: needles
        - decide: steady
          by: needles
          rows:
            steady: carry on
            swinging: it-swings
        - back: seen
        - finding: it-swings
          cause: cannot-tell
          seen: Needles <needles>.
          next: Wait till it is steady.
        """,
    ),
    page(
        "dead-end",
        """A path falls off the end of the tree. Every path ends in a finding or a back, so that nobody is
        left standing before a unit without a word.""",
        """
        - ask: needles
        - decide: steady
          by: needles
          rows:
            steady: carry on
            swinging: carry on
        """,
        """
        - ask: needles
        - decide: steady
          by: needles
          rows:
            steady: carry on
            swinging: carry on
        - back: seen
        """,
    ),
    page(
        "unsettled-missing",
        """Something this decide goes by may be unknown here (it could not be had, its `only when` was not met,
        or a sum has no answer), and then more than one way stays open. `unsettled:` says where to go then; so
        does naming `unknown` in the rows. A decide that must be settled needs it too.""",
        """
        - ask: air-path
        - decide: is-it-clear
          by: air-path
          rows:
            clear: carry on
            blocked: blocked
        - back: well
        - back: blocked
          name: blocked
        """,
        """
        - ask: air-path
        - decide: is-it-clear
          by: air-path
          rows:
            clear: carry on
            blocked or unknown: blocked
        - back: well
        - back: blocked
          name: blocked
        """,
    ),
    page(
        "not-asked",
        """A name is used before it is asked, worked out or judged, on at least one path; the way shown is such a
        path. What a called tree gives counts only if it is given on every path to the outcome taken.""",
        """
        - decide: steady
          by: needles
          rows:
            steady: carry on
            swinging: carry on
        - back: seen
        """,
        """
        - ask: needles
        - decide: steady
          by: needles
          rows:
            steady: carry on
            swinging: carry on
        - back: seen
        """,
    ),
    page(
        "outcome-missing",
        """A called tree can come back in a way that this step says nothing about.""",
        """
        - go: take-suction
          comes back:
            taken: carry on
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
        "outcome-unknown",
        """A called tree never comes back with these words.""",
        """
        - go: take-suction
          comes back:
            taken: carry on
            swinging: carry on
            stopped: carry on
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
        "ring",
        """Trees lead to each other in a ring by `go` or `go on`, with no person's yes on the way, so a walk might
        never end.""",
        """
        - ask: needles
        - finding: swings
          cause: cannot-tell
          seen: Needles <needles>.
          next: Take the readings again.
          go on: example
        """,
        """
        - ask: needles
        - finding: swings
          cause: cannot-tell
          seen: Needles <needles>.
          next: Take the readings again.
          offer: example
        """,
    ),
    page(
        "wrong-of",
        """A tree of the unit goes to a tree of one circuit with `for each: circuit`; a tree of one circuit never
        leads to a tree of the unit.""",
        """
        # example.yaml
        tree: example
        title: The unit
        edition: 1
        of: unit
        steps:
        - ask: unit-tag
        - go: take-suction
          comes back:
            taken: carry on
            swinging: carry on
        - back: seen
        """,
        """
        # example.yaml
        tree: example
        title: The unit
        edition: 1
        of: unit
        steps:
        - ask: unit-tag
        - go: take-suction
          for each: circuit
        """,
    ),
    page(
        "no-next",
        """A finding says nothing about what to do next.""",
        """
        - finding: seen
          cause: cannot-tell
          seen: Nothing done.
          next: " "
        """,
        """
        - finding: seen
          cause: cannot-tell
          seen: Nothing done.
          next: Go home.
        """,
        warning=True,
    ),
    page(
        "never-used",
        """A reading is asked, or a result worked out, and nothing is made of it. Every question costs time in the
        cold. What is free text or remembered for the next visit may be asked for the record alone.""",
        """
        - ask: scale
        - back: seen
        """,
        """
        - ask: scale
        - finding: weighed
          cause: cannot-tell
          seen: The scale reads <scale>.
          next: Write it down.
        """,
        warning=True,
    ),
    page(
        "turned-round",
        """Answers stand the other way round than elsewhere: what was not found first, then what was found.
        Answers are chosen by digit; who has just typed 1 for a hit types 1 again.""",
        """
        # catalogue/readings.yaml
        soaped:
          ask: Soap on the joints?
          answers: none, growing
          of: circuit
        """,
        """
        # catalogue/readings.yaml
        soaped:
          ask: Soap on the joints?
          answers: growing, none
          of: circuit
        """,
        warning=True,
    ),
    page(
        "no-source",
        """A figure does not say where it is from.""",
        """
        # catalogue/figures.yaml
        head-band:
          kind: temperature difference
          is: 8 dF
          from: " "
        """,
        """
        # catalogue/figures.yaml
        head-band:
          kind: temperature difference
          is: 8 dF
          from: common practice
        """,
        warning=True,
    ),
    page(
        "too-long",
        """A text does not fit a screen of 80 by 24: a question over three lines, or all of a prompt over
        twelve.""",
        "- ask: needles\n  question: "
        + "Watch both needles for three minutes, and more than once. " * 5
        + "\n- finding: seen\n  cause: cannot-tell\n  seen: Needles <needles>.\n  next: Go on.",
        """
        - ask: needles
          question: Watch both needles for three minutes.
        - finding: seen
          cause: cannot-tell
          seen: Needles <needles>.
          next: Go on.
        """,
        warning=True,
    ),
    page(
        "finer-than-instruments",
        """A judge's band is finer than the catalogue's instruments can tell, so nearly every verdict would be
        close. Pressure says least about temperature where it is low.""",
        """
        - ask: box-air, box-wanted
        - judge: box-level
          compare: box-air
          with: box-wanted
          band: 0.5 dF
        - finding: seen
          cause: cannot-tell
          seen: The box is <box-level>.
          next: Go on.
        """,
        """
        - ask: box-air, box-wanted
        - judge: box-level
          compare: box-air
          with: box-wanted
          band: 5 dF
        - finding: seen
          cause: cannot-tell
          seen: The box is <box-level>.
          next: Go on.
        """,
        warning=True,
    ),
)
