"""The forms: what each asks, and which of the trade's sums it does with it. Data only."""

from __future__ import annotations

from dataclasses import dataclass

from tui.desk.saying import words
from tui.quantity import Kind


@dataclass(frozen=True, slots=True)
class Field:
    """What a sum needs. `name` can be typed before its value.

    `kinds`: what it may be; a number alone is of the first. `known`: the reading or figure that is put in
    beforehand, the first of several that is there. `unit`: of a number alone (US, SI); empty: the usual one. `with_`:
    the instrument it is read on. `again`: read a second time, so that what the instrument drifted meanwhile counts.
    `only`: (field, word), it is asked where that field has that word.
    """

    name: str
    kinds: tuple[Kind, ...]
    known: str = ""
    unit: tuple[str, str] = ("", "")
    with_: str = ""
    again: bool = False
    answers: tuple[str, ...] = ()
    only: tuple[str, str] | None = None
    how: str = ""
    say: str = ""

    @property
    def words(self) -> str:
        return self.say or words(self.name)


@dataclass(frozen=True, slots=True)
class Result:
    """`sum`: its name in SUMS; `needs`: the fields it takes, in order. `units`: those it is told in.

    It is told where all of them are filled in, with kinds that the sum takes.
    """

    words: str
    sum: str
    needs: tuple[str, ...]
    units: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Form:
    name: str
    words: str
    fields: tuple[Field, ...]
    results: tuple[Result, ...]


WARM, APART, LONG = Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE, Kind.LENGTH
PRESSURE = (Kind.GAUGE_PRESSURE, Kind.ABSOLUTE_PRESSURE)
REFRIGERANT = Field("refrigerant", (Kind.CHOICE,), "refrigerant")
VAPOUR, LIQUID = "vapour", "liquid"

SATURATION = Form(
    "saturation",
    "saturation, both ways",
    (
        REFRIGERANT,
        Field(
            "at",
            (Kind.GAUGE_PRESSURE, WARM, Kind.ABSOLUTE_PRESSURE),
            how="A pressure gives temperatures; a temperature, with its unit, gives pressures.",
            say="at (pressure or temperature)",
        ),
    ),
    (
        Result("dew", "dew-temperature", ("at", "refrigerant")),
        Result("bubble", "bubble-temperature", ("at", "refrigerant")),
        Result("glide", "glide", ("at", "refrigerant")),
        Result("dew", "dew-pressure", ("at", "refrigerant")),
        Result("bubble", "bubble-pressure", ("at", "refrigerant")),
    ),
)

FORMS = (
    SATURATION,
    Form(
        "wanted",
        "wanted suction and head",
        (
            REFRIGERANT,
            Field("box", (WARM,), "box-wanted", say="box wanted"),
            Field(
                "td",
                (APART,),
                "evaporator-td",
                how="Common practice: 20 dF (11 dC) reach-in cooler, 10 to 15 dF (6 to 8 dC) freezer and walk-in.",
                say="evaporator TD",
            ),
            Field("air", (WARM,), "condenser-air", with_="air-probe", say="air into the condenser"),
            Field(
                "split",
                (APART,),
                "condenser-split",
                how="Common practice: 30 dF (17 dC) self-contained, 20 to 25 dF (11 to 14 dC) remote.",
                say="condenser split",
            ),
        ),
        (
            Result("suction wanted", "suction-for-box", ("box", "td", "refrigerant")),
            Result("head wanted", "head-for-air", ("air", "split", "refrigerant")),
        ),
    ),
    Form(
        "superheat",
        "superheat",
        (
            REFRIGERANT,
            Field("suction", PRESSURE, "suction", with_="low-gauge"),
            Field("line", (WARM,), "evaporator-outlet", with_="clamp", say="line at the outlet"),
        ),
        (
            Result("superheat", "superheat", ("line", "suction", "refrigerant")),
            Result("dew", "dew-temperature", ("suction", "refrigerant")),
        ),
    ),
    Form(
        "subcooling",
        "subcooling",
        (
            REFRIGERANT,
            Field("head", PRESSURE, "head", with_="high-gauge"),
            Field("line", (WARM,), "condenser-outlet liquid-line", with_="clamp", say="liquid line"),
        ),
        (
            Result("subcooling", "subcooling", ("line", "head", "refrigerant")),
            Result("bubble", "bubble-temperature", ("head", "refrigerant")),
        ),
    ),
    Form(
        "hose",
        "what a hose holds",
        (
            REFRIGERANT,
            Field("length", (LONG,), "hose-length", ("ft", "m"), say="hose length"),
            Field(
                "bore",
                (LONG,),
                "hose-bore",
                ("in", "mm"),
                how="Inside, off the hose's label. A 1/4 in hose is often 3/16 in inside.",
                say="bore (inside)",
            ),
            Field("in-it", (Kind.CHOICE,), answers=(VAPOUR, LIQUID), say="what is in it"),
            Field("pressure", PRESSURE, "suction", with_="low-gauge", only=("in-it", VAPOUR)),
            Field("temperature", (WARM,), only=("in-it", LIQUID)),
        ),
        (
            Result("it holds", "hose-holds", ("length", "bore", "pressure", "refrigerant")),
            Result("it holds", "hose-of-liquid", ("length", "bore", "temperature", "refrigerant")),
            Result("inner volume", "hose-volume", ("length", "bore"), ("in3", "mL")),
        ),
    ),
    Form(
        "leak",
        "leak rate",
        (
            Field("lost", (Kind.MASS,), "charge-missing", with_="scale", say="lost, or had to be added"),
            Field(
                "over",
                (Kind.TIME_SPAN, Kind.DATE),
                "charge-last-right",
                ("month", "month"),
                how="The time it took, or the day on which the charge was last known right.",
                say="over (time, or since a day)",
            ),
            Field("plate", (Kind.MASS,), "nameplate-charge", say="charge on the plate"),
        ),
        (
            Result("leaks", "leak-over", ("lost", "over")),
            Result("of the plate charge, in a year:", "leak-share", ("lost", "over", "plate")),
        ),
    ),
    Form(
        "nitrogen",
        "nitrogen at another temperature",
        (
            Field("pressure", PRESSURE, "test-pressure", with_="test-gauge", say="pressure then"),
            Field("then", (WARM,), "test-temperature", with_="clamp", say="temperature then"),
            Field("now", (WARM,), "held-temperature", with_="clamp", again=True, say="temperature now"),
            Field("held", PRESSURE, "held-pressure", with_="test-gauge", again=True, say="pressure now"),
        ),
        (
            Result("expected now", "nitrogen-expected", ("pressure", "then", "now")),
            Result("fallen by", "nitrogen-fall", ("pressure", "then", "now", "held")),
        ),
    ),
    Form(
        "air",
        "air pressure at a height",
        (Field("height", (LONG,), "altitude", say="height above sea level"),),
        (
            Result("the air", "air-pressure", ("height",), ("psia", "inHg", "mbar")),
            Result("a full vacuum reads", "full-vacuum", ("height",), ("inHg vac", "psig", "barg")),
        ),
    ),
)
