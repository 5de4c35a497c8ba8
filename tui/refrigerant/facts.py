"""What is known about each refrigerant beside its properties: one data file, a source per figure."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from tui.refrigerant.table import DATA, table


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure and where it is from."""

    value: float
    source: str


@dataclass(frozen=True, slots=True)
class Facts:
    """One refrigerant. Composition in mass %, LFL in kg/m3.

    error_K: half-width of the saturation temperature's error, K.
    gwp: by edition (``AR4``, ``AR5``, ``EU 517/2014``, ``EU 2024/573``); only those with a source.
    made: how its table was made: pure, pseudo-pure, mixture or estimated.
    charges_as: how it leaves the cylinder, ``liquid`` (throttled) or ``vapour``.
    ozone_depleting: component -> class of the Clean Air Act (``I``, ``II``); empty for most.
    """

    id: str
    safety_class: str
    safety_class_source: str
    composition: Mapping[str, float]
    composition_source: str
    gwp: Mapping[str, Figure]
    lfl: Figure | None
    made: str
    estimated: bool
    error_K: float
    charges_as: str
    note: str
    ozone_depleting: Mapping[str, str]

    @property
    def flammable(self) -> bool:
        """Whether the safety class says that it can burn (2L, 2 or 3)."""
        return self.safety_class[1:] != "1"


_data: dict[str, Any] = {}


def _read() -> Mapping[str, Any]:
    if not _data:
        _data.update(json.loads((DATA / "facts.json").read_text(encoding="utf-8")))
    return _data


def entries() -> Mapping[str, Mapping[str, Any]]:
    """The refrigerants of facts.json as they stand there, in its order."""
    found: Mapping[str, Mapping[str, Any]] = _read()["refrigerants"]
    return found


def facts(refrigerant: str) -> Facts:
    """The facts of one refrigerant by id. Raises KeyError for what is no id (``resolve`` first)."""
    entry = entries()[refrigerant]
    sources = _read()["sources"]
    safety_class, class_source = entry["class"]
    lfl = entry.get("lfl_kg_m3")
    pure = entry["made"] == "pure"
    found = table(refrigerant)
    return Facts(
        id=refrigerant,
        safety_class=safety_class,
        safety_class_source=sources[class_source],
        composition=MappingProxyType(entry["composition"]),
        composition_source="one substance" if pure else sources[entry["composition_from"]],
        gwp=MappingProxyType(_gwp(entry["composition"])),
        lfl=None if lfl is None else Figure(lfl[0], sources[lfl[1]]),
        made=entry["made"],
        estimated=entry["made"] == "estimated",
        error_K=found.error_K,
        # A zeotrope must leave as liquid or its composition shifts; the trade does the same with every blend.
        charges_as="vapour" if pure else "liquid",
        note=entry.get("note", ""),
        ozone_depleting=MappingProxyType(_ozone_depleting(entry["composition"])),
    )


def blend_gwp(parts: Sequence[tuple[float, float]]) -> float:
    """GWP of a blend from (mass share in %, component GWP) pairs.

    The mass-weighted sum of Regulation (EC) No 842/2006 Annex I part 2.
    """
    return sum(share * gwp for share, gwp in parts) / 100


def law_gwp(refrigerant: str) -> Figure:
    """The GWP that the laws reckon with, by id: per component Regulation (EU) 2024/573, else 517/2014, else AR4.

    For HFCs all three are the AR4 figures. Raises KeyError for what is no id.
    """
    table_of_gwp = _read()["gwp"]
    sources = _read()["sources"]
    parts, keys = [], []
    for name, share in entries()[refrigerant]["composition"].items():
        known = table_of_gwp[name]
        value, key = next(known[e] for e in ("EU 2024/573", "EU 517/2014", "AR4") if e in known)
        parts.append((share, value))
        keys.append(key)
    if len(parts) > 1:
        keys.append("sum")
    return Figure(blend_gwp(parts), "; ".join(sources[key] for key in dict.fromkeys(keys)))


def annex_i(refrigerant: str) -> float:
    """Share (0..1) of gases of Regulation (EU) 2024/573 Annex I in a refrigerant, by id."""
    return _share(refrigerant, "eu_annex_i")


def annex_ii(refrigerant: str) -> float:
    """Share (0..1) of gases of Regulation (EU) 2024/573 Annex II section 1 in a refrigerant, by id."""
    return _share(refrigerant, "eu_annex_ii_section_1")


def _share(refrigerant: str, annex: str) -> float:
    listed = _read()[annex]
    composition: Mapping[str, float] = entries()[refrigerant]["composition"]
    return sum(share for name, share in composition.items() if name in listed) / 100


def _ozone_depleting(composition: Mapping[str, float]) -> dict[str, str]:
    known = _read()["ozone_depleting"]
    return {name: known[name] for name in composition if name in known}


def _gwp(composition: Mapping[str, float]) -> dict[str, Figure]:
    """By edition; one edition only where every component has a figure in it."""
    table_of_gwp = _read()["gwp"]
    sources = _read()["sources"]
    parts = [(share, table_of_gwp.get(name, {})) for name, share in composition.items()]
    editions = [e for e in ("AR4", "AR5", "EU 517/2014", "EU 2024/573") if all(e in g for _, g in parts)]
    found = {}
    for edition in editions:
        keys = list(dict.fromkeys(gwp[edition][1] for _, gwp in parts))
        if len(parts) > 1:
            keys.append("sum")
        value = blend_gwp([(share, gwp[edition][0]) for share, gwp in parts])
        found[edition] = Figure(value, "; ".join(sources[k] for k in keys))
    return found
