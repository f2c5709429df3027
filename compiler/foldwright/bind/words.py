"""Which measure in the words is which length of which piece, and where the two disagree.

A measure is tied to a length only by exact equality (or as the same length written in the other unit system); then it
prints with that length's closed figure. A number within a quarter of an inch (6 mm) of a length the words plainly speak
of, but not equal to it, is a slip and is told; any other number is free.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import reduce
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.bind.bare import bare_measures, with_measures
from foldwright.bind.context import Heard, Scope, Use, WordArea, hear
from foldwright.bind.direction import Direction, side_along, side_with_scores_at
from foldwright.bind.matching import SCORED
from foldwright.bind.named import PieceNames, hold_a_measure, piece_names
from foldwright.bind.resolving import Resolved, StepProgress, position, resolve, slips, unmatched
from foldwright.bind.spans import PieceLength, PieceSpans, SpanKind, spans_by_piece
from foldwright.finding import Finding, Place
from foldwright.geometry.lengths import Equal, LengthId, Relation
from foldwright.measure.length import Length
from foldwright.recipe.model import Recipe
from foldwright.recipe.words import Measure, Shape

if TYPE_CHECKING:
    from foldwright.geometry.pieces import Flat


class Binding(Struct, frozen=True):
    """`ids` has one LengthId for every length of every measure in the words, by the measure's place.

    Ids that no piece has are in `free` with their lengths. `relations` hold between lengths because the words say so
    ("3/4 in from each end" is one figure for both). `ties` are the measures in the order they were met.
    """

    ids: dict[Place, tuple[LengthId, ...]]
    free: dict[LengthId, Length]
    relations: tuple[Relation, ...]
    findings: tuple[Finding, ...]
    ties: tuple[Tie, ...]
    pieces: dict[str, PieceSpans]
    bare: dict[Place, Measure] = {}
    """Numbers that stand in the words without a unit and are lengths of a piece."""

    @property
    def explained(self) -> tuple[Explained, ...]:
        """How every measure was understood; worked out only when it is asked for."""
        return tuple(explain(tie, told, self.pieces) for tie, told in self.ties)


type Tie = tuple[Resolved, list[Finding]]
"""A measure tied to lengths, and what is told of it."""


def bind_words(recipe: Recipe, flat: Flat, strict: bool = False) -> Binding:
    """Tie the measures of a recipe's words to its pieces; `strict` also tells every number that is no piece's."""
    bare = bare_measures(recipe, flat)
    recipe = with_measures(recipe, bare)
    known = spans_by_piece(flat.lengths.by_id, flat.blanks)
    names = piece_names(recipe)
    sold = _sold_sizes(recipe)
    ids: dict[Place, tuple[LengthId, ...]] = {}
    free: dict[LengthId, Length] = {}
    relations: dict[Relation, None] = {}
    ties: list[Tie] = []
    for area in _areas(recipe):
        found = _bind_area(area, names, known, sold, strict)
        for number, (tie, _) in enumerate(found, 1):
            ids[tie.heard.measure.place] = _ids(tie, area, number, free)
            relations.update(dict.fromkeys(_relations(tie, known)))
        ties += found
    findings = tuple(finding for _, told in ties for finding in told)
    return Binding(ids, free, tuple(relations), findings, tuple(ties), known, bare)


def _areas(recipe: Recipe) -> Iterator[WordArea]:
    """Every stretch of words that may hold measures. Only a step's own words must agree with the pieces."""
    yield WordArea("intro", 0, recipe.intro)
    for step in recipe.steps:
        yield WordArea("step", step.number, step.words, step, checked=True)
        if step.short:
            yield WordArea("step short", step.number, step.short.value, step, checked=True)
        for name, said in (("tip", step.tip), ("caution", step.caution)):
            if said:
                yield WordArea(f"step {name}", step.number, said.value, step)
    for number, section in enumerate(recipe.sections, 1):
        yield WordArea("section", number, section.words)


