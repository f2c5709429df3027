"""A net on its way from flat to finished, as people fold: flaps first, and tucked in behind what they are stuck to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import cos, hypot, radians, sin

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Stance
from foldwright.geometry.flat.forms.round import ROLLED
from foldwright.geometry.folding.folded import Folded, Tree, tree_of
from foldwright.geometry.folding.net import Crease, Net
from foldwright.geometry.folding.space import FLAT, Pose, hinged
from foldwright.geometry.pictures.solid import edges_of, faces_of, sheets_of
from foldwright.geometry.pictures.standing import Standing, stood, turn_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Arrow, Face, Point, Scene, scene_of, scenes_of

PART_WAY = 0.72
"""Of the way: a wall leans and does not stand yet, and none is seen edge on."""
_AHEAD = 1.35
"""How much sooner than the walls their flaps are folded."""
_TUCKED = 1.5
"""Degrees by which a flap is drawn past the panel it lies behind, so that it is seen to be inside."""
_FLATTEST = 170.0
"""Degrees: a leaf folded flat on another is drawn a little open, or one would be seen and not two."""
HALF_SHUT = 0.55
"""Of the way, for a leaf that will lie flat on another."""
_SWEEP = 0.42
"""How much of the way an arrow shows: for a wall the part behind it, for a leaf the part before it."""
_BEYOND = 1.16
"""An arrow runs past the far edge by so much of the panel, outside, where nothing is in its way."""
_STEPS = 7
_PLAIN_TO_SEE = 0.12
"""How long an arrow has to be, as a part of the picture: a shorter one, seen from its end, only clutters."""
_LEVEL = 1e-6
_STANDS_UPRIGHT = frozenset({"card", "gate", "accordion", "gable-top"})


def flaps_of(net: Net) -> tuple[int, ...]:
    """The panels glue goes on: corner flaps and glue flaps."""
    return tuple(number for number, panel in enumerate(net.panels) if panel.glued or panel.name == "flap")


def posed(tree: Tree, part: float) -> Folded:
    """A net folded for a picture: `part` of the way."""
    flaps = set(flaps_of(tree.net))

    def angle(crease: Crease) -> float:
        sign = 1.0 if crease.angle > 0 else -1.0
        if crease.smooth or crease.way:
            # A flap that is curved with what it is glued to is bent with it.
            tucked = part >= 1.0 and len(flaps & {crease.one, crease.other}) == 1
            return crease.turned(part) + (sign * _TUCKED if tucked else 0.0)
        if flaps & {crease.one, crease.other} and abs(crease.angle) < _FLATTEST:
            return crease.angle * min(1.0, part * _AHEAD) + (sign * _TUCKED if part * _AHEAD >= 1.0 else 0.0)
        return sign * min(abs(crease.angle) * part, _FLATTEST)

    return tree.folded(angle, _held(tree.net.stance, part))


def _held(stance: Stance | None, part: float) -> Pose:
    """Where the panel lies that the others hang on: turned so that the thing will stand upright."""
    if stance is None:
        return FLAT
    along, down = cos(radians(stance.turn)), sin(radians(stance.turn))
    turned = Pose((along, down, 0.0), (-down, along, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0))
    return hinged(turned, *_level(turned), stance.lean * part)


def _level(pose: Pose) -> tuple[Point, Point]:
    """Two places on a panel that lie on a level line through its origin, from left to right."""
    return (0.0, 0.0), (pose.along[0], pose.down[0])


def rooted(net: Net, form: str) -> Net:
    """The net held by the panel that lies still while it is worked on, or that one looks at when it is done."""
    names = [panel.name for panel in net.panels]
    if form == "card" and len(names) == 2:
        return replace(net, root=names.index("front") if "front" in names else 1)
    walls = [number for number, panel in enumerate(net.panels) if not panel.glued]
    if form == "sleeve" and walls:
        return replace(net, root=walls[len(walls) // 2])
    return net


def standing_of(net: Net, form: str, made: bool) -> Standing:
    """How it stands: a box with its front to the front, what is closed flat upright, a finished lid top up."""
    if form == "pillow box":
        return Standing.GOOD_UP
    if form in ROLLED:
        return Standing.UPRIGHT_BACK
    if form in _STANDS_UPRIGHT:
        return Standing.UPRIGHT_BACK if form == "gate" else Standing.UPRIGHT
    top_near = any(panel.name == "front" and panel.row == 0 for panel in net.panels)
    mountains = sum(crease.angle < 0 for crease in net.creases)
    if mountains * 2 >= len(net.creases) and not (form == "lid" and made):
        return Standing.PLAIN_UP_TOP_NEAR if top_near else Standing.PLAIN_UP
    return Standing.GOOD_UP_TOP_NEAR if top_near else Standing.GOOD_UP


@lru_cache(maxsize=256)
def folding_scene(net: Net, form: str, glued: bool, view: View, paper: int = 0) -> Scene:
    """The fold part of the way, an arrow on each panel that moves; where glue goes is hatched if it is put on now."""
    held = rooted(net, form)
    tree = tree_of(held)
    standing = standing_of(held, form, made=False)
    part = HALF_SHUT if _shuts(held) else PART_WAY
    sheets = stood(sheets_of(posed(tree, part), flaps_of(held) if glued else (), paper), standing)
    faces = faces_of(sheets, view)
    return scene_of(faces, (), _seen(tuple(_arrows(tree, standing, view)), faces))


def _shuts(net: Net) -> bool:
    """Whether the panels beside the one held still are folded flat on it."""
    return any(abs(one.angle) >= _FLATTEST for one in net.creases if net.root in (one.one, one.other))


@lru_cache(maxsize=256)
def made_scene(net: Net, form: str, view: View, paper: int = 0) -> Scene:
    """The finished piece."""
    held = rooted(net, form)
    made = posed(tree_of(held), 1.0)
    return scene_of(faces_of(stood(sheets_of(made, (), paper), standing_of(held, form, made=True)), view))


def _arrows(tree: Tree, standing: Standing, view: View) -> Iterable[Arrow]:
    """The way of the far edge of every panel that hangs on the one held still."""
    net, turn = tree.net, turn_of(standing)
    shuts = _shuts(net)
    start = HALF_SHUT if shuts else PART_WAY + 0.04 - _SWEEP
    parts = [start + _SWEEP * step / _STEPS for step in range(_STEPS + 1)]
    stages = [posed(tree, part) for part in parts]
    for crease in net.creases:
        panel = _moving(net, crease)
        if panel is None:
            continue
        tip = _beyond(net.panels[panel].outline, crease, 1.0 if shuts or crease.smooth else _BEYOND)
        yield Arrow(tuple(view.point(turn(stage.place(panel, tip))) for stage in stages))


def _moving(net: Net, crease: Crease) -> int | None:
    """The panel whose way is shown: one that hangs on the one held still, or the end of paper that is rolled."""
    if not crease.angle:
        return None
    if not net.curved:
        return crease.across(net.root) if net.root in (crease.one, crease.other) else None
    ends = [
        number for number in (crease.one, crease.other) if sum(number in (c.one, c.other) for c in net.creases) == 1
    ]
    return ends[0] if ends and crease.smooth else None


def _seen(arrows: Sequence[Arrow], faces: Sequence[Face]) -> tuple[Arrow, ...]:
    """The arrows that are long enough in the picture, at least the longest."""
    points = [point for face in faces for point in face.outline]
    size = max(max(axis) - min(axis) for axis in zip(*points, strict=True))
    longest = max(map(_reach, arrows), default=0.0)
    return tuple(one for one in arrows if _reach(one) >= min(longest, _PLAIN_TO_SEE * size))


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


STAGES = 9
"""From flat to folded; each fold moves by some eleven degrees, or twice that for leaves, from one to the next."""


@lru_cache(maxsize=256)
def motion_of(net: Net, form: str, view: View, paper: int = 0) -> tuple[Scene, ...]:
    """The stages in order, the first flat, the last folded. All have the same size and stand on the same spot.

    Kept by content, as all that is folded for a picture: a piece nobody has changed is folded once.
    """
    held = rooted(net, form)
    standing = standing_of(held, form, made=False)
    tree, edges = tree_of(held), edges_of(held)
    stages = [posed(tree, stage / (STAGES - 1)) for stage in range(STAGES)]
    return scenes_of([faces_of(stood(sheets_of(one, (), paper, edges), standing), view)[1:] for one in stages])
