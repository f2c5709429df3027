"""Pictures of a blank that lies flat: against the fence to be scored, its flaps being cut, its holes being punched.

What this step does is strong, what earlier ones did is faint, and only the lengths the step needs are shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, pi, sin

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, Sector
from foldwright.geometry.flat.lines import (
    CUT_FREE,
    drawn_points,
    lines_of,
    notch_outline,
    opening_outline,
    outline_of,
    waste_of,
)
from foldwright.geometry.flat.points import box_between
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.plan import flat_scene, running_lengths
from foldwright.geometry.pictures.state import PieceState
from foldwright.geometry.scene import Face, LineKind, Point, Scene, ShownLength, Stress, Stroke, Tone, scene_of

_MARK = 0.03
"""An arm of the mark for the point of the compasses, as a part of the radius."""
_STRAIGHT = 1e-3
"""Radians: an angle so near to half a turn is one."""
_FENCE = 0.05
"""How thick the fence is drawn, as a part of the blank's longer side; it reaches past the blank by as much."""
_FEW = 3
"""So many scores have a dimension line each; more are measured along one."""
_MOST_PLACES = 8
"""So many places are measured along one edge; more cannot be read in a picture of a step."""
_ROUNDED = 0.1
"""How far a corner is drawn rounded, as a part of the blank's shorter side."""
_STEPS = 12
DRAWN = frozenset({"line", "form"})
"""The sides that lines of a recipe and those a form brings are counted under (see `lines.LineSource`)."""


def scoring_scene(blank: Blank, side: str, now: PieceState, left_handed: bool, spoken: frozenset[LengthId]) -> Scene:
    """The blank with one edge along the fence (the top of the picture) and the next against the stop.

    The scores of `side` are strong and stand upright, as the blade of a trimmer does; what was done is faint. The
    stop is on the left, for left-handed people on the right. `spoken` are the lengths the words of the recipe name.
    """
    fence = _Fence(blank, side, left_handed, spoken)
    return scene_of(tuple(fence.faces(now)), tuple(fence.strokes(now)), (), tuple(fence.dimensions()))


class _Fence:
    def __init__(self, blank: Blank, side: str, left_handed: bool, spoken: frozenset[LengthId]) -> None:
        self.blank, self.left_handed, self.spoken = blank, left_handed, spoken
        self.side, self.strips, self.folds = blank.row(side == "across")
        self.wide, self.high = float(blank.width), float(blank.height)
        self.along, self.across = (self.wide, self.high) if side == "across" else (self.high, self.wide)
        self.thick = _FENCE * max(self.wide, self.high)

    def put(self, point: Point) -> Point:
        """From the blank to the trimmer: as it lies, or turned so that its top edge meets the stop."""
        x, y = point if self.side == "across" else (point[1], self.wide - point[0])
        return (self.along - x, self.across - y) if self.left_handed else (x, y)

    def faces(self, now: PieceState) -> Iterator[Face]:
        yield Face(tuple(map(self.put, _outline(self.blank, now).points)), Tone.GOOD)
        if now.opened:
            for opening in self.blank.openings:
                yield Face(tuple(map(self.put, opening_outline(opening))), Tone.HOLE)
        thick, along = self.thick, self.along
        edge = (Stroke(LineKind.CUT, ((-3 * thick, 0.0), (along + 3 * thick, 0.0))),)
        yield Face(box_between(-3 * thick, -thick, along + 3 * thick, 0.0), Tone.TOOL, edges=edge)
        left, right = (along, along + thick) if self.left_handed else (-thick, 0.0)
        yield Face(box_between(left, 0.0, right, 2.2 * thick), Tone.TOOL)

    def strokes(self, now: PieceState) -> Iterator[Stroke]:
        """A score runs from edge to edge, also where the paper is cut free along it later."""
        for line in lines_of(self.blank):
            if line.source.side != self.side and line.source.side in now.scored:
                yield Stroke(LineKind.CREASE, tuple(map(self.put, line.points)), emphasis=Stress.FAINT)
        for strip, kind in zip(self.strips[:-1], self.folds, strict=True):
            at = self.along - float(strip.end) if self.left_handed else float(strip.end)
            yield Stroke(LineKind(kind), ((at, 0.0), (at, self.across)), emphasis=Stress.STRONG)
        yield Stroke(LineKind.CUT, tuple(map(self.put, _outline(self.blank, now).points)), True)

    def dimensions(self) -> Iterator[ShownLength]:
        """What the stop is set to for every score, below the blank. Two that are as far from either end are shown so,
        for then the stop is set once and the blank turned; unless the words count both from one end."""
        piece, count = self.blank.piece, len(self.strips) - 1
        alike = count == 2 and self.strips[0].long == self.strips[-1].long
        mirrored = alike and LengthId(piece, self.side, "score", 2) not in self.spoken
        if rhythm := self.blank.rhythm(self.side):
            for strip, panel in zip(self.strips, rhythm, strict=False):
                yield self._shown(panel, float(strip.start), float(strip.end), rhythm=True)
            yield self._shown(LengthId(piece, self.side, "score", count), 0.0, float(self.strips[-1].start))
            return
        for number in range(1, count + 1):
            at = float(self.strips[number - 1].end)
            back = mirrored and number == 2
            low, high = (at, self.along) if back else (0.0, at)
            length = LengthId(piece, self.side, "score back" if back else "score", number)
            yield self._shown(length, low, high, running=count > _FEW)

    def _shown(
        self, length: LengthId, start: float, end: float, running: bool = False, rhythm: bool = False
    ) -> ShownLength:
        """Below the blank; for left-handed people counted from the right."""
        if self.left_handed:
            start, end = (self.along - start, self.along - end) if running else (self.along - end, self.along - start)
        return ShownLength(
            length, (start, self.across), (end, self.across), "bottom", 0, running=running, rhythm=rhythm
        )


