"""The outline of a tree: which steps stand where, what they are called, before anything in them is read."""

from __future__ import annotations

from tui.tree.forms import COMMON, FORMS, KEYS
from tui.tree.report import Fields, Report, did_you_mean, shown
from tui.tree.source import Mapping, Node, Scalar
from tui.tree.source import Sequence as Items

_UNNAMED = ("ask", "caution", "go", "back")
CARRY_ON, GO_ROUND = "carry on", "go round"


class Raw:
    """One step before its meaning is read. `head` is what stands behind its first key."""

    __slots__ = ("fields", "form", "head", "labelled", "name", "path", "steps")

    def __init__(self, form: str, head: Scalar, fields: Fields, path: tuple[int, ...]) -> None:
        self.form = form
        self.head = head
        self.fields = fields
        self.path = path
        self.name = ""
        self.labelled = False
        self.steps: list[Raw] = []


class Outline:
    """All steps of a tree: `steps` as they stand, `all` in file order, `named` by name."""

    def __init__(self, node: Items, report: Report) -> None:
        self.report = report
        self.all: list[Raw] = []
        self.broken = False  # a step that can't be told what it is may have any name
        self.steps = self._steps(node, ())
        self._repeated: dict[str, int] = {}  # how often a made name has been given
        self.named: dict[str, Raw] = {}
        self._names()

    def _steps(self, node: Items, path: tuple[int, ...]) -> list[Raw]:
        steps: list[Raw] = []
        for index, item in enumerate(node.items):
            step = self._step(item, (*path, index), node)
            if step is None:
                self.broken = True
                continue
            steps.append(step)
            self.all.append(step)
            if step.form == "repeat":
                rounds = step.fields.items("each round")
                if rounds is not None:
                    step.steps = self._steps(rounds, step.path)
        return steps

    def _step(self, node: Node, path: tuple[int, ...], above: Items) -> Raw | None:
        if not isinstance(node, Mapping):
            spot = node.spot
            if not (isinstance(node, Scalar) and node.broken):
                self.report.add(
                    spot,
                    "wrong-shape",
                    "A step begins with `- ask: ...` or another of its words.",
                    f"Steps are: {', '.join(FORMS)}.",
                )
            return None
        forms = [key for key, _ in node.entries if key.text in KEYS]
        if not forms:
            self._no_form(node)
            return None
        if len(forms) > 1:
            self.report.add(
                forms[1].spot,
                "two-steps",
                f"{shown(forms[0].text)} and {shown(forms[1].text)} stand in one step.",
                f"Put a dash before {shown(forms[1].text)}: one step, one dash.",
            )
            return None
        form = forms[0].text
        known = (form, *KEYS[form], *COMMON)
        free = ("when ",) if form == "repeat" else ()
        fields = Fields(node, known, f"A step `{form}`", self.report, forms[0].spot, free)
        head = fields.text(form) or Scalar("", forms[0].line, forms[0].column, forms[0].path, broken=True)
        return Raw(form, head, fields, path)

    def _no_form(self, node: Mapping) -> None:
        if not node.entries:
            self.report.add(node.spot, "unknown-step", "This step is empty.", f"Steps are: {', '.join(FORMS)}.")
            return
        key = node.entries[0][0]
        self.report.add(
            key.spot,
            "unknown-step",
            f"{shown(key.text)} is no step.",
            did_you_mean(key.text, FORMS, f"Steps are: {', '.join(FORMS)}."),
        )

    # ---- names

    def _names(self) -> None:
        for step in self.all:
            own = step.fields.text("name")
            if own is not None:
                self._label(step, own)
            elif step.form not in _UNNAMED and not step.head.broken:
                self._label(step, step.head)
        for step in self.all:
            if not step.name:
                step.name = self._made(step)
                self.named[step.name] = step

    def _label(self, step: Raw, name: Scalar) -> None:
        text = name.text
        other = self.named.get(text)
        if text in (CARRY_ON, GO_ROUND):
            self.report.add(
                name.spot,
                "bad-name",
                f"A step can't be called {shown(text)}: it is a way to go.",
                "Choose another name.",
            )
        elif other is not None:
            at = other.fields.head
            cure = "Rename one of them." if step.form not in ("work out", "judge") else "Give one of them a `name`."
            self.report.add(
                name.spot, "duplicate-name", f"A step {shown(text)} stands in line {at.line} already.", cure
            )
        else:
            step.name = text
            step.labelled = True
            self.named[text] = step

    def _made(self, step: Raw) -> str:
        """ask-<first reading>, go-<tree> ...; -2, -3 in file order where it repeats."""
        head = step.head.text.split(",")[0].strip() if step.form in ("ask", "caution") else step.head.text
        stem = f"{step.form}-{head}".replace(" ", "-") if step.form in _UNNAMED else head or step.form
        name, number = stem, self._repeated.get(stem, 1)
        while name in self.named:
            number += 1
            name = f"{stem}-{number}"
        self._repeated[stem] = number
        return name
