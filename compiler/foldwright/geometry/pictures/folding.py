"""Pictures of a piece being folded: one group of folds at a time part of the way, an arrow on each panel that moves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from math import hypot

from msgspec import Struct

from foldwright.geometry.folding.folded import Folded, Hinge
from foldwright.geometry.folding.layering import FLATTEST
from foldwright.geometry.folding.meeting import area_of
from foldwright.geometry.folding.net import Crease
from foldwright.geometry.folding.space import Spot, distance, hinged
from foldwright.geometry.pictures.bending import PART_WAY, Bending, standing_of
from foldwright.geometry.pictures.curling import moving_ends, shutting
from foldwright.geometry.pictures.inking import inked
from foldwright.geometry.pictures.joining import Bench
from foldwright.geometry.pictures.solid import Leaf, faces_in_order, faces_of, hides
from foldwright.geometry.pictures.standing import Standing, stood, turn_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Arrow, Caption, Face, Point, Scene, scene_of, scenes_of

_SWEEP = 0.42
"""How much of the way an arrow shows: for a wall the part behind it, for a leaf the part before it."""
_BEYOND = 1.16
"""An arrow runs past the far edge by so much of the panel, outside, where nothing is in its way."""
_STEPS = 7
_SHUT = 0.9
"""How much of the way to being shut an arrow leads."""
_PLAIN_TO_SEE = 0.12
"""How long an arrow has to be, as a part of the picture: a shorter one, seen from its end, only clutters."""
_LEVEL = 1e-6
_MOST = 5
"""Pictures of one piece being folded in one step."""
_ALIKE = 0.1
"""As a part of the larger: flaps whose areas differ by less may be shown in one picture, one after the other."""
_STIRS = 0.01
"""As a part of the blank: what moves less is not seen to."""
_MIDDLE = 0.5
"""As a part of its size: the box round the middle of a panel that its number stands in."""
_ASIDE = 0.2
"""How far to one side of its middle a panel's number stands, as a part of its fold."""
STAGES = 9
"""From flat to folded: a single fold moves by some eleven degrees, or twice that for leaves, from one to the next."""


type _Way = tuple[Spot, ...]
type _Number = tuple[str, Spot, float]
"""What stands on a panel, where, and how much room there is."""


class Shot(Struct, frozen=True):
    """One picture of folding: the groups from `start` to before `end` are on their way."""

    start: int
    end: int


def shots_of(bending: Bending, start: int, end: int) -> tuple[Shot, ...]:
    """A picture for every group, but one for flaps alike at one end, and for neighbours where there are too many."""
    shots: list[Shot] = []
    for place in range(start, end):
        if shots and shots[-1].end == place and _go_together(bending, shots[-1].start, place):
            shots[-1] = Shot(shots[-1].start, place + 1)
        else:
            shots.append(Shot(place, place + 1))
    while len(shots) > _MOST:
        ends = bending.order.ends
        pairs = [at for at in range(len(shots) - 1) if ends[shots[at].start] == ends[shots[at + 1].start]] or [0]
        shots[pairs[0] : pairs[0] + 2] = [Shot(shots[pairs[0]].start, shots[pairs[0] + 1].end)]
    return tuple(shot for shot in shots if bending.net.curved or _moves(bending, shot)) or tuple(shots[-1:])


def _moves(bending: Bending, shot: Shot) -> bool:
    """Whether anything is seen to move."""
    before, after = bending.posed(shot.start), bending.posed(shot.end)
    least = _STIRS * bending.net.size
    return any(
        distance(one, other) > least
        for number, _ in before.panels
        for one, other in zip(before.corners(number), after.corners(number), strict=True)
    )


def _go_together(bending: Bending, one: int, other: int) -> bool:
    """Whether the flaps of two groups are alike, at one end of a box and not shut by a tuck."""
    if not bending.order.ends[one] or bending.order.ends[one] != bending.order.ends[other]:
        return False
    groups = bending.order.groups
    areas = [_moved_area(bending, place) for place in (one, other)]
    alike = abs(areas[0] - areas[1]) <= _ALIKE * max(areas)
    return alike and len(groups[one]) == len(groups[other]) == 1


def _moved_area(bending: Bending, place: int) -> float:
    return max(
        (area_of(bending.net.panels[hinge.hung].outline) for hinge in bending.leading(place, place + 1)), default=0.0
    )


def folding_scene(bench: Bench, piece: str, shot: Shot, glued: bool, view: View) -> Scene:
    """The groups of a shot part of the way; where glue goes is hatched if it is put on now.

    Of a piece with more groups than one, each panel that moves has the number of its group.
    """
    bending = bench.bendings[piece]
    standing = shot_standing(bending, shot)
    part = bending.part_way(shot.start, shot.end)
    pose = bending.posed(shot.start, shot.end, part)
    sheets = inked(stood(bench.sheets(piece, pose, glued), standing), bench.state.added)
    return drawn_folding(
        sheets, tuple(_ways(bending, shot, pose, part, standing)), tuple(_numbers(bending, shot, pose, standing)), view
    )


