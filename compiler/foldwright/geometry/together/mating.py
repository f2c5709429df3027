"""What belongs together: lids over trays, drawers in sleeves, cards in envelopes."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.inside import InsideSize, rooms
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.lengths import Clearance, Ledger, LengthId, Rest
from foldwright.geometry.together.bulk import Bulk
from foldwright.geometry.together.sliding import slides_along, slits_of
from foldwright.geometry.together.stacks import Stack
from foldwright.geometry.together.walls import between_walls, in_sleeve
from foldwright.measure.length import Length

_ZERO = Fraction(0)
_RULER = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may differ (half a millimetre or a thirty-second of an inch)."""
_CODES = {
    "over": ("no-gap", "too-small-to-go-over", "gap-less-than-the-card"),
    "into": ("no-room-to-slide", "too-small-to-slide-into", "room-less-than-the-card"),
}


class Gap(Struct, frozen=True):
    """The room between two things that go together, in one direction, in all (both sides together).

    `between_scores` is what the panels leave; `with_card` what is left when the card's thickness is counted (None when
    nobody knows it). `estimated` when that thickness follows from the weight alone. `how` is `over` for a lid and
    `into` for what slides in; the first gap of a pair is that across (or in width), the second that down (in height).
    """

    outer: LengthId
    inner: LengthId
    between_scores: Length
    with_card: Length | None
    estimated: bool
    how: str
    thick: bool = False
    """Whether `with_card` is what an envelope leaves of the thickness of all that goes in."""


type _Cards = tuple[Thickness | None, Thickness | None]
"""How thick the card of the outer thing is, and that of the inner one."""


def fit_over(
    outer: Blank, inner: Blank, cards: _Cards, place: Place, ledger: Ledger, stacks: Sequence[Stack] = ()
) -> list[Gap]:
    """A lid over a tray: the floors across and down, turned a quarter where only that goes.

    `stacks` are what lies on panels; what lies between the walls of the two takes of the gap.
    """
    pairs = _best_turn(folded_extents(outer), folded_extents(inner))
    gaps = _gaps(outer, inner, pairs, cards, "over", ledger)
    between = between_walls(outer, inner, stacks) if any(gap.with_card for gap in gaps) else ()
    _tell_gaps(gaps, place, ledger)
    return _less_stacks(gaps, between, place, ledger)


type _Between = Sequence[tuple[LengthId, Stack]]
"""What lies in gaps, each with a side of the gap it lies in."""


def _less_stacks(gaps: Sequence[Gap], between: _Between, place: Place, ledger: Ledger) -> list[Gap]:
    """The gaps less what lies in them; one that it fills is told."""
    left = [_with_stacks(gap, between) for gap in gaps]
    for gap, less in zip(gaps, left, strict=True):
        _tell_stacked(gap, less, between, place, ledger)
    return left


def _with_stacks(gap: Gap, between: _Between) -> Gap:
    """The gap less what lies in it."""
    inside = [one for wall, one in between if wall in (gap.inner, gap.outer)]
    if gap.with_card is None or not inside:
        return gap
    left = Length(gap.with_card.mm - sum((one.thick for one in inside), _ZERO), gap.with_card.unit)
    return replace(gap, with_card=left, estimated=gap.estimated or any(one.estimated for one in inside))


def _tell_stacked(gap: Gap, less: Gap, between: _Between, place: Place, ledger: Ledger) -> None:
    """What goes over or in by itself, and not with what lies on the walls."""
    if gap.with_card is None or less.with_card is None or less is gap or not less.with_card.mm <= 0 < gap.with_card.mm:
        return
    inside = [one for wall, one in between if wall in (gap.inner, gap.outer)]
    thickest = max(inside, key=lambda one: one.thick)
    lengths = {"gap": gap.with_card, "thick": Length(thickest.thick, gap.with_card.unit)}
    tell = ledger.thought if less.estimated else ledger.misfit
    names = {"outer": gap.outer.piece, "inner": gap.inner.piece, "layer": thickest.piece}
    tell("layer-keeps-the-lid-off" if gap.how == "over" else "layer-keeps-it-out", place, **names, **lengths)


