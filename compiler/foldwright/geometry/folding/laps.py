"""What lies on what once a piece is folded, as far as its flat sizes tell: leaves, flaps and glue, as findings."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, Strip
from foldwright.geometry.flat.points import kept
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece

_RULER = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may differ (half a millimetre or a thirty-second of an inch)."""
_KEPT_PARTS = 10_000
"""A gap that was measured on the folded shape is told to a ten-thousandth of a millimetre."""


class FoldingFacts(Struct, frozen=True):
    """A piece that folds, its blank, where its fold is said, and the unit its lengths are told in."""

    piece: Piece
    blank: Blank
    place: Place
    unit: Unit

    def misfit(self, code: str, place: Place | None = None, /, **facts: object) -> Finding:
        """What does not fit, at the fold unless another place is given."""
        return Finding.of(code, Strength.MISFIT, place or self.place, piece=self.blank.piece, **facts)

    def thought(self, code: str, place: Place | None = None, /, **facts: object) -> Finding:
        """The same, of what may be meant."""
        return Finding.of(code, Strength.THOUGHT, place or self.place, piece=self.blank.piece, **facts)

    def length(self, mm: float | Fraction) -> Length:
        """A length to tell; one measured on the folded shape is a float in millimetres."""
        return Length(mm if isinstance(mm, Fraction) else kept(mm, _KEPT_PARTS), self.unit)


def check_laps(known: FoldingFacts) -> Iterator[Finding]:
    """Leaves, glue and flaps that lie on too much or too little."""
    yield from _overlaps(known)
    yield from _glue(known)
    yield from _corner_flaps(known)


def strip_name(strip: Strip, number: int) -> str:
    """What a strip is called: its name, its role or its number from 1; `number` counts from 0."""
    return strip.called or str(number + 1)


def _overlaps(known: FoldingFacts) -> Iterator[Finding]:
    """Leaves that are folded onto one panel and lie on each other there; flaps that do not cover it."""
    blank = known.blank
    if blank.form == "envelope" and blank.boxed:
        yield from _gaping(known)
        yield from _too_long(known)
    _, strips = blank.main_row
    if len(strips) != 3:
        return
    one, middle, other = (strip.long for strip in strips)
    if blank.form == "gate" and one + other > middle:
        yield known.misfit("gate-leaves-overlap", over=known.length(one + other - middle))
    if blank.form == "tri-fold" and min(one, other) >= middle:
        inner = strip_name(strips[0] if one <= other else strips[2], 0 if one <= other else 2)
        yield known.thought("leaf-too-wide-to-fold-in", panel=inner)


def _gaping(known: FoldingFacts) -> Iterator[Finding]:
    """An envelope is shut by two flaps that reach each other; where neither pair does, it stays open."""
    gaps = []
    for row in (known.blank.across, known.blank.down):
        one, body, other = (strip.long for strip in row)
        gaps.append((body - one - other, body, one + other, row))
    gap, body, flaps, row = min(gaps, key=lambda found: found[0])
    if gap > 0:
        names = {"one": strip_name(row[0], 0), "other": strip_name(row[2], 2)}
        lengths = {"flaps": known.length(flaps), "body": known.length(body), "gap": known.length(gap)}
        yield known.misfit("envelope-stays-open", **names, **lengths)


def _too_long(known: FoldingFacts) -> Iterator[Finding]:
    """A flap of an envelope that reaches over the far edge of its body."""
    for row in (known.blank.across, known.blank.down):
        long, at = max((row[at].long, at) for at in (0, 2))
        if long > row[1].long + _RULER:
            over = known.length(long - row[1].long)
            yield known.misfit("flap-longer-than-body", panel=strip_name(row[at], at), over=over)


def _glue(known: FoldingFacts) -> Iterator[Finding]:
    """A sleeve's glue flap on the panel it is stuck to: the first, or the last where the flap comes first."""
    piece, blank = known.piece, known.blank
    side, strips = blank.main_row
    if blank.form != "sleeve" or len(strips) < 4 or GLUE_FLAP not in (strips[0].role, strips[-1].role):
        return
    first = strips[0].role == GLUE_FLAP
    flap, target = (strips[0], strips[-1]) if first else (strips[-1], strips[0])
    wide, room = flap.long, target.long
    name = strip_name(target, len(strips) - 1 if first else 0)
    if wide > room:
        yield known.misfit("glue-flap-too-wide", piece.across_place, panel=name, over=known.length(wide - room))
    # The flap is laid back over the edge where the two meet.
    start, end = (target.end - wide, target.end) if first else (target.start, target.start + wide)
    for number, opening in enumerate(blank.openings):
        low = opening.left if side == "across" else opening.top
        high = low + (opening.width if side == "across" else opening.height)
        if low < end and high > start and target.start <= low and high <= target.end:
            where = piece.holes[min(number, len(piece.holes) - 1)].place
            facts = {"panel": name, "shape": opening.shape, "clear": known.length(wide)}
            yield known.misfit("glue-flap-over-opening", where, **facts)


def _corner_flaps(known: FoldingFacts) -> Iterator[Finding]:
    """A flap that is longer than the wall it lies on, or two on one end that lie on each other: how much."""
    blank, said = known.blank, known.piece.flaps
    if not blank.flap_cuts or said is None or not blank.flaps_joined:
        return
    ends, others = (blank.across, blank.down) if blank.flap_side == "down" else (blank.down, blank.across)
    flap = max(ends[0].long, ends[-1].long) - blank.flap_trimmed
    wall = others[1].long
    if flap > wall + _RULER:
        yield known.misfit("flap-stands-out", said.place, over=known.length(flap - wall))
    elif 2 * flap > wall > flap and len(blank.flaps_joined) > 1:
        # What to trim off each so that they only meet.
        over, trim = known.length(2 * flap - wall), known.length(flap + blank.flap_trimmed - wall / 2)
        yield known.thought("corner-flaps-overlap", said.place, over=over, trim=trim)
