"""Library: folders of YAML read, typed and proven. A wrong one never starts a walk."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from hashlib import sha256
from pathlib import Path

from tui.quantity import Refused
from tui.tree import source, trouble
from tui.tree.catalogue import SECTIONS, Entry, Raw, Reader
from tui.tree.model import Catalogue, Tree
from tui.tree.report import Report, did_you_mean, one_cause, shown
from tui.tree.scope import Signature
from tui.tree.source import Mapping as Keys
from tui.tree.spot import Problem, Spot
from tui.tree.steps import TreeReader
from tui.tree.unread import ENDING, is_text_beside, unread

CATALOGUE = "catalogue"


class BrokenLibrary(Refused):
    """A library with errors; `problems` are all of them and the warnings, in file order."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = one_cause(problems)
        errors = [problem for problem in self.problems if problem.severity == "error"]
        first = errors[0]
        where = f"{first.spot.path}:{first.spot.line}:{first.spot.column}"
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        super().__init__("broken-trees", f"{where}: {first.code}: {first.message}{more}", first.cure)


@dataclass(frozen=True, slots=True)
class File:
    """A file's text (None: it could not be read, and that was told).

    `path` is how problems name it, `section` its place in the catalogue (None: a tree).
    """

    path: str
    name: str
    section: str | None
    text: str | None


@dataclass(frozen=True, slots=True)
class Library:
    """Trees and catalogue, proven. `problems` holds warnings only; `digest` is of all texts that count.

    `folders` it was read from, later ones over earlier ones; none where it was made of texts.
    """

    trees: Mapping[str, Tree]
    catalogue: Catalogue
    digest: str
    problems: tuple[Problem, ...] = ()
    entries: Mapping[tuple[str, str], str] = field(default_factory=dict, repr=False)
    folders: tuple[str, ...] = ()

    @classmethod
    def load(cls, *folders: Path | str) -> Library:
        """Read and prove folders of trees; later ones override. Raises BrokenLibrary with all problems."""
        return cls.read(*folders).proven()

    @classmethod
    def read(cls, *folders: Path | str) -> Library:
        """As `load` without the proofs: read and typed only, so no walk should start on it."""
        problems: list[Problem] = []
        files = [file for folder in folders for file in _files(Path(folder), problems)]
        if not problems and not any(file.section is None for file in files):
            where = ", ".join(str(folder) for folder in folders) or "."
            problems.append(
                trouble.whole(where, "not-found", "There is no tree in this folder.", "Name a folder of trees.")
            )
        return replace(_library(files, problems, partial=False), folders=tuple(map(str, folders)))

    @classmethod
    def from_texts(cls, texts: Mapping[str, str], *, partial: bool = False) -> Library:
        """From texts by relative path (``both-low.yaml``, ``catalogue/readings.yaml``).

        partial: trees that others name may be missing. Raises BrokenLibrary.
        """
        files = [file for path, text in texts.items() if (file := _named(path, text)) is not None]
        library = _library(files, [], partial=partial)
        return library if partial else library.proven()

    def proven(self) -> Library:
        """This library, with the warnings of the proofs. Raises BrokenLibrary where one of them fails."""
        from tui.tree.check import prove

        report = Report()
        report.take([*self.problems, *prove(self.trees, self.catalogue)])
        if any(problem.severity == "error" for problem in report.problems):
            raise BrokenLibrary(report.problems)
        return replace(self, problems=tuple(report.problems))

    def entry_text(self, section: str, entry: str) -> str:
        """The lines of one catalogue entry as they stand in their file."""
        return self.entries[section, entry]


def parts_of(*folders: Path | str) -> tuple[Raw, dict[str, Keys]]:
    """Catalogue entries and trees by name as far as they can be read; what is broken is told by nobody here."""
    files = [file for folder in folders for file in _files(Path(folder), [])]
    raw, trees = _Reading(Report()).of(files)
    return raw, {file.name: node for file, node in trees.items()}