def slide_in(
    inner: Blank,
    outer: Blank,
    cards: _Cards,
    place: Place,
    ledger: Ledger,
    bulk: Bulk | None,
    stacks: Sequence[Stack] = (),
) -> list[Gap]:
    """A drawer into a sleeve, or a folded card into an envelope, which its `bulk` takes room of.

    `stacks` are what lies on panels; what lies between a drawer and its sleeve takes of the gap.
    """
    if outer.form == "sleeve" and len(outer.across) >= 4 and inner.boxed:
        pairs = _through_sleeve(outer, inner)
        _tell_too_long(outer, inner, place, ledger)
    else:
        pairs = _best_turn(folded_extents(outer), folded_extents(inner))
    if len(slits_of(outer)) > 1 or any(slides_along(inner, one) for one in outer.openings):
        # It slides along a slot or through slits (`sliding`).
        return []
    between = sorted(wide - narrow for (_, wide), (_, narrow) in pairs)
    if _is_flat(outer) and between[0] < 0 < between[1]:
        # A pull behind its track, a tag in its pocket: it stands out at the open end, as it is meant to.
        return []
    gaps = _gaps(outer, inner, pairs, cards, "into", ledger)
    if bulk is not None and (outer.bought or outer.form == "envelope"):
        gaps = _in_envelope(gaps, inner, bulk, cards[0])
        _tell_too_thick(gaps, bulk, cards[0], place, ledger)
    _tell_gaps(gaps, place, ledger)
    if outer.form == "sleeve" and inner.boxed and len(gaps) == 2:
        lies_between = in_sleeve(outer, inner, (gaps[0].inner, gaps[1].inner), stacks)
        return _less_stacks(gaps, lies_between, place, ledger)
    return gaps


def _is_flat(blank: Blank) -> bool:
    """A plain piece that another slides behind or through, not an envelope that was bought."""
    return not blank.form and len(blank.across) == len(blank.down) == 1 and not blank.bought


type _Extent = tuple[LengthId, Fraction]
type _Pairs = tuple[tuple[_Extent, _Extent], tuple[_Extent, _Extent]]


def folded_extents(blank: Blank) -> tuple[_Extent, _Extent]:
    """What a piece measures across and down once folded: the floor of a boxed one, the widest panel of any other."""
    if blank.made:
        return blank.made[0], blank.made[1]
    return _widest(blank, "across"), _widest(blank, "down")


def _widest(blank: Blank, side: str) -> _Extent:
    strips = blank.across if side == "across" else blank.down
    if blank.boxed:
        return strips[1].length, strips[1].long
    return max(((strip.length, strip.long) for strip in strips), key=lambda extent: extent[1])


def _best_turn(outer: tuple[_Extent, _Extent], inner: tuple[_Extent, _Extent]) -> _Pairs:
    """Straight or turned a quarter, whichever leaves the most room where it is tightest; straight when equal."""
    straight = ((outer[0], inner[0]), (outer[1], inner[1]))
    turned = ((outer[0], inner[1]), (outer[1], inner[0]))
    return max(straight, turned, key=lambda pairs: min(one[1] - other[1] for one, other in pairs))


def _through_sleeve(sleeve: Blank, drawer: Blank) -> _Pairs:
    """Wide and high. The drawer goes in along the side that matches the sleeve's length best."""
    wide, high = ((strip.length, strip.long) for strip in sleeve.across[:2])
    down = goes_in_along_down(sleeve, drawer)
    across, along = folded_extents(drawer)
    floor, (wall, *_) = (across, drawer.across) if down else (along, drawer.down)
    return ((wide, floor), (high, (wall.length, wall.long)))


def goes_in_along_down(sleeve: Blank, drawer: Blank) -> bool:
    """Whether a drawer goes into its sleeve with its length down, so that it lies in the sleeve's width across.

    As it fits in width; where it does both ways or neither, as its length is more like that of the sleeve.
    """
    wide = sleeve.across[0].long
    (_, across), (_, down) = folded_extents(drawer)
    return (wide < across, abs(sleeve.height - down)) <= (wide < down, abs(sleeve.height - across))


def _tell_too_long(sleeve: Blank, drawer: Blank, place: Place, ledger: Ledger) -> None:
    """A drawer that is longer than its sleeve stands out of it."""
    name, long = folded_extents(drawer)[1 if goes_in_along_down(sleeve, drawer) else 0]
    own = LengthId(sleeve.piece, "down", "size")
    over = long - sleeve.height
    if over > _RULER and own in ledger.lengths:
        unit = ledger.lengths[own].unit
        lengths = {"long": ledger.lengths[name], "length": ledger.lengths[own], "over": Length(over, unit)}
        ledger.misfit("drawer-longer-than-the-sleeve", place, piece=drawer.piece, sleeve=sleeve.piece, **lengths)


