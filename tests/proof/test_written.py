"""What is written as an example is read back as the same."""

from __future__ import annotations

from pathlib import Path

from tui.proof.examples import Example
from tui.proof.reading import example_files, read_examples
from tui.proof.written import example_text
from tui.tree.library import Library

TREES = Path(__file__).resolve().parents[2] / "trees"


def plain(example: Example) -> tuple[object, ...]:
    """All that an example says, without where it stands."""
    answers = example.answers
    given = [answers.site, answers.visit, *answers.circuits.values()]
    texts = [{name: (each.texts, each.listed) for name, each in part.items()} for part in given]
    return example.name, example.why, answers.tree, answers.units, list(answers.circuits), texts, example.expected


def test_every_bundled_example_comes_back_as_it_was(tmp_path: Path) -> None:
    library = Library.read(TREES)
    examples = read_examples(library, example_files([TREES]))
    texts = [example_text(each.name, each.answers, each.expected, each.why) for each in examples]
    files = [tmp_path / f"{first}.yaml" for first in range(0, len(texts), 200)]  # a file has at most 1 MiB
    for file in files:
        file.write_text("".join(texts[int(file.stem) : int(file.stem) + 200]), encoding="utf-8")
    again = read_examples(library, files)
    assert [plain(each) for each in again] == [plain(each) for each in examples]
    assert len(again) > 600
