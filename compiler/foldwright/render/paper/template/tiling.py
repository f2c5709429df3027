"""Pieces on pages: as few as a simple rule finds, the tallest piece first, each as high and as far left as it goes.

A piece too large for a page goes on several: tiles that overlap, with marks to lay them on one another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from math import ceil

from msgspec import Struct

from foldwright.render.drawing.pens import FINE, FINE_INK
from foldwright.render.paper.arranging import PlacedArea

OVERLAP = 10.0
"""Millimetres two neighbouring tiles have in common: enough for a strip of tape, common practice, no source."""
MOST_TILES = 36
"""More than that nobody tapes together; a reasoned guess, no source."""
_CELL, _CELL_WITH_NAME, _NAME = 6.0, 4.4, 2.5
"""Millimetres of a cell of the small plan, below which there is no room for its name, and the size of that."""
_EDGE_INK = "#9a9a9a"
"""Grey: no line of the piece is."""
_SPOTS = (0.2, 0.8)
"""Where crosses stand along an edge, as parts of it."""


class Tiling(Struct, frozen=True):
    """`rows` by `columns` windows on a piece, `turned` a quarter if that takes fewer; named A1, A2, B1 and so on."""

    rows: int
    columns: int
    turned: bool
    tiles: tuple[Tile, ...]


class Tile(Struct, frozen=True):
    """One page of a piece that is larger than the paper: its name on the plan, and what it shows."""

    name: str
    row: int
    column: int
    window: PlacedArea


def tiled(wide: float, high: float, room_wide: float, room_high: float) -> Tiling | None:
    """The way that takes fewer pages; None when even that takes more than anybody would tape together."""
    upright, lying = _counts(wide, high, room_wide, room_high), _counts(high, wide, room_wide, room_high)
    turned = lying[0] * lying[1] < upright[0] * upright[1]
    rows, columns = lying if turned else upright
    if rows * columns > MOST_TILES:
        return None
    if turned:
        wide, high = high, wide
    return Tiling(rows, columns, turned, tuple(_tiles(rows, columns, wide, high, room_wide, room_high)))


def _counts(wide: float, high: float, room_wide: float, room_high: float) -> tuple[int, int]:
    """How many rows and columns a piece takes."""
    rows, columns = (high - OVERLAP) / (room_high - OVERLAP), (wide - OVERLAP) / (room_wide - OVERLAP)
    return max(1, ceil(rows - 1e-9)), max(1, ceil(columns - 1e-9))


def _tiles(rows: int, columns: int, wide: float, high: float, room_wide: float, room_high: float) -> Iterator[Tile]:
    for row in range(rows):
        for column in range(columns):
            left, top = column * (room_wide - OVERLAP), row * (room_high - OVERLAP)
            window = PlacedArea(left, top, min(room_wide, wide - left), min(room_high, high - top))
            yield Tile(f"{chr(ord('A') + row)}{column + 1}", row, column, window)


def inner_part(tiling: Tiling, tile: Tile) -> PlacedArea:
    """What a tile shows without the strips that it shares with its neighbours."""
    window = tile.window
    left = OVERLAP if tile.column > 0 else 0.0
    top = OVERLAP if tile.row > 0 else 0.0
    right = OVERLAP if tile.column < tiling.columns - 1 else 0.0
    bottom = OVERLAP if tile.row < tiling.rows - 1 else 0.0
    wide, high = max(window.width - left - right, 0.0), max(window.height - top - bottom, 0.0)
    return PlacedArea(window.left + left, window.top + top, wide, high)


def marks_svg(tiling: Tiling, tile: Tile, margin: float) -> str:
    """What stands on a tile besides the piece: where it is cut, and crosses to be laid on its neighbours' crosses.

    A tile is cut along the thin line at its right and lower neighbours' edge and laid on them cross on cross. The line
    is no dashed one: on the same page dashes are folds.
    """
    wide, high = tile.window.width, tile.window.height
    lines: list[str] = []
    crosses: list[tuple[float, float]] = []
    half = OVERLAP / 2
    if tile.column > 0:
        crosses += [(half, high * part) for part in _SPOTS]
    if tile.column < tiling.columns - 1:
        crosses += [(wide - half, high * part) for part in _SPOTS]
        lines.append(f"M{margin + wide - OVERLAP:.3f} {margin}v{high:.3f}")
    if tile.row > 0:
        crosses += [(wide * part, half) for part in _SPOTS]
    if tile.row < tiling.rows - 1:
        crosses += [(wide * part, high - half) for part in _SPOTS]
        lines.append(f"M{margin} {margin + high - OVERLAP:.3f}h{wide:.3f}")
    arms = "".join(f"M{margin + x - 2:.3f} {margin + y:.3f}h4m-2 -2v4" for x, y in crosses)
    thin = f'<path fill="none" stroke="{_EDGE_INK}" stroke-width="{FINE}" d="{"".join(lines)}"/>'
    return (thin if lines else "") + f'<path fill="none" stroke="{FINE_INK}" stroke-width="{FINE}" d="{arms}"/>'


def map_svg(tiling: Tiling, title: str, highest: float) -> tuple[str, float, float]:
    """How all tiles lie together, each with its name, no higher than `highest` millimetres; and its size."""
    side = min(_CELL, (highest - 0.5) / tiling.rows)
    wide, high = tiling.columns * side + 0.5, tiling.rows * side + 0.5
    cells: list[str] = []
    for one in tiling.tiles:
        x, y = 0.25 + one.column * side, 0.25 + one.row * side
        cells.append(
            f'<rect x="{x:.2f}" y="{y:.2f}" width="{side:.2f}" height="{side:.2f}" fill="none" stroke="{FINE_INK}" '
            f'stroke-width="{FINE}"/>'
        )
        if side >= _CELL_WITH_NAME:
            spot = f'x="{x + side / 2:.2f}" y="{y + side / 2 + 0.85:.2f}"'
            cells.append(f'<text {spot} font-size="{_NAME}" text-anchor="middle" fill="{FINE_INK}">{one.name}</text>')
    size = f'width="{wide:.2f}mm" height="{high:.2f}mm" viewBox="0 0 {wide:.2f} {high:.2f}"'
    opening = f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" font-family="Foldwright Sans">'
    return f"{opening}<title>{escape(title, quote=False)}</title>{''.join(cells)}</svg>", wide, high


class Want(Struct, frozen=True):
    """Room in millimetres for something as it is and, if it may lie on its side, turned (its words stay below it)."""

    upright: tuple[float, float]
    turned: tuple[float, float] | None = None


class TemplatePlace(Struct, frozen=True):
    """Where a piece lies: its page, and millimetres from the left and top of the room there."""

    page: int
    left: float
    top: float
    turned: bool


type _Free = tuple[float, float, float, float]
"""A rectangle nothing lies in: left, top, right, bottom."""


def pack(wants: Sequence[Want], wide: float, high: float, gap: float) -> list[TemplatePlace | None]:
    """A place for each, in the same order, on pages of this size; None for what fits on none.

    `gap` parts neighbours.
    """
    pages: list[list[_Free]] = []
    places: list[TemplatePlace | None] = [None] * len(wants)
    order = sorted(range(len(wants)), key=lambda number: (-max(wants[number].upright), number))
    for number in order:
        want = wants[number]
        for page, free in enumerate(pages):
            place = _into(want, page, free, gap)
            if place:
                places[number] = place
                break
        else:
            free = [(0.0, 0.0, wide + gap, high + gap)]
            place = _into(want, len(pages), free, gap)
            if place:
                pages.append(free)
                places[number] = place
    return places


def _into(want: Want, page: int, free: list[_Free], gap: float) -> TemplatePlace | None:
    """The highest place on a page, then the leftmost; as it is rather than turned. Takes the room from `free`."""
    found: list[tuple[float, float, bool, float, float]] = []
    for turned, size in ((False, want.upright), (True, want.turned)):
        if size is None:
            continue
        wide, high = size[0] + gap, size[1] + gap
        for left, top, right, bottom in free:
            if right - left >= wide - 1e-9 and bottom - top >= high - 1e-9:
                found.append((top, left, turned, wide, high))
    if not found:
        return None
    top, left, turned, wide, high = min(found)
    _take((left, top, left + wide, top + high), free)
    return TemplatePlace(page, left, top, turned)


def _take(taken: _Free, free: list[_Free]) -> None:
    """Every free rectangle keeps what is left of it on each side; those inside another are dropped."""
    rest: list[_Free] = []
    left, top, right, bottom = taken
    for one in free:
        x1, y1, x2, y2 = one
        if right <= x1 or left >= x2 or bottom <= y1 or top >= y2:
            rest.append(one)
            continue
        rest += [(x1, y1, left, y2)] if left > x1 else []
        rest += [(right, y1, x2, y2)] if right < x2 else []
        rest += [(x1, y1, x2, top)] if top > y1 else []
        rest += [(x1, bottom, x2, y2)] if bottom < y2 else []
    distinct = list(dict.fromkeys(rest))
    free[:] = [one for one in distinct if not any(_inside(one, other) for other in distinct if other != one)]


def _inside(one: _Free, other: _Free) -> bool:
    return other[0] <= one[0] and other[1] <= one[1] and other[2] >= one[2] and other[3] >= one[3]
