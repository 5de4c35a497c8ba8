"""`python -m tui` is the command `lowside`."""

from __future__ import annotations

from tui.cli.main import console

if __name__ == "__main__":
    console()
