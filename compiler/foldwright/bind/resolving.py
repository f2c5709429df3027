"""Deciding, for one measure, which lengths its numbers are, and whether a number that is none of them is a slip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct, field

from foldwright.bind.context import Heard, Scope, Use
from foldwright.bind.direction import Direction, side_along
from foldwright.bind.matching import (
    NEAR,
    SCORED,
    Near,
    apart,
    converted,
    cross,
    exact,
    is_same_in_other_units,
    kinds_for,
    near_cross,
    nearest,
    outer_scores,
)
from foldwright.bind.spans import PieceLength, PieceSpans, SpanKind, other_side
from foldwright.finding import Finding, Strength
from foldwright.measure.length import Length
from foldwright.recipe.words import Shape


class Resolved(Struct, frozen=True):
    """For each length of a measure the span it is, or None. `sheet` names the supply whose sheet or size it is."""

    heard: Heard
    spans: tuple[PieceLength | None, ...]
    sheet: str = ""

    @property
    def complete(self) -> bool:
        return all(self.spans)


class StepProgress(Struct):
    """What is known on the way through one step: the direction, and the scores that have been made."""

    direction: Direction = field(default_factory=Direction)
    made: set[tuple[str, str, Fraction]] = field(default_factory=set)


def resolve(
    heard: Heard, known: Mapping[str, PieceSpans], sold: Mapping[tuple[Fraction, ...], str], side: str
) -> Resolved:
    """Tie a measure to lengths where they are exactly equal (or the same length in the other units)."""
    lengths = heard.measure.lengths
    nothing = Resolved(heard, (None,) * len(lengths))
    if heard.other_thing:
        return nothing
    pieces = [known[name] for name in heard.possible]
    if heard.measure.shape is Shape.CROSS:
        spans = _cross_of(heard, pieces, known)
        if spans:
            return Resolved(heard, spans)
        sheet = sold.get(tuple(sorted(length.mm for length in lengths)), "")
        return Resolved(heard, nothing.spans, sheet)
    kinds = kinds_for(heard.context.use, heard.context.reach)
    return Resolved(
        heard, tuple(exact(length, pieces, kinds, side) or converted(length, pieces, kinds) for length in lengths)
    )


def _cross_of(
    heard: Heard, pieces: list[PieceSpans], known: Mapping[str, PieceSpans]
) -> tuple[PieceLength, ...] | None:
    """The first piece whose two sides these are: of those meant, of those possible, of any at all."""
    lengths = heard.measure.lengths
    use = heard.context.use
    if found := next(filter(None, (cross(lengths, spans, use) for spans in pieces)), None):
        return found
    if use is Use.HOLE:
        return None
    for spans in pieces:
        if near_cross(lengths, spans):
            both = [converted(length, [spans], (SpanKind.SIZE,)) for length in lengths]
            if all(both):
                return tuple(span for span in both if span)
    return next(filter(None, (cross(lengths, spans, use) for spans in known.values())), None)


# --- what is told -----------------------------------------------------------------------------------------------


def slips(
    resolved: Resolved, known: Mapping[str, PieceSpans], taken: set[str], progress: StepProgress
) -> list[Finding]:
    """The numbers of a measure that disagree with the piece it speaks of; none unless the words are firm about it."""
    heard = resolved.heard
    pieces = [known[name] for name in heard.meant]
    if heard.context.of_hole and not heard.other_thing:
        return _hole_slips(resolved, pieces)
    if not heard.context.firm or heard.other_thing or resolved.sheet or not pieces:
        return []
    if heard.measure.shape is Shape.CROSS:
        left = [spans for spans in pieces if spans.piece not in taken] if len(pieces) > 1 else pieces
        if len(left) > 1:
            left = [spans for spans in left if _half_right(near_cross(heard.measure.lengths, spans))]
        return _cross_slips(resolved, left[0]) if len(left) == 1 and not left[0].doubtful else []
    if len(pieces) != 1 or pieces[0].doubtful:
        return []
    if heard.context.use is Use.CUT:
        return _size_slips(resolved, pieces[0])
    return _score_slips(resolved, pieces[0], progress)


def _half_right(nears: tuple[Near | None, ...] | None) -> bool:
    """Of two numbers one is a side of the piece exactly, and the other nearly: so it is this piece that is meant."""
    return nears is not None and sum(near is None for near in nears) == 1


def _hole_slips(resolved: Resolved, pieces: Sequence[PieceSpans]) -> list[Finding]:
    """A hole of nearly the size the words say, where no piece meant has one of just that size."""
    lengths = resolved.heard.measure.lengths
    if resolved.complete or resolved.sheet or any(spans.doubtful for spans in pieces):
        return []
    found: dict[tuple[Fraction, ...], list[tuple[Near, PieceSpans]]] = {}
    for spans in pieces:
        holes = spans.of(SpanKind.HOLE)
        for number in dict.fromkeys(span.number for span in holes):
            sides = [span for span in holes if span.number == number]
            if len(sides) == len(lengths):
                nears = [(nearest(length, (span,)), span) for length, span in zip(lengths, sides, strict=True)]
                off = [(near, spans) for near, _ in nears if near and near.apart.mm]
                if all(near for near, _ in nears) and len(off) == 1:
                    found.setdefault(tuple(span.mm for span in sides), off)
    if len(found) != 1:
        return []
    return [
        _differs("words-hole-differs", resolved.heard, said, near, spans)
        for off in found.values()
        for near, spans in off
        for said in lengths
        if apart(near.span.length, said).mm == near.apart.mm
    ]


def _cross_slips(resolved: Resolved, spans: PieceSpans) -> list[Finding]:
    lengths = resolved.heard.measure.lengths
    nears = None if resolved.complete else near_cross(lengths, spans)
    return [
        _differs("words-size-differs", resolved.heard, length, near, spans)
        for length, near in zip(lengths, nears or (), strict=bool(nears))
        if near
    ]


def _size_slips(resolved: Resolved, spans: PieceSpans) -> list[Finding]:
    sizes = spans.of(SpanKind.SIZE)
    return [
        _differs("words-size-differs", resolved.heard, length, near, spans)
        for length, span in zip(resolved.heard.measure.lengths, resolved.spans, strict=True)
        if span is None and (near := nearest(length, sizes))
    ]


def _score_slips(resolved: Resolved, spans: PieceSpans, progress: StepProgress) -> list[Finding]:
    heard = resolved.heard
    if heard.context.reach.scope in (Scope.BOTH, Scope.EVERY):
        return _edge_slips(resolved, spans)
    side = side_along(heard.context.reach.along or progress.direction.along, spans)
    candidates = spans.of(*SCORED, side=side) or spans.of(*SCORED)
    if heard.context.use is Use.STOP:
        candidates += spans.of(SpanKind.SIZE)
    findings: list[Finding] = []
    for length, span in zip(heard.measure.lengths, resolved.spans, strict=True):
        if span is None:
            near = nearest(length, candidates) or nearest(length, spans.of(*SCORED))
            if near:
                findings.append(_differs("words-score-differs", heard, length, near, spans))
        elif side and (wrong := _wrong_way(heard, length, spans, side, progress)):
            findings.append(wrong)
    return findings


def _edge_slips(resolved: Resolved, spans: PieceSpans) -> list[Finding]:
    """`from each end`, `from every edge`: every score that the words speak of must be that far in."""
    heard = resolved.heard
    if len(heard.measure.lengths) != 1:
        return []
    length = heard.measure.lengths[0]
    ratio = length.mm.as_integer_ratio()
    rows = [outer for side in ("across", "down") if (outer := outer_scores(spans, side))]
    if heard.context.reach.scope is Scope.BOTH:
        along = side_along(heard.context.reach.along, spans)
        rows = [row for row in rows if not along or row[0].side == along]
        rows = [row for row in rows if any(span.ratio == ratio for span in row)] or rows
        if any(all(span.ratio == ratio for span in row) for row in rows):
            return []
    for span in (span for row in rows for span in row if span.ratio != ratio):
        gap = apart(span.length, length)
        if gap.mm <= NEAR[length.unit.system] and not is_same_in_other_units(length, span):
            return [_differs("words-edge-differs", heard, length, Near(span, gap), spans)]
    return []


def _wrong_way(heard: Heard, length: Length, spans: PieceSpans, side: str, progress: StepProgress) -> Finding | None:
    """A true score, but of the other side than fence and turns have put along the ruler."""
    direction = progress.direction
    if not direction.sure or spans.equal_to(length.mm, SCORED, side):
        return None
    other = spans.equal_to(length.mm, SCORED, other_side(side))
    if other is None:
        return None
    if direction.turned and (spans.piece, *_mirrored(spans, other)) not in progress.made:
        # Turned end for end it is another score of the row begun before: `the card` was not turned a quarter.
        return None
    code = "words-turned-wrong-way" if direction.turned else "words-wrong-way"
    strength = Strength.THOUGHT if direction.turned else Strength.MISFIT
    facts = {"said": length, "piece": spans.piece, "side": side, "other": other_side(side)}
    return Finding.of(code, strength, heard.measure.place, **facts)


def _mirrored(spans: PieceSpans, score: PieceLength) -> tuple[str, Fraction]:
    """Where a number falls when the card has been turned end for end, from the left or top edge."""
    size = spans.size(score.side)
    return score.side, (size.mm if size else score.mm) - score.mm


def position(spans: PieceSpans, score: PieceLength) -> tuple[str, str, Fraction]:
    """A score by piece, side and its place from the left or top edge."""
    if score.kind is SpanKind.SCORE:
        return spans.piece, score.side, score.mm
    return (spans.piece, *_mirrored(spans, score))


_EDGES = {
    (SpanKind.SCORE, "across"): "left",
    (SpanKind.SCORE_BACK, "across"): "right",
    (SpanKind.SCORE, "down"): "top",
    (SpanKind.SCORE_BACK, "down"): "bottom",
}
"""The edge a score's distance is counted from."""


def _differs(code: str, heard: Heard, said: Length, near: Near, spans: PieceSpans) -> Finding:
    alike = [span for span in spans.of(*SCORED, side=near.span.side) if span.ratio == near.span.ratio]
    edges = tuple(dict.fromkeys(_EDGES[span.kind, span.side] for span in alike)) if near.span.kind in SCORED else ()
    return Finding.of(
        code if edges or code != "words-score-differs" else "words-size-differs",
        Strength.MISFIT,
        heard.measure.place,
        said=said,
        piece=near.span.id.piece,
        side=near.span.side,
        edges=edges,
        count=len(edges),
        length=near.span.length,
        apart=apart(near.span.length, said),
    )


def unmatched(resolved: Resolved, pieces: Sequence[PieceSpans]) -> list[Finding]:
    """When asked to be strict: every number that is no length of the piece the words may be about."""
    heard = resolved.heard
    if not pieces or resolved.sheet or heard.other_thing:
        return []
    piece = pieces[0]
    return [
        Finding.of("words-match-nothing", Strength.THOUGHT, heard.measure.place, said=length, piece=piece.piece)
        for length, span in zip(heard.measure.lengths, resolved.spans, strict=True)
        if span is None
    ]
