"""The grammar of a number as people type it: `4 1/8`, `4-1/8`, `4⅛`, `4 1⁄8`, `4.125`, `4,5`, `two and a half`.

The patterns are written for text that has been through `tidy`, which swaps look-alikes one character for one, so that
offsets into the tidied text are offsets into the author's own. Where one blank may stand, any run of them may.
"""

from __future__ import annotations

import re
from fractions import Fraction

from foldwright.measure.spelled import spelled_value
from foldwright.measure.unreadable import Unreadable

BLANKS = (
    "\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
    "\u200b\u2060\ufeff\t"
)
"""Blanks of every width, and of none: what word processors put between a number and its unit."""
_DASHES = "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe63\uff0d"
_SLASHES = "\u2044\u2215\uff0f"
_TIDY = str.maketrans(
    {
        **dict.fromkeys(BLANKS, " "),
        **dict.fromkeys(_DASHES, "-"),
        **dict.fromkeys(_SLASHES, "/"),
        **dict.fromkeys("\u2033\u201c\u201d\u201f\u02ba", '"'),
        **dict.fromkeys("\u2032\u2018\u2019\u201b\u02b9\u00b4", "'"),
        **dict.fromkeys("\u00d7\u2715\u2a09", "x"),
    }
)

VULGAR = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3), "¼": Fraction(1, 4), "¾": Fraction(3, 4),
    "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6), "⅐": Fraction(1, 7), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8), "⅑": Fraction(1, 9), "⅒": Fraction(1, 10),
}  # fmt: skip
"""The fractions that are one character, and what they are worth."""

_RAISED, _LOWERED = "⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉"
_LEVEL = str.maketrans(_RAISED + _LOWERED, "0123456789" * 2)

SET_FRACTION = f"(?:[{''.join(VULGAR)}]|[{_RAISED}]+/[{_LOWERED}]+)"
"""A fraction that cannot run together with the digits before it."""
SLASHED = "[0-9]+(?:/ ?| /)[0-9]+"
FRACTION = f"(?:{SET_FRACTION}|{SLASHED})"
"""A fraction alone, in tidied text."""
_BETWEEN = r"(?:\s*-\s+|-|\s+and\s+|\s+&\s+|\s+)"
_AFTER_WHOLE = f"(?:\\s*{SET_FRACTION}|-{SET_FRACTION}|{_BETWEEN}{SLASHED})"
NUMBER = f"(?:[0-9]+{_AFTER_WHOLE}|{FRACTION}|[0-9]*[.,][0-9]+|[0-9]+)"
"""Any number in figures, longest reading first, in tidied text. It has no groups of its own."""

_MIXED = re.compile(f"([0-9]+){_BETWEEN}?({FRACTION})")
_FRACTION = re.compile(FRACTION)
_DECIMAL = re.compile("([0-9]*)([.,])([0-9]+)")
_PARTED = re.compile("[0-9]{1,3}(?:[,. '][0-9]{3})+(?:[.,][0-9]+)?")
_EXPONENT = re.compile("[0-9.,]+ ?e ?[-+]?[0-9]+")

MOST_DIGITS = 9
"""More digits in a row than this are no measure of paper, and are refused before they can cost time."""
_ENDLESS = re.compile(f"[0-9{_RAISED}{_LOWERED}]{{{MOST_DIGITS + 1}}}")
_MOST_CHARACTERS = 60


def squeezed(text: str) -> str:
    """A tidied text on one line, every run of blanks one."""
    return " ".join(tidy(text).split())


def tidy(text: str) -> str:
    """Plain spaces, dashes, slashes, quotes and crosses for their typographic look-alikes, one character for one."""
    return text if text.isascii() and "\t" not in text else text.translate(_TIDY)


def value_of(text: str) -> Fraction | Unreadable:
    """The value of a whole text that is one number, tidied and stripped; nought is a number, minus anything is not."""
    if text.isascii() and text.isdigit() and len(text) <= MOST_DIGITS:
        return Fraction(int(text))
    if len(text) > _MOST_CHARACTERS or _ENDLESS.search(text):
        return Unreadable("absurd-number", (("text", _shortened(text)),))
    if text[:1] == "-":
        above = text[1:].lstrip()
        inner = value_of(above)
        negative = Unreadable("negative-number", (("text", text), ("above", above)))
        return inner if isinstance(inner, Unreadable) else negative
    if _FRACTION.fullmatch(text):
        return _fraction(text)
    if match := _MIXED.fullmatch(text):
        return _mixed(match[1], match[2], text)
    if match := _DECIMAL.fullmatch(text):
        return _decimal(match[1], match[2], match[3], text)
    return _odd(text)


def _shortened(text: str) -> str:
    return text if len(text) <= 24 else text[:23] + "…"


def _fraction(text: str) -> Fraction | Unreadable:
    if text in VULGAR:
        return VULGAR[text]
    top, bottom = _over(text)
    if bottom == 0:
        return Unreadable("fraction-over-nothing", (("text", text),))
    if bottom < top and 0 < (rest := top % 10 ** (len(str(top)) - 1)) < bottom and top > 9:
        # `41/8` is more likely a `4 1/8` that lost its space than five and an eighth: a wrong box if guessed.
        spaced = f"{str(top)[0]} {rest}/{bottom}"
        facts = (("text", text), ("spaced", spaced), ("top_heavy", _in_full(Fraction(top, bottom))))
        return Unreadable("run-together-fraction", facts)
    return Fraction(top, bottom)


def _mixed(whole: str, part: str, text: str) -> Fraction | Unreadable:
    top, bottom = VULGAR[part].as_integer_ratio() if part in VULGAR else _over(part)
    if bottom == 0:
        return Unreadable("fraction-over-nothing", (("text", text),))
    if top >= bottom:
        return Unreadable("top-heavy-fraction", (("text", text), ("fraction", part)))
    return Fraction(int(whole) * bottom + top, bottom)


def _over(fraction: str) -> tuple[int, int]:
    top, _, bottom = fraction.translate(_LEVEL).partition("/")
    return int(top), int(bottom)


def _in_full(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    return f"{whole} {rest}" if rest else str(whole)


def _decimal(whole: str, mark: str, decimals: str, text: str) -> Fraction | Unreadable:
    # A comma before exactly three digits may part thousands, unless what stands before it is nought or too long.
    if mark == "," and len(decimals) == 3 and 0 < len(whole) <= 3 and whole != "0":
        return Unreadable(
            "comma-of-thousands", (("text", text), ("whole", whole + decimals), ("decimal", f"{whole}.{decimals}"))
        )
    return Fraction(int(whole + decimals), 10 ** len(decimals))


def _odd(text: str) -> Fraction | Unreadable:
    """Numbers in words, and the names of what is wrong with the rest."""
    low = text.lower()
    if (spelled := spelled_value(low)) is not None:
        return spelled
    if _EXPONENT.fullmatch(low):
        return Unreadable("absurd-number", (("text", text),))
    if _PARTED.fullmatch(text):
        return Unreadable("parted-thousands", (("text", text), ("whole", _joined(text))))
    return Unreadable("no-number", (("text", _shortened(text)),))


def _joined(text: str) -> str:
    """`1,200.50` without what parts its thousands: `1200.50`."""
    marks = [character for character in text if not character.isdigit()]
    tail = text.rpartition(marks[-1])[2]
    decimal = len(tail) != 3 or (len(set(marks)) > 1 and marks.count(marks[-1]) == 1 and marks[-1] in ".,")
    digits = "".join(character for character in text if character.isdigit())
    return f"{digits[: -len(tail)]}.{tail}" if decimal else digits