def _bind_area(
    area: WordArea,
    names: PieceNames,
    known: dict[str, PieceSpans],
    sold: dict[tuple[Fraction, ...], str],
    strict: bool,
) -> list[Tie]:
    """Exact ties first, so that a slip is looked for only in pieces no other measure of the step has claimed."""
    if not hold_a_measure(area.blocks):
        return []
    heard = hear(area, names, known)
    progress = StepProgress()
    ties: list[tuple[Resolved, Direction]] = []
    turned = any(one.tellings for one in heard)
    for one in heard:
        direction = reduce(lambda before, telling: telling.after(before), one.tellings, progress.direction)
        if direction.along == "mark":
            direction = _named_edge(ties[-1][0] if ties else None)
        tie = resolve(one, known, sold, _side(one, direction, known))
        ties.append((tie, direction))
        progress.direction = _told_by_scores(one, known) if turned and not direction.along else direction
    # Who names a border has not said the size of the mat yet.
    whole = (span for tie, _ in ties if tie.complete for span in tie.spans if span)
    taken = {span.id.piece for span in whole if span.kind is not SpanKind.BORDER}
    found: list[Tie] = []
    for tie, progress.direction in ties:
        told = slips(tie, known, taken, progress) if area.checked else []
        if strict and not told:
            told = unmatched(tie, [known[name] for name in tie.heard.meant])
        scored = [span for span in tie.spans if span and span.kind in SCORED]
        progress.made |= {position(known[span.id.piece], span) for span in scored}
        found.append((tie, told))
    return found


def _named_edge(edge: Resolved | None) -> Direction:
    """An edge named by its length (`the 5 in side against the fence`) is the side that is so long."""
    span = edge.spans[0] if edge else None
    if span is None or span.kind is not SpanKind.SIZE:
        return Direction()
    return Direction(span.side, sure=True)


def _side(heard: Heard, direction: Direction, known: dict[str, PieceSpans]) -> str:
    """The side this measure lies along, as far as the words tell, for the first piece it is likely of."""
    if not heard.meant or heard.context.use not in (Use.SCORE, Use.STOP):
        return ""
    return side_along(heard.context.reach.along or direction.along, known[heard.meant[0]])


def _told_by_scores(heard: Heard, known: dict[str, PieceSpans]) -> Direction:
    """A first row of scores that fits one side only tells the direction, though not for sure."""
    if heard.context.use is not Use.SCORE or len(heard.meant) != 1:
        return Direction()
    ratios = frozenset(length.mm.as_integer_ratio() for length in heard.measure.lengths)
    return Direction(side_with_scores_at(known[heard.meant[0]], ratios))


def _ids(resolved: Resolved, area: WordArea, number: int, free: dict[LengthId, Length]) -> tuple[LengthId, ...]:
    """The ids of a measure's lengths; a length that is no piece's gets one of its own and is entered in `free`."""
    ids: list[LengthId] = []
    for place, (length, span) in enumerate(zip(resolved.heard.measure.lengths, resolved.spans, strict=True), 1):
        if span:
            ids.append(span.id)
        else:
            own = LengthId("words", area.name, f"{number}.{place}", area.number)
            free[own] = length
            ids.append(own)
    return tuple(ids)


def _relations(resolved: Resolved, known: dict[str, PieceSpans]) -> list[Relation]:
    """`from each end`: the one figure printed stands for every score that is as far in."""
    scope, span = resolved.heard.context.reach.scope, resolved.spans[0]
    single = resolved.heard.measure.shape is Shape.SINGLE
    if span is None or not single or scope not in (Scope.BOTH, Scope.EVERY):
        return []
    sides = ("across", "down") if scope is Scope.EVERY else (span.side,)
    return [
        Equal(span.id, other.id)
        for side in sides
        for other in known[span.id.piece].of(*SCORED, side=side)
        if other.ratio == span.ratio and other.id != span.id
    ]


