"""Our own colours: quiet, dark on light outdoors, light on dark in a cellar. Verdicts never hang on colour."""

from __future__ import annotations

from textual.theme import Theme

DARK = Theme(
    name="cellar",
    primary="#d8c08a",
    secondary="#9fb3a5",
    warning="#f0b060",
    error="#ff8f80",
    success="#9fd49a",
    accent="#d8c08a",
    foreground="#f2efe6",
    background="#161512",
    surface="#161512",
    panel="#262420",
    dark=True,
    variables={"text-muted": "#b8b3a4", "text-warning": "#f0b060", "text-success": "#9fd49a", "text-error": "#ff8f80"},
)
LIGHT = Theme(
    name="daylight",
    primary="#5a4300",
    secondary="#2f4a3a",
    warning="#6b3d00",
    error="#8f1200",
    success="#114d12",
    accent="#5a4300",
    foreground="#000000",
    background="#ffffff",
    surface="#ffffff",
    panel="#ececE4",
    dark=False,
    variables={"text-muted": "#3d3a33", "text-warning": "#6b3d00", "text-success": "#114d12", "text-error": "#8f1200"},
)
THEMES = (DARK, LIGHT)
