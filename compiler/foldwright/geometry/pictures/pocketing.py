"""A flat piece on its way into a pocket that is folded of the piece itself, before the leaves are shut over it."""

from __future__ import annotations

from foldwright.geometry.folding.folded import Hinge
from foldwright.geometry.folding.space import Spot, plus, times
from foldwright.geometry.pictures.bending import Bending, standing_of
from foldwright.geometry.pictures.handling import Handling
from foldwright.geometry.pictures.solid import faces_of
from foldwright.geometry.pictures.standing import mapped, stood, turn_of
from foldwright.geometry.scene import Arrow, Point, Scene, scene_of

_OUT = 0.5
"""How much of what goes in is still out of the pocket, as a part of its height."""
_FROM, _TO = 0.8, 0.1
"""Where the arrow begins and ends, likewise, counted from the fold of the pocket."""
_OVER = 0.3
"""Millimetres between the leaf and what lies on it."""


def pocket_scene(task: Handling, mover: str, target: str) -> Scene | None:
    """The piece as far folded as its pocket is, and half in it what goes in; None where no panel is called a pocket, or
    what goes in is folded itself."""
    workshop, bench = task.workshop, task.workshop.bench(task.state)
    blank, bending = workshop.blank(mover), bench.bendings.get(target)
    hinge = _pocket(bending) if bending is not None else None
    if blank is None or bending is None or hinge is None or len(bench.bendings[mover].net.panels) > 1:
        return None
    shape = bending.posed(bending.group(bending.number_of(hinge)) + 1)
    good = 1.0 if hinge.crease.angle > 0 else -1.0
    outward = times(shape.normal(hinge.held), good)
    (ax, ay), (bx, by) = hinge.crease.start, hinge.crease.end
    down = _down(bending, hinge)
    right = good * down[1], -good * down[0]
    wide, high = float(blank.width), float(blank.height)

    def on_leaf(x: float, up: float, off: float) -> Spot:
        """A place so far right of the middle of the pocket, above its fold and off the leaf."""
        point = (ax + bx) / 2 + x * right[0] - up * down[0], (ay + by) / 2 + x * right[1] - up * down[1]
        return plus(shape.place(hinge.held, point), times(outward, off))

    def place(spot: Spot) -> Spot:
        return on_leaf(spot[0] - wide / 2, high * (1 + _OUT) - spot[1], _OVER + spot[2])

    def turned(way: Spot) -> Spot:
        return plus(place(way), times(place((0.0, 0.0, 0.0)), -1.0))

    own = bench.sheets(mover, bench.shape(mover))
    leaves = (*bench.sheets(target, shape), *(mapped(leaf, place, turned) for leaf in own))
    standing, view = standing_of(bending, made=False), workshop.view
    turn = turn_of(standing)
    path = tuple(view.point(turn(on_leaf(0.0, high * part, _OVER))) for part in (_FROM, _TO))
    return scene_of(faces_of(stood(leaves, standing), view), (), (Arrow(path),))


def _pocket(bending: Bending) -> Hinge | None:
    """Where a panel that is called a pocket hangs on a leaf, that on the leaf which lies still first."""
    panels = bending.net.panels
    found = [
        hinge
        for hinge in bending.tree.hinges
        if "pocket" in panels[hinge.hung].name and "pocket" not in panels[hinge.held].name and hinge.crease.angle
    ]
    return min(found, key=lambda hinge: hinge.held != bending.net.root, default=None)


def _down(bending: Bending, hinge: Hinge) -> Point:
    """The way on the blank from the leaf across the fold of its pocket, at a right angle."""
    (ax, ay), (bx, by) = hinge.crease.start, hinge.crease.end
    long = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    way = (by - ay) / long, -(bx - ax) / long
    ring = bending.net.panels[hinge.held].outline
    middle = sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)
    ahead = (middle[0] - ax) * way[0] + (middle[1] - ay) * way[1]
    return (-way[0], -way[1]) if ahead > 0 else way
