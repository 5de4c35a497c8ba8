"""What lowside remembers about its user: ``settings.yaml``, read strictly, written whole."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tui.desk.files import read_small, write_whole
from tui.quantity import Accuracy, Atmosphere, Kind, Quantity, Refused, nearest, parse, standard_atmosphere

if TYPE_CHECKING:
    from tui.tree import source
    from tui.tree.spot import Spot

UNITS = ("US", "SI")
REGIONS = ("US", "EU", "UK", "other")
THEMES = ("cellar", "daylight", "sunlight")
DRAWINGS = ("lines", "plain")
ACTIONS = (
    *("help", "couldnt", "undo", "correct", "details", "working", "pictures", "board", "sums", "leave", "note", "menu"),
    *("skip", "own-finding", "overrule", "photo", "close", "map", "theme", "keypad"),
)


@dataclass(frozen=True, slots=True)
class Instrument:
    """One instrument in the bag."""

    good_to: str = ""
    """How far it may be off: 0.5 psi, 1 % of 250 psi, 10 % of reading. Empty: as the catalogue has it."""

    calibrated: date | None = None
    """The day of its last calibration."""


@dataclass(frozen=True, slots=True)
class Settings:
    """Every field has a value that works when nothing is set."""

    units: str = "US"
    """US (°F, psig, oz) or SI (°C, barg, g): what is shown, and what a bare number means."""

    region: str = ""
    """Whose rules apply: US, EU, UK or other. Empty: no rules are loaded."""

    altitude: Quantity | None = None
    """Height of the place above sea level, with its unit: 1200 ft, 90 m. Without it a visit asks once."""

    barometer: Quantity | None = None
    """Air pressure at the place itself, instead of the altitude: 29.1 inHg, 985 mbar."""

    technician: str = ""
    """Your id in sessions, such as p-1f0c22ab. Your name stands in people.json only."""

    theme: str = ""
    """The colours of the screen: cellar (light on dark), daylight or sunlight. Empty: cellar."""

    drawing: str = ""
    """lines or plain: with plain the screen keeps to ASCII. Empty: as the terminal's encoding has it."""

    instruments: Mapping[str, Instrument] = field(default_factory=dict)
    """What is in your bag, by the catalogue's name: how good it is, when it was last calibrated."""

    keys: Mapping[str, str] = field(default_factory=dict)
    """Keys of your own: the action, and the key that does it, such as f9 or ctrl+n."""

    @property
    def atmosphere(self) -> Atmosphere:
        """What gauge pressures stand on; sea level where nothing is set."""
        if self.barometer is not None:
            return Atmosphere.from_barometer(self.barometer)
        return Atmosphere() if self.altitude is None else Atmosphere.from_altitude(self.altitude)

    def site(self, today: date) -> dict[str, Any]:
        """For the start of a walk; without altitude and barometer the walk asks."""
        known = {"altitude": self.altitude, "barometer": self.barometer, "region": self.region}
        return {"today": today.isoformat(), **{key: value for key, value in known.items() if value}}

    @property
    def accuracies(self) -> dict[str, str]:
        """Instrument to what it is good to, where that was set."""
        return {name: each.good_to for name, each in self.instruments.items() if each.good_to}

    @property
    def calibrations(self) -> dict[str, str]:
        """Instrument to the day of its last calibration (ISO), where that was set."""
        days = {name: each.calibrated for name, each in self.instruments.items()}
        return {name: day.isoformat() for name, day in days.items() if day is not None}


def load(path: Path) -> Settings:
    """The settings in a file, the usual ones where there is none. Raises Refused with every mistake."""
    text = read_small(path)
    return Settings() if text is None or not _has_content(text) else from_yaml(str(path), text)


def from_yaml(path: str, text: str) -> Settings:
    """The settings that a text spells. Raises Refused with every mistake and its line."""
    from tui.tree import source

    node, problems = source.scan(path, text)
    mistakes = [_Mistake(problem.spot, f"{problem.message} {problem.cure}".strip()) for problem in problems]
    flat: dict[str, _Said] = {}
    if node is not None:
        for found in _flat(node, ()):
            if isinstance(found, _Mistake):
                mistakes.append(found)
            else:
                flat[found.key] = found
    settings = _parsed(flat, mistakes)
    if mistakes:
        raise _refused(mistakes)
    return settings


def save(path: Path, settings: Settings) -> None:
    """Writes the whole file anew. Raises Refused; then the old file stands as it was."""
    text = to_yaml(settings)
    from_yaml(str(path), text)  # what cannot be read again is not written
    write_whole(path, text)


def changed(settings: Settings, key: str, text: str) -> Settings:
    """The settings with one key set, as ``altitude`` or ``instruments.low-gauge.good-to``; empty unsets it.

    Raises Refused for an unknown key and for what the key cannot be.
    """
    from tui.tree.spot import Spot

    spot = Spot("settings", 0, 0)
    key = key.strip()
    said = {name: _Said(name, old, spot) for name, old in flattened(settings).items()}
    mistakes: list[_Mistake] = []
    if _field_of(key) is None:
        raise _refused([_unknown(key, spot)])
    said.pop(key, None)
    if text.strip():
        said[key] = _Said(key, " ".join(text.split()), spot)
    result = _parsed(said, mistakes)
    if mistakes:
        raise _refused(mistakes)
    return result


