"""The floor of the terminal figures: a Textual app that does nothing but answer a key."""

from __future__ import annotations

from textual import events
from textual.app import App, ComposeResult
from textual.widgets import Static


class EmptyApp(App[None]):
    """Shows what key was pressed."""

    def compose(self) -> ComposeResult:
        yield Static("ready", markup=False)

    def on_key(self, event: events.Key) -> None:
        self.query_one(Static).update(f"key {event.character}")


if __name__ == "__main__":
    EmptyApp().run()
