"""What of a flat plan can be picked up: panels, flaps, holes, lines, sides, lengths with a dimension of their own.

Each is known by the identities of what it is and of the lengths it has.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import drawn_points, notch_outline, opening_outline, outline_of
from foldwright.geometry.flat.points import box_between
from foldwright.geometry.folding.net import Net, Panel
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Pick, Point, Scene, ShownLength

_MIDDLE = 1
"""Of three panels either way, whose corners are flaps."""


def with_picks(scene: Scene, blank: Blank, net: Net | None) -> Scene:
    """The flat plan of a blank with its parts; `net` has the panels of one that folds."""
    panels = list(_panels(blank, net))
    panels = [_outline(blank, inside=not panels), *panels]
    known = {pick.parts[0] for pick in panels}
    sides = [_measured(one, scene) for one in scene.dimensions if one.length not in known]
    # What lies on what comes last, so that a pointer finds it.
    return replace(scene, picks=(*panels, *sides, *_holes(blank), *_lines(blank)))


def _outline(blank: Blank, inside: bool) -> Pick:
    rings = (outline_of(blank), *(tuple((float(x), float(y)) for x, y in ring) for ring in blank.inner))
    sizes = (LengthId(blank.piece, side, "size") for side in ("across", "down"))
    return Pick(
        (LengthId(blank.piece, "outline", ""), *sizes), tuple((*ring, ring[0]) for ring in rings), False, inside
    )


# --- panels ---------------------------------------------------------------------------------------------------------


def _panels(blank: Blank, net: Net | None) -> Iterator[Pick]:
    """Those of the net; of what does not fold or is curved, its strips, or the faces that have names. A plain
    sheet has none: it is its outline."""
    if net and not net.curved:
        for number, panel in enumerate(net.panels, 1):
            yield Pick(_of_panel(blank, panel, number), (panel.outline, *panel.openings), name=panel.name)
        return
    for face in blank.faces:
        box = box_between(*map(float, (face.left, face.top, face.right, face.bottom)))
        yield Pick((face.across, face.down), (box,), name=face.name)
    side, strips, _ = blank.row(len(blank.across) > 1)
    if len(strips) > 1:
        for strip in strips:
            start, end, wide, high = map(float, (strip.start, strip.end, blank.width, blank.height))
            box = box_between(start, 0.0, end, high) if side == "across" else box_between(0.0, start, wide, end)
            yield Pick((strip.length,), (box,), name=strip.name)


def _of_panel(blank: Blank, panel: Panel, number: int) -> tuple[LengthId, ...]:
    """A panel of a row is its own length; where rows cross, walls are the one that makes them high, corners are
    flaps."""
    across = blank.across[panel.column].length if panel.column is not None and len(blank.across) > 1 else None
    down = blank.down[panel.row].length if panel.row is not None and len(blank.down) > 1 else None
    if blank.boxed and across and down:
        if _MIDDLE not in (panel.column, panel.row):
            return LengthId(blank.piece, "flap", "length"), LengthId(blank.piece, "flap", "trim")
        if panel.column != _MIDDLE:
            return (across,)
        return (across, down) if panel.row == _MIDDLE else (down,)
    if across or down:
        return tuple(one for one in (across, down) if one)
    x, y = _middle(panel.outline)
    for face in blank.faces:
        if face.left <= x <= face.right and face.top <= y <= face.bottom:
            return face.across, face.down
    return (LengthId(blank.piece, "panel", "", number),)


def _middle(ring: Sequence[Point]) -> Point:
    """The middle of the box round it."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


# --- holes, lines, lengths ------------------------------------------------------------------------------------------


def _holes(blank: Blank) -> Iterator[Pick]:
    for opening in blank.openings:
        yield Pick(_of_hole(opening.sizes), (opening_outline(opening),))
    for notch in blank.notches:
        yield Pick(_of_hole(notch.sizes), (notch_outline(notch),))
    lines = {line.number: line for line in blank.drawn}
    for slots in blank.slots:
        ways = tuple(drawn_points(lines[number]) for number in slots.lines)
        yield Pick(_of_hole(slots.sizes), ways, closed=False)


def _of_hole(sizes: tuple[LengthId, ...]) -> tuple[LengthId, ...]:
    """The hole, then its sizes."""
    first = sizes[0]
    return (LengthId(first.piece, "hole", "", first.number), *sizes) if first.side == "hole" else sizes


def _lines(blank: Blank) -> Iterator[Pick]:
    """What is drawn with `lines`, and by an outline's file; the folds of a form are nobody's number."""
    slots = {number for one in blank.slots for number in one.lines}
    numbers = dict.fromkeys(line.number for line in blank.drawn if line.number and line.number not in slots)
    for number in numbers:
        drawn = [line for line in blank.drawn if line.number == number]
        area = all(line.kind == "glue area" for line in drawn)
        yield Pick((LengthId(blank.piece, "line", "", number),), tuple(map(drawn_points, drawn)), closed=area)


def _measured(shown: ShownLength, scene: Scene) -> Pick:
    """From one end to the other, straight along its side, where it is measured: at the hole, else at the edge."""
    (x1, y1), (x2, y2) = shown.start, shown.end
    if shown.side in ("left", "right"):
        x = max(x1, x2, key=lambda at: min(at, scene.width - at))
        return Pick((shown.length,), (((x, y1), (x, y2)),), closed=False)
    y = max(y1, y2, key=lambda at: min(at, scene.height - at))
    return Pick((shown.length,), (((x1, y), (x2, y)),), closed=False)