@lru_cache(maxsize=256)
def drawn_folding(
    sheets: tuple[Leaf, ...],
    ways: tuple[tuple[Spot, ...], ...],
    numbers: tuple[tuple[str, Spot, float], ...],
    view: View,
) -> Scene:
    """Kept by content, as all that is folded for a picture: a piece nobody has changed is drawn once."""
    faces = faces_of(sheets, view)
    arrows = [_arrow(way, sheets, view) for way in ways]
    captions = [
        Caption(text, view.point(spot), size, size, True)
        for text, spot, size in numbers
        if not hides(sheets, spot, view)
    ]
    return scene_of(faces, (), _seen(arrows, faces), (), captions)


def shot_standing(bending: Bending, shot: Shot) -> Standing:
    """How the piece stands while a shot is folded."""
    return standing_of(bending, made=False, end=bending.order.ends[shot.start])


def made_scene(bench: Bench, piece: str, view: View) -> Scene:
    """The piece as it is by now, as it stands."""
    bending = bench.bendings[piece]
    sheets = bench.sheets(piece, bending.posed(bench.state.of(piece).folds))
    return scene_of(faces_of(inked(stood(sheets, bench.stands(piece)), bench.state.added), view))


def motion_of(bench: Bench, piece: str, start: int, end: int, view: View) -> tuple[Scene, ...]:
    """Stages of a fold in order. All have the same size and stand on the same spot; none is torn."""
    bending = bench.bendings[piece]
    standing = standing_of(bending, made=False, end="upper")
    steps = max(STAGES - 1, 3 * (end - start))
    poses: list[Folded] = []
    for step in range(steps + 1):
        reached = start + (end - start) * step / steps
        place = min(int(reached), end - 1)
        pose = bending.posed(place, place + 1, reached - place)
        poses.append(pose if bending.holds(pose) else bending.posed(place))
    kept = [bench.sheets(piece, pose) for pose in poses]
    return scenes_of([faces_in_order(stood(one, standing), view) for one in kept])


def _ways(bending: Bending, shot: Shot, pose: Folded, part: float, standing: Standing) -> Iterator[tuple[Spot, ...]]:
    """The way of the far edge of every panel a hand takes hold of."""
    if bending.net.curved:
        yield from _ways_of_ends(bending, shot, part, turn_of(standing))
        return
    turn = turn_of(standing)
    for hinge in _held(bending, shot):
        at = bending.number_of(hinge)
        angle, held = bending.order.angles[at], pose.poses[hinge.held]
        if held is None:
            continue
        flat = abs(angle) >= FLATTEST
        start = part if flat else max(0.0, (part or PART_WAY) + 0.04 - _SWEEP)
        tip = _beyond(bending.net.panels[hinge.hung].outline, hinge.crease, 1.0 if flat else _BEYOND)
        parts = [start + _SWEEP * step / _STEPS for step in range(_STEPS + 1)]
        swung = (hinged(held, hinge.start, hinge.end, angle * min(one, 1.0)) for one in parts)
        yield tuple(turn(one.place(tip)) for one in swung)


def _ways_of_ends(bending: Bending, shot: Shot, part: float, turn: Callable[[Spot], Spot]) -> Iterator[_Way]:
    """Of paper that is bent: the way of its ends, up to where the picture shows them, or on from there to be shut."""
    if bending.net.pressed:
        return
    if bending.last > 1 and shot.start:
        pose = bending.posed(shot.start, shot.end, part)
        for hinge, tip in shutting(bending.tree):
            held = pose.poses[hinge.held]
            parts = [_SHUT * step / _STEPS for step in range(_STEPS + 1)]
            if held is not None:
                swung = [hinged(held, hinge.start, hinge.end, hinge.crease.angle * one) for one in parts]
                yield tuple(turn(one.place(tip)) for one in swung)
        return
    parts = [max(0.0, part + 0.04 - _SWEEP) + _SWEEP * step / _STEPS for step in range(_STEPS + 1)]
    poses = [bending.posed(shot.start, shot.end, min(1.0, one)) for one in parts]
    for panel, tip in moving_ends(bending.net):
        yield tuple(turn(pose.place(panel, tip)) for pose in poses)


