"""The whole sheet."""

from __future__ import annotations

from tui.quantity import Refused
from tui.record import Reading
from tui.review import job
from tui.review.account import account_of
from tui.review.circuit import Part
from tui.review.front import front, of_unit
from tui.review.page import Page
from tui.review.wording import Wording, library_of

_READABLE = ("whole", "open", "torn", "altered")
_NOT_OURS = (KeyError, IndexError, TypeError, ValueError, AttributeError)


def sheet_of(reading: Reading, *, ascii_only: bool = False) -> str:
    """The job in a session, as plain lines of at most 78 characters.

    A torn or altered file gives what its whole lines say, and says so first. Raises Refused for a file
    that is newer or foreign, without one whole line, or written by no walk.
    """
    if reading.state not in _READABLE:
        cure = "" if reading.state == "newer" else "Is it the right file? A session ends in .jsonl."
        raise Refused(reading.state, f"{reading.path}: {reading.message}", cure)
    if not reading.lines:
        message = f"{reading.path}: {reading.state}, and nothing in it can be read. {reading.message}"
        raise Refused("nothing-recorded", message, "Name another file.")
    try:
        return _written(reading, ascii_only=ascii_only)
    except _NOT_OURS as error:
        message = f"{reading.path}: its lines fit their hashes, but say what no walk writes."
        raise Refused("not-a-walk", message, "Was it written or changed by another program?") from error


def _written(reading: Reading, *, ascii_only: bool) -> str:
    wording = Wording(library_of(reading))
    account = account_of(reading.lines, wording.catalogue)
    page = Page(ascii_only=ascii_only)
    job.damage(page, reading)
    front(page, account, wording, reading)
    page.heading("Details")
    if wording.library is None:
        page.say("The trees in this record can't be read: names stand as the program keeps them.")
    for circuit in sorted(account.parts, key=lambda name: not name and not any(account.of("finding", circuit=""))):
        Part(page, account, wording, circuit).write()
    job.visit(page, account, wording, of_unit(account, wording))
    job.instruments(page, account, wording)
    job.cautions(page, account, wording)
    job.remarks(page, account)
    return page.text
