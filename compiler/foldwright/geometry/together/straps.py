"""Pop-ups that are pieces of their own: a strip glued by its ends to both pages of a card.

Between its ends a strip of two panels, u and v, makes a box across the fold of the card. With p and q from that fold to
its ends it is a linkage of four bars, and a parallelogram when p = v and q = u: it moves all the way from shut to open
flat (`folding.popping` has the sums). Shut, it lies with both panels one behind the other from the fold: u + v. Four
panels, a leg and half a roof on either side, shut as far as a leg and half the roof together.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction

from foldwright.finding import Finding, Strength
from foldwright.geometry.flat.blank import Blank, Strip
from foldwright.geometry.flat.panels import faces_called
from foldwright.measure.length import Length, Unit
from foldwright.measure.reading import read_length
from foldwright.recipe.model import Gluing, Piece, Recipe, Said

_FROM_FOLD = re.compile(r"(?P<by>[^,]*?)\s+from\s+the\s+(?:fold|score|middle|spine)\b", re.IGNORECASE)
_RULER = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may differ (half a millimetre or a thirty-second of an inch)."""


def check_straps(recipe: Recipe, blanks: Mapping[str, Blank]) -> Iterator[Finding]:
    """Every strip that bridges the fold of a card; `blanks` by name in small letters."""
    unit = Unit.INCH if recipe.system is Unit.INCH.system else Unit.MILLIMETRE
    for piece in recipe.pieces:
        own = blanks.get(piece.name.value.casefold())
        if own is None or own.doubtful or own.boxed or own.made:
            continue
        ends = _ends(piece, own, blanks)
        if ends is not None:
            yield from _look_at(own, ends, blanks[ends[0].value.to.piece.casefold()], unit)


def _ends(piece: Piece, own: Blank, blanks: Mapping[str, Blank]) -> tuple[Said[Gluing], Said[Gluing]] | None:
    """The gluings of its first and last panels, where they are to the two pages of one card."""
    _, row = own.main_row
    if len(row) < 4:
        return None
    found = {at: said for said in piece.glued for at in (0, -1) if _is_strip(own, said.value.own_panel, row[at])}
    if len(found) < 2:
        return None
    first, last = found[0], found[-1]
    names = {one.value.to.piece.casefold() for one in (first, last)}
    card = blanks.get(names.pop()) if len(names) == 1 else None
    if card is None or card.doubtful or card.form != "card":
        return None
    pages = card.main_row[1]
    lies = [[_is_strip(card, one.value.to.panel, page) for page in pages] for one in (first, last)]
    return (first, last) if sorted(lies) == [[False, True], [True, False]] else None


def _is_strip(blank: Blank, panel: str, strip: Strip) -> bool:
    faces = faces_called(blank, panel) if panel else ()
    return len(faces) == 1 and strip.length in (faces[0].across, faces[0].down)


def _look_at(own: Blank, ends: tuple[Said[Gluing], Said[Gluing]], card: Blank, unit: Unit) -> Iterator[Finding]:
    panels = [strip.long for strip in own.main_row[1][1:-1]]
    if len(panels) not in (2, 4):
        return
    reach = max(panels[0] + panels[1], panels[-1] + panels[-2])
    page = min(strip.long for strip in card.main_row[1])
    names = {"piece": own.piece, "card": card.piece}
    if reach > page + _RULER:
        lengths = {"reach": Length(reach, unit), "page": Length(page, unit), "over": Length(reach - page, unit)}
        yield Finding.of("strip-stands-out", Strength.MISFIT, ends[0].place, **names, **lengths)
    elif len(panels) == 2:
        for said, wanted in zip(ends, reversed(panels), strict=True):
            match = _FROM_FOLD.search(said.value.to.remark)
            by = read_length(match["by"].strip(), unit) if match else None
            if isinstance(by, Length) and abs(by.mm - wanted) > _RULER:
                at = {"said": by, "wanted": Length(wanted, unit), "panel": said.value.own_panel}
                yield Finding.of("strip-glued-out-of-place", Strength.MISFIT, said.place, **names, **at)
                return
