"""Compares a rebuilt table with the checked-in one."""

from __future__ import annotations

from typing import Any

# Which library built a table is told, not compared: another version with equal figures is no difference.
TOLD = frozenset({"library", "library_git"})
TOLERANCE = 2e-6  # relative; of a pressure that is under 0.0001 K of saturation temperature


def differences(checked_in: Any, rebuilt: Any, where: str = "") -> list[str]:
    """What differs, in words, each with its place: numbers by more than TOLERANCE, anything else at all."""
    if isinstance(checked_in, dict) and isinstance(rebuilt, dict):
        keys = [k for k in dict.fromkeys([*checked_in, *rebuilt]) if k not in TOLD]
        missing = object()
        return [
            line
            for k in keys
            for line in _pair(checked_in.get(k, missing), rebuilt.get(k, missing), f"{where}/{k}", missing)
        ]
    if isinstance(checked_in, list) and isinstance(rebuilt, list):
        if len(checked_in) != len(rebuilt):
            return [f"{where}: {len(checked_in)} values checked in, {len(rebuilt)} rebuilt"]
        pairs = enumerate(zip(checked_in, rebuilt, strict=True))
        return [line for i, (a, b) in pairs for line in differences(a, b, f"{where}/{i}")]
    if _same(checked_in, rebuilt):
        return []
    return [f"{where}: {checked_in!r} checked in, {rebuilt!r} rebuilt"]


def _pair(one: Any, other: Any, where: str, missing: object) -> list[str]:
    if one is missing or other is missing:
        return [f"{where}: only {'rebuilt' if one is missing else 'checked in'}"]
    return differences(one, other, where)


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= TOLERANCE * max(abs(one), abs(other))
    return bool(one == other)
