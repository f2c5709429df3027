"""The names by which page and program speak of a length or a part of a piece: `base.across.2`, `front.hole.1`.

Made of what it is, never of how long it is, so that a name stays while its number is changed.
"""

from __future__ import annotations

from foldwright.geometry.lengths import LengthId

_UNSAID = frozenset({"size", "panel"})


def mark_of(length: LengthId) -> str:
    """No two lengths or parts of a recipe have the same."""
    place = "" if length.place in _UNSAID else length.place
    said = (length.piece, length.side, str(length.number or ""), place, length.of)
    return ".".join(_plain(part) for part in said if part)


def _plain(words: str) -> str:
    """Letters, digits, and hyphens for blanks; whatever else a name may hold by its number."""
    small = words.casefold()
    return "".join(one if one.isalnum() else "-" if one == " " else f"%{ord(one):X}" for one in small)
