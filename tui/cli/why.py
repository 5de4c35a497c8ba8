"""Explain a code that `lowside check` prints: what it means, how it looks when wrong, and when right.

  lowside why not-settled
"""

from __future__ import annotations

import argparse
from textwrap import fill, indent

from tui.quantity import Refused, nearest


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("code", metavar="CODE", help="a word such as gap, clash, stale, not-asked")


def run(options: argparse.Namespace) -> int:
    """Print the page of the code."""
    from tui.tree.check.codes import PAGES, page_of

    page = page_of(options.code)
    if page is None:
        near = nearest(options.code, PAGES)
        cure = f"Did you mean {near}?" if near else f"The codes are: {', '.join(sorted(PAGES))}."
        raise Refused("no-such-code", f"lowside why: there is no code {options.code!r}.", cure)
    print(f"{page.code} ({'a warning' if page.warning else 'stops'})\n")
    print(fill(page.means, 80))
    for title, text in (("Before:", page.before), ("Wrong:", page.wrong), ("Right:", page.right)):
        if text:
            print(f"\n{title}\n{indent(text, '  ')}")
    return 0