def _held(bending: Bending, shot: Shot) -> Iterator[Hinge]:
    """What a hand takes hold of: of panels that are folded along one score the middle one."""
    scores: dict[object, list[Hinge]] = {}
    for hinge in bending.leading(shot.start, shot.end):
        scores.setdefault((hinge.crease.source, bending.group(bending.number_of(hinge))), []).append(hinge)
    for hinges in scores.values():
        hinges.sort(key=lambda hinge: hinge.crease.start)
        yield hinges[len(hinges) // 2]


def _numbers(bending: Bending, shot: Shot, pose: Folded, standing: Standing) -> Iterator[tuple[str, Spot, float]]:
    """The number of each panel that moves, where it stands, and how much room it has."""
    if bending.last < 2 or bending.net.curved:
        return
    turn = turn_of(standing)
    for hinge in _held(bending, shot):
        outline = bending.net.panels[hinge.hung].outline
        middle = _beside(outline, hinge)
        place = bending.group(bending.number_of(hinge)) + 1
        yield str(place), turn(pose.place(hinge.hung, middle)), _MIDDLE * area_of(outline) ** 0.5


def _beside(outline: Sequence[Point], hinge: Hinge) -> Point:
    """A place on a panel to one side of its middle, where the arrow is."""
    x, y = sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline)
    (ax, ay), (bx, by) = hinge.start, hinge.end
    return x + _ASIDE * (bx - ax), y + _ASIDE * (by - ay)


def _arrow(way: Sequence[Spot], sheets: Sequence[Leaf], view: View) -> Arrow:
    """`behind` when most of the second half of it is hidden by what is nearer."""
    later = way[len(way) // 2 :]
    hidden = sum(hides(sheets, spot, view) for spot in later)
    return Arrow(tuple(map(view.point, way)), behind=2 * hidden > len(later))


def _seen(arrows: Sequence[Arrow], faces: Sequence[Face]) -> tuple[Arrow, ...]:
    """The arrows that are long enough in the picture; at least the longest, and that as long as it has to be."""
    points = [point for face in faces for point in face.outline]
    size = max(max(axis) - min(axis) for axis in zip(*points, strict=True))
    least = _PLAIN_TO_SEE * size
    enough = tuple(one for one in arrows if _reach(one) >= least)
    if enough or not arrows:
        return enough
    return (_lengthened(max(arrows, key=_reach), least),)


def _lengthened(arrow: Arrow, least: float) -> Arrow:
    """An arrow with a tail that begins farther off, in the direction it comes from."""
    (x1, y1), (x2, y2) = arrow.path[0], arrow.path[-1]
    reach = _reach(arrow)
    way = ((x1 - x2) / reach, (y1 - y2) / reach) if reach else (0.0, 1.0)
    tail = x2 + way[0] * least, y2 + way[1] * least
    return Arrow((tail, arrow.path[-1]), arrow.behind)


def _reach(arrow: Arrow) -> float:
    (x1, y1), (x2, y2) = arrow.path[0], arrow.path[-1]
    return hypot(x2 - x1, y2 - y1)


def _beyond(outline: Sequence[Point], crease: Crease, reach: float) -> Point:
    """A place past the middle of the edge of a panel that lies farthest from a crease."""
    (ax, ay), (bx, by) = crease.start, crease.end

    def off(point: Point) -> float:
        return abs((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax))

    most = max(map(off, outline))
    far = [point for point in outline if off(point) > most * (1 - _LEVEL)]
    x, y = sum(x for x, _ in far) / len(far), sum(y for _, y in far) / len(far)
    along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
    foot_x, foot_y = ax + along * (bx - ax), ay + along * (by - ay)
    return foot_x + reach * (x - foot_x), foot_y + reach * (y - foot_y)


def gluing_shots(bending: Bending, shots: Sequence[Shot]) -> tuple[Shot, ...]:
    """Those of some shots in which glue is needed: for the glue flap of a tube, and for what is laid on glue; where
    nobody knows of any, the last."""
    wanted = set()
    for hinge in bending.tree.hinges:
        place = bending.group(bending.number_of(hinge))
        if hinge.hung in bending.wet and place >= 0:
            wanted.add(place if _is_seam(bending, hinge) else place + 1)
    found = tuple(shot for shot in shots if wanted & set(range(shot.start, shot.end)))
    return found or tuple(shots[-1:])


def _is_seam(bending: Bending, hinge: Hinge) -> bool:
    return bending.net.panels[hinge.hung].glued and hinge.hung in bending.order.row


def panels_moved(bending: Bending, shot: Shot) -> tuple[str, ...]:
    """The name of each panel a shot takes hold of, or the numbers they have in the picture where they have none."""
    if bending.net.curved:
        return ()
    hinges = bending.leading(shot.start, shot.end)
    names = tuple(bending.net.panels[hinge.hung].name for hinge in hinges)
    return names if all(names) else tuple(str(place + 1) for place in range(shot.start, shot.end))