def _sold_sizes(recipe: Recipe) -> dict[tuple[Fraction, ...], str]:
    """Sizes things are bought in, numbers sorted, to the supply's name: `an 8 1/2 x 11 in sheet` is no piece."""
    sold: dict[tuple[Fraction, ...], str] = {}
    for supply in recipe.supplies:
        sizes: list[tuple[Length, ...]] = [(sheet.value.across, sheet.value.down) for sheet in supply.sheets]
        if supply.size:
            sizes.append(supply.size.value.lengths)
        for size in sizes:
            sold.setdefault(tuple(sorted(length.mm for length in size)), supply.name.value)
    return sold


# --- how each measure was understood, for `check --measures` ----------------------------------------------------------


class Meaning(Struct, frozen=True):
    """How one length of a measure was understood: a code of the catalogue and the facts its sentence needs."""

    code: str
    facts: tuple[tuple[str, object], ...] = ()


class Explained(Struct, frozen=True):
    """A measure as said, its lengths, and one `Meaning` for each of them."""

    place: Place
    said: str
    lengths: tuple[Length, ...]
    understood: tuple[Meaning, ...]


def explain(resolved: Resolved, told: list[Finding], known: Mapping[str, PieceSpans]) -> Explained:
    """What was understood of a measure and of each length in it, for whoever asks to see."""
    measure, sheet = resolved.heard.measure, resolved.sheet
    unbound = Meaning("understood-bought", (("supply", sheet),)) if sheet else Meaning("understood-free")
    doubtful = {dict(finding.facts).get("said") for finding in told}
    understood = tuple(
        Meaning("understood-doubtful", (("length", length),))
        if length in doubtful
        else _of_span(span, known[span.id.piece])
        if span
        else unbound
        for length, span in zip(measure.lengths, resolved.spans, strict=True)
    )
    return Explained(measure.place, measure.said, measure.lengths, understood)


def _of_span(span: PieceLength, spans: PieceSpans) -> Meaning:
    facts: tuple[tuple[str, object], ...] = (("piece", span.id.piece), ("side", span.side))
    if span.kind is SpanKind.PANEL and (name := _panel_name(span, spans)):
        return Meaning("understood-named-panel", (*facts, ("panel", name)))
    code = {
        SpanKind.PANEL: "understood-panel",
        SpanKind.SCORE: f"understood-score-{span.side}",
        SpanKind.SCORE_BACK: f"understood-score-back-{span.side}",
    }.get(span.kind)
    return Meaning(code, (*facts, ("number", span.number), ("count", 1))) if code else _of_a_feature(span, facts)


def _of_a_feature(span: PieceLength, facts: tuple[tuple[str, object], ...]) -> Meaning:
    """A length of a hole, a border or a flap, or one that has no better name than its own."""
    side, place, number, of = span.side, span.id.place, span.id.number, span.id.of
    match span.kind:
        case SpanKind.SIZE:
            return Meaning("understood-size", facts)
        case SpanKind.HOLE:
            return Meaning(f"understood-hole-{place}", (*facts, ("number", number)))
        case SpanKind.HOLE_PLACE:
            return Meaning("understood-place-of-hole", (*facts, ("number", number), ("of", of), ("edge", place)))
        case SpanKind.BORDER:
            return Meaning(f"understood-{side}", (*facts, ("under", of)))
        case _ if (side, place) == ("flap", "trim"):
            return Meaning("understood-flap-trim", facts)
        case _ if of:
            return Meaning("understood-line", (*facts, ("number", number), ("point", of), ("place", place)))
        case _:
            code = "understood-numbered" if number else "understood-other"
            return Meaning(code, (*facts, ("place", place), ("number", number)))


def _panel_name(span: PieceLength, spans: PieceSpans) -> str:
    strips = () if spans.blank is None else spans.blank.across if span.side == "across" else spans.blank.down
    return strips[span.number - 1].name if 0 < span.number <= len(strips) else ""
