"""Supplies as things to draw: what shape a sweet or a bottle has, how wide a ribbon is, how things lie in a room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.points import kept
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.binding import Cord
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.things import Box, Solid, solid_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Tone
from foldwright.measure.amounts import Dimension
from foldwright.pack.model import LaidThing, Size, Thing
from foldwright.pack.packing import pack
from foldwright.pack.rounds import axis_of
from foldwright.recipe.model import Doing, Recipe, Step, Supply
from foldwright.recipe.needs import supplies_named, supply_kind
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary.names import plain_words

CORDS = frozenset({"twine", "ribbon", "elastic", "wire"})
STICKERS = frozenset({"foam adhesive", "double-sided tape", "masking tape", "adhesive dot"})
"""What sticks and can be seen as a thing of its own."""
COLOURS = frozenset(
    "ink|embossing powder|paint|spray paint|varnish|solvent|glitter|glitter glue|sealing wax|staple|water".split("|")
)
MOST_DRAWN = 24
"""Of many things no more are drawn: nobody counts them in a picture as wide as a hand."""

_WORDS = {
    "round": "round ball sphere marble bead truffle egg pompom bauble gumball pearl macaroon bonbon",
    "upright": "cylinder coin penny button tin candle light tealight magnet disc tack tube roll cork token jar",
    "bottle": "bottle vial flask",
}
"""Which words of a kind or a name tell a shape; what none tells is a box."""
_UNSIZED: dict[str, Spot] = {
    "round": (20.0, 20.0, 20.0),
    "upright": (20.0, 20.0, 4.0),
    "bottle": (36.0, 36.0, 110.0),
    "sweet": (30.0, 14.0, 14.0),
    "box": (30.0, 20.0, 10.0),
}
"""Millimetres of a thing whose size nobody says (common practice, no source); it is drawn, and nothing is checked."""
_RIBBON, _TWINE = 6.0, 1.8
"""How wide ribbon and twine are, in millimetres (common practice, no source)."""
_THINNEST = 0.014
"""How wide a cord is drawn at least, as a part of what it goes round: a thinner one is a line."""


def cord_of(supply: Supply | None, thing: float) -> Cord:
    """A cord round a thing that is so large in millimetres."""
    kind = supply_kind(supply) if supply else None
    ribbon = kind is not None and kind.name == "ribbon"
    wide = float(supply.width.value.mm) if supply and supply.width else _RIBBON if ribbon else _TWINE
    return Cord(max(min(wide, thing * 0.15), thing * _THINNEST), Tone.RIBBON if ribbon else Tone.TWINE)


def shape_of(supply: Supply) -> Solid:
    """What one of a supply looks like."""
    kind = supply_kind(supply)
    said = supply.kind.value if supply.kind else ""
    words = {*plain_words(supply.name.value), *plain_words(said)}
    form = next((form for form, known in _WORDS.items() if not words.isdisjoint(known.split())), "box")
    lengths = [float(length.mm) for length in supply.size.value.lengths] if supply.size else []
    if supply.size and supply.size.value.round and len(lengths) > 1:
        form = "upright" if form in ("box", "round") else form
        lengths.insert(0, lengths[0])
    if len(lengths) == 1:
        form = "round" if form == "box" else form
        size: Spot = (lengths[0], lengths[0], _UNSIZED["upright"][2] if form == "upright" else lengths[0])
    elif lengths:
        thick = float(supply.thickness.value.mm) if supply.thickness else _THIN
        size = (lengths[0], lengths[1], lengths[2] if len(lengths) > 2 else thick)
    if form == "box" and kind is not None and kind.name == "wrapped sweet" and not words & _BARS:
        form = "sweet"
    if not lengths:
        size = _UNSIZED[form]
    if form == "sweet" and max(size) > _LONG_SWEET * sorted(size)[1]:
        form = "box"
    return Solid(form, size, Tone.FOOD if kind is not None and kind.food else Tone.THING)


_THIN = 0.5
_BARS = frozenset({"bar", "tea", "gum", "mint"})
_LONG_SWEET = 3.0


def shapes_of(supply: Supply) -> tuple[Solid, ...]:
    """As many as one making uses, or as many as are drawn."""
    return (shape_of(supply),) * min(number_of(supply), MOST_DRAWN)


def number_of(supply: Supply) -> int:
    """How many of it one making uses; one where it is not counted."""
    use = supply.use.value if supply.use else None
    return int(use.number) if use is not None and use.dimension is Dimension.COUNT and use.number >= 1 else 1


class Laying(Struct, frozen=True):
    """How alike things lie: their size so, which way their own height points (0 across, 1 down, 2 up), and in how many
    columns and rows."""

    size: Spot
    axis: int
    columns: int = 1
    rows: int = 1

    def high(self, count: int) -> float:
        """How high so many reach."""
        return ceil(count / (self.columns * self.rows)) * self.size[2]


@lru_cache(maxsize=256)
def laid_in(shapes: tuple[Solid, ...], room: Box, upright: bool, view: View) -> tuple[Leaf, ...]:
    """Alike things in rows in a room, in as few layers as they go; what is too large stands in its middle.

    Kept by content, as all that is folded for a picture.
    """
    if not shapes:
        return ()
    (x1, y1, z1), (x2, y2, _) = room
    lies = _laying(shapes[0], len(shapes), (x2 - x1, y2 - y1), upright)
    shape = replace(shapes[0], size=lies.size, axis=lies.axis)
    each = lies.columns * lies.rows
    leaves: list[Leaf] = []
    for number in range(len(shapes)):
        layer, left = divmod(number, each)
        here = min(len(shapes) - layer * each, each)
        row, column = divmod(left, lies.columns)
        off = column - (min(lies.columns, here) - 1) / 2, (ceil(here / lies.columns) - 1) / 2 - row
        x = (x1 + x2) / 2 + off[0] * _pitch(lies.size[0], x2 - x1, lies.columns)
        y = (y1 + y2) / 2 + off[1] * _pitch(lies.size[1], y2 - y1, lies.rows)
        leaves += solid_of(shape, (x, y, z1 + layer * lies.size[2]), view)
    return tuple(leaves)


@lru_cache(maxsize=64)
def laid_together(kinds: tuple[tuple[tuple[Solid, ...], bool], ...], room: Box, view: View) -> tuple[Leaf, ...]:
    """Things as they are packed: of several kinds (each: all of it, and whether it stays upright) beside each other,
    and round ones in each other's gaps; nothing where no way is found."""
    shapes = [(shape, upright) for alike, upright in kinds for shape in alike]
    low, high = room
    things = [Thing(_exact(shape.size), upright, shape.kind in ("upright", "round")) for shape, upright in shapes]
    leaves: list[Leaf] = []
    laid = _packed(things, [far - near for near, far in zip(low, high, strict=True)])
    # In the middle of the room, on its floor.
    taken = [max((float(one.at[axis] + one.size[axis]) for one in laid), default=0.0) for axis in (0, 1)]
    low = (low[0] + high[0] - taken[0]) / 2, (low[1] + high[1] - taken[1]) / 2, low[2]
    for one in laid:
        shape, size = shapes[one.thing][0], tuple(map(float, one.size))
        axis = axis_of(things[one.thing], one.size) if things[one.thing].round else 2
        x, y, z = (near + float(at) for near, at in zip(low, one.at, strict=True))
        lies = replace(shape, size=(size[0], size[1], size[2]), axis=axis)
        leaves += solid_of(lies, (x + size[0] / 2, y + size[1] / 2, z), view)
    return tuple(leaves)


