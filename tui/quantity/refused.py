"""The one way this project says no to a person."""

from __future__ import annotations


class Refused(Exception):
    """Something was not accepted; nothing has changed.

    code: one word or hyphenated words, stable, for programs (``out-of-range``).
    message: what is wrong and where, for a person.
    cure: what would be right.
    """

    def __init__(self, code: str, message: str, cure: str = "") -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.cure = cure

    def __str__(self) -> str:
        return f"{self.message} {self.cure}".strip()
