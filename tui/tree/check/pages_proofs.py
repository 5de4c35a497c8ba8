"""Pages of what is proven once a library can be read."""

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
        "stale",
        """A reading, or what was worked out from it, is used after work that changes it, or at the start of a
        round that asks it afresh. `first(x)` alone never goes stale.""",
        """
        - ask: suction
        - caution: moving-fans
        - do: start-it
          tell: Start it.
          work: starts the compressor
        - finding: seen
          cause: cannot-tell
          seen: Suction <suction>.
          next: Go on.
        """,
        """
        - ask: suction
        - caution: moving-fans
        - do: start-it
          tell: Start it.
          work: starts the compressor
        - wait: settle
          for: 5 min
          because: pressures must steady
        - ask: suction
        - finding: seen
          cause: cannot-tell
          seen: Suction <suction>, before <first(suction)>.
          next: Go on.
        """,
    ),
    page(
        "not-settled",
        """A reading that settles is taken after work that disturbs it, with no `wait` between.""",
        """
        - caution: moving-fans
        - do: start-it
          tell: Start it.
          work: starts the compressor
        - ask: suction
        - finding: seen
          cause: cannot-tell
          seen: Suction <suction>.
          next: Go on.
        """,
        """
        - caution: moving-fans
        - do: start-it
          tell: Start it.
          work: starts the compressor
        - wait: settle
          for: 5 min
          because: pressures must steady
        - ask: suction
        - finding: seen
          cause: cannot-tell
          seen: Suction <suction>.
          next: Go on.
        """,
    ),
    page(
        "caution-missing",
        """Work, or a reading that takes work, is reached on a path where a caution it demands (`after cautions`
        in work.yaml) has not been acknowledged. The caution stands before the step, never after it.""",
        """
        - do: start-it
          tell: Start it.
          work: starts the compressor
        - back: started
        """,
        """
        - caution: moving-fans
        - do: start-it
          tell: Start it.
          work: starts the compressor
        - back: started
        """,
    ),
    page(
        "work-missing",
        """Work is reached on a path where other work it demands before it (`after work` in work.yaml) has not
        been done, or has been undone since.""",
        """
        - ask: nameplate-charge
          couldn't: no-plate
        - ask: evaporator-fan, frost
        - decide: air-first
          first of:
            evaporator-fan is running and frost is not block of ice: carry on
            otherwise: no-plate
        - caution: gloves, cylinder
        - do: add
          tell: Weigh it in.
          work: adds refrigerant
        - back: added
        - back: nothing done
          name: no-plate
        """,
        """
        - ask: nameplate-charge
          couldn't: no-plate
        - ask: evaporator-fan, frost
        - decide: air-first
          first of:
            evaporator-fan is running and frost is not block of ice: carry on
            otherwise: no-plate
        - caution: gloves, cylinder
        - do: connect
          tell: Cylinder on the scale, hose on.
          work: connects a cylinder
        - do: add
          tell: Weigh it in.
          work: adds refrigerant
        - do: take-off
          tell: Cylinder off.
          work: takes the cylinder off
        - back: added
        - back: nothing done
          name: no-plate
        """,
    ),
    page(
        "need-missing",
        """Work needs a reading known and fresh (`needs` in work.yaml), and on some path it may be unknown, stale
        or never asked.""",
        """
        - ask: low-side-rating
        - caution: gloves
        - do: pressure-up
          tell: Nitrogen in, slowly.
          work: raises pressure with nitrogen
        - finding: held
          cause: cannot-tell
          seen: Under pressure.
          next: Look for bubbles.
        """,
        """
        - ask: low-side-rating
          couldn't: no-rating
        - caution: gloves
        - do: pressure-up
          tell: Nitrogen in, slowly.
          work: raises pressure with nitrogen
        - finding: held
          cause: cannot-tell
          seen: Under pressure.
          next: Look for bubbles.
        - back: no rating
          name: no-rating
        """,
    ),
    page(
        "only-if-missing",
        """Work is allowed only if a test holds (`only if` in work.yaml), and on some path no row or line that was
        taken states it, or what it states has gone stale since. A line passed over states that its test does
        not hold.""",
        """
        - ask: nameplate-charge
          couldn't: stop-here
        - ask: evaporator-fan, frost
        - decide: air-first
          first of:
            evaporator-fan is running: carry on
            otherwise: stop-here
        - caution: gloves, cylinder
        - do: connect
          tell: Cylinder on the scale, hose on.
          work: connects a cylinder
        - do: add
          tell: Weigh it in.
          work: adds refrigerant
        - do: take-off
          tell: Cylinder off.
          work: takes the cylinder off
        - back: added
        - back: nothing done
          name: stop-here
        """,
        """
        - ask: nameplate-charge
          couldn't: stop-here
        - ask: evaporator-fan, frost
        - decide: air-first
          first of:
            evaporator-fan is stopped: stop-here
            frost is block of ice: stop-here
            otherwise: carry on
        - caution: gloves, cylinder
        - do: connect
          tell: Cylinder on the scale, hose on.
          work: connects a cylinder
        - do: add
          tell: Weigh it in.
          work: adds refrigerant
        - do: take-off
          tell: Cylinder off.
          work: takes the cylinder off
        - back: added
        - back: nothing done
          name: stop-here
        """,
    ),
    page(
        "wrong-compressor",
        """A reading of a running circuit is asked where the compressor may stand still, or the other way round
        (`while` in readings.yaml, `compressor` in work.yaml). A circuit's tree begins with it running.""",
        """
        - ask: standing-pressure
        - finding: seen
          cause: cannot-tell
          seen: Standing at <standing-pressure>.
          next: Go on.
        """,
        """
        - caution: moving-fans
        - do: stop-it
          tell: Compressor off, locked out.
          work: stops the compressor
        - wait: equalise
          for: 15 min
          because: the pressures must come together
        - ask: standing-pressure
        - finding: seen
          cause: cannot-tell
          seen: Standing at <standing-pressure>.
          next: Go on.
        """,
    ),
    page(
        "left-on",
        """Something that work leaves behind has no clearing in left-on.yaml, its clearing does not clear it, a
        walk can end in `back` with it left, or a finding leaves on purpose what is not there.""",
        """
        - finding: seen
          cause: cannot-tell
          seen: Nothing done.
          next: Go home.
          leaving: nitrogen inside
        """,
        """
        - ask: low-side-rating
          couldn't: seen
        - caution: gloves
        - do: pressure-up
          tell: Nitrogen in, slowly.
          work: raises pressure with nitrogen
        - finding: over-night
          cause: cannot-tell
          seen: Under pressure.
          next: Leave it on till tomorrow.
          leaving: nitrogen inside
        - finding: seen
          cause: cannot-tell
          seen: Nothing done.
          next: Go home.
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
        "must-be-settled-missing",
        """This decide parts a path on which refrigerant goes in, a circuit is opened or a part is condemned from
        one without, and what it goes by is measured, so it can be close to the line. Then a person must be
        offered a better reading before the likelier verdict is taken.""",
        """
        - ask: refrigerant
        - go: take-suction
          comes back:
            taken: carry on
            swinging: unclear
        - decide: what-it-says
          by: suction-level
          rows:
            high: condemned
            low or on: unclear
          unsettled: unclear
        - finding: condemned
          cause: compressor-not-pumping
          seen: Suction <suction>.
          next: Change it.
        - back: unclear
          name: unclear
        """,
        """
        - ask: refrigerant
        - go: take-suction
          comes back:
            taken: carry on
            swinging: unclear
        - decide: what-it-says
          by: suction-level
          rows:
            high: condemned
            low or on: unclear
          must be settled: yes
          unsettled: unclear
        - finding: condemned
          cause: compressor-not-pumping
          seen: Suction <suction>.
          next: Change it.
        - back: unclear
          name: unclear
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
        """A reading is asked and nothing is made of it. Every question costs time in the cold. What is free text
        or remembered for the next visit may be asked for the record alone.""",
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
