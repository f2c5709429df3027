"""A net folded: where every panel is in space, at any part of the way from flat to finished."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from msgspec import Struct

from foldwright.geometry.folding.net import MEETS, Crease, Net, Panel
from foldwright.geometry.folding.space import FLAT, Pose, Spot, distance, extent, hinged
from foldwright.geometry.scene import Point

_ON_LINE = 1e-6
"""How far off a crease an edge of its panel may lie, as a part of the crease: they were found along the same line."""


class Opened(Struct, frozen=True):
    """A crease that closes a ring of panels, and how far apart the two sides of it come to lie, in millimetres."""

    crease: Crease
    apart: float


class Folded(Struct, frozen=True):
    """A net and the pose of each of its panels, the root's own being that of the flat blank.

    Panels that hang on to nothing have no pose. `opened` are the creases that tear at these angles.
    """

    net: Net
    poses: tuple[Pose | None, ...]
    opened: tuple[Opened, ...] = ()

    def corners(self, panel: int) -> tuple[Spot, ...]:
        """The outline of a panel in space."""
        pose = self._pose(panel)
        return tuple(map(pose.place, self.net.panels[panel].outline))

    def place(self, panel: int, point: Point) -> Spot:
        """Where a point of the blank has gone that lies on this panel."""
        return self._pose(panel).place(point)

    def normal(self, panel: int) -> Spot:
        """The direction the good side of a panel looks in, of length 1."""
        return self._pose(panel).out

    @property
    def panels(self) -> tuple[tuple[int, Panel], ...]:
        """The panels that are somewhere, by number."""
        return tuple(
            (number, panel)
            for number, (panel, pose) in enumerate(zip(self.net.panels, self.poses, strict=True))
            if pose is not None
        )

    @property
    def extent(self) -> tuple[Spot, Spot]:
        """The smallest and the largest x, y and z."""
        spots = [spot for number, _ in self.panels for spot in self.corners(number)]
        return extent(spots)

    def _pose(self, panel: int) -> Pose:
        pose = self.poses[panel]
        if pose is None:
            raise ValueError("a panel that hangs on to nothing is nowhere")
        return pose


class Hinge(Struct, frozen=True):
    """A crease by which a panel hangs on one that is already in its place, with the panel on its left."""

    crease: Crease
    held: int
    hung: int
    start: Point
    end: Point


class Tree(Struct, frozen=True):
    """The order in which a net is folded, whatever the angles: from the root outwards, the longest creases first.

    `closing` are the creases it does without: each closes a ring of panels.
    """

    net: Net
    hinges: tuple[Hinge, ...]
    closing: tuple[Crease, ...]

    def folded(self, angle: Callable[[Crease], float], held: Pose = FLAT) -> Folded:
        """Every crease folded by an angle of its own, in degrees; `held` is where the root is."""
        poses: list[Pose | None] = [None] * len(self.net.panels)
        if not poses:
            return Folded(self.net, ())
        poses[self.net.root] = held
        for hinge in self.hinges:
            pose = poses[hinge.held]
            assert pose is not None
            poses[hinge.hung] = hinged(pose, hinge.start, hinge.end, angle(hinge.crease))
        return Folded(self.net, tuple(poses), tuple(self._opened(poses)))

    def _opened(self, poses: Sequence[Pose | None]) -> Iterator[Opened]:
        for crease in self.closing:
            one, other = poses[crease.one], poses[crease.other]
            if one is None or other is None:
                continue
            apart = max(distance(one.place(point), other.place(point)) for point in (crease.start, crease.end))
            if apart > MEETS:
                yield Opened(crease, apart)


def fold(net: Net, fraction: float = 1.0) -> Folded:
    """Every crease folded by the same part of its finished angle: 0 flat, 1 finished."""
    return tree_of(net).folded(lambda crease: crease.angle * fraction)


def tree_of(net: Net) -> Tree:
    """How a net hangs together, held by its root."""
    if not net.panels:
        return Tree(net, (), ())
    hinges: list[Hinge] = []
    placed, closing = {net.root}, dict.fromkeys(range(len(net.creases)))
    beside = _beside(net)
    waiting = [net.root]
    while waiting:
        panel = waiting.pop(0)
        for number in beside[panel]:
            crease = net.creases[number]
            other = crease.across(panel)
            if other in placed:
                continue
            start, end = _with_panel_on_its_left(crease, net.panels[other].outline)
            hinges.append(Hinge(crease, panel, other, start, end))
            placed.add(other)
            del closing[number]
            waiting.append(other)
    return Tree(net, tuple(hinges), tuple(net.creases[number] for number in closing))


def _beside(net: Net) -> list[list[int]]:
    """The creases of each panel, the longest first, so that what hangs on by a wide hinge hangs on that one."""
    found: list[list[int]] = [[] for _ in net.panels]
    for number, crease in enumerate(net.creases):
        found[crease.one].append(number)
        found[crease.other].append(number)
    for numbers in found:
        numbers.sort(key=lambda number: -_long(net.creases[number]))
    return found


def _long(crease: Crease) -> float:
    return round(abs(crease.end[0] - crease.start[0]) + abs(crease.end[1] - crease.start[1]), 6)


def _with_panel_on_its_left(crease: Crease, outline: Sequence[Point]) -> tuple[Point, Point]:
    """The crease in the direction in which the panel's own outline runs along it."""
    (ax, ay), (bx, by) = crease.start, crease.end
    dx, dy = bx - ax, by - ay
    long = dx * dx + dy * dy
    most, forwards = 0.0, True
    for (px, py), (qx, qy) in zip(outline, (*outline[1:], outline[0]), strict=True):
        off = max(abs(dx * (py - ay) - dy * (px - ax)), abs(dx * (qy - ay) - dy * (qx - ax)))
        if off > _ON_LINE * long:
            continue
        begins, ends = ((px - ax) * dx + (py - ay) * dy) / long, ((qx - ax) * dx + (qy - ay) * dy) / long
        shared = min(max(begins, ends), 1.0) - max(min(begins, ends), 0.0)
        if shared > most:
            most, forwards = shared, ends > begins
    return (crease.start, crease.end) if forwards else (crease.end, crease.start)
