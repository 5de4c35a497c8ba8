"""What is proven of a library before anything is walked."""

from __future__ import annotations

from tui.tree.check.graph import Graph
from tui.tree.check.prove import holds, prove

__all__ = ["Graph", "holds", "prove"]
