"""The one question that needs no trees: how high the place lies. Light to import, so that a screen can
ask it while the trees are still being read."""

from __future__ import annotations

from tui.quantity import Kind, Quantity, Refused, echo, parse, standard_atmosphere
from tui.walk.kinds import ALTITUDE, ASK
from tui.walk.prompt import AskFor, Echo, Prompt


def altitude_unit(units: str) -> str:
    """What a bare number means."""
    return "ft" if units == "US" else "m"


def altitude_prompt(units: str) -> Prompt:
    """The question as the walk asks it where neither altitude nor barometer is set."""
    reading = AskFor(
        ALTITUDE,
        "How high above sea level is this place?",
        Kind.LENGTH,
        unit=altitude_unit(units),
        range_text="-1,600 ft to 29,500 ft (-500 m to 9,000 m)",
    )
    why = "A gauge reads against the air around it. At 5,000 ft sea-level figures are several degrees wrong."
    return Prompt(ASK, step=ALTITUDE, words=reading.words, why=why, readings=(reading,))


def altitude_echo(text: str, units: str) -> Echo:
    """How a typed height would be understood."""
    try:
        value = parse(text, Kind.LENGTH, shown=altitude_unit(units))
        assert isinstance(value, Quantity)
        standard_atmosphere(value.si)
        return Echo(True, echo(value, system=units))
    except Refused as refused:
        return Echo(False, problem=refused.message, cure=refused.cure)
