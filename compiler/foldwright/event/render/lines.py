"""Lines of words as papers and labels of an event set them."""

from __future__ import annotations

import re

from markupsafe import Markup as Html

from foldwright.document.quote_marks import curled
from foldwright.render.markup import plain_line, set_line

_LAST_WORD = re.compile(r"(?<=\S{2}) (?=[^\W\d]\S{0,11}$)")
_LONG_LINE = 30
"""Letters of a text that may be broken into lines: its last word takes another with it."""


def marked_up(text: str) -> Html:
    """For a page: printed quotation marks, real fractions, and no word alone on the last line."""
    return set_line(_kept(curled(text)))


def plain(text: str) -> str:
    """The same for what is set by measure."""
    return plain_line(_kept(curled(text)))


def _kept(text: str) -> str:
    return _LAST_WORD.sub("\u00a0", text) if len(text) > _LONG_LINE else text