# --- with scissors, knife and punch -----------------------------------------------------------------------------------


def slitting_scene(blank: Blank, now: PieceState) -> Scene:
    """Corner flaps cut free, what is snipped off them (or the corners that go) hatched; one cut and snip measured."""
    strokes = (*_folds(blank, now), _outline(blank, now), *_strong_cuts(blank))
    waste = [Face(corner, Tone.WASTE) for corner in waste_of(blank)]
    return scene_of((*_sheet(blank, now), *waste), strokes, (), tuple(_flap_lengths(blank)))


def _strong_cuts(blank: Blank) -> Iterator[Stroke]:
    for line in lines_of(blank):
        if line.kind == "cut" and line.source == CUT_FREE:
            yield Stroke(LineKind.CUT, line.points, emphasis=Stress.STRONG)
    for corner in waste_of(blank):
        yield Stroke(LineKind.CUT, corner, True, Stress.STRONG if blank.corners_removed else Stress.FAINT)


def _flap_lengths(blank: Blank) -> Iterator[ShownLength]:
    """How long the cut is, beside the flap at the top left, and how much is snipped off it."""
    if not blank.flap_cuts:
        return
    across, down = blank.across[0], blank.down[0]
    wide, high, trim = float(blank.width), float(blank.height), float(blank.flap_trimmed)
    if blank.flap_side == "down":
        yield ShownLength(across.length, (0.0, high), (float(across.end), high), "bottom", 0)
        end, side = (trim, 0.0), "top"
    else:
        yield ShownLength(down.length, (wide, 0.0), (wide, float(down.end)), "right", 0)
        end, side = (0.0, trim), "left"
    if blank.flap_trim:
        yield ShownLength(blank.flap_trim, (0.0, 0.0), end, side, 1)


def punching_scene(blank: Blank, now: PieceState, layers: Sequence[Face] = ()) -> Scene:
    """Holes, slots and windows strong, with their sizes and places; all else faint. `layers` lie on the blank."""
    faces = (*_sheet(blank, now), *layers, *(Face(opening_outline(one), Tone.HOLE) for one in blank.openings))
    strokes = (*_folds(blank, now), _outline(blank, now), *_openings(blank))
    plan = flat_scene(blank)
    lengths = [one for one in plan.dimensions if one.length.side == "hole"]
    return replace(scene_of(faces, strokes, (), (*lengths, *_slit_places(blank))), callouts=plan.callouts)


