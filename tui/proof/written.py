"""An example as the text that stands in its file."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from tui.proof.examples import UNREVIEWED, Found
from tui.walk.answers import Answers, Given

_PLAIN = re.compile(r"[A-Za-z0-9°+-](?:[^:#,\[\]{}\"'\n]|:(?! )|(?<! )#)*\Z")


def example_text(name: str, answers: Answers, expected: Sequence[Found], why: str = UNREVIEWED) -> str:
    """The lines of one example; `read_examples` reads them back as the same."""
    lines = [f"{name}:", f"  why: {_scalar(why)}", f"  tree: {answers.tree}"]
    lines += [f"  units: {answers.units}"] if answers.units != "US" else []
    for key, given in (("site", answers.site), ("visit", answers.visit)):
        lines += [f"  {key}:", *_givens(given, "    ")] if given else []
    lines.append("  circuits:")
    for circuit, given in answers.circuits.items():
        lines += [f"    {_scalar(circuit)}:", *_givens(given, "      ")] if given else [f"    {_scalar(circuit)}: {{}}"]
    lines += ["  expect:", *(f"  - {_found(found)}" for found in expected)]
    return "\n".join(lines) + "\n"


def _givens(given: Mapping[str, Given], indent: str) -> list[str]:
    return [f"{indent}{name}: {_value(each)}" for name, each in given.items()]


def _value(given: Given) -> str:
    return f"[{', '.join(map(_scalar, given.texts))}]" if given.listed else _scalar(given.texts[0])


def _scalar(text: str) -> str:
    """As it is where YAML takes it so, else in double quotes."""
    if _PLAIN.match(text) and text == text.strip():
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ") + '"'


def _found(found: Found) -> str:
    parts = [f"circuit: {_scalar(found.circuit)}"] if found.circuit else []
    parts += [f"cause: {found.cause}", f"at: {found.at}"]
    parts += [f"could_be: [{', '.join(found.could_be)}]"] if found.could_be else []
    return f"{{{', '.join(parts)}}}"
