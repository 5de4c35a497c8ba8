"""The kinds of prompts, the answers a close call knows, and ids as they are spoken."""

from __future__ import annotations

ASK = "ask"
CAUTION = "caution"
DO = "do"
WAIT = "wait"
CLOSE_CALL = "close-call"
OFFER = "offer"
WHICH_CIRCUIT = "which-circuit"

ZERO = "zero"
AGAIN = "again"
BETTER = "better"
GO_ON = "go-on"
GOOD_TO = "good-to"
ALTITUDE = "altitude"
UNIT = "unit"  # the reading that is the unit's tag
REGION = "region"
SITE = (ALTITUDE, REGION)
OWN = "#own "  # between an instrument and the number of the input whose own share of its error it is


def spoken(name: str) -> str:
    """An id as it is spoken."""
    return name.replace("-", " ")
