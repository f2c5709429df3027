"""Bands, belts and wrappers: how far it is round a thing, and how long what goes round it must be, and is."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import ceil, pi, tan

from msgspec import Struct

from foldwright.finding import Place
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank
from foldwright.geometry.flat.forms.sided import SIDES_OF_TRAYS
from foldwright.geometry.flat.inside import rooms
from foldwright.geometry.flat.points import kept
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.lengths import Clearance, Ledger, LengthId, Sum
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import PanelFact, Piece, Placement, Recipe, Said, Supply

ACROSS, DOWN, SIDES = "across", "down", "sides"
"""Round its width and height, as one wraps a belt about a card; from top to bottom; round its upright sides."""
_LONG = re.compile(r"\b(?:long way|lengthwise|lengthways)\b", re.IGNORECASE)
_SHORT = re.compile(r"\b(?:short way|crosswise|widthways)\b", re.IGNORECASE)
_WAYS = (
    (DOWN, re.compile(r"\b(?:down|top (?:to|and) bottom)\b", re.IGNORECASE)),
    (SIDES, re.compile(r"\b(?:sides|walls|upright)\b", re.IGNORECASE)),
    (ACROSS, re.compile(r"\b(?:across|left (?:to|and) right|side to side)\b", re.IGNORECASE)),
)

type Girths = Mapping[str, Fraction]
"""By way, the one that is usual first; a way that is not known is not there."""
type Walls = Mapping[str, tuple[Fraction, ...]]
"""By way round a box: how long the sides are, one after another, on which a band comes to lie."""


def way_said(remark: str, girths: Girths) -> str:
    """The way a remark names (`the long way`, `from top to bottom`), if it is known; else nothing."""
    flat = [way for way in (ACROSS, DOWN) if way in girths]
    for words, choose in ((_LONG, max), (_SHORT, min)):
        if words.search(remark) and flat:
            return choose(flat, key=lambda way: girths[way])
    said = next((way for way, words in _WAYS if words.search(remark)), "")
    return said if said in girths else ""


def walls_of(blank: Blank, card: Thickness | None) -> Walls:
    """The sides a band lies on, by the way it runs round a box, the box's own card counted; else nothing."""
    thick = card.length.mm if card else Fraction(0)
    if blank.form in SIDES_OF_TRAYS and blank.made:
        # A regular outline is its width times the tangent of half the turn at a corner, on every side.
        count = SIDES_OF_TRAYS[blank.form]
        return {SIDES: (kept((blank.made[0][1] + 2 * thick) * Fraction(tan(pi / count))),) * count}
    known = {room.side: room.outside for room in rooms(blank, thick)}
    if {"across", "down", "deep"} <= known.keys():
        return _box_walls(known["across"], known["down"], known["deep"])
    return _box_walls(known["wide"], blank.height, known["high"]) if "wide" in known else {}


def girths_of(blank: Blank, card: Thickness | None) -> Girths:
    """Round a piece as it is when folded, its own card counted; nothing where its shape is not known."""
    thick = card.length.mm if card else Fraction(0)
    if blank.form == "pillow box" and blank.made:
        # Its two panels keep their width however they bulge.
        return {ACROSS: 2 * blank.made[0][1] + 4 * thick}
    if blank.form in ("pyramid", "prism", "cone"):
        return {}
    if blank.form == "tube" and blank.made:
        return dict.fromkeys((ACROSS, SIDES), kept(float(blank.made[0][1] + thick) * pi))
    if walls := walls_of(blank, card):
        return _round_walls(walls)
    if blank.made:
        across, down = blank.made[0][1], blank.made[1][1]
    else:
        across, down = (max(strip.long for strip in row) for row in (blank.across, blank.down))
    return _flat(across, down, thick * len(blank.across) * len(blank.down) if blank.form else thick)


def girths_of_supply(supply: Supply, bands: int = 1) -> Girths:
    """Round something that is bought, by its size across x down x high; one number is how far it is across, round.

    As many round things as one making uses for each of its `bands` are a bundle, as closely as they lie: a band lies
    once round one of them in all, and runs straight from each outer one to the next (two to six are all outer ones, of
    seven one is in the middle). More than these nobody ties in one way only.
    """
    if supply.size is None:
        return {}
    sizes = [length.mm for length in supply.size.value.lengths]
    if len(sizes) == 1 or supply.size.value.round:
        use = supply.use.value if supply.use else None
        count = int(use.number) // bands if use and use.dimension is Dimension.COUNT else 1
        outer = min(count, _BUNDLED - 1) if count > 1 else 0
        return {ACROSS: kept(float(sizes[0]) * (pi + outer))} if count <= _BUNDLED else {}
    if len(sizes) > 2:
        return _round_walls(_box_walls(*sizes))
    return _flat(sizes[0], sizes[1], supply.thickness.value.mm if supply.thickness else Fraction(0))


