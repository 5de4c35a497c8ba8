"""Every code has a page whose wrong example gives exactly that code and whose right one gives none."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from tests.tree.check.overlay import files_of, problems_of
from tui.tree.check.codes import PAGES, page_of
from tui.tree.check.editions import edition_of, old_editions
from tui.tree.spot import Problem

ROOM = Path(__file__).parents[3] / "tui" / "tree"
TELLERS = frozenset({"add", "_tell", "Problem", "whole", "_Bad", "Complaint", "tell", "_warning", "_next"})
WITHOUT_EXAMPLE = {"too-deep", "too-big", "not-utf8", "not-a-file", "not-found", "no-right"}


def codes_told() -> set[str]:
    """Every word that is handed over as a code somewhere in the tree room."""
    found: set[str] = set()
    for file in sorted(ROOM.rglob("*.py")):
        if file.name.startswith("page"):
            continue
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and _name(node.func) in TELLERS:
                found.update(_codes(node))
            elif isinstance(node, ast.Assign) and _name(node.targets[0]) == "code":
                found.update(_constants(node.value))
    return found


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _codes(call: ast.Call) -> set[str]:
    """A code is the first bare word among a teller's first four arguments; `_Bad` also takes it by name."""
    words = [w for argument in call.args[:4] for w in _constants(argument)]
    named = {w for key in call.keywords if key.arg == "code" for w in _constants(key.value)}
    return set(words[:1]) | named


def _constants(value: ast.expr) -> list[str]:
    parts = (value.body, value.orelse) if isinstance(value, ast.IfExp) else (value,)
    words = [p.value for p in parts if isinstance(p, ast.Constant) and isinstance(p.value, str)]
    return [word for word in words if re.fullmatch(r"[a-z]+(-[a-z0-9]+)*", word)]


def test_every_code_has_its_page() -> None:
    assert codes_told() == set(PAGES)


def test_pages_without_an_example_are_those_no_text_can_show() -> None:
    assert {code for code, one in PAGES.items() if not one.wrong} == WITHOUT_EXAMPLE


def test_unknown_code() -> None:
    assert page_of("no-such-code") is None


def told_against(before: str, now: str) -> list[Problem]:
    """What an example breaks against what it was, where it was something."""
    then, after = (
        {path.removesuffix(".yaml"): found for path, text in files_of(example) if (found := edition_of(path, text))}
        for example in (before, now)
    )
    return old_editions(then, after)


@pytest.mark.parametrize("code", sorted(PAGES.keys() - WITHOUT_EXAMPLE))
def test_wrong_and_right(code: str) -> None:
    one = PAGES[code]
    wrong, right = (problems_of(text) + told_against(one.before, text) for text in (one.wrong, one.right))
    assert {problem.code for problem in wrong} == {code}
    assert {problem.severity for problem in wrong} == {"warning" if one.warning else "error"}
    assert right == []


def test_too_deep() -> None:
    keys = "".join(f"{' ' * depth}k:\n" for depth in range(30))
    assert {problem.code for problem in problems_of(f"# example.yaml\n{keys}")} == {"too-deep"}
