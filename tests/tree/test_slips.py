"""What a trainer gets wrong in a whole library: each slip is told once, where it is, with what would be right."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tree.check.overlay import base_texts
from tui.quantity import Refused, parse_literal
from tui.tree.library import BrokenLibrary, Library
from tui.tree.spot import Problem

LOOK = """\
tree: look
title: A look at the coil
edition: 1
of: circuit
unsettled: unclear
steps:
- ask: needles, frost
- decide: iced
  first of:
    frost is block of ice: ice
    otherwise: carry on
- go: take-suction
  comes back:
    taken: carry on
    swinging: unclear
- decide: how-low
  by: suction-level
  rows:
    low: short
    on or high: unclear
- finding: ice
  cause: evaporator-iced
  seen: Frost - <frost>.
  next: Melt it.
- finding: short
  could be: short-of-charge, drier-blocked
  told apart by: weighing it out
  seen: Suction <suction>, which is <suction-level>.
  next: Weigh it out.
- finding: unclear
  cause: cannot-tell
  seen: Needles <needles>.
  next: Look again.
"""


def problems(texts: dict[str, str]) -> list[Problem]:
    try:
        return list(Library.from_texts(texts).problems)
    except BrokenLibrary as broken:
        return broken.problems


def texts(*swaps: tuple[str, str, str]) -> dict[str, str]:
    found = {**base_texts(), "look.yaml": LOOK}
    for path, old, new in swaps:
        assert old in found[path], old
        found[path] = found[path].replace(old, new)
    return found


def test_the_tree_itself_holds() -> None:
    assert problems(texts()) == []


SLIPS = {
    ("ask: needles, frost", "ask: needles; frost"): (
        "7:8 unknown-name: There is no reading `needles; frost`.",
        "Put commas between names: `needles, frost`.",
    ),
    ("ask: needles, frost", "ask: needles frost"): (
        "7:8 unknown-name: There is no reading `needles frost`.",
        "Put commas between names: `needles, frost`.",
    ),
    ("go: take-suction", "go: take-suction.yaml"): (
        "12:7 no-such-tree: There is no tree `take-suction.yaml`.",
        "Name a tree without its ending: `take-suction`.",
    ),
    ("low: short", "low: take-suction"): (
        "19:10 no-such-step: There is no step `take-suction` in this tree.",
        "It is a tree: write a step `- go: take-suction` further down, and name that.",
    ),
    ("low: short", "low: short, ice"): (
        "19:10 no-such-step: There is no step `short, ice` in this tree.",
        "A way leads to one step: name one.",
    ),
    ("    otherwise: carry on", "    Else: carry on"): (
        "11:5 otherwise-last: The last line must be `otherwise`.",
        "Write `otherwise`.",
    ),
    ("frost is block of ice", "frost = block of ice"): (
        "10:5 bad-expression: `frost = block of ice` is no test.",
        "Write `frost is block of ice`.",
    ),
    ("frost is block of ice", "frost is equal to block of ice"): (
        "10:14 bad-expression: `equal to` is one word too many.",
        "Write `block of ice` alone behind `is`.",
    ),
    ("on or high: unclear", "on or high, thin: unclear"): (
        "20:5 bad-table: This row has 2 cells, the table 1 column (suction-level).",
        "Write one cell for each column, with commas between.",
    ),
    ("Frost - <frost>.", "Gap < 1 mm, frost <frost>."): (
        "23:13 bad-expression: `<` begins a value to be filled in, and no `>` ends it.",
        "Close it, or write `below` for the sign.",
    ),
}


@pytest.mark.parametrize("swap", SLIPS)
def test_slips_in_a_tree(swap: tuple[str, str]) -> None:
    found = problems(texts(("look.yaml", *swap)))
    told = [(f"{p.spot.line}:{p.spot.column} {p.code}: {p.message}", p.cure) for p in found]
    assert told == [SLIPS[swap]]


@pytest.mark.parametrize("word", ["otherwise", "Else"])
def test_otherwise_is_no_row(word: str) -> None:
    (one,) = problems(texts(("look.yaml", "    on or high", f"    {word}")))
    assert one.message == "`otherwise` is no row: in a table every combination is named."


def test_a_missing_way_back_is_told_without_what_follows_from_it() -> None:
    gone = [
        ("look.yaml", "    swinging: unclear\n", ""),
        ("look.yaml", "unsettled: unclear\n", ""),
        ("look.yaml", "    on or high: unclear", "    on or high: short"),
    ]
    assert {p.code for p in problems(texts(*gone))} <= {"outcome-missing", "unsettled-missing"}


def test_a_name_unknown_in_several_places_is_told_once() -> None:
    (one,) = problems(texts(("look.yaml", "frost", "forst"), ("look.yaml", "Frost - <forst>", "Frost")))[:1]
    assert (one.spot.line, one.message, one.cure) == (
        7,
        "There is no reading `forst`.",
        "Did you mean `frost`?",
    )
    found = problems(
        texts(
            ("catalogue/causes.yaml", "evaporator-iced:", "iced-coil:"),
            ("look.yaml", "short-of-charge, ", "evaporator-iced, "),
        )
    )
    assert [(p.spot.line, p.message) for p in found] == [
        (22, "There is no cause `evaporator-iced`. The same in line 26.")
    ]


def test_a_step_that_is_gone_is_told_once() -> None:
    found = problems(texts(("look.yaml", "finding: unclear", "finding: not-clear")))
    assert [(p.spot.line, p.message, p.cure) for p in found] == [
        (
            5,
            "There is no step `unclear` in this tree. The same in line 15, 20.",
            "Name a step further down, or `carry on`.",
        )
    ]


def test_a_catalogue_file_that_is_gone_is_told_once() -> None:
    without = texts()
    del without["catalogue/figures.yaml"]
    like, one = problems(without)
    assert like.cure == "Did you mean `evaporator-fan`?"
    assert one.message.endswith("and there are no figures at all.")
    assert one.cure == "Put catalogue/figures.yaml back, or write it."


def test_causes_that_are_gone_are_told_once() -> None:
    without = texts()
    del without["catalogue/causes.yaml"]
    (one,) = problems(without)
    assert one.message == "There is no cause `evaporator-iced`, nor any other."


def test_a_shared_result_that_was_renamed() -> None:
    found = [
        p
        for p in problems(texts(("take-suction.yaml", "judge: suction-level", "judge: suction-lvl")))
        if p.severity == "error"
    ]
    assert [(p.code, p.cure) for p in found] == [("not-asked", "Did you mean `suction-lvl`?")]
    assert found[0].message.startswith("`suction-level` is worked out in no tree. ")


def test_what_lacks_a_way_for_unknown_is_told_once_a_tree() -> None:
    found = problems(
        texts(
            ("look.yaml", "unsettled: unclear\n", ""),
            ("catalogue/readings.yaml", "block of ice\n  of: circuit\n  must: yes", "block of ice\n  of: circuit"),
        )
    )
    (one,) = [p for p in found if p.code == "unsettled-missing"]
    assert "`iced`" in one.message
    assert "The same goes for `how-low`." in one.message


def test_both_ends_of_a_range_have_one_cause() -> None:
    found = problems(texts(("catalogue/readings.yaml", "range: -60 °F to 90 °F", "range: -60 dF to 90 dF")))
    assert [p.code for p in found] == ["wrong-kind"]


@pytest.mark.parametrize(
    ("kind", "typed", "cure"),
    [
        ("temperature difference", "11", "Write `11 dF` or `11 dC`. "),
        ("temperature difference", "11 °C", "Write `11 dC`. "),
        ("temperature difference", "11 F", "Write `11 dF`."),
        ("temperature difference", "10,5 dF", "Write `10.5 dF`."),
        ("temperature difference", "11dF", "Write `11 dF`."),
        ("temperature", "40 dF", "Write `40 °F`. "),
        ("gauge pressure", "30 psi", "Write `30 psig`. "),
        ("pressure difference", "1.5 barg", "Write `1.5 bar`. "),
        ("mass", "12", "Write `12 oz` or `12 g`. "),
        ("number", "3 dF", "Write `3`. "),
        ("mass", "a little", "Write it as 5 dF, 30 psig, 7 % or 3: "),
    ],
)
def test_a_figure_is_told_as_it_was_meant(kind: str, typed: str, cure: str) -> None:
    found = problems({**texts(), "catalogue/figures.yaml": f"a: {{kind: {kind}, is: '{typed}', from: x}}\n"})
    assert [p.cure[: len(cure)] for p in found if p.spot.path.endswith("figures.yaml")] == [cure]


def test_a_decide_by_rows_and_by_tests() -> None:
    both = "- decide: how-low\n  first of:\n    otherwise: short\n"
    (one,) = problems(texts(("look.yaml", "- decide: how-low\n", both)))
    assert (one.message, one.cure) == (
        "A decide needs either `by` with `rows`, or `first of`, not both.",
        "Take one of the two out.",
    )


def test_a_name_with_a_sign_that_only_looks_like_a_hyphen() -> None:
    (one,) = problems(texts(("look.yaml", "go: take-suction", "go: take\u2011suction")))
    assert one.cure == "Type `take-suction` anew: what looks like a hyphen in it is another sign."


@pytest.mark.parametrize(
    ("typed", "cure"),
    [
        ("60 degF", "°F is a temperature, dF a difference."),
        ("60 deg C", "°C is a temperature, dC a difference."),
        ("60 Fahrenheit", "°F is a temperature, dF a difference."),
        ("5 grams", "Did you mean g?"),
        ("5 percent", "Did you mean %?"),
        ("5 pounds", "Did you mean lb?"),
        ("5 inches", "Did you mean in?"),
        (
            "5 furlong",
            "Common ones are: °F, °C, dF, dC, psig, barg, psia, psi, bar, oz, lb, g, kg, %, s, min, h, V, A, ft, in.",
        ),
    ],
)
def test_units_as_people_spell_them(typed: str, cure: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_literal(typed)
    assert refused.value.cure == cure


def test_a_file_that_notepad_named(tmp_path: Path) -> None:
    for path, text in texts().items():
        (tmp_path / path).parent.mkdir(exist_ok=True)
        (tmp_path / path).write_text(text, "utf-8")
    (tmp_path / "more.yaml.txt").write_text(LOOK, "utf-8")
    found = Library.load(tmp_path).problems
    assert [(Path(p.spot.path).name, p.severity, p.message) for p in found] == [
        ("more.yaml.txt", "warning", "This file is not read: a tree's name ends in `.yaml`.")
    ]
