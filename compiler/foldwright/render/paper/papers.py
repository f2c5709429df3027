"""The papers that cards and handouts are printed on, and the sheets on which several cards are printed to be cut."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import paper_meant


class Paper(Struct, frozen=True):
    """A paper, upright. `name` is for people, `slug` for file names; `system` is the one it is made and sold in.

    `margin_mm` stays clear on all four sides. `sizes_pt` are the sizes of type for a card on it, `last_pt` those for
    words that go into no other. A card on one that is for `strips` may be a strip of pictures; a `small` one has little
    room for anything else.
    """

    name: str
    slug: str
    system: System
    width_mm: Fraction
    height_mm: Fraction
    margin_mm: Fraction
    sizes_pt: tuple[float, ...]
    last_pt: tuple[float, ...]
    strips: bool = False
    small: bool = False

    @property
    def smallest_pt(self) -> float:
        """The smallest type a card on it may have."""
        return min(*self.sizes_pt, *self.last_pt)

    @property
    def page(self) -> tuple[float, float, float]:
        """Its width, height and margin in millimetres, to lay out by."""
        return float(self.width_mm), float(self.height_mm), float(self.margin_mm)

    @property
    def area_mm2(self) -> Fraction:
        return self.width_mm * self.height_mm


class _PaperKind(Struct, frozen=True):
    """What papers of about one size have in common; the margin in inches for inch papers, in mm for the others."""

    margin_in: Fraction
    margin_mm: Fraction
    sizes_pt: tuple[float, ...]
    last_pt: tuple[float, ...]
    strips: bool = False
    small: bool = False


# Printers at home leave up to some 6 mm of every edge blank, so no margin is narrower; a larger paper has more, since
# it is pinned, punched or held there and has the room. Type: letters and books are set in 9.5 to 11 pt; a smaller paper
# is held nearer to the eye, so that its type may be a little smaller. (Common practice, no source.)
_LARGE = _PaperKind(Fraction(1, 2), Fraction(13), (9.5, 10.0, 10.5, 11.0), (8.0, 8.5, 9.0))
_MIDDLE = _PaperKind(Fraction(3, 8), Fraction(10), (8.5, 9.0, 9.5, 10.0), (8.0,), strips=True)
_SMALL = _PaperKind(Fraction(1, 4), Fraction(7), (8.0, 8.5, 9.0, 9.5), (), strips=True, small=True)


def _paper(name: str, slug: str, kind: _PaperKind) -> Paper:
    size = paper_meant(name)
    if size is None:
        raise LookupError(name)
    across, down = size
    inches = across.unit is Unit.INCH
    margin = Length.of(kind.margin_in, Unit.INCH) if inches else Length.of(kind.margin_mm, Unit.MILLIMETRE)
    sizes = across.mm, down.mm, margin.mm, kind.sizes_pt, kind.last_pt
    return Paper(name, slug, across.unit.system, *sizes, strips=kind.strips, small=kind.small)


LETTER = _paper("letter", "letter", _LARGE)
HALF_LETTER = _paper("half letter", "half-letter", _MIDDLE)
FOUR_BY_SIX = _paper("4 x 6 in", "4x6", _SMALL)
A4 = _paper("A4", "a4", _LARGE)
A5 = _paper("A5", "a5", _MIDDLE)
A6 = _paper("A6", "a6", _SMALL)

PAPERS = (LETTER, HALF_LETTER, FOUR_BY_SIX, A4, A5, A6)
"""What a card can be made for."""
LEGAL = _paper("legal", "legal", _LARGE)
TABLOID = _paper("tabloid", "tabloid", _LARGE)
A3 = _paper("A3", "a3", _LARGE)
SHEETS = (LETTER, LEGAL, TABLOID, A4, A3)
"""What several cards are printed on, to be cut."""

_USUAL = {System.IMPERIAL: LETTER, System.METRIC: A4}


def paper_named(text: str) -> Paper | None:
    """The card's paper that somebody means by `Half-Letter`, `A 4`, `4×6`, `6 x 4 in` or `148 x 210 mm paper`."""
    return _meant(text, PAPERS)


def sheet_named(text: str) -> Paper | None:
    """The sheet for several cards, or pages side by side, that somebody means."""
    return _meant(text, SHEETS)


def next_larger(paper: Paper) -> Paper | None:
    """The next size up of the same system for a card that did not fit; None after letter and A4.

    A4 is no remedy for letter, though three parts in a hundred larger: who has the one seldom has the other.
    """
    larger = [one for one in PAPERS if one.system is paper.system and one.area_mm2 > paper.area_mm2]
    return min(larger, key=lambda one: one.area_mm2, default=None)


def default_paper(system: System, studio_papers: Sequence[str] = ()) -> Paper:
    """The paper for cards in this system where nobody asked for another.

    It is the first in the studio's list that belongs to the system, else the first there that we know, else the
    usual one.
    """
    known = [paper for paper in map(paper_named, studio_papers) if paper]
    of_system = [paper for paper in known if paper.system is system]
    return next(iter(of_system + known), _USUAL[system])


def sheets_for(card: Paper, studio_papers: Sequence[str] = ()) -> tuple[Paper, ...]:
    """All sheets in order of liking: first those the studio has, then those of the card's system, then the smaller."""
    at_hand = [_meant(name, SHEETS) for name in studio_papers]
    return tuple(
        sorted(SHEETS, key=lambda sheet: (sheet not in at_hand, sheet.system is not card.system, sheet.area_mm2))
    )


def _meant(text: str, papers: Sequence[Paper]) -> Paper | None:
    size = paper_meant(text)
    sides = size and tuple(side.mm for side in size)
    return next((paper for paper in papers if sides == (paper.width_mm, paper.height_mm)), None)
