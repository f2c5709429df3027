"""A line of plain words as it is set: real fractions, and a cross between measures."""

from __future__ import annotations

import re
from html import escape

from markupsafe import Markup as Html

_FRACTION = re.compile(r"(?:(?<=[0-9]) )?\b([0-9]+)/([0-9]+)\b")
NARROW = "\u202f"
"""A narrow space that no line is broken at, between whole figures and a fraction."""
_TIMES = re.compile(r"(?<=[0-9]) \u00d7 ")
_CROSS = re.compile(r"(?<=[0-9>]) x (?=[0-9<])")


def set_line(text: str) -> Html:
    """The line as mark-up."""
    fractions = _FRACTION.sub('<span class="fr">\\1\u2044\\2</span>', escape(text, quote=False))
    return Html(_CROSS.sub(" \u00d7 ", fractions))


def plain_line(text: str) -> str:
    """The line as plain text for a setter that makes fractions of figures round a fraction slash; counts stay whole."""
    fractions = _FRACTION.sub(lambda found: f"{NARROW if found[0][0] == ' ' else ''}{found[1]}\u2044{found[2]}", text)
    return _TIMES.sub("\u00a0\u00d7\u00a0", _CROSS.sub(" \u00d7 ", fractions))