_BUNDLED = 7


def _flat(across: Fraction, down: Fraction, thick: Fraction) -> Girths:
    """Nobody wraps a card round its edges."""
    return {ACROSS: 2 * (across + thick), DOWN: 2 * (down + thick)}


def _box_walls(across: Fraction, down: Fraction, high: Fraction) -> Walls:
    ways = {ACROSS: (across, high) * 2, DOWN: (down, high) * 2, SIDES: (across, down) * 2}
    # What stands higher than it is wide and deep has its band round its sides, as a bottle has its label.
    order = (SIDES, ACROSS, DOWN) if high > max(across, down) else (ACROSS, DOWN, SIDES)
    return {way: ways[way] for way in order}


def _round_walls(walls: Walls) -> Girths:
    return {way: sum(sides, Fraction(0)) for way, sides in walls.items()}


_OVERLAP = {System.METRIC: Length.of(12, Unit.MILLIMETRE), System.IMPERIAL: Length.of(Fraction(1, 2), Unit.INCH)}
"""How far the ends of a band lie on each other when nobody says (common practice, no source)."""
_LEAST = {System.METRIC: Fraction(5), System.IMPERIAL: Unit.INCH.mm / 4}
"""Millimetres of overlap, 5 mm or 1/4 in, below which there is hardly room for tape (common practice, no source)."""
_STEP = {System.METRIC: Fraction(1), System.IMPERIAL: Unit.INCH.mm / 16}
"""A length that is worked out is taken up to whole millimetres, or sixteenths of an inch; between two scores to half of
that, so that four of them leave no slack."""
_LAPS = ("glue flap", "flap", "overlap", "tab")
_LEAST_WALL = Fraction(3)
"""Millimetres: nobody scores a band on either side of less (common practice, no source)."""
_NAMES = ("front", "side", "back", "side")
_CORNERS = 4
"""Where a band bends: its middle runs half its thickness outside of what it goes round, on either side."""


class Wrap(Struct, frozen=True):
    """A band and what it goes round: how long it is (without a flap of its own) and how far it is round the thing."""

    band: str
    other: str
    length: LengthId
    girth: LengthId
    lap: bool
    """Whether the ends meet at a flap of their own; else what is over is what overlaps."""


def wraps_of(piece: Piece, recipe: Recipe) -> tuple[Said[Placement], ...]:
    """What a piece goes round: as it says, or because it lies on something that a step wraps it round."""
    if piece.goes_round or not piece.goes_on:
        return piece.goes_round
    name = piece.name.value
    wrapped = any(doing.act == "wrap" and name in doing.subjects for step in recipe.steps for doing in step.doings)
    return piece.goes_on if wrapped else ()


def walls_by_name(
    name: str, blanks: Mapping[str, Blank], cards: Mapping[str, Thickness | None], supplies: Mapping[str, Supply]
) -> Walls:
    """The sides of a box, by its name in small letters: a piece, or a supply with three sizes."""
    blank = blanks.get(name)
    if blank is not None:
        return {} if blank.doubtful else walls_of(blank, cards.get(blank.piece))
    size = supplies[name].size if name in supplies else None
    sizes = size.value.lengths if size else ()
    return _box_walls(*(length.mm for length in sizes)) if len(sizes) == 3 else {}


def girths_by_name(
    name: str,
    blanks: Mapping[str, Blank],
    cards: Mapping[str, Thickness | None],
    supplies: Mapping[str, Supply],
    bands: int = 1,
) -> Girths:
    """Round a piece or a supply, by its name in small letters; an estimated thickness is left out: no fault may rest
    on it.
    """
    blank = blanks.get(name)
    if blank is not None:
        card = cards.get(blank.piece)
        return {} if blank.doubtful else girths_of(blank, None if card and card.estimated else card)
    return girths_of_supply(supplies[name], bands) if name in supplies else {}


