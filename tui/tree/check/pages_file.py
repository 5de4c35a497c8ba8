"""Pages of what a file must be before its meaning counts."""

from __future__ import annotations

from tui.tree.check.page import Page, page

_SEEN = """
        - ask: needles
        - finding: seen
          cause: cannot-tell
          seen: Needles <needles>.
          next: Go on.
        """

_TREE = """
        # example.yaml
        tree: example
        title: Example
        edition: 1
        of: circuit
        steps:
        - back: seen
        """


def _next(code: str, means: str, wrong: str) -> Page:
    """A page whose wrong example has `wrong` in the place of ``Go on.``."""
    return page(code, means, _SEEN.replace("Go on.", wrong), _SEEN)


def _instead(code: str, means: str, old: str, new: str) -> Page:
    """A page whose wrong example is a whole tree with `new` in the place of `old`."""
    return page(code, means, _TREE.replace(old, new), _TREE)


PAGES = (
    _next(
        "alias",
        "A text begins with `*`, which YAML reads as an alias. Write texts out; begin with a word.",
        "*again",
    ),
    _next(
        "anchor",
        "A text begins with `&`, which YAML reads as an anchor. Begin with a word.",
        "&here go on",
    ),
    _next("tag", "A text begins with `!`, which YAML reads as a tag. Begin with a word.", "!now go on"),
    _next(
        "bad-start",
        "A text may not begin with `* & % @`, in quotes neither: unquoted they mean something to YAML.",
        '"@once go on"',
    ),
    _next(
        "block-text",
        "Block text (`|` or `>`) is not used: a screen line is one line of the tree.",
        "|\n            Go on.",
    ),
    _next(
        "cut-by-comment",
        "` #` begins a comment, so the rest of the text would be lost without a word. Put the text in quotes.",
        "Go on at unit #7",
    ),
    _next(
        "many-lines",
        "A text runs over several lines, or the line below it lacks its colon.",
        "Go\n            on.",
    ),
    _next(
        "odd-character",
        """A text holds a letter that is not what it looks like: a no-break space, a control sign, a long dash or a
        bullet in the place of a hyphen, a wide colon. It comes in by pasting, or an editor put it there.""",
        '"Go\\u00a0on."',
    ),
    _next("tab", "A tab stands where blanks belong; YAML reads it as something else.", '"Go\ton."'),
    _next(
        "bad-yaml",
        "The line can't be read as YAML: a quote or bracket that is not closed, a colon without a blank, a dash or a "
        "comma left out, or indentation that is out.",
        '"Go on.',
    ),
    _instead(
        "bad-key",
        "A key is a text before a colon; between brackets each has something behind it.",
        "edition: 1",
        'edition: 1\n        "": 1',
    ),
    _instead(
        "duplicate-key",
        "A key stands twice. YAML would take the last one without a word; here both lines are told.",
        "edition: 1",
        "edition: 1\n        edition: 2",
    ),
    _instead(
        "flow-style",
        "Brackets (`{a: b}`, `[a, b]`) are not used in a tree, only in the catalogue, in answers and in examples.",
        "- back: seen",
        "- {back: seen}",
    ),
    _instead(
        "second-document",
        "A file is one tree: `---` begins a second document.",
        "- back: seen",
        "- back: seen\n        ---",
    ),
    _instead(
        "unknown-key",
        "A key that is not known here. Nothing that is written is ignored.",
        "edition: 1",
        "edition: 1\n        author: me",
    ),
    _instead("missing-key", "Something that must be said is not.", "        edition: 1\n", ""),
    _instead(
        "empty-text",
        "A key without anything behind it, or a comma or an `or` without a word.",
        "title: Example",
        "title:",
    ),
    _instead(
        "wrong-word",
        "One of a few words is expected here, and it is none of them.",
        "of: circuit",
        "of: circiut",
    ),
    _instead(
        "wrong-shape",
        "Something else stands below a key than belongs there: a text for a list, a list for keys.",
        "steps:\n        - back: seen",
        "steps: seen",
    ),
    _instead(
        "wrong-name",
        "A tree has the name of its file, so that it can be found: `example` stands in example.yaml.",
        "tree: example",
        "tree: exmaple",
    ),
    page(
        "bad-edition",
        "An edition is a whole number from 1 up, raised with each change: sessions name a tree's text by it.",
        _TREE.replace("edition: 1", "edition: one"),
        _TREE,
    ),
    page(
        "empty-file",
        "There is nothing in the file.",
        "# example.yaml",
        _TREE,
    ),
    page(
        "unknown-section",
        "A file of the catalogue that has no meaning.",
        """
        # catalogue/reading.yaml
        frost-height:
          ask: How high?
        """,
        """
        # catalogue/readings.yaml
        frost-height:
          ask: How high?
          kind: length
          of: circuit
        """,
    ),
    page(
        "old-edition",
        """With `check --against`: a tree's text is another than there, and its edition is not. Recorded visits name
        the edition they were walked with, so one edition is one text, comments too. The catalogue has no editions.""",
        _TREE.replace("title: Example", "title: A better example"),
        _TREE.replace("title: Example", "title: A better example").replace("edition: 1", "edition: 2"),
        before=_TREE,
    ),
    page("too-deep", "Keys are nested over 24 levels deep; nothing in a tree needs that."),
    page("too-big", "The file is larger than 1 MiB; most likely it is not a tree."),
    page("not-utf8", "The file is not UTF-8, so its ° and ’ can't be read. Save it as UTF-8."),
    page(
        "not-a-file",
        """A folder, a device or a link to itself stands where a file was expected. As a warning: a file or folder is
        not read, for its name is not quite the one it should have.""",
    ),
    page("not-found", "There is no such file or folder."),
    page("no-right", "You have no right to read this file or folder."),
)
