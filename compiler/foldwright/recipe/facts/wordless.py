"""What a part of a supply's line may mean that has no word of its own: `letter` is a sheet, `36 in` of twine a use.

Nothing of it is taken for granted: it is offered to be typed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from foldwright.measure.paper import paper_meant
from foldwright.measure.reading import read_length, read_lengths_cross
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.amounts import read_sold_sheet
from foldwright.vocabulary.colours import COLOURS
from foldwright.vocabulary.supplies import OFF_A_ROLL, SupplyKind, kind_of

_OR = re.compile(r"\s+or\s+", re.IGNORECASE)
_SIZED = re.compile(r"[\s-]+sized?$", re.IGNORECASE)
_LONG = re.compile(r"(.*\S)\s+long", re.IGNORECASE)
_COLOURS = frozenset(name for colour in COLOURS for name in (colour.name, *colour.others))


def facts_meant(part: str, beside: str) -> tuple[str, ...]:
    """The facts it may be, each as one would type it, the likeliest first; `beside` says what kind of supply it is."""
    return tuple(_meant(part, kind_of(beside)))


def _meant(part: str, kind: SupplyKind | None) -> Iterator[str]:
    if part.lower() in _COLOURS:
        yield f"colour {part}"
    elif part.isdecimal() and int(part):
        yield f"use {part}"
    elif kind is None or kind.sheet:
        yield from _sheet(part)
    if kind is not None and kind.sheet:
        return
    long = _LONG.fullmatch(part)
    said = long[1] if long else part
    if not isinstance(read_length(said), Unreadable):
        yield f"use {said}"
        if not long and (kind is None or kind.name in OFF_A_ROLL):
            yield f"width {said}"
    elif " x " in said and not isinstance(read_lengths_cross(said), Unreadable):
        yield f"size {said}"


def _sheet(part: str) -> Iterator[str]:
    """`letter size`, `8 1/2 x 11 in or A4`, `A4 at 0.20`; `8 1/2 x 11` gets the unit that makes it a paper."""
    papers = [_readable_sheet(_SIZED.sub("", one)) for one in _OR.split(part)]
    if all(papers):
        yield f"sheet {' or '.join(papers)}"


def _readable_sheet(text: str) -> str:
    """The text as `sheet:` can be read, empty where it is no sheet."""
    ways = (text, f"{text} in", f"{text} mm") if paper_meant(text) else (text,)
    return next((way for way in ways if not isinstance(read_sold_sheet(way), Unreadable)), "")
