"""The screen: draws the walk and hands it what the person does. No sums, no files."""

from tui.app.run import Start, run_app, run_home, run_start

__all__ = ["Start", "run_app", "run_home", "run_start"]