def _packed(things: Sequence[Thing], sides: Sequence[float]) -> tuple[LaidThing, ...]:
    """Where they lie in a room of these sides; the search may find a way in one turn of it and none in the other."""

    def turned(three: Size) -> Size:
        return three[1], three[0], three[2]

    for gives in _GIVES:
        room = _exact((sides[0] + gives, sides[1] + gives, sides[2] + gives))
        if min(room) > 0:
            if laid := pack(things, room).laid:
                return laid
            if laid := pack(things, turned(room)).laid:
                return tuple(replace(one, at=turned(one.at), size=turned(one.size)) for one in laid)
    return ()


_GIVES = (0.0, 1.0, 2.0)
"""Millimetres: the room of a picture is a little less than that which is checked, where flaps lie."""


def _exact(size: Spot) -> Size:
    across, down, high = (kept(side) for side in size)
    return across, down, high


def _pitch(size: float, room: float, count: int) -> float:
    """Things in a row lie close together, a little apart where there is room."""
    return min(size * _AIRY, max(room / count, size))


def _laying(shape: Solid, count: int, room: tuple[float, float], upright: bool) -> Laying:
    """The way that needs the least height; as they are where none of them goes in."""
    best: Laying | None = None
    for size, axis in _ways(shape.size, upright or (shape.kind == "bottle" and max(shape.size) > max(room))):
        columns, rows = (int((wide + _SPARE) // long) for wide, long in zip(room, size, strict=False))
        if columns and rows:
            columns = min(columns, count)
            lies = Laying(size, axis, columns, min(rows, ceil(count / columns)))
            if best is None or lies.high(count) < best.high(count) - _SPARE:
                best = lies
    return best or Laying(shape.size, 2)


_SPARE = 0.01
_AIRY = 1.08


def _ways(size: Spot, upright: bool) -> Iterator[tuple[Spot, int]]:
    a, b, c = size
    yield (a, b, c), 2
    yield (b, a, c), 2
    if not upright:
        yield from (((a, c, b), 1), ((b, c, a), 1), ((c, a, b), 0), ((c, b, a), 0))


def fits_role(supply: Supply, kinds: frozenset[str]) -> bool:
    """Whether it is of one of some kinds."""
    kind = supply_kind(supply)
    return kind is not None and kind.name in kinds


def goes_inside(supply: Supply) -> bool:
    """Whether it is a thing to put in or on something: no sheet, nothing that sticks, colours or ties."""
    kind = supply_kind(supply)
    if kind is None:
        return True
    return not (kind.sheet or kind.adhesive or kind.name in CORDS or kind.name in COLOURS or kind.name in _HOLDERS)


_HOLDERS = frozenset({"envelope", "bag", "box"})


def supplies_meant(recipe: Recipe, step: Step, doing: Doing) -> tuple[list[Supply], list[Supply]]:
    """What an act is done with, the one meant first: named with it, by `with:`, in the step's words; and the others."""
    spoken = [one.name.value for one in supplies_named(step, spoken_text(step.words), recipe.supplies)]
    names = dict.fromkeys((*doing.things, *(said.value for said in step.uses), *spoken))
    by_name = {supply.name.value: supply for supply in recipe.supplies}
    meant = [by_name[name] for name in names if name in by_name]
    return meant, [supply for supply in recipe.supplies if supply not in meant]
