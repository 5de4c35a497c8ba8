"""Schemas and the parser know the same keys, each way; and every file that comes with lowside is valid."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from tui.desk import settings
from tui.desk.schema import settings_schema
from tui.proof import reading as example_files
from tui.proof.schema import examples_schema
from tui.quantity import Refused
from tui.tree import catalogue, forms, places, steps
from tui.tree.bundled import bundled_trees
from tui.tree.library import BrokenLibrary, Library
from tui.tree.schema import said_of_catalogue, said_of_trees
from tui.tree.schema.catalogue import catalogue_schema
from tui.tree.schema.names import Names, names_in
from tui.tree.schema.pieces import Schema
from tui.tree.schema.trees import tree_schema
from tui.walk import answers
from tui.walk.schema import answers_schema


class Core(yaml.SafeLoader):
    """YAML 1.2 as editors read it: only true and false are truths, and no date is one."""


Core.yaml_implicit_resolvers = {}
for tag, pattern, first in (
    ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", "-+0123456789"),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+.0123456789"),
    ("null", r"~|null|Null|NULL|", "~nN"),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{pattern})$"), list(first))
Core.yaml_implicit_resolvers[""] = [("tag:yaml.org,2002:null", re.compile("^$"))]


def as_an_editor_reads(text: str) -> Any:
    return yaml.load(text, Core)


@pytest.fixture(scope="module")
def names() -> Names:
    return names_in(bundled_trees())


def schema_of(kind: str, names: Names) -> Schema:
    made = {"tree": tree_schema, "examples": examples_schema, "answers": answers_schema, "settings": settings_schema}
    return made[kind](names) if kind in made else catalogue_schema(kind, names)


KINDS = ("tree", *catalogue.SECTIONS, "examples", "answers", "settings")


def wrong(schema: Schema, document: Any) -> list[str]:
    return [error.message for error in jsonschema.Draft7Validator(schema).iter_errors(document)]


@pytest.mark.parametrize("kind", KINDS)
def test_each_is_a_schema_of_its_draft_and_goes_into_a_file(kind: str, names: Names) -> None:
    schema = schema_of(kind, names)
    jsonschema.Draft7Validator.check_schema(schema)
    assert json.loads(json.dumps(schema)) == schema


def bundled() -> list[Any]:
    """Every file that comes with lowside, with its kind."""
    trees = bundled_trees()
    files = [("tree", file) for file in sorted(trees.glob("*.yaml"))]
    files += [(file.stem, file) for file in sorted(trees.glob("catalogue/*.yaml"))]
    files += [("examples", file) for file in sorted(trees.glob("examples/*.yaml"))]
    return [pytest.param(kind, file, id=f"{kind}-{file.stem}") for kind, file in files]


@pytest.mark.parametrize(("kind", "file"), bundled())
def test_every_bundled_file_is_valid(kind: str, file: Path, names: Names) -> None:
    assert wrong(schema_of(kind, names), as_an_editor_reads(file.read_text("utf-8"))) == []


def test_a_visit_out_of_an_example_is_a_valid_answers_file(names: Names) -> None:
    file = bundled_trees() / "examples" / "call-again.yaml"
    for example in as_an_editor_reads(file.read_text("utf-8")).values():
        visit = {key: value for key, value in example.items() if key not in example_files.OWN_KEYS}
        assert wrong(answers_schema(names), visit) == []


def test_settings_with_every_key_are_valid(names: Names) -> None:
    text = (
        "units: si\nregion: EU\nbarometer: 29.1 inHg\ntechnician: p-1\ntheme: daylight\ndrawing: plain\n"
        "instruments:\n  low-gauge:\n    good to: 0.5 psi\n    calibrated: 2026-03-01\nkeys:\n  own-finding: f9\n"
    )
    settings.from_yaml("settings.yaml", text)
    assert wrong(settings_schema(names), as_an_editor_reads(text)) == []
    assert wrong(settings_schema(names), {"units": "metric"})


# ---- the parser's keys and the schema's, each way


def keys_of(piece: Schema) -> set[str]:
    assert piece["additionalProperties"] is False
    return set(piece["properties"])


def test_the_keys_of_a_tree(names: Names) -> None:
    schema = tree_schema(names)
    assert keys_of(schema) == set(steps.HEAD) == set(said_of_trees.HEAD)
    assert set(said_of_trees.STEPS) == set(forms.KEYS)
    for form, keys in forms.KEYS.items():
        own = keys_of(schema["definitions"][f"step {form}"])
        assert own == {form, *keys, *forms.COMMON}
        assert set(said_of_trees.STEPS[form]) == {form, *keys}
    assert keys_of(schema["definitions"]["step"]["allOf"][-1]["then"]) == set(forms.KEYS)


def test_the_keys_of_the_catalogue(names: Names) -> None:
    assert set(said_of_catalogue.FILES) == set(catalogue.SECTIONS)
    for section in set(catalogue.SECTIONS) - {"places"}:
        entry = catalogue_schema(section, names)["definitions"]["entry"]
        assert set(entry["properties"]) == set(catalogue.KEYS[section]) == set(said_of_catalogue.ENTRIES[section])
        assert (entry["additionalProperties"] is False) == (section != "figures"), "rows may stand beside its keys"
    whole = catalogue_schema("places", names)
    assert keys_of(whole) == set(places.PARTS) == set(said_of_catalogue.PLACES)
    lists = whole["properties"]["lists"]["additionalProperties"]
    assert set(lists["properties"]) == set(places.LIST_KEYS) == set(said_of_catalogue.LISTS)


def test_the_keys_of_answers_examples_and_settings(names: Names) -> None:
    schema = answers_schema(names)
    assert keys_of(schema) == set(answers.KEYS)
    assert keys_of(schema["properties"]["site"]) == set(answers.SITE_KEYS)
    known = examples_schema(names)["definitions"]
    assert keys_of(known["example"]) == {*answers.KEYS, *example_files.OWN_KEYS}
    assert keys_of(known["finding"]) == set(example_files.FOUND_KEYS)
    mine = settings_schema(names)
    assert keys_of(mine) == set(settings.KEYS)
    assert {key.replace(" ", "-") for key in keys_of(mine["properties"]["keys"])} == set(settings.ACTIONS)
    bag = mine["properties"]["instruments"]["additionalProperties"]
    assert {key.replace(" ", "-") for key in keys_of(bag)} == set(settings.OF_INSTRUMENTS)


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_says_what_it_means(kind: str, names: Names) -> None:
    silent: list[str] = []

    def look(piece: Any, where: str) -> None:
        if isinstance(piece, dict):
            for key, below in piece.get("properties", {}).items() if piece.get("additionalProperties") is False else ():
                if not below.get("description") and where != "keys":
                    silent.append(f"{where}/{key}")
            for key, below in piece.items():
                look(below, key)
        elif isinstance(piece, list):
            for below in piece:
                look(below, where)

    schema = schema_of(kind, names)
    assert schema["description"]
    look(schema, kind)
    assert silent == []


# ---- what the parser says of a key is what the schema says


def codes(text: str) -> set[str]:
    """What the reader refuses in a tree of one step."""
    files = {"small.yaml": f"tree: small\ntitle: t\nedition: 1\nof: circuit\nsteps:\n{text}- back: done\n"}
    for section in catalogue.SECTIONS:
        files[f"catalogue/{section}.yaml"] = (bundled_trees() / "catalogue" / f"{section}.yaml").read_text("utf-8")
    try:
        Library.from_texts(files, partial=True)
    except BrokenLibrary as broken:
        return {problem.code for problem in broken.problems}
    return set()


SMALL = {
    "text": "some-text",
    "yes": "yes",
    "way": "carry on",
    "steps": "\n    - caution: licence",
    "rows": "\n    otherwise: carry on",
    "test": "receiver is no",
    "expression": "5 dF",
    "number": "5 dF",
    "time span": "10 min",
    "asked readings": "receiver",
    "results": "a-result",
    "columns": "receiver",
    "cautions": "licence",
    "work": "nothing risky",
    "cause": "cannot-tell",
    "causes": "overcharge",
    "left on": "vacuum",
    "tree": "small",
    "rounds": "3 rounds",
    "each circuit": "circuit",
    "each place": "place in leak-places",
}
ALL_KEYS = [(form, key) for form, keys in forms.KEYS.items() for key in (*keys, *forms.COMMON)]


def a_step(form: str, keys: tuple[str, ...]) -> str:
    said = {**said_of_trees.STEPS[form], **said_of_trees.COMMON}
    lines = [f"{'- ' if key == form else '  '}{key}: {SMALL[said[key][0]]}\n" for key in (form, *keys)]
    return "".join(lines)


@pytest.mark.parametrize(("form", "key"), ALL_KEYS)
def test_a_key_that_the_schema_has_is_read(form: str, key: str, names: Names) -> None:
    """And one that it lacks is refused by both."""
    besides = ("for each",) if key == "afterwards" else ()
    assert "unknown-key" not in codes(a_step(form, (key, *besides)))
    lacking = a_step(form, (key,)).replace(f"  {key}:", f"  x{key}:")
    assert "unknown-key" in codes(lacking)
    document = {"tree": "t", "title": "t", "edition": 1, "of": "unit", "steps": as_an_editor_reads(lacking)}
    assert any(f"x{key}" in message for message in wrong(tree_schema(names), document))


@pytest.mark.parametrize("form", said_of_trees.NEEDED)
def test_what_a_step_needs_is_what_the_reader_needs(form: str, names: Names) -> None:
    needed = said_of_trees.NEEDED[form]
    for missing in needed:
        rest = tuple(key for key in needed if key != missing)
        assert "missing-key" in codes(a_step(form, rest))
        schema = tree_schema(names)
        step = as_an_editor_reads(a_step(form, rest))[0]
        assert any("required" in message for message in wrong({**schema, **schema["definitions"]["step"]}, step))


# ---- names are offered, never refused

OWN = """
tree: own
title: my own
edition: 1
of: circuit
steps:
- ask: my-own-reading, suction
  couldn't: my-own-end
