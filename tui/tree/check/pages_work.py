"""Pages of what is proven of work: what it demands first, makes stale and leaves behind."""

from __future__ import annotations

from tui.tree.check.page import page

PAGES = (
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
        "overrule-safety",
        """At a close call a technician may put his own verdict in the place of the measured one, with a reason that
        stands in the record. From then on it counts like a measured one. Most verdicts say what is wrong, and there
        that is well. Two kinds protect somebody: a verdict that work demands (`only if` in work.yaml) or that a
        caution hangs on (`when`), and one that holds a reading against a rating of the plate (a reading that the
        catalogue marks `rating: yes`). Those are settled by a better reading, or stay unsettled: write
        `overrule: no`. All else that work demands - answers, cautions, earlier work, comparisons under `first of` -
        can't be overruled anywhere.""",
        """
        - ask: low-side-rating
          couldn't: not-known
        - caution: moving-fans
        - do: stop-it
          tell: Stop it.
          work: stops the compressor
        - wait: settle
          for: 5 min
          because: it must steady
        - ask: standing-pressure
        - judge: under-the-rating
          compare: standing-pressure
          on to: low-side-rating
        - decide: over-the-plate
          by: under-the-rating
          rows:
            on: carry on
            high: not-known
          must be settled: yes
          unsettled: not-known
        - back: under it
        - back: not known
          name: not-known
        """,
        """
        - ask: low-side-rating
          couldn't: not-known
        - caution: moving-fans
        - do: stop-it
          tell: Stop it.
          work: stops the compressor
        - wait: settle
          for: 5 min
          because: it must steady
        - ask: standing-pressure
        - judge: under-the-rating
          compare: standing-pressure
          on to: low-side-rating
        - decide: over-the-plate
          by: under-the-rating
          rows:
            on: carry on
            high: not-known
          must be settled: yes
          overrule: no
          unsettled: not-known
        - back: under it
        - back: not known
          name: not-known
        """,
        warning=True,
    ),
)
