"""A line of plain words as it is set: real fractions, a cross between measures, and no unit alone on the next line."""

from __future__ import annotations

import re
from html import escape

from markupsafe import Markup as Html

from foldwright.measure.writing import FRACTION_SLASH, NARROW_SPACE, TIMES

_FRACTION = re.compile(r"(?:(?<=[0-9]) )?\b([0-9]+)/([0-9]+)\b")
_TIMES = re.compile(rf"(?<=[0-9]) {TIMES} ")
_UNIT = re.compile(r"(?<=[0-9>]) (?=(?:in|mm|cm|m|yd)\b)")
_CROSS = re.compile(r"(?<=[0-9>]) x (?=[0-9<])")


def set_line(text: str) -> Html:
    """The line as mark-up."""
    fractions = _FRACTION.sub(rf'<span class="fr">\1{FRACTION_SLASH}\2</span>', escape(text, quote=False))
    return Html(_UNIT.sub("\u00a0", _CROSS.sub(f" {TIMES} ", fractions)))


def plain_line(text: str) -> str:
    """The line as plain text for a setter that makes fractions of figures round a fraction slash; counts stay whole."""
    fractions = _FRACTION.sub(_plain_fraction, text)
    return _TIMES.sub(f"\u00a0{TIMES}\u00a0", _CROSS.sub(f" {TIMES} ", fractions))


def _plain_fraction(found: re.Match[str]) -> str:
    return f"{NARROW_SPACE if found[0][0] == ' ' else ''}{found[1]}{FRACTION_SLASH}{found[2]}"
