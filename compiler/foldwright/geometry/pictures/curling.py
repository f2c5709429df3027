"""Paper that is bent and not folded, on its way from flat to finished."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from math import cos, radians, sin

from foldwright.geometry.flat.blank import Stance
from foldwright.geometry.folding.folded import Folded, Hinge, Tree
from foldwright.geometry.folding.net import Crease, Net
from foldwright.geometry.folding.space import FLAT, Pose, hinged
from foldwright.geometry.pictures.pleating import pleated
from foldwright.geometry.scene import Point

_FLATTEST = 177.0
"""Degrees: what is folded flat on its neighbour is drawn so much open, so that it is known which lies on which."""
_TUCKED = 1.5
"""Degrees by which a flap is drawn past the panel it lies behind, so that it is seen to be inside."""


def curled(tree: Tree, flaps: Collection[int], part: float) -> Folded:
    """A net bent part of the way, and turned so that it will stand; its `flaps` inside what they are glued to."""
    if tree.net.pressed:
        return pleated(tree.net, part)

    def angle(crease: Crease) -> float:
        turned = crease.turned(part)
        if abs(turned) > _FLATTEST:
            return _FLATTEST if turned > 0 else -_FLATTEST
        tucked = part >= 1.0 and (crease.one in flaps) != (crease.other in flaps)
        return turned + (_TUCKED if crease.angle > 0 else -_TUCKED) * tucked

    return tree.folded(angle, _held(tree.net.stance, part))


def _held(stance: Stance | None, part: float) -> Pose:
    """Where the panel lies that the others hang on: turned so that the thing will stand upright."""
    if stance is None:
        return FLAT
    along, down = cos(radians(stance.turn)), sin(radians(stance.turn))
    turned = Pose((along, down, 0.0), (-down, along, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0))
    # About a level line: this is where it runs on the blank.
    return hinged(turned, (0.0, 0.0), (along, -down), stance.lean * part)


def moving_ends(net: Net) -> Iterator[tuple[int, Point]]:
    """What an arrow shows the way of, a panel and a place on it: the ends of what is rolled, the far side of a pillow
    box."""
    rolled = all(crease.smooth or not crease.angle for crease in net.creases)
    for number, panel in enumerate(net.panels):
        creases = [crease for crease in net.creases if number in (crease.one, crease.other)]
        if len(creases) == 1 and (rolled or panel.glued):
            yield number, _beyond(panel.outline, creases[0])


def shutting(tree: Tree) -> Iterator[tuple[Hinge, Point]]:
    """What shuts a pillow box last: the flaps on the panel held still, each with a place at its edge."""
    for hinge in tree.hinges:
        if hinge.held == tree.net.root and not hinge.crease.smooth:
            yield hinge, _beyond(tree.net.panels[hinge.hung].outline, hinge.crease)


def _beyond(outline: tuple[Point, ...], crease: Crease) -> Point:
    """The middle of what lies farthest from a crease."""
    (ax, ay), (bx, by) = crease.start, crease.end
    offs = [abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) for x, y in outline]
    far = [point for point, off in zip(outline, offs, strict=True) if off > max(offs) * _FAR]
    return sum(x for x, _ in far) / len(far), sum(y for _, y in far) / len(far)


_FAR = 0.95
"""As a part of how far the farthest corner lies: the others at that end."""
