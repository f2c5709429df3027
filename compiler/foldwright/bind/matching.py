"""Comparing the numbers of a measure with the lengths of pieces, exactly, and finding the nearest otherwise."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import permutations, product

from msgspec import Struct

from foldwright.bind.context import Reach, Scope, Use
from foldwright.bind.spans import PieceLength, PieceSpans, SpanKind, other_side
from foldwright.measure.length import Length, System, Unit

NEAR = {System.IMPERIAL: Unit.INCH.mm / 4, System.METRIC: Fraction(6)}
"""A quarter of an inch, or six millimetres: nearer than this a different number is a slip, not another thing."""
SAME = Unit.INCH.mm / 32
"""A thirty-second of an inch: a number given in the other unit system counts as the same length up to this."""

_KINDS: dict[Use, tuple[SpanKind, ...]] = {
    Use.CUT: (SpanKind.SIZE, SpanKind.PANEL, SpanKind.SCORE, SpanKind.SCORE_BACK, SpanKind.OTHER),
    Use.SCORE: (SpanKind.SCORE, SpanKind.SCORE_BACK, SpanKind.PANEL, SpanKind.SIZE, SpanKind.OTHER),
    Use.STOP: (SpanKind.SCORE, SpanKind.SCORE_BACK, SpanKind.SIZE, SpanKind.PANEL, SpanKind.OTHER),
    Use.HOLE: (SpanKind.HOLE, SpanKind.HOLE_PLACE),
    Use.BORDER: (SpanKind.BORDER, SpanKind.PANEL, SpanKind.SIZE, SpanKind.SCORE, SpanKind.HOLE_PLACE, SpanKind.OTHER),
    # Small lengths are often alike by chance: holes and borders are tied only where the words speak of them.
    Use.OTHER: (SpanKind.SIZE, SpanKind.PANEL, SpanKind.SCORE, SpanKind.SCORE_BACK, SpanKind.OTHER),
}
_FROM_BACK = (SpanKind.SCORE_BACK, SpanKind.SCORE, SpanKind.PANEL, SpanKind.SIZE, SpanKind.OTHER)
SCORED = (SpanKind.SCORE, SpanKind.SCORE_BACK)


class Near(Struct, frozen=True):
    """The length of a piece nearest to a number that equals none of them."""

    span: PieceLength
    apart: Length


def kinds_for(use: Use, reach: Reach) -> tuple[SpanKind, ...]:
    """What a measure of this use may be, likeliest first."""
    if use is Use.SCORE and reach.back:
        return _FROM_BACK
    if use is Use.OTHER and reach.scope is Scope.ONE:
        return (*_KINDS[use], SpanKind.HOLE_PLACE)
    if use is Use.HOLE and reach.scope is not Scope.NONE:
        return _KINDS[use][::-1]
    return _KINDS[use]


def exact(
    length: Length, pieces: Iterable[PieceSpans], kinds: Sequence[SpanKind], side: str = ""
) -> PieceLength | None:
    """The first length of these pieces that is exactly as long, on the side the words speak of if there is one."""
    sides = (side, "") if side else ("",)
    found = (spans.equal_to(length.mm, kinds, one) for spans in pieces for one in sides)
    return next(filter(None, found), None)


def converted(length: Length, pieces: Iterable[PieceSpans], kinds: Sequence[SpanKind]) -> PieceLength | None:
    """The nearest length written in the other unit system that this number is a rounded form of."""
    other = [span for spans in pieces for span in spans.of(*kinds) if is_same_in_other_units(length, span)]
    return min(other, key=lambda span: abs(span.mm - length.mm), default=None)


def is_same_in_other_units(length: Length, span: PieceLength) -> bool:
    """Whether a length is the span written in the other unit system, give or take `SAME` millimetres."""
    return span.length.unit.system is not length.unit.system and abs(span.mm - length.mm) <= SAME


def cross(lengths: tuple[Length, ...], spans: PieceSpans, use: Use) -> tuple[PieceLength, ...] | None:
    """Two numbers as the two sides of a piece, of its hole, or of its folded form; in either order."""
    if len(lengths) == 3:
        return _solid(lengths, spans)
    first, second = lengths
    ways = product(((SpanKind.SIZE,), (SpanKind.SIZE, SpanKind.PANEL)), ("across", "down"))
    for kinds, side in ways if use is not Use.HOLE else ():
        one = spans.equal_to(first.mm, kinds, side)
        two = spans.equal_to(second.mm, kinds, other_side(side))
        if one and two:
            return one, two
    return _hole(lengths, spans)


def _solid(lengths: tuple[Length, ...], spans: PieceSpans) -> tuple[PieceLength, ...] | None:
    """Three numbers as three different panels or sizes of one piece, all of them found."""
    found = [spans.equal_to(length.mm, (SpanKind.PANEL, SpanKind.SIZE, SpanKind.OTHER)) for length in lengths]
    return tuple(span for span in found if span) if all(found) else None


def _hole(lengths: tuple[Length, ...], spans: PieceSpans) -> tuple[PieceLength, ...] | None:
    holes = spans.of(SpanKind.HOLE)
    own = ([span for span in holes if span.number == number] for number in dict.fromkeys(one.number for one in holes))
    pairs = (pair for sides in own for pair in permutations(sides, len(lengths)))
    sought = [length.mm for length in lengths]
    return next((pair for pair in pairs if [span.mm for span in pair] == sought), None)


def nearest(length: Length, candidates: Iterable[PieceLength]) -> Near | None:
    """The nearest candidate, if it is near enough to be meant."""
    span = min(candidates, key=lambda span: abs(span.mm - length.mm), default=None)
    if span is None or abs(span.mm - length.mm) > NEAR[length.unit.system]:
        return None
    return Near(span, apart(span.length, length))


def apart(one: Length, other: Length) -> Length:
    """How far two lengths lie apart, in the unit of the first."""
    return Length(abs(one.mm - other.mm), one.unit)


def near_cross(lengths: tuple[Length, ...], spans: PieceSpans) -> tuple[Near | None, ...] | None:
    """The two sides of a piece that two numbers nearly are: None for a number that is exact; None at all when far off.

    Of the two orders the one whose numbers lie nearer is taken.
    """
    across, down = spans.size("across"), spans.size("down")
    if across is None or down is None or len(lengths) != 2:
        return None
    pairs = ((across, down), (down, across))
    found = ([nearest(length, (span,)) for length, span in zip(lengths, pair, strict=True)] for pair in pairs)
    near_enough = [known for nears in found if len(known := [near for near in nears if near]) == len(lengths)]
    best = min(near_enough, key=lambda nears: sum(near.apart.mm for near in nears), default=None)
    return tuple(near if near.apart.mm else None for near in best) if best else None


def outer_scores(spans: PieceSpans, side: str) -> tuple[PieceLength, ...]:
    """The score nearest each of the two edges of a side, measured from that edge: scores count from left or top."""
    front = spans.of(SpanKind.SCORE, side=side)
    back = spans.of(SpanKind.SCORE_BACK, side=side)
    return (*front[:1], *back[-1:])
