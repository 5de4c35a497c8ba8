"""The session file: one visit to one unit, one event a line, chained, fsynced, never edited.

What walks a visit again is in `tui.record.replay`: the rest needs no walk to be read or written.
"""

from tui.record.line import FORMAT, FORMAT_VERSION, Event, Line, moment
from tui.record.reader import Reading, Verdict, is_ours, read, verify
from tui.record.recover import Recovered, recover
from tui.record.writer import Clock, Writer

__all__ = [
    "FORMAT",
    "FORMAT_VERSION",
    "Clock",
    "Event",
    "Line",
    "Reading",
    "Recovered",
    "Verdict",
    "Writer",
    "is_ours",
    "moment",
    "read",
    "recover",
    "verify",
]
