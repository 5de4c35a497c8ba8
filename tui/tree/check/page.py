"""One page of `lowside why`: a code, what it means, a wrong and a right example."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Page:
    """`wrong` and `right` are short YAML: steps of a tree, or, after a line ``# FILE``, that file.

    `warning`: it does not stop. `wrong` is empty where no text can show it (a file too big). `before`: what the
    file was, for a code that is about a change.
    """

    code: str
    means: str
    wrong: str = ""
    right: str = ""
    warning: bool = False
    before: str = ""


def page(code: str, means: str, wrong: str = "", right: str = "", *, warning: bool = False, before: str = "") -> Page:
    """A page from texts as they are indented in the source."""
    return Page(code, " ".join(means.split()), _plain(wrong), _plain(right), warning, _plain(before))


def _plain(text: str) -> str:
    lines = text.strip("\n").split("\n")
    margin = min((len(line) - len(line.lstrip()) for line in lines if line.strip()), default=0)
    return "\n".join(line[margin:] for line in lines).rstrip()
