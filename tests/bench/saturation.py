"""A saturation look-up against a dict look-up, and against the property library."""

from __future__ import annotations

from CoolProp.CoolProp import PropsSI

from tests.bench.figures import Figure, seconds_of
from tui.refrigerant import dew_temperature

REFRIGERANT, FLUID, PASCAL = "R-134a", "R134a", 206_000.0
TOLERANCE = 0.1  # K: both must speak of the same thing


def saturation_figures() -> list[Figure]:
    """Warm: the table of the refrigerant is read once a run."""
    ours = dew_temperature(REFRIGERANT, PASCAL)
    theirs = float(PropsSI("T", "P", PASCAL, "Q", 1, FLUID))
    if abs(ours - theirs) > TOLERANCE:
        raise SystemExit(f"the look-up gives {ours:.3f} K, the library {theirs:.3f} K")
    table = {REFRIGERANT: ours}
    look_up = seconds_of(lambda: dew_temperature(REFRIGERANT, PASCAL), 20_000)
    dictionary = seconds_of(lambda: table[REFRIGERANT], 200_000)
    library = seconds_of(lambda: PropsSI("T", "P", PASCAL, "Q", 1, FLUID), 1_000)
    return [
        Figure(
            "saturation look-up / dict look-up",
            look_up / dictionary,
            200,
            f"{look_up * 1e6:.2f} us against {dictionary * 1e9:.0f} ns",
        ),
        Figure(
            "saturation look-up / PropsSI",
            look_up / library,
            0.1,
            f"{look_up * 1e6:.2f} us against {library * 1e6:.1f} us",
        ),
    ]