def _named(path: str, text: str) -> File | None:
    """A text by its relative path; None for what is no tree and no file of the catalogue (an example)."""
    folder, _, name = path.rpartition("/")
    if folder not in ("", CATALOGUE) or not name.endswith(ENDING):
        return None
    stem = name.removesuffix(ENDING)
    return File(path, stem, stem if folder else None, text)


def _files(folder: Path, problems: list[Problem]) -> Iterator[File]:
    """Trees and catalogue files of a folder, in name order. A file that can't be read has no text."""
    problems.extend(unread(folder))
    for below, catalogue in ((folder, False), (folder / CATALOGUE, True)):
        try:
            names = sorted(entry.name for entry in os.scandir(below))
        except OSError as error:
            if not catalogue or not isinstance(error, FileNotFoundError):
                problems.append(_no_folder(below, error))
            return
        for name in names:
            stem = name.removesuffix(ENDING)
            if stem and stem != name and not is_text_beside(name):
                yield _file(below / name, stem, catalogue, problems)


def _file(path: Path, stem: str, catalogue: bool, problems: list[Problem]) -> File:
    try:
        text = source.read_bytes(path)
    except source.Unreadable as unreadable:
        cure = f"Rename it, or take it out: what ends in `{ENDING}` is read." if path.is_dir() else ""
        problems.extend(replace(told, cure=cure or told.cure) for told in unreadable.problems)
        text = None
    return File(str(path), stem, stem if catalogue else None, text)


def _no_folder(folder: Path, error: OSError) -> Problem:
    if isinstance(error, FileNotFoundError):
        return trouble.whole(str(folder), "not-found", "There is no such folder.", "Name a folder of trees.")
    if isinstance(error, NotADirectoryError):
        return trouble.whole(
            str(folder), "not-a-file", "This is a file; a folder was expected.", "Name a folder of trees."
        )
    if isinstance(error, PermissionError):
        message = "You have no right to look into this folder."
        return trouble.whole(str(folder), "no-right", message, "Change its rights, or ask who owns it.")
    why = error.strerror or "it can't be opened"
    return trouble.whole(str(folder), "not-found", f"This folder can't be read: {why}.", "Name a folder of trees.")


def _library(files: list[File], problems: list[Problem], *, partial: bool) -> Library:
    report = Report()
    report.take(problems)
    raw, trees = _Reading(report).of(files)
    reader = Reader(raw, _sums(), report, {file.name for file in files if file.section is None})
    catalogue = reader.catalogue()
    read = {file.name: _tree(reader, report, file, node) for file, node in trees.items()}
    made = {name: tree for name, tree in ((n, t[0]) for n, t in read.items()) if tree is not None}
    if not partial:
        _calls(report, read, {file.name for file in files if file.section is None})
    if any(problem.severity == "error" for problem in report.problems):
        raise BrokenLibrary(report.problems)
    entries = {(s, n): entry.text for s, found in raw.sections.items() for n, entry in found.items()}
    return Library(made, catalogue, _digest(made, entries), tuple(report.problems), entries)


def _sums() -> Mapping[str, Signature]:
    from tui.trade import SUMS

    return SUMS


def _digest(trees: Mapping[str, Tree], entries: Mapping[tuple[str, str], str]) -> str:
    digest = sha256()
    for name in sorted(trees):
        digest.update(f"{name}\0{trees[name].digest}\n".encode())
    for section, entry in sorted(entries):
        digest.update(f"{section}\0{entry}\0{entries[section, entry]}\n".encode())
    return digest.hexdigest()


