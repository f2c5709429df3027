"""What of a folded piece lies on what: layers, and folds that run through several of them."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.geometry.folding.folded import Folded, Tree
from foldwright.geometry.folding.meeting import laid_on
from foldwright.geometry.folding.net import Net
from foldwright.geometry.scene import Point

FLATTEST = 170.0
"""Degrees: from here a panel is folded flat onto its neighbour."""
_OVERLAP = 1.0
"""Square millimetres: flaps that lie on one another by less only touch."""


def lies_on(folded: Folded, one: int, other: int) -> bool:
    """Whether two panels of a folded net lie flat on one another."""
    laid = laid_on(folded, one, other) if folded.poses[one] and folded.poses[other] else None
    outline = folded.net.panels[other].outline
    if laid is None or not _may_overlap(laid, outline):
        return False
    from shapely.geometry import Polygon

    below = Polygon(outline).buffer(0)
    return bool(Polygon(laid).buffer(0).intersection(below).area > _OVERLAP)


def _may_overlap(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether the boxes round two outlines share anything."""
    return all(
        min(axis) <= max(its) and min(its) <= max(axis)
        for axis, its in zip(zip(*one, strict=True), zip(*other, strict=True), strict=True)
    )


def held_angles(net: Net, tree: Tree, groups: Sequence[Sequence[int]]) -> tuple[float, ...]:
    """The angles a net has, where paper can have them; where it cannot, those of folds through all layers."""
    return tuple(crease.angle for crease in net.creases) if _lies_flat(net) else _turned(net, tree, groups)


def _lies_flat(net: Net) -> bool:
    """Whether at every place where folds flat on itself cross, mountains and valleys differ by two (Maekawa)."""
    signs: dict[tuple[int, int], list[int]] = {}
    for crease in net.creases:
        for x, y in (crease.start, crease.end):
            if abs(crease.angle) >= FLATTEST:
                signs.setdefault((round(x), round(y)), []).append(1 if crease.angle > 0 else -1)
    return all(abs(sum(found)) == 2 for found in signs.values() if len(found) == 4)


def _turned(net: Net, tree: Tree, groups: Sequence[Sequence[int]]) -> tuple[float, ...]:
    """The angle of every crease, the other way where what it bends has been turned over by folds made before it."""
    angles = [crease.angle for crease in net.creases]
    number = {id(crease): at for at, crease in enumerate(net.creases)}
    over = [False] * len(net.panels)
    done: set[int] = set()
    for group in groups:
        for hinge in tree.hinges:
            folds = number[id(hinge.crease)] in done and abs(hinge.crease.angle) >= FLATTEST
            over[hinge.hung] = over[hinge.held] != folds
        for at in group:
            crease = net.creases[at]
            if abs(crease.angle) >= FLATTEST and over[crease.one] and over[crease.other]:
                angles[at] = -crease.angle
        done |= set(group)
    return tuple(angles)


def layers_over(
    net: Net, tree: Tree, groups: Sequence[Sequence[int]], angles: Sequence[float], tucked: set[int]
) -> tuple[int, ...]:
    """Of every crease the layers that come to lie outside of what it moves: what is folded later, and what it is tucked
    behind."""
    number = {id(crease): at for at, crease in enumerate(net.creases)}
    turn = {at: place for place, group in enumerate(groups) for at in group}
    finished = tree.folded(lambda crease: angles[number[id(crease)]])
    moved = {hinge.hung: number[id(hinge.crease)] for hinge in tree.hinges}
    found = [0] * len(net.creases)
    for panel, own in moved.items():
        if own not in turn or abs(net.creases[own].angle) >= FLATTEST:
            continue
        for other in range(len(net.panels)):
            its = moved.get(other)
            later = turn.get(its, -1) > turn[own] if its is not None else False
            if other != panel and (own in tucked or later) and its not in tucked and lies_on(finished, panel, other):
                found[own] += 1
    return tuple(found)