def length_round(girths: Girths, remark: str, card: Thickness | None, unit: Unit, flaps: Fraction) -> Length | None:
    """How long a band must be that goes round a thing and overlaps itself (by its `flaps`, where it has any)."""
    girth = girths.get(way_said(remark, girths) or next(iter(girths), ACROSS))
    if girth is None:
        return None
    lap = flaps or _OVERLAP[unit.system].mm
    return _taken_up(girth + _CORNERS * (card.length.mm if card else 0) + lap, unit)


def row_round(walls: Walls, remark: str, card: Thickness | None, unit: Unit, place: Place) -> tuple[PanelFact, ...]:
    """The panels of a band that is scored where a box has its corners: each as wide as its side and the band's own
    thickness, since its scores lie half of that outside. Empty where it goes round no box, or one that is flat.
    """
    sides = walls.get(way_said(remark, _round_walls(walls)) or next(iter(walls), ACROSS), ())
    if min(sides, default=Fraction(0)) < _LEAST_WALL:
        return ()
    thick = _CORNERS * card.length.mm / max(1, len(sides)) if card else Fraction(0)
    step = _STEP[unit.system] / 2
    lengths = [Length(ceil((side + thick) / step) * step, unit) for side in sides]
    names = _NAMES if len(sides) == len(_NAMES) else tuple(f"side {number}" for number in range(1, len(sides) + 1))
    row = [PanelFact(name, length, place) for name, length in zip(names, lengths, strict=True)]
    return (*row, PanelFact(GLUE_FLAP, _OVERLAP[unit.system], place))


def _taken_up(mm: Fraction, unit: Unit) -> Length:
    step = _STEP[unit.system]
    return Length(ceil(mm / step) * step, unit)


def is_lap(name: str) -> bool:
    """Whether a panel, by its name, lies under another to be glued there."""
    return name.casefold().endswith(_LAPS)


def go_round(
    band: Blank, said: Said[Placement], girths: Girths, card: Thickness | None, ledger: Ledger
) -> Iterator[Wrap]:
    """Whether a band reaches round. Where nobody says which way it runs, the way it suits best is taken."""
    taken = Fraction(0) if card is None or card.estimated else _CORNERS * card.length.mm
    length_id, lap = _length_of(band, ledger)
    length = ledger.lengths[length_id]
    way = way_said(said.value.remark, girths)
    known = {way: girths[way]} if way else girths
    if not known:
        ledger.thought("round-what", said.place, piece=band.piece, other=said.value.piece)
        return
    overlap = _OVERLAP[length.unit.system]
    wanted = length.mm - taken - (0 if lap else overlap.mm)
    girth = Length(min(known.values(), key=lambda one: abs(one - wanted)) + taken, length.unit)
    girth_id = LengthId(said.value.piece, f"round {band.piece}", way or "girth")
    ledger.lengths.setdefault(girth_id, girth)
    ledger.worked_out.add(girth_id)
    names = {"piece": band.piece, "other": said.value.piece, "length": length}
    over = length.mm - girth.mm
    least = _taken_up(girth.mm + (0 if lap else overlap.mm), length.unit)
    if over < 0:
        short = Length(-over, length.unit)
        ledger.misfit("band-too-short", said.place, **names, girth=girth, short=short, least=least)
        return
    if not lap and over < _LEAST[length.unit.system]:
        ledger.thought("band-hardly-overlaps", said.place, **names, girth=girth, least=least, overlap=overlap)
    if over > 0:
        ledger.relations.append(Clearance(length_id, girth_id))
    yield Wrap(band.piece, said.value.piece, length_id, girth_id, lap)


def _length_of(band: Blank, ledger: Ledger) -> tuple[LengthId, bool]:
    """The side that goes round (the one with panels, else the longer), without a flap of its own; whether it has one"""
    side = "across" if len(band.across) > 1 or (len(band.down) == 1 and band.width >= band.height) else "down"
    strips = band.across if side == "across" else band.down
    round_ = [strip for strip in strips if not is_lap(strip.name)]
    if len(round_) == len(strips) or not round_:
        return LengthId(band.piece, side, "size"), False
    if len(round_) == 1:
        return round_[0].length, True
    name = LengthId(band.piece, "round", "length")
    unit = ledger.lengths[round_[0].length].unit
    ledger.lengths[name] = Length(sum((strip.long for strip in round_), Fraction(0)), unit)
    ledger.relations.append(Sum(name, tuple(strip.length for strip in round_)))
    return name, True
