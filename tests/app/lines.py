"""A talk typed and read without a screen."""

from __future__ import annotations

from tui.app.sheet import Line, Part, joined, laid_out
from tui.app.talk import Talk

# To the first charge of a short R-134a circuit: at 4 psig far below the 15 °F wanted, at 15 psig near it.
BEGINNING = ("r134a", "yes", "14 oz", "running", "35", "", "4")
TO_THE_WAIT = (*BEGINNING, "", "100 oz", "", "98 oz")


def text(parts: tuple[Part, ...] | list[Line], width: int = 80) -> str:
    lines = laid_out(parts, width)
    return joined(lines).plain


def said(talk: Talk) -> str:
    """What stands under the line, without its margin."""
    return " ".join(text(talk.said).split())


def page(talk: Talk, width: int = 80) -> str:
    """What stands above the line, choices too."""
    view = talk.view(width)
    choices = "\n".join(f"{place} {say}" for place, (_, say) in enumerate(view.choices, start=1))
    return f"{text(view.parts, width)}\n{choices}"


def typed(talk: Talk, *lines: str) -> None:
    """Every line typed and entered; each must be taken."""
    for line in lines:
        talk.typing(line)
        assert talk.enter(line), f"{line!r}: {said(talk)}"


def events(talk: Talk, kind: str) -> list[dict[str, object]]:
    return [event for event in talk.walk.events if event["event"] == kind]
