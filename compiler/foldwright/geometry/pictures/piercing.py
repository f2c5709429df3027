"""A hole that is made when other work has been done: through what lies on the piece, or through the folded piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import opening_outline
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.space import Spot, plus, times
from foldwright.geometry.pictures.joining import Bench, panel_at
from foldwright.geometry.pictures.solid import faces_of, hides
from foldwright.geometry.pictures.standing import stood, turn_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Arrow, Face, LineKind, Point, Scene, Stress, Stroke, Tone, scene_of

_FROM = (0.34, 0.02)
"""From where to where an arrow comes to a hole, as a part of the blank's size."""
_STEPS = 4


def layers_on(bench: Bench, piece: str) -> tuple[Face, ...]:
    """What lies on the good side of a piece that lies flat, in the millimetres of its blank, the lowest first."""
    if piece not in bench.bendings:
        return ()
    shape = bench.bendings[piece].posed(0)
    above = sorted(
        (leaf for leaf in bench.sheets(piece, shape) if leaf.outline[0][2] > 0 and leaf.stuff is None),
        key=lambda leaf: leaf.outline[0][2],
    )
    return tuple(_face(leaf.outline, leaf.paper) for leaf in above)


def _face(outline: tuple[Spot, ...], paper: int) -> Face:
    ring = tuple((x, y) for x, y, _ in outline)
    return Face(ring, Tone.GOOD, edges=(Stroke(LineKind.CUT, ring, True, Stress.FAINT),), shade=1, paper=paper)


def piercing_scene(bench: Bench, blank: Blank, view: View) -> Scene:
    """The folded piece with its holes, their rims strong where they are seen, and an arrow to each."""
    bending, standing = bench.bendings[blank.piece], bench.stands(blank.piece)
    pose, turn = bending.posed(bench.state.of(blank.piece).folds), turn_of(standing)
    sheets = stood(bench.sheets(blank.piece, pose), standing)
    strokes: list[Stroke] = []
    arrows: list[Arrow] = []
    for panel, ring in _opened(bending.net, blank, bench.state.of(blank.piece).through > 0):
        middle = _middle(ring)
        spots = [turn(pose.place(panel, point)) for point in ring]
        spot, out = turn(pose.place(panel, middle)), turn(pose.normal(panel))
        if not view.sees(out) or any(hides(sheets, one, view) for one in spots):
            continue
        strokes.append(Stroke(LineKind.CUT, tuple(map(view.point, spots)), True, Stress.STRONG))
        reach = [_FROM[0] + (_FROM[1] - _FROM[0]) * step / _STEPS for step in range(_STEPS + 1)]
        size = bending.net.size
        arrows.append(Arrow(tuple(view.point(plus(spot, times(out, size * part))) for part in reach)))
    return scene_of(faces_of(sheets, view), strokes, arrows)


def _opened(net: Net, blank: Blank, through: bool) -> Iterator[tuple[int, Sequence[Point]]]:
    """Every opening with the panel it is in; of what was punched `through` all layers, in each of them."""
    if through:
        yield from ((number, ring) for number, panel in enumerate(net.panels) for ring in panel.openings)
        return
    for opening in blank.openings:
        ring = opening_outline(opening)
        panel = panel_at(net, _middle(ring))
        if panel is not None:
            yield panel, ring


def _middle(ring: Sequence[Point]) -> Point:
    return sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)
