"""Entries of the catalogue: each refusal with its place and words."""

from __future__ import annotations

from pathlib import Path

import pytest

from tui.tree.library import BrokenLibrary, Library

HERE = Path(__file__).parents[1] / "fuzz" / "library"


def told(section: str, entry: str) -> list[tuple[int, int, str, str]]:
    """Problems in the file of the small library with this entry behind the others; lines count from the entry."""
    texts = {file.relative_to(HERE).as_posix(): file.read_text("utf-8") for file in HERE.rglob("*.yaml")}
    path = f"catalogue/{section}.yaml"
    before = texts[path].count("\n")
    texts[path] += entry
    try:
        problems = list(Library.from_texts(texts).problems)
    except BrokenLibrary as broken:
        problems = broken.problems
    found = [p for p in problems if p.code not in ("no-next", "never-used", "no-source")]
    assert all(p.spot.path == path for p in found)
    return [(p.spot.line - before, p.spot.column, p.code, p.message) for p in found]


REFUSED: dict[tuple[str, str], tuple[int, int, str, str]] = {
    ("readings", "x: {ask: X?, kind: temprature}\n"): (1, 20, "unknown-kind", "`temprature` is no kind."),
    ("readings", "x: {ask: X?}\n"): (1, 1, "missing-key", "The reading `x` has neither `kind` nor `answers`."),
    ("readings", "x: {ask: X?, kind: choice}\n"): (
        1,
        14,
        "missing-key",
        "The reading `x` is a choice without `answers`.",
    ),
    ("readings", "x: {ask: X?, kind: mass, answers: 'a, b'}\n"): (1, 26, "wrong-kind", "A mass has no answers."),
    ("readings", "x: {ask: X?, answers: 'a, not b'}\n"): (
        1,
        27,
        "bad-name",
        "`not b` can't be an answer: a test would read its `not` as its own.",
    ),
    ("readings", "x: {ask: X?, answers: 'a, fan is on'}\n"): (
        1,
        27,
        "bad-name",
        "`fan is on` can't be an answer: a test would read its `is` as its own.",
    ),
    ("readings", "x: {ask: X?, answers: 'a, b, a or b'}\n"): (
        1,
        30,
        "bad-name",
        "`a or b` can't be an answer: it could also be read as several answers.",
    ),
    ("readings", "x: {ask: X?, answers: 'a, unknown'}\n"): (
        1,
        27,
        "bad-name",
        "`unknown` can't be an answer: it is a word of the language.",
    ),
    ("readings", "x: {ask: X?, answers: 'a, b, a'}\n"): (1, 30, "duplicate-word", "`a` stands twice."),
    ("readings", "x: {ask: X?, answers: 'a,, b'}\n"): (
        1,
        26,
        "empty-text",
        "A comma with nothing behind or before it.",
    ),
    ("readings", "x y: {ask: X?, kind: mass}\n"): (1, 1, "bad-name", "A reading can't be called `x y`."),
    ("readings", "is: {ask: X?, kind: mass}\n"): (
        1,
        1,
        "bad-name",
        "A reading can't be called `is`: it is a word of the language.",
    ),
    ("readings", "x: {ask: X?, kind: mass, range: 5 kg to 1 kg}\n"): (
        1,
        33,
        "bad-range",
        "The range `5 kg to 1 kg` holds nothing.",
    ),
    ("readings", "x: {ask: X?, kind: mass, range: 5 kg}\n"): (1, 33, "bad-range", "`5 kg` is no range."),
    ("readings", "x: {ask: X?, kind: text, range: 5 kg to 6 kg}\n"): (1, 33, "bad-range", "A text has no range."),
    ("readings", "x: {ask: X?, kind: temperature, range: 5 °F to 9 dF}\n"): (
        1,
        48,
        "wrong-kind",
        "`9 dF` is a temperature difference; a temperature is needed here.",
    ),
    ("readings", "x: {ask: X?, kind: mass, range: 5 to 6 kg}\n"): (
        1,
        33,
        "wrong-kind",
        "`5` is a number; a mass is needed here.",
    ),
    ("readings", "x: {ask: X?, kind: mass, unit: psig}\n"): (1, 32, "bad-number", "“psig” is no unit of a mass."),
    ("readings", "x: {ask: X?, kind: mass, with: low-gauge}\n"): (
        1,
        32,
        "wrong-kind",
        "`low-gauge` is good to 0.5 psi: that is no accuracy of a mass.",
    ),
    ("readings", "x: {ask: X?, kind: mass, with: lowgauge}\n"): (
        1,
        32,
        "unknown-name",
        "There is no instrument `lowgauge`.",
    ),
    ("readings", "x: {ask: X?, kind: mass, while: idling}\n"): (
        1,
        33,
        "wrong-word",
        "`idling` can't stand behind `while`.",
    ),
    ("readings", "x: {ask: X?, kind: mass, must: true}\n"): (1, 32, "wrong-word", "`true` can't stand behind `must`."),
    ("readings", "x: {ask: X?, kind: mass, good for: 5 g}\n"): (
        1,
        36,
        "wrong-kind",
        "`5 g` is a mass; a time span is needed here.",
    ),
    ("readings", "x: {ask: How much <scale>?, kind: mass}\n"): (
        1,
        19,
        "bad-expression",
        "A text of the catalogue is shown as it stands; `<...>` is filled in only in trees.",
    ),
    ("readings", "x: {ask: [X?], kind: mass}\n"): (1, 5, "wrong-shape", "`ask` takes one text."),
    ("readings", "x: a text\n"): (1, 1, "wrong-shape", "`x` has no keys below it."),
    ("readings", "  x: {kind: mass}\n"): (
        1,
        3,
        "bad-yaml",
        "The indentation of this line fits none of the lines above: 2 blanks here, no blanks in line 21.",
    ),
    ("figures", "x: {is: 5 g, from: common practice}\n"): (1, 1, "missing-key", "The figure `x` has no `kind`."),
    ("figures", "x: {kind: text, is: 5 g}\n"): (1, 11, "wrong-kind", "A figure is a number, not a text."),
    ("figures", "x: {kind: mass, is: 5 dF}\n"): (
        1,
        21,
        "wrong-kind",
        "`5 dF` is a temperature difference; a mass is needed here.",
    ),
    ("figures", "x: {kind: mass}\n"): (1, 1, "missing-key", "The figure `x` needs either `is`, or `by` with rows."),
    ("figures", "x: {kind: mass, is: 5 g, form: me}\n"): (1, 26, "unknown-key", "The figure `x` has no key `form`."),
    ("figures", "scale: {kind: mass, is: 5 g}\n"): (1, 1, "duplicate-name", "`scale` is a reading too."),
    ("figures", "x:\n  kind: mass\n  by: scale\n  rows:\n    any: 5 g\n"): (
        3,
        7,
        "wrong-kind",
        "`scale` is a mass; a column needs words.",
    ),
    ("figures", "x:\n  kind: mass\n  by: fan\n  running: 5 g\n"): (
        3,
        3,
        "gap",
        "No row holds for `stopped`.",
    ),
    ("instruments", "x: {good to: 5}\n"): (1, 14, "bad-number", "“5” says no accuracy."),
    ("instruments", "x: {good to: 0 psi}\n"): (
        1,
        14,
        "bad-number",
        "“0 psi” says that it is never wrong; every instrument is, by a little.",
    ),
    ("instruments", "x: {say: x}\n"): (1, 1, "missing-key", "The instrument `x` has no `good to`."),
    ("cautions", "x: {when: fan is runing, say: X.}\n"): (
        1,
        18,
        "not-an-answer",
        "`runing` is none of the answers of `fan`.",
    ),
    ("cautions", "x: {when: fan is running}\n"): (1, 1, "missing-key", "The caution `x` has no `say`."),
    ("causes", "x: {say: }\n"): (1, 5, "empty-text", "`say` has nothing behind it."),
    ("causes", "x: {say: X., not on: reach-in}\n"): (1, 14, "wrong-shape", "Below `not on` stand lines `... : ...`."),
    ("causes", "x: {say: X., not on: {reach-in or wlk-in: No door.}}\n"): (
        1,
        35,
        "not-an-answer",
        "`wlk-in` is none of the answers of `equipment`.",
    ),
    ("causes", "x: {say: X., not on: {reach-in: A., reach-in or walk-in: B.}}\n"): (
        1,
        37,
        "duplicate-word",
        "`reach-in` stands twice.",
    ),
    ("causes", "x: {say: X., not on: {walk-in: }}\n"): (
        1,
        23,
        "empty-text",
        "The class `walk-in` has nothing behind it.",
    ),
    ("work", "x: {after cautions: glove}\n"): (1, 21, "unknown-name", "There is no caution `glove`."),
    ("work", "x: {after work: nothing risky or takes it off}\n"): (
        1,
        34,
        "unknown-name",
        "There is no work `takes it off`.",
    ),
    ("work", "x: {changes: runing readings}\n"): (1, 14, "unknown-name", "There is no reading `runing readings`."),
    ("work", "x: {only if: [{a: b}]}\n"): (1, 14, "wrong-shape", "Each line of `only if` is one test."),
    ("work", "x: {compressor: idling}\n"): (1, 17, "wrong-word", "`idling` can't stand behind `compressor`."),
    ("left-on", "x: {tell: X.}\n"): (1, 1, "missing-key", "The thing left on `x` has no `work`."),
    ("places", "kind: {a: b}\n"): (1, 1, "unknown-key", "places.yaml has no key `kind`."),
}


@pytest.mark.parametrize(("section", "entry"), REFUSED)
def test_refused(section: str, entry: str) -> None:
    assert told(section, entry) == [REFUSED[section, entry]]


def test_entries_stand_at_the_left_edge() -> None:
    texts = {file.relative_to(HERE).as_posix(): file.read_text("utf-8") for file in HERE.rglob("*.yaml")}
    for text in ("{gloves: {say: G.}, flammable: {say: F.}}\n", "  gloves: {say: G.}\n  flammable: {say: F.}\n"):
        with pytest.raises(BrokenLibrary) as broken:
            Library.from_texts({**texts, "catalogue/cautions.yaml": text})
        assert [p.code for p in broken.value.problems] == ["wrong-shape", "wrong-shape"]
        assert broken.value.problems[0].message == "The entry `gloves` does not begin at the left edge."
    quoted = "'gloves': {say: G.}\n\"flammable\": {say: F.}\n"
    assert Library.from_texts({**texts, "catalogue/cautions.yaml": quoted}).catalogue.cautions["gloves"].say == "G."
