"""Telling the end of a quotation from an inch or foot mark: `the "Box 2" folder` holds no inches."""

from __future__ import annotations

import re

_MARKS = re.compile("[\"']")
_PRIMES = "\u2033\u2032\u02ba\u02b9"
_OPENING = "\u201c\u2018\u201f\u201b"


def closing_quotes(tidied: str, text: str) -> frozenset[int]:
    """Offsets of the quotes that close a quotation; `tidied` is the text with plain quotes, the same length."""
    closing: set[int] = set()
    is_open = {'"': False, "'": False}
    for found in _MARKS.finditer(tidied):
        at, mark = found.start(), found[0]
        if text[at] in _PRIMES:
            continue
        before = tidied[at - 1] if at else " "
        after = tidied[at + 1] if at + 1 < len(tidied) else " "
        if before.isalpha() and after.isalpha():
            continue
        if not before.isdigit() and (text[at] in _OPENING or (not before.isalnum() and not after.isspace())):
            is_open[mark] = True
        elif is_open[mark]:
            closing.add(at)
            is_open[mark] = False
    return frozenset(closing)
