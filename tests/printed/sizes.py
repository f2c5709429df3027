"""The smallest type of each use: words, captions, headings, what stands in drawings, the foot."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct

from printed.laid import Laid, laid
from printed.reading import Glyph

_HEADING = re.compile(r"H[1-6]?$")
_UNMARKED = "NonStruct"
USES = ("body", "heading", "caption", "drawing", "foot")


class Sized(Struct, frozen=True):
    """The smallest letters of a use, in points, and the words they stand in."""

    size: float
    text: str


def least_by_use(data: bytes) -> dict[str, Sized]:
    """By use, those that come. A caption is a paragraph beside a picture under one element; the foot is what stands
    last of all, if it is no section, list or paragraph of its own; the rest is body."""
    return _least(_used(laid(data)))


def least_in_steps(data: bytes) -> dict[str, Sized]:
    """The same of entries of lists with a heading alone: the words to work by."""
    entries = [one for top in laid(data) for one in top.all() if one.role == "LI"]
    steps = [one for one in entries if any(_HEADING.match(part.role) for part in one.all())]
    return _least((use, part) for step in steps for use, part in _below(step, "body", None))


def _least(used: Iterable[tuple[str, Laid]]) -> dict[str, Sized]:
    found: dict[str, Sized] = {}
    for use, one in used:
        sizes = [glyph.size for glyph in one.glyphs if not glyph.text.isspace()]
        if sizes and (use not in found or min(sizes) < found[use].size):
            found[use] = Sized(min(sizes), _text(one.glyphs))
    return found


def _used(tops: tuple[Laid, ...]) -> Iterator[tuple[str, Laid]]:
    foot = _last(tops)
    for top in tops:
        yield from _below(top, "body", foot)


def _below(element: Laid, use: str, foot: Laid | None) -> Iterator[tuple[str, Laid]]:
    if element is foot:
        use = "foot"
    elif element.role == "Figure":
        use = "drawing"
    elif _HEADING.match(element.role):
        use = "heading"
    yield use, element
    pictures = any(one.role == "Figure" for one in element.below)
    for one in element.below:
        beside = pictures and use == "body" and one.role in ("P", "Caption")
        yield from _below(one, "caption" if beside else use, foot)


def _last(tops: tuple[Laid, ...]) -> Laid | None:
    """What was a footer: the last element of the page without a meaning of its own, which comes after others."""
    element: Laid | None = tops[-1] if tops else None
    while element is not None and element.below:
        element, alone = element.below[-1], len(element.below) == 1
        if element.role == _UNMARKED and not alone:
            return element
        if element.role not in ("Div", "Part", "Document", "Art"):
            return None
    return None


def _text(glyphs: tuple[Glyph, ...]) -> str:
    return " ".join("".join(glyph.text for glyph in glyphs).split())
