"""Every code a problem can have, each with its page."""

from __future__ import annotations

from tui.tree.check import pages_file, pages_language, pages_proofs, pages_work
from tui.tree.check.page import Page

PAGES: dict[str, Page] = {
    one.code: one for pages in (pages_file, pages_language, pages_proofs, pages_work) for one in pages.PAGES
}


def page_of(code: str) -> Page | None:
    """The page of a code; None where no problem has it."""
    return PAGES.get(code)
