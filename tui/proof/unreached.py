"""What no example reaches in a tree, told to a program that does not wait.

``python -m tui.proof.unreached TREE FOLDER ...`` prints one line of JSON: ``{"digest": of the library, "bare":
[[step, row], ...]}`` (an empty row is the step itself), or ``{"problem": why it can't be told}``. It ends as soon as
its input does, for then nobody listens any more.
"""

from __future__ import annotations

import json
import os
import sys
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tui.proof.cover import uncovered
from tui.proof.examples import run_examples
from tui.proof.reading import example_files, read_examples
from tui.quantity import Refused
from tui.tree.check.names import every_step
from tui.tree.library import BrokenLibrary, Library
from tui.tree.model import FindingStep, Go


def answer(tree: str, folders: Sequence[Path]) -> dict[str, Any]:
    """Every example of these folders that may come into the tree is walked, in the trees of all of them."""
    try:
        library = Library.load(*folders)
        files = example_files([folder for folder in folders if (folder / "examples").is_dir()])
        from_here = leading_to(library, tree)
        examples = [one for one in read_examples(library, files) if one.answers.tree in from_here]
        missing = uncovered(library, run_examples(library, examples))
    except BrokenLibrary:
        return {"problem": "the trees do not hold"}
    except Refused as refused:
        return {"problem": str(refused).split("\n")[0]}
    return {"digest": library.digest, "bare": [[gap.step, gap.row] for gap in missing if gap.tree == tree]}


def leading_to(library: Library, tree: str) -> set[str]:
    """The trees that a walk may come into this one from, itself among them."""
    into: dict[str, set[str]] = {}
    for name, found in library.trees.items():
        for step in every_step(found.steps):
            if isinstance(step, Go):
                into.setdefault(step.tree, set()).add(name)
            elif isinstance(step, FindingStep):
                for other in (step.go_on, step.offer):
                    into.setdefault(other or "", set()).add(name)
    seen, todo = {tree}, [tree]
    while todo:
        for name in into.get(todo.pop(), set()) - seen:
            seen.add(name)
            todo.append(name)
    return seen


def _end_with_input() -> None:
    while os.read(0, 1024):
        pass
    os._exit(0)


if __name__ == "__main__":
    if hasattr(os, "nice"):
        os.nice(5)  # whoever asked goes on drawing meanwhile
    threading.Thread(target=_end_with_input, daemon=True).start()
    print(json.dumps(answer(sys.argv[1], [Path(folder) for folder in sys.argv[2:]])), flush=True)