def _slit_places(blank: Blank) -> Iterator[ShownLength]:
    """How far the ends of the cuts of its `lines` lie from its left and its top edge; nothing where they are many."""
    drawn = [line for line in blank.drawn if line.kind == "cut" and line.number and not line.doubtful]
    # The copies of a line that is mirrored have its number, and other places: its own come first.
    cuts = {line.number: line for line in reversed(drawn)}.values()
    for axis, side in enumerate(("across", "down")):
        places: dict[float, LengthId] = {}
        for line in cuts:
            for at, point in enumerate(line.points, 1):
                name = LengthId(blank.piece, "line", side, line.number, f"point {at}")
                places.setdefault(round(float(point[axis]), 1), name)
        whole = float((blank.width, blank.height)[axis])
        marks = sorted((at, name) for at, name in places.items() if 0 < at < whole)
        for mark, name in marks if len(marks) <= _MOST_PLACES else ():
            end = (mark, 0.0) if side == "across" else (0.0, mark)
            yield ShownLength(name, (0.0, 0.0), end, "top" if side == "across" else "left", 2, running=True)


def _openings(blank: Blank) -> Iterator[Stroke]:
    """What is opened in a blank, and the marks its middle is measured to."""
    for opening in blank.openings:
        yield Stroke(LineKind.CUT, opening_outline(opening), True, Stress.STRONG)
    for notch in blank.notches:
        yield Stroke(LineKind.CUT, notch_outline(notch), emphasis=Stress.STRONG)
    for line in lines_of(blank):
        if line.kind == "cut" and line.source.side == "line":
            yield Stroke(LineKind.CUT, line.points, emphasis=Stress.STRONG)
    yield from (stroke for stroke in flat_scene(blank).strokes if stroke.kind is LineKind.CENTRE)


def rounding_scene(blank: Blank, now: PieceState) -> Scene:
    """The four corners of a blank, where each is rounded: how much nobody has told us."""
    wide, high = float(blank.width), float(blank.height)
    reach = _ROUNDED * min(wide, high)
    arcs = []
    for x, inward in ((0.0, 1.0), (wide, -1.0)):
        for y, down in ((0.0, 1.0), (high, -1.0)):
            turns = [pi / 2 * step / _STEPS for step in range(_STEPS + 1)]
            arc = tuple((x + inward * reach * (1 - sin(t)), y + down * reach * (1 - cos(t))) for t in turns)
            arcs.append(Stroke(LineKind.CUT, arc, emphasis=Stress.STRONG))
    return scene_of(tuple(_sheet(blank, now)), (*_folds(blank, now), _outline(blank, now), *arcs))


def cutting_scene(blank: Blank, now: PieceState) -> Scene:
    """The blank being cut out, before anything is scored; what is open in it where that is cut with it."""
    wide, high = float(blank.width), float(blank.height)
    size: tuple[ShownLength, ...] = (
        ShownLength(LengthId(blank.piece, "across", "size"), (0.0, high), (wide, high), "bottom", 0),
        ShownLength(LengthId(blank.piece, "down", "size"), (wide, 0.0), (wide, high), "right", 0),
    )
    outline = outline_of(blank, now.opened)
    rims = (*_form_cuts(blank, Stress.STRONG), *(_openings(blank) if now.opened else ()))
    holes = (Face(opening_outline(one), Tone.HOLE) for one in blank.openings if now.opened)
    rim = Stroke(LineKind.CUT, outline, True, Stress.STRONG)
    glue = (Face(drawn_points(line), Tone.GLUE) for line in blank.drawn if blank.bends and line.kind == "glue area")
    strokes: tuple[Stroke, ...] = (rim, *rims)
    if blank.sector is not None:
        strokes, size = (*strokes, *_compasses(blank.sector)), tuple(_sector_lengths(blank, blank.sector))
    scene = scene_of((Face(outline, Tone.GOOD), *glue, *holes), strokes, (), size[:1] if blank.round else size)
    return replace(scene, callouts=flat_scene(blank).callouts) if now.opened else scene


