"""What real programs make of a picture's text: Mermaid's parser and Graphviz, where they are installed."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.cli.node import package

SCRIPT = Path(__file__).with_name("mermaid.mjs")


def by_mermaid(*texts: str) -> list[dict[str, Any]]:
    """`boxes`: their texts; `arrows`: [from, to, text]; `frames`: [title, ids inside]; or `error`."""
    modules = package("mermaid", "jsdom")
    done = subprocess.run(
        ["node", str(SCRIPT), str(modules)],
        input=json.dumps(texts),
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    found: list[dict[str, Any]] = json.loads(done.stdout)
    return found


def as_shown(text: str) -> list[str]:
    """The lines of a Mermaid label as a person sees them: breaks, and entities in Mermaid's own writing."""
    lines = text.split("<br/>")
    entity = re.compile(r"(?:#|ﬂ°{1,2}|&#?)(\w+)(?:;|¶ß)")
    return [entity.sub(lambda m: html.unescape(f"&{'#' if m[1].isdigit() else ''}{m[1]};"), line) for line in lines]


def by_graphviz(text: str) -> dict[str, Any]:
    """Graphviz's own reading of a dot text, without a layout."""
    dot = shutil.which("dot")
    if dot is None:
        pytest.skip("Graphviz is not installed: its program dot was not found")
    done = subprocess.run([dot, "-Tdot_json"], input=text.encode(), capture_output=True, check=False, timeout=120)
    assert done.returncode == 0, done.stderr.decode()
    said = [line for line in done.stderr.decode().splitlines() if "in spline routing" not in line]
    assert not said, said  # how an edge of a large picture is bent says nothing of the text
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def named(found: dict[str, Any], names: Sequence[str]) -> list[dict[str, Any]]:
    """The objects of a Graphviz graph with these names."""
    by_name = {each["name"]: each for each in found.get("objects", [])}
    return [by_name[name] for name in names]
