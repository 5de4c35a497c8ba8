"""What may stand in a file, for editors that complete keys and say what they mean (JSON Schema).

  lowside schema                   which kinds of file there are
  lowside schema tree              the schema of a tree
  lowside schema --write           all of them, into .schema beside your trees
  lowside schema --write FOLDER    the same beside the trees in FOLDER
  lowside schema --write FOLDER --modeline

With --modeline each file of the folder that has none gets a first line by which editors find its schema; lowside
reads over it. Names are those of the trees at hand: write the schemas anew when you have added some.

Exit code: 0 done, 2 it could not be.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tui.quantity.refused import Refused

if TYPE_CHECKING:
    from tui.tree.schema.names import Names
    from tui.tree.schema.pieces import Schema

FOLDER = ".schema"
_ENDING = ".yaml"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("kind", nargs="?", metavar="KIND", help="such as tree; without: which there are")
    where = "into FOLDER/.schema; alone: beside your own trees"
    parser.add_argument("--write", nargs="?", const="", metavar="FOLDER", help=where)
    parser.add_argument("--modeline", action="store_true", help="with --write: also the line in each file there")


def run(options: argparse.Namespace) -> int:
    """Print a schema, or write them."""
    kinds = _kinds()
    if options.kind is not None and options.kind not in kinds:
        raise _no_such_kind(options.kind, list(kinds))
    if options.write is None and options.modeline:
        raise Refused("misuse", "lowside schema: --modeline goes with --write.", "Add --write, or --write FOLDER.")
    if options.write is not None:
        _write(options.write, [options.kind] if options.kind else list(kinds), modeline=options.modeline)
    elif options.kind is None:
        _list(kinds)
    else:
        from tui.cli.libraries import usual_folders
        from tui.cli.output import print_json

        print_json(kinds[options.kind][1](_names(usual_folders())))
    return 0


def _kinds() -> dict[str, tuple[str, Callable[[Names], Schema]]]:
    """Every kind of file: which files it is of, and what makes its schema."""
    from tui.desk.schema import settings_schema
    from tui.proof.schema import examples_schema
    from tui.tree.catalogue import SECTIONS
    from tui.tree.schema.catalogue import catalogue_schema
    from tui.tree.schema.trees import tree_schema
    from tui.walk.schema import answers_schema

    def of_section(section: str) -> Callable[[Names], Schema]:
        return lambda names: catalogue_schema(section, names)

    return {
        "tree": ("*.yaml", tree_schema),
        **{section: (f"catalogue/{section}.yaml", of_section(section)) for section in SECTIONS},
        "examples": ("examples/*.yaml", examples_schema),
        "answers": ("", answers_schema),
        "settings": ("", settings_schema),
    }


def _names(folders: list[Path]) -> Names:
    from tui.tree.schema.names import names_in

    return names_in(*folders)


def _list(kinds: dict[str, tuple[str, Callable[[Names], Schema]]]) -> None:
    empty = _names([])
    wide = max(map(len, kinds))
    for kind, (_, make) in kinds.items():
        print(f"{kind:<{wide}}  {make(empty)['description']}")
    print("\nlowside schema --write puts them beside your trees; lowside schema KIND prints one.")


def _no_such_kind(kind: str, kinds: list[str]) -> Refused:
    from tui.quantity import nearest

    near = nearest(kind, kinds)
    cure = f"Did you mean {near}?" if near else f"There are: {', '.join(kinds)}."
    return Refused("no-such-kind", f"lowside schema: there is no kind of file {kind!r}.", cure)


# ---- writing


def _write(named: str, chosen: list[str], *, modeline: bool) -> None:
    import json

    from tui.cli.libraries import trees_beside, usual_folders
    from tui.desk.files import write_whole
    from tui.desk.home import own_trees

    folder = Path(named) if named else own_trees()
    names = _names(trees_beside(folder) if named else usual_folders())
    kinds = _kinds()
    for kind in chosen:
        text = json.dumps(kinds[kind][1](names), ensure_ascii=False, indent=1)
        write_whole(folder / FOLDER / f"{kind}.json", f"{text}\n")
    print(f"{len(chosen)} {'schema' if len(chosen) == 1 else 'schemas'} written to {folder / FOLDER}.")
    if modeline:
        _put_lines(folder, [(kind, kinds[kind][0]) for kind in chosen])
    else:
        _tell_lines([(kind, kinds[kind][0]) for kind in chosen], folder / FOLDER)


def _seen_from(files: str, kind: str) -> str:
    """The schema's path as a file of that pattern names it, on every system with slashes."""
    return f"{'../' * files.count('/')}{FOLDER}/{kind}.json"


def _tell_lines(chosen: list[tuple[str, str]], where: Path) -> None:
    from tui.desk.modeline import modeline

    print("An editor finds them by the first line of a file (--modeline puts it there):")
    for kind, files in chosen:
        path = _seen_from(files, kind) if files else (where / f"{kind}.json").resolve().as_uri()
        print(f"  {files or kind}\n    {modeline(path)}")


def _put_lines(folder: Path, chosen: list[tuple[str, str]]) -> None:
    from tui.desk.modeline import put_modeline

    put, had = 0, 0
    for kind, files in chosen:
        for file in sorted(folder.glob(files)) if files else ():
            if put_modeline(file, _seen_from(files, kind)):
                put += 1
            else:
                had += 1
    print(f"Its line was put into {put} {'file' if put == 1 else 'files'}; {had} had one already.")
