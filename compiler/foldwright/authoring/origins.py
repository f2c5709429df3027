"""Which numbers of the recipe's text each length and each part of a plan comes from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct

from foldwright.authoring.marks import mark_of
from foldwright.authoring.numbers import NumbersSaid
from foldwright.finding import Place, Said
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.repeating import spacing
from foldwright.geometry.lengths import Equal, LengthId, Relation, Sum
from foldwright.measure.length import Length
from foldwright.pipeline import Understood
from foldwright.recipe.model import DrawnLine, Hole, PanelFact, Piece, PlaceBeside

_SIDES = ("across", "down")
_FROM = {"left": "across|from (?:the )?left", "top": "down|from (?:the )?top"}


class Origin(Struct, frozen=True):
    """The `places` something comes from, the one to go to first. `said` when that is a number which is this length;
    else the length was worked out of those, or it is a part that has them."""

    places: tuple[Place, ...]
    said: bool = False
    lit: bool = True
    """Whether its numbers light it: the sides of an outline, which have their own, and not the whole of it."""


def origins(understood: Understood, text: str) -> dict[str, Origin]:
    """Of every length and every part of every piece, by its mark. `text` is that of the recipe."""
    return {mark_of(name): origin for name, origin in origins_by_length(understood, text).items()}


def marks_at(found: Mapping[str, Origin], offset: int) -> tuple[str, ...]:
    """What the number at a place of the text stands for: first what it says itself, then what follows from it."""
    here = [
        (not (one.said and _holds(one.places[0], offset)), mark)
        for mark, one in found.items()
        if one.lit and any(_holds(place, offset) for place in one.places)
    ]
    return tuple(mark for _, mark in sorted(here, key=lambda pair: pair[0]))


def _holds(place: Place, offset: int) -> bool:
    return place.start <= offset <= place.end


def origins_by_length(understood: Understood, text: str) -> dict[LengthId, Origin]:
    """The same by identity: what is written, what sums of that are, then all that was worked out."""
    recipe, flat = understood.recipe, understood.flat
    lengths = {**flat.lengths.by_id, **understood.folding.lengths}
    found: dict[LengthId, Origin] = {}
    for piece in recipe.pieces:
        if blank := flat.blank(piece.name.value):
            found |= _written(piece, blank, flat.lengths.by_id, text)
    for working in flat.workings:
        _from_inside(working.length, {term.length for term in working.terms}, understood, text, found)
    _follow((*flat.lengths.relations, *understood.folding.relations), found)
    for piece in recipe.pieces:
        name = piece.name.value
        sizes = Origin(_sizes_said(piece, text) or (piece.name.place,))
        for length in lengths:
            if length.piece == name:
                found.setdefault(length, sizes)
        if blank := flat.blank(name):
            net = understood.folding.nets.get(name)
            found |= _parts(piece, blank, len(net.panels) if net else 0, sizes, found, text)
    return found


# --- what is written ------------------------------------------------------------------------------------------------


def _written(piece: Piece, blank: Blank, lengths: Mapping[LengthId, Length], text: str) -> dict[LengthId, Origin]:
    """The lengths that are numbers of the text, and `rest`."""
    pairs = (*_of_sizes(piece, blank, lengths, text), *_of_rows(piece, blank, text), *_of_holes(piece, text))
    pairs = (*pairs, *_of_lines(piece, text), *_of_flaps(piece, text))
    found: dict[LengthId, Origin] = {}
    for name, place, said in pairs:
        if place is not None and name in lengths:
            found.setdefault(name, Origin((place,), said))
    return found


type _Found = Iterator[tuple[LengthId, Place | None, bool]]


def _of_sizes(piece: Piece, blank: Blank, lengths: Mapping[LengthId, Length], text: str) -> _Found:
    name = piece.name.value
    if piece.size:
        numbers, first = NumbersSaid(text, piece.size.place), None
        swapped = lengths.get(LengthId(name, "across", "size")) != piece.size.value.lengths[0]
        sides = reversed(_SIDES) if swapped else _SIDES
        for side, length in zip(sides, piece.size.value.lengths, strict=False):
            place = numbers.take(length)
            first = first or place
            # One number stands for both ways.
            yield LengthId(name, side, "size"), place or first, lengths.get(LengthId(name, side, "size")) == length
    if piece.band:
        yield LengthId(name, "down", "size"), NumbersSaid(text, piece.band.place).take(piece.band.value), True
    if piece.finished:
        numbers = NumbersSaid(text, piece.finished.place)
        for (made, mm), length in zip(blank.made, piece.finished.value.lengths, strict=False):
            yield made, numbers.take(length), mm == length.mm


def _of_rows(piece: Piece, blank: Blank, text: str) -> _Found:
    """A panel of a row goes to its number, one that is left over to the word for that."""
    for panels, strips in ((piece.across, blank.across), (piece.down, blank.down)):
        for panel, strip in zip(panels, strips, strict=False):
            if strip.length.place == "panel":
                yield strip.length, _of_panel(panel, text), panel.length is not None


def _of_panel(panel: PanelFact, text: str) -> Place | None:
    return NumbersSaid(text, panel.place).take(panel.length) if panel.length else panel.place


def _of_holes(piece: Piece, text: str) -> _Found:
    for number, said in enumerate(piece.holes, 1):
        hole, numbers = said.value, NumbersSaid(text, said.place)
        where, first = LengthId(piece.name.value, "hole", "", number), None
        for side, length in zip(_SIDES, hole.size, strict=False):
            place = numbers.take(length)
            first = first or place
            yield LengthId(where.piece, "hole", side, number), place or first, True
        for name, length, words in _places_of(where, hole):
            yield name, numbers.take(length, words), True


def _places_of(where: LengthId, hole: Hole) -> Iterator[tuple[LengthId, Length, str]]:
    """What says where a hole is: the length, its identity, and the words that stand behind it."""
    position = hole.position
    for edge, length, of in position.offsets:
        yield LengthId(where.piece, "hole", edge, where.number, of or "middle"), length, f"from (?:the )?{edge}"
    if position.at:
        for way, length in position.at.away:
            yield LengthId(where.piece, "hole", way, where.number, position.at.of), length, way
    if position.repeat:
        name = spacing(where.piece, "hole", where.number, position.repeat)
        yield name, position.repeat.apart, "apart"


def _of_lines(piece: Piece, text: str) -> _Found:
    for number, said in enumerate(piece.lines, 1):
        line, numbers = said.value, NumbersSaid(text, said.place)
        side_of = "panel line" if line.every_panel else "line"
        for at, point in enumerate(line.points, 1):
            if not isinstance(point, PlaceBeside):
                for side, length, words in zip(_SIDES, point, _FROM.values(), strict=True):
                    name = LengthId(piece.name.value, side_of, side, number, f"point {at}")
                    yield name, numbers.take(length, words) if length.mm else None, True
        if line.repeat:
            name = spacing(piece.name.value, "line", number, line.repeat)
            yield name, numbers.take(line.repeat.apart, "apart"), True


def _of_flaps(piece: Piece, text: str) -> _Found:
    if piece.flaps and (trim := piece.flaps.value.trim):
        yield LengthId(piece.name.value, "flap", "trim"), NumbersSaid(text, piece.flaps.place).take(trim), True


# --- what follows from it -------------------------------------------------------------------------------------------


def _from_inside(
    name: LengthId, terms: set[Length], understood: Understood, text: str, found: dict[LengthId, Origin]
) -> None:
    """What a sum begins with is a size inside: that of its own side, where it is as long as another."""
    piece = next(one for one in understood.recipe.pieces if one.name.value == name.piece)
    if not piece.inside:
        return
    numbers = NumbersSaid(text, piece.inside.place)
    sides = (*_SIDES, "high")[: len(piece.inside.value.lengths)]
    places = {side: numbers.take(one) for side, one in zip(sides, piece.inside.value.lengths, strict=False)}
    lengths = dict(zip(sides, piece.inside.value.lengths, strict=False))
    own = name.place if name.side == "made" else name.side
    fits = [side for side in sides if lengths[side] in terms]
    taken = [own] if own in fits and name.number in (0, 2) else [side for side in fits if side != own] or fits
    if kept := tuple(place for side in taken if (place := places[side])):
        found.setdefault(name, Origin(kept))


def _follow(relations: Iterable[Relation], found: dict[LengthId, Origin]) -> None:
    """A total comes from its parts, a part nobody wrote from the total and the others, what is equal from the same."""
    waiting = [one for one in relations if isinstance(one, Sum | Equal)]
    before = -1
    while before < len(found):
        before = len(found)
        for one in waiting:
            names = (one.one, one.other) if isinstance(one, Equal) else (one.total, *one.parts)
            unknown = [name for name in dict.fromkeys(names) if name not in found]
            known = dict.fromkeys(place for name in names if name in found for place in found[name].places)
            if known and len(unknown) == 1:
                found[unknown[0]] = Origin(tuple(known))


def _sizes_said(piece: Piece, text: str) -> tuple[Place, ...]:
    """Every number that says how large a piece is."""
    said: tuple[Said[object] | None, ...]
    said = (piece.inside, piece.finished, piece.size, piece.relative, piece.inside_relative, piece.band)
    places = [one.place for one in said if one] + [panel.place for panel in (*piece.across, *piece.down)]
    places += [piece.fold.place] if piece.fold and piece.fold.value.remarks else []
    return tuple(dict.fromkeys(number.place for place in places for number in NumbersSaid(text, place).all))


# --- parts ----------------------------------------------------------------------------------------------------------


def _parts(
    piece: Piece, blank: Blank, panels: int, sizes: Origin, found: Mapping[LengthId, Origin], text: str
) -> dict[LengthId, Origin]:
    """What is no length by itself: the outline, holes, lines, panels that have no number of their own."""
    name = piece.name.value
    ways = [found[LengthId(name, side, "size")].places for side in _SIDES]
    parts = {LengthId(name, "outline", ""): Origin(tuple(dict.fromkeys((*ways[0], *ways[1]))), lit=False)}
    for number, hole in enumerate(piece.holes, 1):
        parts[LengthId(name, "hole", "", number)] = _all_said(hole, text)
    for number in {line.number for line in blank.drawn if line.number > 0}:
        own = piece.lines[number - 1] if number <= len(piece.lines) else None
        parts[LengthId(name, "line", "", number)] = (
            _all_said(own, text) if own else Origin((piece.place_of_line(number),))
        )
    for number in range(1, panels + 1):
        parts[LengthId(name, "panel", "", number)] = sizes
    return parts


def _all_said(said: Said[Hole] | Said[DrawnLine], text: str) -> Origin:
    """Its numbers in order; of what is placed by names alone, its words."""
    return Origin(tuple(number.place for number in NumbersSaid(text, said.place).all) or (said.place,))
