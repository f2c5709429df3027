"""What lies on what once a piece is folded, as far as its flat sizes tell: leaves, flaps and glue, as findings."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank, Strip
from foldwright.geometry.flat.rows import GLUE_FLAP
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece

_KEPT_PARTS = 10_000
"""A gap that was measured on the folded shape is told to a ten-thousandth of a millimetre."""


def check_laps(blank: Blank, piece: Piece, place: Place, unit: Unit) -> Iterator[Finding]:
    """Leaves, glue and flaps that lie on too much or too little; lengths are told in `unit`."""
    yield from _overlaps(blank, place, unit)
    yield from _glue(blank, piece, place, unit)
    yield from _corner_flaps(blank, piece, unit)


def told_length(mm: float | Fraction, unit: Unit) -> Length:
    """A length to tell; one measured on the folded shape is a float in millimetres."""
    exact = mm if isinstance(mm, Fraction) else Fraction(round(mm * _KEPT_PARTS), _KEPT_PARTS)
    return Length(exact, unit)


def strip_name(strip: Strip, number: int) -> str:
    """What a strip is called: its name, its role or its number from 1; `number` counts from 0."""
    return strip.name or strip.role or str(number + 1)


def _overlaps(blank: Blank, place: Place, unit: Unit) -> Iterator[Finding]:
    """Leaves that are folded onto one panel and lie on each other there; flaps that do not cover it."""
    if blank.form == "envelope" and blank.boxed:
        yield from _gaping(blank, place, unit)
    strips = blank.across if len(blank.across) > 1 else blank.down
    if len(strips) != 3:
        return
    one, middle, other = (strip.long for strip in strips)
    if blank.form == "gate" and one + other > middle:
        over = told_length(one + other - middle, unit)
        yield Finding.of("gate-leaves-overlap", Strength.MISFIT, place, piece=blank.piece, over=over)
    if blank.form == "tri-fold" and min(one, other) >= middle:
        inner = strip_name(strips[0] if one <= other else strips[2], 0 if one <= other else 2)
        yield Finding.of("leaf-too-wide-to-fold-in", Strength.THOUGHT, place, piece=blank.piece, panel=inner)


def _gaping(blank: Blank, place: Place, unit: Unit) -> Iterator[Finding]:
    """An envelope is shut by two flaps that reach each other; where neither pair does, it stays open."""
    gaps = []
    for row in (blank.across, blank.down):
        one, body, other = (strip.long for strip in row)
        gaps.append((body - one - other, body, one + other, row))
    gap, body, flaps, row = min(gaps, key=lambda found: found[0])
    if gap > 0:
        yield Finding.of(
            "envelope-stays-open",
            Strength.MISFIT,
            place,
            piece=blank.piece,
            one=strip_name(row[0], 0),
            other=strip_name(row[2], 2),
            flaps=told_length(flaps, unit),
            body=told_length(body, unit),
            gap=told_length(gap, unit),
        )


# --- glue -------------------------------------------------------------------------------------------------------------


def _glue(blank: Blank, piece: Piece, place: Place, unit: Unit) -> Iterator[Finding]:
    """A sleeve's glue flap on the panel it is stuck to: the first, or the last where the flap comes first."""
    if blank.form != "sleeve":
        return
    side, strips = ("across", blank.across) if len(blank.across) > 1 else ("down", blank.down)
    if len(strips) < 4 or GLUE_FLAP not in (strips[0].role, strips[-1].role):
        return
    first = strips[0].role == GLUE_FLAP
    flap, target = (strips[0], strips[-1]) if first else (strips[-1], strips[0])
    wide, room = flap.long, target.long
    name = strip_name(target, len(strips) - 1 if first else 0)
    if wide > room:
        over = told_length(wide - room, unit)
        yield Finding.of(
            "glue-flap-too-wide", Strength.MISFIT, piece.across_place or place, piece=blank.piece, panel=name, over=over
        )
    # The flap is laid back over the edge where the two meet.
    start, end = (target.end - wide, target.end) if first else (target.start, target.start + wide)
    for number, opening in enumerate(blank.openings):
        low = opening.left if side == "across" else opening.top
        high = low + (opening.width if side == "across" else opening.height)
        if low < end and high > start and target.start <= low and high <= target.end:
            where = piece.holes[min(number, len(piece.holes) - 1)].place
            yield Finding.of(
                "glue-flap-over-opening",
                Strength.MISFIT,
                where,
                piece=blank.piece,
                panel=name,
                shape=opening.shape,
                clear=told_length(wide, unit),
            )


def _corner_flaps(blank: Blank, piece: Piece, unit: Unit) -> Iterator[Finding]:
    """Two flaps on one end that lie on each other: how much, and what to trim off each so that they only meet."""
    if not blank.flap_cuts or piece.flaps is None or len(blank.flaps_joined) < 2:
        return
    ends, others = (blank.across, blank.down) if blank.flap_side == "down" else (blank.down, blank.across)
    flap = ends[0].long - blank.flap_trimmed
    wall = others[1].long
    if 2 * flap > wall > flap:
        yield Finding.of(
            "corner-flaps-overlap",
            Strength.THOUGHT,
            piece.flaps.place,
            piece=blank.piece,
            over=told_length(2 * flap - wall, unit),
            trim=told_length(flap + blank.flap_trimmed - wall / 2, unit),
        )
