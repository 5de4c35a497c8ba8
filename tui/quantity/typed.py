"""What a keyboard or a clipboard gives, made plain: blanks, minus signs, quotes, degree signs."""

from __future__ import annotations

from tui.quantity.refused import Refused

LONGEST = 200
"""Letters an answer may have (a text: `LONGEST_TEXT`)."""
LONGEST_TEXT = 1000

_PLAIN: dict[int, str] = {
    **dict.fromkeys([0x09, 0xA0, 0x1680, *range(0x2000, 0x200B), 0x202F, 0x205F, 0x3000], " "),
    **dict.fromkeys([0x2010, 0x2011, 0x2012, 0x2013, 0x2014, 0x2212, 0xFE63, 0xFF0D], "-"),
    **dict.fromkeys([0x201C, 0x201D, 0x201F, 0x2033, 0x2036, 0xFF02], '"'),
    **dict.fromkeys([0x2018, 0x2019, 0x201B, 0x2032, 0x2035, 0xB4, 0x60], "'"),
    **dict.fromkeys([0xBA, 0x2DA, 0x2218], "°"),
    **dict.fromkeys([0x200B, 0x200C, 0x200D, 0x200E, 0x200F, 0x2060, 0xFEFF, 0xAD], ""),
    0x2044: "/", 0x2215: "/", 0x3BC: "µ", 0x2126: "Ω", 0x2103: "°C", 0x2109: "°F", 0xB2: "2", 0xB3: "3",
    0xBD: " 1/2", 0xBC: " 1/4", 0xBE: " 3/4", 0x215B: " 1/8", 0x215C: " 3/8", 0x215D: " 5/8", 0x215E: " 7/8",
    0xFF05: "%", 0xFF0B: "+", 0xFF0C: ",", 0xFF0E: ".", 0xFF03: "#", 0x2393: "=",
    **{0xFF10 + digit: str(digit) for digit in range(10)},
}


def plain(text: str, longest: int = LONGEST) -> str:
    """`text` without outer blanks, its look-alike signs made plain ones, blanks single.

    Refused ``unreadable`` for nothing, too much, control and direction-turning characters.
    """
    if len(text) > longest:
        raise Refused("unreadable", f"That is {len(text)} letters long; an answer has at most {longest}.",
                      "Type the figure and its unit, nothing else.")
    if not text.isascii():
        text = text.translate(_PLAIN)
    if not text.isprintable():
        text = text.replace("\t", " ").strip()
        _refuse_hidden(text)
    text = text.strip()
    if not text:
        raise Refused("unreadable", "Nothing was typed.", "Type an answer.")
    return " ".join(text.split()) if "  " in text else text


def plain_text(text: str) -> str:
    """A sentence as typed, without outer blanks. Refused as `plain`; letters stay what they are."""
    if len(text) > LONGEST_TEXT:
        raise Refused("unreadable", f"That is {len(text)} letters long; a text has at most {LONGEST_TEXT}.",
                      "Say it shorter, or write it as several notes.")
    text = text.replace("\t", " ").strip()
    _refuse_hidden(text)
    if not text:
        raise Refused("unreadable", "Nothing was typed.", "Type an answer.")
    return text


# Blanks other than the plain one, and joiners that scripts and emoji need, print as nothing and do no harm.
_HARMLESS = frozenset(chr(code) for code in (0xA0, 0x1680, *range(0x2000, 0x2010), 0x202F, 0x205F, 0x3000,
                                             0x2060, 0xFEFF, 0xAD))


def _refuse_hidden(text: str) -> None:
    for place, letter in enumerate(text, 1):
        if not letter.isprintable() and letter not in _HARMLESS:
            raise Refused("unreadable", f"Letter {place} is a hidden character (U+{ord(letter):04X}).",
                          "Type it again by hand instead of pasting it.")


def quoted(text: str) -> str:
    """The text for a message: cut short, hidden characters replaced, in quotation marks."""
    short = text if len(text) <= 40 else text[:39] + "…"
    if not short.isprintable():
        short = "".join(letter if letter.isprintable() else "\ufffd" for letter in short)
    return f"“{short}”"