def _gaps(outer: Blank, inner: Blank, pairs: _Pairs, cards: _Cards, how: str, ledger: Ledger) -> list[Gap]:
    roomy, filled = _rooms(outer, cards[0]), _rooms(inner, cards[1])
    estimated = any(card is not None and card.estimated for card in cards)
    gaps: list[Gap] = []
    for side, ((one, wide), (other, narrow)) in zip(("across", "down"), pairs, strict=True):
        between = wide - narrow
        if between > 0:
            ledger.relations.append(Clearance(one, other))
            pair = (outer.piece, inner.piece) if how == "over" else (inner.piece, outer.piece)
            _note_room(pair, side, one, other, ledger)
        unit = ledger.lengths[one].unit
        left = None
        if one in roomy and other in filled:
            left = Length(roomy[one].inside - filled[other].outside, unit)
        gaps.append(Gap(one, other, Length(between, unit), left, estimated, how))
    return gaps


def _in_envelope(gaps: Sequence[Gap], inner: Blank, bulk: Bulk, paper: Thickness | None) -> list[Gap]:
    """What is left of the room when the envelope goes round what is in it; its own paper takes a thickness."""
    across, _ = folded_extents(inner)
    own = paper.length.mm if paper else _ZERO
    estimated = bulk.estimated or (paper is not None and paper.estimated)
    found = []
    for gap in gaps:
        taken = own + (bulk.across if gap.inner == across[0] else bulk.down)
        left = Length(gap.between_scores.mm - taken, gap.between_scores.unit)
        found.append(replace(gap, with_card=left, estimated=estimated, thick=True))
    return found


def _tell_too_thick(gaps: Sequence[Gap], bulk: Bulk, paper: Thickness | None, place: Place, ledger: Ledger) -> None:
    """Told once, of the direction in which it is tighter; what does not go in flat has been told."""
    tightest = min(gaps, key=lambda gap: gap.with_card.mm if gap.with_card else gap.between_scores.mm)
    between, left = tightest.between_scores, tightest.with_card
    if left is None or left.mm > 0 or any(gap.between_scores.mm <= 0 for gap in gaps):
        return
    guessed = paper.length.mm if paper and paper.estimated else _ZERO
    # What only an estimate says is never more than a thought.
    tell = ledger.thought if bulk.estimated or left.mm + guessed > 0 else ledger.misfit
    names = {"outer": tightest.outer.piece, "inner": tightest.inner.piece}
    thick, taken = Length(bulk.thick, between.unit), Length(between.mm - left.mm, between.unit)
    tell("too-thick-for-the-envelope", place, **names, thick=thick, gap=between, taken=taken)


def _note_room(pair: tuple[str, str], side: str, outer: LengthId, inner: LengthId, ledger: Ledger) -> None:
    """The room in all and on each side, so that words that speak of it say what the list beside them says."""
    between = ledger.lengths[outer] - ledger.lengths[inner]
    for parts, place in ((1, side), (2, f"{side} each side")):
        name = LengthId(pair[0], "room", place, of=pair[1])
        ledger.note(name, Length(between.mm / parts, between.unit), outer, inner)
        ledger.relations.append(Rest(name, outer, inner, parts))


def _rooms(blank: Blank, card: Thickness | None) -> dict[LengthId, InsideSize]:
    """Each room by the length it is scored to; none when nobody knows the thickness."""
    return {room.score_to_score: room for room in rooms(blank, card.length.mm)} if card else {}


def _tell_gaps(gaps: Sequence[Gap], place: Place, ledger: Ledger) -> None:
    """A gap of nothing, less than nothing, and one that the card's thickness fills."""
    for gap in gaps:
        between, (nothing, too_small, filled) = gap.between_scores, _CODES[gap.how]
        lengths = {"outer_length": ledger.lengths[gap.outer], "inner_length": ledger.lengths[gap.inner]}
        facts: dict[str, object] = {"outer": gap.outer.piece, "inner": gap.inner.piece, **lengths}
        if between.mm < 0:
            ledger.misfit(too_small, place, **facts, short=Length(-between.mm, between.unit))
        elif between.mm == 0:
            ledger.misfit(nothing, place, **facts)
        elif gap.with_card is not None and gap.with_card.mm <= 0 and not gap.thick:
            # What only an estimate says is never more than a thought.
            tell = ledger.thought if gap.estimated else ledger.misfit
            tell(filled, place, **facts, gap=between)
