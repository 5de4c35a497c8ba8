"""Library: folders of YAML read, typed and proven. A wrong one never starts a walk."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from hashlib import sha256
from pathlib import Path

from tui.quantity import Refused
from tui.tree import source, trouble
from tui.tree.catalogue import SECTIONS, Entry, Raw, Reader
from tui.tree.model import Catalogue, Problem, Tree
from tui.tree.report import Report, did_you_mean, shown
from tui.tree.scope import Signature
from tui.tree.source import Mapping as Keys
from tui.tree.steps import TreeReader

CATALOGUE = "catalogue"
EXAMPLES = "examples"


class BrokenLibrary(Refused):
    """A library with errors; `problems` are all of them and the warnings, in file order."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = sorted(problems, key=lambda problem: problem.spot)
        errors = [problem for problem in self.problems if problem.severity == "error"]
        first = errors[0]
        where = f"{first.spot.path}:{first.spot.line}:{first.spot.column}"
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        super().__init__("broken-trees", f"{where}: {first.code}: {first.message}{more}", first.cure)


@dataclass(frozen=True, slots=True)
class File:
    """A file's text; `path` is how problems name it, `section` its place in the catalogue (None: a tree)."""

    path: str
    name: str
    section: str | None
    text: str


@dataclass(frozen=True, slots=True)
class Library:
    """Trees and catalogue, proven. `problems` holds warnings only; `digest` is of all texts that count."""

    trees: Mapping[str, Tree]
    catalogue: Catalogue
    digest: str
    problems: tuple[Problem, ...] = ()
    entries: Mapping[tuple[str, str], str] = field(default_factory=dict, repr=False)

    @classmethod
    def load(cls, *folders: Path | str) -> Library:
        """Read and prove folders of trees; later ones override. Raises BrokenLibrary with all problems."""
        return cls.read(*folders, prove=True)

    @classmethod
    def read(cls, *folders: Path | str, prove: bool = False) -> Library:
        """As `load`, with the proofs left out on wish."""
        problems: list[Problem] = []
        files = [file for folder in folders for file in _files(Path(folder), problems)]
        return _library(files, problems, partial=False, prove=prove)

    @classmethod
    def from_texts(cls, texts: Mapping[str, str], *, partial: bool = False) -> Library:
        """From texts by relative path (``both-low.yaml``, ``catalogue/readings.yaml``).

        partial: trees that others name may be missing. Raises BrokenLibrary.
        """
        files = [_file(path, Path(path).stem, path.startswith(f"{CATALOGUE}/"), text) for path, text in texts.items()]
        return _library(files, [], partial=partial, prove=not partial)

    def entry_text(self, section: str, entry: str) -> str:
        """The lines of one catalogue entry as they stand in their file."""
        return self.entries[section, entry]


def _file(path: str, stem: str, catalogue: bool, text: str) -> File:
    return File(path, stem, stem if catalogue else None, text)


def _files(folder: Path, problems: list[Problem]) -> Iterator[File]:
    """Trees and catalogue files of a folder, in name order."""
    if not folder.is_dir():
        problems.append(trouble.whole(str(folder), "not-found", "There is no such folder.", "Name a folder of trees."))
        return
    for below, catalogue in ((folder, False), (folder / CATALOGUE, True)):
        try:
            found = sorted(below.glob("*.yaml")) if below.is_dir() else []
        except OSError:
            problems.append(
                trouble.whole(
                    str(below),
                    "no-right",
                    "You have no right to look into this folder.",
                    "Change its rights, or ask who owns it.",
                )
            )
            continue
        for file in found:
            try:
                yield _file(str(file), file.stem, catalogue, source.read_bytes(file))
            except source.Unreadable as unreadable:
                problems.extend(unreadable.problems)


def _library(files: list[File], problems: list[Problem], *, partial: bool, prove: bool) -> Library:
    report = Report()
    report.take(problems)
    raw, trees = _Reading(report).of(files)
    reader = Reader(raw, _sums(), report)
    catalogue = reader.catalogue()
    read = {file.name: _tree(reader, report, file, node) for file, node in trees.items()}
    made = {name: tree for name, tree in ((n, t[0]) for n, t in read.items()) if tree is not None}
    _calls(report, read, {file.name for file in trees} | ({"\0"} if partial else set()))
    if not any(problem.severity == "error" for problem in report.problems) and prove:
        from tui.tree.check import prove as proven

        report.take(proven(made, catalogue))
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
                trouble.whole(file.path, "", "").spot,
                "unknown-section",
                f"A catalogue has no {shown(section)}.",
                did_you_mean(section, SECTIONS, f"Its files are: {', '.join(SECTIONS)}, each with .yaml behind it."),
            )
        elif node is None:
            self.raw.open.add(section)
        else:
            lines = file.text.split("\n")
            starts = [key.line for key, _ in node.entries] + [len(lines) + 1]
            for (key, value), end in zip(node.entries, starts[1:], strict=True):
                text = "\n".join(lines[key.line - 1 : end - 1]).rstrip()
                self.raw.sections[section][key.text] = Entry(key, value, _without_comments(text) + "\n")


def _without_comments(text: str) -> str:
    """Comment lines at the end belong to the next entry."""
    lines = text.split("\n")
    while len(lines) > 1 and (not lines[-1].strip() or lines[-1].lstrip().startswith("#")):
        lines.pop()
    return "\n".join(lines)


def _tree(reader: Reader, report: Report, file: File, node: Keys) -> tuple[Tree | None, TreeReader]:
    """A tree with what it uses; its name must be its file's."""
    one = TreeReader(reader, report, file.path, file.text)
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
    return replace(tree, uses=tuple(sorted(_closure(one.refs, reader)))), one


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


def _calls(report: Report, read: Mapping[str, tuple[Tree | None, TreeReader]], names: set[str]) -> None:
    """Trees that are named must be there."""
    if "\0" in names:
        return
    for _, reader in read.values():
        for call in reader.calls:
            if not call.broken and call.text not in names:
                report.add(
                    call.spot,
                    "no-such-tree",
                    f"There is no tree {shown(call.text)}.",
                    did_you_mean(call.text, names, "Write it, or name another."),
                )
