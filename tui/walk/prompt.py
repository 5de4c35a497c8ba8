"""What the walk asks for, as plain data for whoever draws it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tui.quantity import Kind


@dataclass(frozen=True, slots=True)
class AskFor:
    """One reading to be had: `choices` are (id, words); `unit` is the one shown in the box."""

    id: str
    words: str
    kind: Kind
    unit: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    instrument: str | None = None
    how: str = ""
    range_text: str = ""
    must: bool = False


@dataclass(frozen=True, slots=True)
class Prompt:
    """One screen. `kind` is one of the constants above; the rest is empty where it has no meaning.

    `seconds` is how long a wait should be. `known` holds (reading, how it is shown) of readings
    this ask needs that are already had. `work` is the catalogue id of what is done. `cut_short` says where a
    wait leads that lasts less; empty where it goes on all the same.
    """

    kind: str
    tree: str = ""
    step: str = ""
    circuit: str = ""
    words: str = ""
    why: str = ""
    how: str = ""
    readings: tuple[AskFor, ...] = ()
    known: tuple[tuple[str, str], ...] = ()
    cautions: tuple[str, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()
    work: str = ""
    seconds: float | None = None
    cut_short: str = ""
    may_skip: bool = False
    may_overrule: bool = False


@dataclass(frozen=True, slots=True)
class Echo:
    """How a typed text would be understood; nothing is recorded.

    `words` says it back in both unit systems; `beside` adds saturation and the difference from
    wanted. When not `ok`, `problem` and `cure` say why.
    """

    ok: bool
    words: str = ""
    beside: tuple[str, ...] = ()
    problem: str = ""
    cure: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the readings table; `says` is low, on, high or unknown, `close` the other verdict.

    `earlier`: it was judged of readings that are not true any more.
    """

    name: str
    measured: str
    wanted: str
    difference: str
    says: str
    close: str = ""
    earlier: bool = False


@dataclass(frozen=True, slots=True)
class TrailEntry:
    """One decision on the way: where, the row or line taken, whether it was close; `words` says the row in words.

    `after`: the number of the event it followed from, an answer or what was done; 0: the opening.
    """

    circuit: str
    at: str
    row: str
    to: str
    close: tuple[str, ...] = ()
    words: str = ""
    after: int = 0


@dataclass(frozen=True, slots=True)
class Near:
    """`what` was too near its limit; read on the other side, it could be one of `causes` (the fewest questions away
    first), or of so many `more`.
    """

    what: str
    causes: tuple[str, ...]
    more: int = 0


@dataclass(frozen=True, slots=True)
class Finding:
    """What a circuit's walk ended in; `cause` is a cause id, ``cannot-tell`` with `could_be`.

    near: the close calls it stands on.
    """

    circuit: str
    at: str
    cause: str
    could_be: tuple[str, ...] = ()
    evidence: tuple[dict[str, object], ...] = ()
    ruled_out: tuple[dict[str, str], ...] = ()
    seen: str = ""
    next: str = ""
    told_apart: str = ""
    near: tuple[Near, ...] = ()


@dataclass(frozen=True, slots=True)
class Given:
    """A reading that counts and can be corrected: `event_no` is what `Walk.correct` takes.

    `place` is the one of a list that its round was about, else empty. had: whether it could be had.
    """

    event_no: int
    circuit: str
    reading: str
    shown: str
    place: str = ""
    had: bool = True


@dataclass(frozen=True, slots=True)
class BoardRow:
    """A reading that can be told now: how it is asked, what it is (empty: not had), whether it is asked now."""

    reading: AskFor
    shown: str
    asked: bool


@dataclass(frozen=True, slots=True)
class Change:
    """What a correction would change, before it is accepted. Nothing has been written. struck: it was never had."""

    event_no: int
    reading: str
    was: str
    now: str
    differences: tuple[str, ...]
    text: str
    at_version: int
    circuit: str = ""
    struck: bool = False
    history: tuple[dict[str, Any], ...] = ()
