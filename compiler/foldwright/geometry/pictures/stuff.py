"""Supplies as things to draw: what shape a sweet or a bottle has, how wide a ribbon is, how things lie in a room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil

from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.binding import Cord
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.things import Box, Shape, solid_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Tone
from foldwright.measure.amounts import Dimension
from foldwright.recipe.model import Supply
from foldwright.recipe.needs import supply_kind
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


def shape_of(supply: Supply) -> Shape:
    """What one of a supply looks like."""
    kind = supply_kind(supply)
    said = supply.kind.value if supply.kind else ""
    words = {*plain_words(supply.name.value), *plain_words(said)}
    form = next((form for form, known in _WORDS.items() if not words.isdisjoint(known.split())), "box")
    lengths = [float(length.mm) for length in supply.size.value.lengths] if supply.size else []
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
    return Shape(form, size, Tone.FOOD if kind is not None and kind.food else Tone.THING)


_THIN = 0.5
_BARS = frozenset({"bar", "tea", "gum", "mint"})
_LONG_SWEET = 3.0


def shapes_of(supply: Supply) -> tuple[Shape, ...]:
    """As many as one making uses."""
    use = supply.use.value if supply.use else None
    count = int(use.number) if use is not None and use.dimension is Dimension.COUNT and use.number >= 1 else 1
    return (shape_of(supply),) * min(count, MOST_DRAWN)


def laid_in(shapes: Sequence[Shape], room: Box, upright: bool, view: View) -> tuple[Leaf, ...]:
    """Alike things in rows in a room, in as few layers as they go; what is too large stands in its middle."""
    if not shapes:
        return ()
    (x1, y1, z1), (x2, y2, _) = room
    wide, deep = x2 - x1, y2 - y1
    size, columns, rows = _rows(shapes[0].size, len(shapes), wide, deep, upright or shapes[0].kind != "box")
    layers = ceil(len(shapes) / (columns * rows))
    shape = Shape(shapes[0].kind, size, shapes[0].tone)
    leaves: list[Leaf] = []
    for number in range(len(shapes)):
        layer, left = divmod(number, columns * rows)
        here = min(len(shapes) - layer * columns * rows, columns * rows)
        row, column = divmod(left, columns)
        across, down = min(columns, here), ceil(here / columns)
        x = (x1 + x2) / 2 + (column - (across - 1) / 2) * wide / max(columns, 1) * _spread(size[0], wide, columns)
        y = (y1 + y2) / 2 + ((down - 1) / 2 - row) * deep / max(rows, 1) * _spread(size[1], deep, rows)
        leaves += solid_of(shape, (x, y, z1 + layer * size[2]), view)
    assert layers >= 1
    return tuple(leaves)


def _spread(size: float, room: float, count: int) -> float:
    """Things in a row lie close together, a little apart."""
    return min(1.0, size * 1.08 * count / room) if room > 0 else 1.0


def _rows(size: Spot, count: int, wide: float, deep: float, upright: bool) -> tuple[Spot, int, int]:
    """How they lie, and how many beside and behind one another: the way that needs the fewest layers."""
    best: tuple[float, Spot, int, int] | None = None
    for way in _ways(size, upright):
        columns, rows = int((wide + _SPARE) // way[0]), int((deep + _SPARE) // way[1])
        if columns and rows:
            columns = min(columns, count)
            rows = min(rows, ceil(count / columns))
            high = ceil(count / (columns * rows)) * way[2]
            if best is None or high < best[0] - _SPARE:
                best = high, way, columns, rows
    return best[1:] if best else (size, 1, 1)


_SPARE = 0.01


def _ways(size: Spot, upright: bool) -> Iterable[Spot]:
    a, b, c = size
    lying = () if upright else ((a, c, b), (c, a, b), (b, c, a), (c, b, a))
    return dict.fromkeys(((a, b, c), (b, a, c), *lying))


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


def named_first(supplies: Sequence[Supply], names: Sequence[str]) -> Iterator[Supply]:
    """The supplies in the order of some names, then the others."""
    by_name = {supply.name.value: supply for supply in supplies}
    chosen = [by_name[name] for name in dict.fromkeys(names) if name in by_name]
    yield from chosen
    yield from (supply for supply in supplies if supply not in chosen)