def flattened(settings: Settings) -> dict[str, str]:
    """Every key that is set, with its text as it would be typed."""
    flat = {"units": settings.units, "region": settings.region}
    for name in ("altitude", "barometer"):
        value: Quantity | None = getattr(settings, name)
        flat[name] = value.typed if value else ""
    flat |= {"technician": settings.technician, "theme": settings.theme, "drawing": settings.drawing}
    for name, instrument in settings.instruments.items():
        flat[f"instruments.{name}.good-to"] = instrument.good_to
        flat[f"instruments.{name}.calibrated"] = instrument.calibrated.isoformat() if instrument.calibrated else ""
    flat |= {f"keys.{action}": key for action, key in settings.keys.items()}
    return {key: text for key, text in flat.items() if text}


def to_yaml(settings: Settings) -> str:
    """The file's text; only what is set."""
    lines: list[str] = []
    above: tuple[str, ...] = ()
    for key, text in flattened(settings).items():
        *parents, last = key.split(".")
        for depth, parent in enumerate(parents):
            if above[: depth + 1] != tuple(parents[: depth + 1]):
                lines.append(f"{'  ' * depth}{parent}:")
        above = tuple(parents)
        lines.append(f"{'  ' * len(parents)}{_SPELLED.get(last, last)}: {_quoted(text)}")
    return "\n".join(lines) + "\n"


def explanations() -> dict[str, str]:
    """What each setting means, in the words under its field above."""
    import ast
    import inspect

    said: dict[str, str] = {}
    for kind, prefix in ((Settings, ""), (Instrument, "instruments.NAME.")):
        (definition,) = ast.parse(inspect.getsource(kind)).body
        assert isinstance(definition, ast.ClassDef)
        names = {each.name for each in fields(kind)}
        for above, below in zip(definition.body, definition.body[1:], strict=False):
            if isinstance(above, ast.AnnAssign) and isinstance(above.target, ast.Name) and above.target.id in names:
                assert isinstance(below, ast.Expr)
                assert isinstance(below.value, ast.Constant)
                said[prefix + above.target.id.replace("_", "-")] = str(below.value.value)
    return said


# --------------------------------------------------------------------------- from text to fields


@dataclass(frozen=True, slots=True)
class _Said:
    key: str
    text: str
    spot: Spot


@dataclass(frozen=True, slots=True)
class _Mistake:
    spot: Spot
    words: str


_ID = re.compile(r"[a-z0-9][a-z0-9-]{0,39}\Z")
_WORD = re.compile(r"[^\s*&%@`'\"#:]\S{0,39}\Z")
_ALONE = frozenset({"units", "region", "altitude", "barometer", "technician", "theme", "drawing"})
OF_INSTRUMENTS = ("good-to", "calibrated")
_SPELLED = {"good-to": "good to"}
_PLAIN = re.compile(r"[\w+-][\w .,°%+/-]*\Z")


def _flat(node: source.Mapping, above: tuple[str, ...]) -> Iterator[_Said | _Mistake]:
    from tui.tree import source

    for name, value in node.entries:
        key = (*above, name.text.replace(" ", "-"))
        said = ".".join(key)
        if isinstance(value, source.Mapping) and len(key) < 3:
            yield from _flat(value, key)
        elif isinstance(value, source.Scalar) and value.broken:
            continue  # its problem is told already
        elif isinstance(value, source.Scalar) and _field_of(said) is not None:
            if value.text.strip():
                yield _Said(said, value.text.strip(), value.spot)
        elif isinstance(value, source.Scalar) and said in ("instruments", "keys") and not value.text:
            continue
        elif isinstance(value, source.Scalar) and said not in ("instruments", "keys"):
            yield _unknown(said, name.spot)
        else:
            yield _Mistake(name.spot, f"{name.text!r} does not have that shape. See: lowside settings --help")


def _field_of(key: str) -> str | None:
    """Which parser a dotted key has."""
    parts = key.split(".")
    if key in _ALONE:
        return key
    if len(parts) == 3 and parts[0] == "instruments" and _ID.match(parts[1]) and parts[2] in OF_INSTRUMENTS:
        return parts[2]
    return "key" if len(parts) == 2 and parts[0] == "keys" and parts[1] in ACTIONS else None


