"""The headings that are no steps: Tips, Notes, Variations, For the teacher, Before you start."""

from __future__ import annotations

import re

from foldwright.recipe.model import SectionKind

_KINDS = {
    "tip": SectionKind.TIPS,
    "note": SectionKind.NOTES,
    "variation": SectionKind.VARIATIONS,
    "for the teacher": SectionKind.TEACHER,
    "for teacher": SectionKind.TEACHER,
    "before you start": SectionKind.BEFORE,
    "before you begin": SectionKind.BEFORE,
}
_ENDS = re.compile(r"^[\s*_]+|[\s*_:.!]+$")


def section_kind(heading: str) -> SectionKind | None:
    """Which section a heading begins; None when it is a step. Capitals, a plural and a colon do not matter."""
    plain = " ".join(_ENDS.sub("", heading).casefold().split())
    return _KINDS.get(plain) or _KINDS.get(plain.removesuffix("s"))