- do: my-own-work
  tell: Do it.
  work: my own work
- go: my-own-tree
- finding: my-own-end
  cause: my-own-cause
  seen: It.
"""


def test_own_names_are_no_errors(names: Names) -> None:
    assert wrong(tree_schema(names), as_an_editor_reads(OWN)) == []
    own = as_an_editor_reads("mine:\n  ask: Hm?\n  kind: mass\n  with: my-own-scale\n")
    assert wrong(catalogue_schema("readings", names), own) == []
    assert wrong(answers_schema(names), {"circuits": {"main": {"my-own-reading": ["5 g", "6 g"]}}}) == []


def test_names_at_hand_are_offered(names: Names) -> None:
    step = tree_schema(names)["definitions"]["step ask"]
    offered = [each["const"] for each in step["properties"]["ask"]["anyOf"] if "const" in each]
    asked = Library.read(bundled_trees()).catalogue.readings.values()
    assert offered == [each.id for each in asked if each.ask]
    finding = tree_schema(names)["definitions"]["step finding"]["properties"]
    causes = {each.get("const") for each in finding["cause"]["anyOf"]}
    assert {"short-of-charge", "cannot-tell"} <= causes
    assert "charge-test" in {each.get("const") for each in finding["offer"]["anyOf"]}


def test_names_of_a_library_that_is_just_being_changed(tmp_path: Path) -> None:
    """What can't be read is left out; the rest is offered."""
    (tmp_path / "catalogue").mkdir()
    (tmp_path / "catalogue" / "readings.yaml").write_text("mine:\n  ask: Mine?\n  knd: mass\nother: [\n", "utf-8")
    (tmp_path / "catalogue" / "causes.yaml").write_text("rust:\n  say: It rusts\n  sya: again\n", "utf-8")
    (tmp_path / "own.yaml").write_text("tree: own\ntitle: Mine\nsteps:\n- ask: nothing-known\n- oops\n", "utf-8")
    found = names_in(tmp_path)
    assert found.trees == {"own": "Mine"}
    assert found.words("causes") == {"rust": "It rusts"}
    with pytest.raises(Refused):
        Library.read(tmp_path)
