"""What a visit comes to, on paper: the job as plain text, made from its session file alone."""

from __future__ import annotations

from tui.review.sheet import sheet_of

__all__ = ["sheet_of"]
