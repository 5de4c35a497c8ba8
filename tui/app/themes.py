"""Our own colours: quiet. Nothing is said by colour alone; a test computes every contrast."""

from __future__ import annotations

from textual.theme import Theme


def _theme(
    name: str, dark: bool, ink: str, paper: str, panel: str, muted: str, warning: str, error: str, success: str
) -> Theme:
    return Theme(
        name=name,
        primary=muted,
        secondary=muted,
        accent=muted,
        warning=warning,
        error=error,
        success=success,
        foreground=ink,
        background=paper,
        surface=paper,
        panel=panel,
        dark=dark,
        variables={
            "text-muted": muted,
            "text-warning": warning,
            "text-error": error,
            "text-success": success,
            "input-selection-background": muted,
            "input-selection-foreground": paper,
        },
    )


#: Dark, for a cellar or the back of a cabinet.
CELLAR = _theme("cellar", True, "#f2efe6", "#161512", "#2a2823", "#b8b3a4", "#f0b060", "#ff9d8f", "#9fd49a")
#: Light.
DAYLIGHT = _theme("daylight", False, "#1b1a17", "#f7f5ee", "#e4e0d3", "#55514a", "#7a4300", "#94170a", "#1d5a1f")
#: Black on white, nothing faint: for a roof at noon.
SUNLIGHT = _theme("sunlight", False, "#000000", "#ffffff", "#e6e6e6", "#303030", "#402200", "#7a0000", "#004a08")
THEMES = (CELLAR, DAYLIGHT, SUNLIGHT)
USUAL = "cellar"
#: Themes in words: (name, words).
SAID = (
    ("cellar", "cellar: light on dark"),
    ("daylight", "daylight: dark on light"),
    ("sunlight", "sunlight: black on white, nothing faint"),
)
