"""A line of plain words as it is set: real fractions, and a cross between measures."""

from __future__ import annotations

import re
from html import escape

from markupsafe import Markup as Html

_FRACTION = re.compile(r"(?:(?<=[0-9]) )?\b([0-9]+)/([0-9]+)\b")
_CROSS = re.compile(r"(?<=[0-9>]) x (?=[0-9<])")


def set_line(text: str) -> Html:
    """The line as mark-up."""
    fractions = _FRACTION.sub('<span class="fr">\\1\u2044\\2</span>', escape(text, quote=False))
    return Html(_CROSS.sub(" \u00d7 ", fractions))