class _Reading:
    """Files into nodes; entries and trees of later files replace those of earlier ones."""

    def __init__(self, report: Report) -> None:
        self.report = report
        self.raw = Raw()
        self.trees: dict[str, tuple[File, Keys]] = {}

    def of(self, files: list[File]) -> tuple[Raw, dict[File, Keys]]:
        for file in files:
            node = None
            if file.text is not None:
                node, problems = source.scan(file.path, file.text, flow=file.section is not None)
                self.report.take(problems)
            if file.section is None:
                self._tree(file, node)
            else:
                self._entries(file, node)
        return self.raw, dict(self.trees.values())

    def _tree(self, file: File, node: Keys | None) -> None:
        if node is not None:
            self.trees[file.name] = file, node

    def _entries(self, file: File, node: Keys | None) -> None:
        section = file.section or ""
        if section not in SECTIONS:
            self.report.add(
                Spot(file.path, 1, 1),
                "unknown-section",
                f"A catalogue has no {shown(section)}.",
                did_you_mean(section, SECTIONS, f"Its files are: {', '.join(SECTIONS)}, each with .yaml behind it."),
            )
        elif node is None:
            self.raw.open.add(section)
        else:
            lines = (file.text or "").split("\n")
            starts = [key.line for key, _ in node.entries] + [len(lines) + 1]
            for (key, value), end in zip(node.entries, starts[1:], strict=True):
                if node.flow or (key.column != 1 and lines[key.line - 1][:1] not in ("'", '"')):
                    self._not_alone(key)
                text = "\n".join(lines[key.line - 1 : end - 1]).rstrip()
                self.raw.sections[section][key.text] = Entry(key, value, _without_comments(text) + "\n")

    def _not_alone(self, key: source.Scalar) -> None:
        """An entry is taken into sessions by its lines: it needs lines of its own."""
        self.report.add(
            key.spot,
            "wrong-shape",
            f"The entry {shown(key.text)} does not begin at the left edge.",
            "Write the entries of a catalogue file one below the other, each at the start of its line.",
        )


def _without_comments(text: str) -> str:
    """Comment lines at the end belong to the next entry; a document's end to none."""
    lines = text.split("\n")
    while len(lines) > 1 and (not lines[-1].strip() or lines[-1].lstrip().startswith("#") or lines[-1][:3] == "..."):
        lines.pop()
    return "\n".join(lines)


def _tree(reader: Reader, report: Report, file: File, node: Keys) -> tuple[Tree | None, TreeReader]:
    """A tree with what it uses; its name must be its file's."""
    one = TreeReader(reader, report, file.path, file.text or "")
    tree = one.read(node)
    if tree is None:
        return None, one
    if tree.name != file.name:
        spot = next((value.spot for key, value in node.entries if key.text == "tree"), node.spot)
        report.add(
            spot,
            "wrong-name",
            f"The tree {shown(tree.name)} stands in a file called {shown(file.name)}.",
            "A tree has the name of its file, without .yaml.",
        )
        return None, one
    # what can't be is ruled out in any tree, also of causes that only later trees find
    refs = one.refs | {("causes", cause) for cause in reader.excluding}
    return replace(tree, uses=tuple(sorted(_closure(refs, reader)))), one


def _closure(refs: set[tuple[str, str]], reader: Reader) -> set[tuple[str, str]]:
    """These catalogue entries and all they need in turn."""
    found: set[tuple[str, str]] = set()
    todo = [ref for ref in refs if ref[1] in reader.raw.sections[ref[0]] or ref[0] == "places"]
    while todo:
        ref = todo.pop()
        if ref[0] == "places":
            refs_of = [("places", name) for name in reader.raw.sections["places"]]
            todo.extend(r for r in reader.refs.get(ref, ()) if r not in found)
            found.update(refs_of)
        elif ref not in found:
            found.add(ref)
            todo.extend(reader.refs.get(ref, ()))
    return found


def _cure_of_call(name: str, names: set[str]) -> str:
    if name.removesuffix(ENDING) in names:
        return f"Name a tree without its ending: {shown(name.removesuffix(ENDING))}."
    return did_you_mean(name, names, "Write it, or name another.")


def _calls(report: Report, read: Mapping[str, tuple[Tree | None, TreeReader]], names: set[str]) -> None:
    """Trees that are named must be there, be they broken or not."""
    for _, reader in read.values():
        for call in reader.calls:
            if not call.broken and call.text not in names:
                report.add(
                    call.spot,
                    "no-such-tree",
                    f"There is no tree {shown(call.text)}.",
                    _cure_of_call(call.text, names),
                )