def _parsed(flat: Mapping[str, _Said], mistakes: list[_Mistake]) -> Settings:
    plain: dict[str, Any] = {}
    instruments: dict[str, dict[str, Any]] = {}
    keys: dict[str, str] = {}
    for said in flat.values():
        kind = _field_of(said.key) or ""
        try:
            value = _PARSERS[kind](said.text)
            if kind == "good-to":
                _like_the_usual(said.key.split(".")[1], said.text)
        except Refused as refused:
            mistakes.append(_Mistake(said.spot, f"{said.key}: {refused}"))
            continue
        if said.key.startswith("instruments."):
            instruments.setdefault(said.key.split(".")[1], {})[kind.replace("-", "_")] = value
        elif said.key.startswith("keys."):
            keys[said.key.split(".")[1]] = value
        else:
            plain[said.key] = value
    if plain.get("altitude") and plain.get("barometer"):
        both = "altitude and barometer are both set, and only one can hold. Take one of them out."
        mistakes.append(_Mistake(flat["barometer"].spot, both))
    bag = {name: Instrument(**parts) for name, parts in instruments.items()}
    return Settings(**plain, instruments=bag, keys=keys)


def _one_of(words: tuple[str, ...]) -> Callable[[str], str]:
    def read(text: str) -> str:
        found = next((word for word in words if word.lower() == text.lower()), None)
        if found is None:
            near = nearest(text, list(words))
            cure = f"Did you mean {near}?" if near else f"One of: {', '.join(words)}."
            raise Refused("not-a-choice", f"{text!r} is none of them.", cure)
        return found

    return read


def _altitude(text: str) -> Quantity:
    value = _quantity(text, Kind.LENGTH)
    standard_atmosphere(value.si)
    return value


def _barometer(text: str) -> Quantity:
    value = _quantity(text, Kind.ABSOLUTE_PRESSURE)
    Atmosphere.from_barometer(value)
    return value


def _quantity(text: str, kind: Kind) -> Quantity:
    value = parse(text, kind, shown=None)
    assert isinstance(value, Quantity)
    return value


def _good_to(text: str) -> str:
    Accuracy.declared(text)
    return text


def _like_the_usual(name: str, text: str) -> None:
    """Raises Refused where an instrument of the bundled trees reads something else; of others the trees decide."""
    usual = _usual().get(name)
    if usual is None:
        return
    known, own = Accuracy.parse(usual), Accuracy.parse(text)
    share_of_degrees = own.relative and known.kind is Kind.TEMPERATURE_DIFFERENCE
    if known.kind is not None and (own.kind not in (None, known.kind) or share_of_degrees):
        raise Refused("wrong-kind", f"{text!r} can't be how good a {name.replace('-', ' ')} is.", f"As in: {usual}.")


@cache
def _usual() -> Mapping[str, str]:
    """Instrument to what it is good to in the trees that come with lowside; light, for a start reads it too."""
    from tui.tree import source
    from tui.tree.bundled import bundled_trees

    path = bundled_trees() / "catalogue" / "instruments.yaml"
    text = read_small(path)
    node = None if text is None else source.scan(str(path), text)[0]
    return {} if node is None else dict(_good_tos(node))


def _good_tos(node: source.Mapping) -> Iterator[tuple[str, str]]:
    from tui.tree import source

    for name, entry in node.entries:
        for key, value in entry.entries if isinstance(entry, source.Mapping) else ():
            if key.text == "good to" and isinstance(value, source.Scalar):
                yield name.text, value.text


def _calibrated(text: str) -> date:
    value = _quantity(text, Kind.DATE)
    return date.fromordinal(date(1970, 1, 1).toordinal() + round(value.si / 86400))


def _word(text: str) -> str:
    if not _WORD.match(text):
        raise Refused("bad-word", f"{text!r} is no single word of at most 40 letters.", "Write one word.")
    return text


_PARSERS: dict[str, Callable[[str], Any]] = {
    "units": _one_of(UNITS),
    "region": _one_of(REGIONS),
    "altitude": _altitude,
    "barometer": _barometer,
    "technician": _word,
    "theme": _one_of(THEMES),
    "drawing": _one_of(DRAWINGS),
    "good-to": _good_to,
    "calibrated": _calibrated,
    "key": _word,
}
KEYS = ("units", "region", "altitude", "barometer", "technician", "theme", "drawing", "instruments", "keys")


def _unknown(key: str, spot: Spot) -> _Mistake:
    there = ACTIONS if key.startswith("keys.") else KEYS
    near = nearest(key.split(".")[-1], [*there, "good-to", "calibrated"])
    cure = f"Did you mean {near}?" if near else f"There are: {', '.join(there)}."
    return _Mistake(spot, f"There is no setting called {key!r}. {cure}")


def _refused(mistakes: list[_Mistake]) -> Refused:
    ordered = sorted(mistakes, key=lambda mistake: mistake.spot)
    lines = [f"{_where(mistake.spot)}: {mistake.words}" for mistake in ordered]
    return Refused("bad-settings", "\n".join(lines))


def _where(spot: Spot) -> str:
    return f"{spot.path}:{spot.line}:{spot.column}" if spot.line else spot.path


def _has_content(text: str) -> bool:
    return any(line.strip() and not line.lstrip().startswith("#") for line in text.splitlines())


def _quoted(text: str) -> str:
    return text if _PLAIN.match(text) else "'" + text.replace("'", "''") + "'"
