"""Pictures of the real screen into a folder: ``python tests/screenshots.py [FOLDER]`` (SVG; usual: screenshots)."""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.app.scenes import SCENES, app_for, play
from tests.app.typist import Typist
from tui.app.screen import LowsideApp
from tui.app.themes import THEMES

SIZES = ((80, 24), (140, 45))
_FONTS = re.compile(r"@font-face \{.*?\}\s*", re.DOTALL)  # from a far host: any monospaced font will do


async def _picture(folder: Path, name: str, theme: str, size: tuple[int, int]) -> None:
    with tempfile.TemporaryDirectory() as home:
        app, typist = app_for(name, Path(home), theme)
        await _drawn(app, typist, folder, name, theme, size)


async def _drawn(
    app: LowsideApp, typist: Typist, folder: Path, name: str, theme: str, size: tuple[int, int]
) -> None:
    async with app.run_test(size=size) as pilot:
        await play(name, pilot, typist)
        drawn = _FONTS.sub("", app.export_screenshot(title="lowside"))
        wide = "" if size == SIZES[0] else f"-{size[0]}x{size[1]}"
        (folder / f"{name}-{theme}{wide}.svg").write_text(drawn, encoding="utf-8")


def main(arguments: list[str]) -> int:
    """Every scene in every theme and both sizes."""
    folder = Path(arguments[0]) if arguments else Path(__file__).resolve().parents[1] / "screenshots"
    folder.mkdir(parents=True, exist_ok=True)
    made = [(name, theme.name, size) for name in SCENES for theme in THEMES for size in SIZES]
    for each in made:
        asyncio.run(_picture(folder, *each))
    print(f"{len(made)} pictures in {folder}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