def _compasses(sector: Sector) -> Iterator[Stroke]:
    """Where the point of the compasses stands, and what leads to it where there is no paper."""
    x, y = sector.point
    arm = _MARK * sector.radius
    yield Stroke(LineKind.CENTRE, ((x - arm, y), (x + arm, y)))
    yield Stroke(LineKind.CENTRE, ((x, y - arm), (x, y + arm)))
    for turned in (0.0, sector.angle) if sector.inner else ():
        yield Stroke(LineKind.GUIDE, (sector.point, sector.place(turned, sector.inner)))


def _sector_lengths(blank: Blank, sector: Sector) -> Iterator[ShownLength]:
    """Its radii from the point down, and how far the ends of its arc are apart."""
    (x, y), radius, piece = sector.point, sector.radius, blank.piece
    one, other = sector.place(0.0, radius), sector.place(sector.angle, radius)
    yield ShownLength(LengthId(piece, "sector", "radius"), (x, y), (x, y + radius), "right", 0)
    if sector.inner:
        yield ShownLength(LengthId(piece, "sector", "inner"), (x, y), (x, y + sector.inner), "left", 0)
    if abs(sector.angle - pi) > _STRAIGHT:
        yield ShownLength(LengthId(piece, "sector", "chord"), (other[0], other[1]), (one[0], one[1]), "bottom", 0)


def drawn_scores_scene(blank: Blank, now: PieceState) -> Scene:
    """Folds that lie anywhere on the blank, as its author or its form draws them: strong, all else faint."""
    drawn = [line for line in lines_of(blank) if line.folds and line.source.side in DRAWN]
    folds = (Stroke(LineKind(line.kind), line.points, emphasis=Stress.STRONG) for line in drawn)
    strokes = (
        *_folds(blank, replace(now, scored=now.scored - DRAWN)),
        _outline(blank, now),
        *_form_cuts(blank, Stress.FAINT),
        *folds,
    )
    return scene_of(tuple(_sheet(blank, now)), strokes, (), tuple(running_lengths(blank)))


def _form_cuts(blank: Blank, emphasis: Stress) -> Iterator[Stroke]:
    """The cuts a form brings belong to its outline."""
    cuts = (line for line in lines_of(blank) if line.kind == "cut" and line.source.side == "form")
    yield from (Stroke(LineKind.CUT, line.points, emphasis=emphasis) for line in cuts)


def _sheet(blank: Blank, now: PieceState) -> Iterator[Face]:
    yield Face(_outline(blank, now).points, Tone.GOOD)
    if now.opened:
        for opening in blank.openings:
            rim = Stroke(LineKind.CUT, opening_outline(opening), True, Stress.FAINT)
            yield Face(rim.points, Tone.HOLE, edges=(rim,))


def _folds(blank: Blank, now: PieceState) -> Iterator[Stroke]:
    for line in lines_of(blank):
        if line.folds and line.source.side in now.scored:
            yield Stroke(LineKind.CREASE, line.points, emphasis=Stress.FAINT)
        elif line.kind == "cut" and (now.opened if line.source.side == "line" else now.freed):
            yield Stroke(LineKind.CUT, line.points, emphasis=Stress.FAINT)


def _outline(blank: Blank, now: PieceState) -> Stroke:
    """The edge of the blank, its corners gone or trimmed when they are."""
    outline = outline_of(blank, now.opened)
    waste = tuple(waste_of(blank)) if now.freed else ()
    return Stroke(LineKind.CUT, _without(outline, waste) if waste else outline, True)


def _without(outline: tuple[Point, ...], waste: Sequence[tuple[Point, ...]]) -> tuple[Point, ...]:
    from shapely import union_all
    from shapely.geometry import Polygon

    left = Polygon(outline).difference(union_all([Polygon(one) for one in waste]))
    return tuple((x, y) for x, y in left.exterior.coords[:-1]) if left.geom_type == "Polygon" else outline
