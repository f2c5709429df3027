"""The finished thing: every layer in its place, the lid held over its tray, the drawer half out of its sleeve."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.geometry.pictures.composing import scene_of
from foldwright.geometry.pictures.joining import Bench, faces_of_groups
from foldwright.geometry.pictures.solid import Leaf, faces_of
from foldwright.geometry.pictures.standing import extent, moved, quarter_turned, rested
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Scene

_LIFTED = 0.6
"""How far a lid is held over the rim, as a part of the tray's height and its own together."""
_DRAWN_OUT = 0.5
"""How far a drawer is drawn out, as a part of its length."""


def joined_scene(bench: Bench, piece: str, view: View) -> Scene:
    """A piece with what lies on it, and what is coming held off."""
    return scene_of(faces_of_groups(bench.groups(piece), view))


def lidded_scene(bench: Bench, tray: str, lid: str, view: View) -> Scene:
    """The lid over its tray."""
    below, above = _on_table(bench, tray), _on_table(bench, lid)
    above = _turned_to_match(above, below)
    (_, _, low), (_, _, rim) = extent(below)
    high = extent(above)[1][2]
    above = moved(above, (0.0, 0.0, rim - low + _LIFTED * (rim - low + high) - high * 0.2))
    return scene_of((*faces_of(below, view), *faces_of(above, view)))


def drawn_out_scene(bench: Bench, drawer: str, sleeve: str, view: View) -> Scene:
    """The drawer half out of its sleeve, towards the viewer."""
    outer, inner = _on_table(bench, sleeve), _on_table(bench, drawer)
    wide = _size(outer)[0]
    across, deep = _size(inner)[:2]
    if across > wide and deep <= wide:
        inner, deep = quarter_turned(inner), across
    long = _size(outer)[1]
    inner = moved(inner, (0.0, -(long - deep) / 2 - _DRAWN_OUT * deep, (_size(outer)[2] - _size(inner)[2]) / 2))
    return scene_of(faces_of((*outer, *inner), view))


def _on_table(bench: Bench, piece: str) -> tuple[Leaf, ...]:
    return rested([sheet for group in bench.groups(piece) for sheet in group.sheets])


def _turned_to_match(above: Sequence[Leaf], below: Sequence[Leaf]) -> tuple[Leaf, ...]:
    """A quarter turned when its longer side runs the other way."""
    (wide, deep, _), (below_wide, below_deep, _) = _size(above), _size(below)
    return quarter_turned(above) if (wide - deep) * (below_wide - below_deep) < 0 else tuple(above)


def _size(sheets: Sequence[Leaf]) -> tuple[float, float, float]:
    low, high = extent(sheets)
    return high[0] - low[0], high[1] - low[1], high[2] - low[2]
