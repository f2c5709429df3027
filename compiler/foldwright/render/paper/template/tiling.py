"""A piece too large for a page, on several: tiles that overlap, with marks to lay them on one another."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from math import ceil

from msgspec import Struct

from foldwright.render.drawing.pens import FINE_INK
from foldwright.render.paper.template.piece import Window

OVERLAP = 10.0
"""Millimetres two neighbouring tiles have in common: enough for a strip of tape, common practice, no source."""
MOST_TILES = 36
"""More than that nobody tapes together; a reasoned guess, no source."""
_CELL, _CELL_WITH_NAME, _NAME = 6.0, 4.4, 2.5
"""Millimetres of a cell of the small plan, below which there is no room for its name, and the size of that."""


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
    window: Window


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
    return _count(high, room_high), _count(wide, room_wide)


def _count(long: float, room: float) -> int:
    return max(1, ceil((long - OVERLAP) / (room - OVERLAP) - 1e-9))


def _tiles(rows: int, columns: int, wide: float, high: float, room_wide: float, room_high: float) -> Iterator[Tile]:
    for row in range(rows):
        for column in range(columns):
            left, top = column * (room_wide - OVERLAP), row * (room_high - OVERLAP)
            window = Window(left, top, min(room_wide, wide - left), min(room_high, high - top))
            yield Tile(f"{chr(ord('A') + row)}{column + 1}", row, column, window)


def marks_svg(tiling: Tiling, tile: Tile, margin: float) -> str:
    """What stands on a tile besides the piece: where it is cut, and crosses to be laid on its neighbours' crosses.

    A tile is cut along the dashed line at its right and lower neighbours' edge and laid on them cross on cross.
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
    dashed = f'<path fill="none" stroke="{FINE_INK}" stroke-width="0.15" stroke-dasharray="2 2" d="{"".join(lines)}"/>'
    return (dashed if lines else "") + f'<path fill="none" stroke="{FINE_INK}" stroke-width="0.2" d="{arms}"/>'


_SPOTS = (0.2, 0.8)


def map_svg(tiling: Tiling, title: str, highest: float) -> tuple[str, float, float]:
    """How all tiles lie together, each with its name, no higher than `highest` millimetres; and its size."""
    side = min(_CELL, (highest - 0.5) / tiling.rows)
    wide, high = tiling.columns * side + 0.5, tiling.rows * side + 0.5
    cells: list[str] = []
    for one in tiling.tiles:
        x, y = 0.25 + one.column * side, 0.25 + one.row * side
        cells.append(
            f'<rect x="{x:.2f}" y="{y:.2f}" width="{side:.2f}" height="{side:.2f}" fill="none" stroke="{FINE_INK}" '
            f'stroke-width="0.2"/>'
        )
        if side >= _CELL_WITH_NAME:
            spot = f'x="{x + side / 2:.2f}" y="{y + side / 2 + 0.85:.2f}"'
            cells.append(f'<text {spot} font-size="{_NAME}" text-anchor="middle" fill="{FINE_INK}">{one.name}</text>')
    size = f'width="{wide:.2f}mm" height="{high:.2f}mm" viewBox="0 0 {wide:.2f} {high:.2f}"'
    opening = f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" font-family="Foldwright Sans">'
    return f"{opening}<title>{escape(title, quote=False)}</title>{''.join(cells)}</svg>", wide, high
