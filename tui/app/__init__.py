"""The screen: draws the walk and hands it what the person does. No sums, no files."""

from tui.app.run import run_app

__all__ = ["run_app"]
