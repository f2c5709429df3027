"""Pop-ups cut from the card itself: whether they shut flat with it, move freely, and stay inside.

**Parallel folds.** A strip joins the two pages at p and q from their fold; a fold of its own lies u from the one end
and v from the other. Across the folds that is a linkage of four bars, p, u, v and q. Shut, all of them lie in one line:
the strip runs from p on to p + u and back to q, so p + u = q + v. Open flat it is the same paper: u + v = p + q. Both
hold when u = q and v = p: a parallelogram, which moves all the way, each of its folds by the angle of the card.

**Folds that meet in a point (V-fold).** They meet in a point of the card's fold, at angles a and b to it on the two
pages; the fold between them parts the pop-up into g and d. Four folds in a point fold flat when opposite angles make
180 degrees together (Kawasaki and Justin, from memory): (180 - a) + d = 180 and (180 - b) + g = 180, so d = a and
g = b.

Shut, every fold has gone on to lie flat.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from math import acos, copysign, degrees, hypot

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import LineSource
from foldwright.geometry.flat.points import box_between
from foldwright.geometry.folding.folded import Folded, Tree, tree_of
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.folding.net import MEETS, Crease, Net
from foldwright.geometry.scene import Point

_SAME_WAY = 1e-3
"""The sine up to which two folds count as parallel."""
_SAME_ANGLE = 0.5
"""Degrees: a fold drawn by hand is no truer."""
_BETWEEN = (60.0, 120.0, 150.0)
"""Degrees: how far the card is folded where its parts are looked at on their way."""


class PopUp(Struct, frozen=True):
    """One pop-up: the folds by which it hangs on the two pages, its own fold, and that of the card."""

    one: Crease
    other: Crease
    middle: Crease
    gutter: Crease


class PopUpTrouble(Struct, frozen=True):
    """What is the matter with a pop-up: `code`, the fold it is told at, and lengths (mm) or angles (degrees)."""

    code: str
    source: LineSource
    numbers: tuple[float, ...] = ()


def pop_up_trouble(folded: Folded, blank: Blank) -> PopUpTrouble | None:
    """The first thing that is wrong with the pop-ups of a piece; None where it has none, or they work."""
    net, tree = folded.net, tree_of(folded.net)
    pages = _pages(net, blank)
    cut = any(line.kind == "cut" and line.number for line in blank.drawn)
    if blank.form or not cut or not tree.closing or len(pages) < 2 or len(pages) == len(net.panels):
        return None
    for one in pop_ups(net, pages):
        if trouble := _does_not_shut(one):
            return trouble
    shut = tree.folded(partial(_turned_by, 180.0))
    if shut.opened:
        worst = max(shut.opened, key=lambda one: one.apart)
        return PopUpTrouble("pop-up-does-not-shut", worst.crease.source, (worst.apart,))
    # A corner that is cut off lies nowhere.
    pages = [number for number, _ in shut.panels if number in pages]
    others = [number for number, _ in shut.panels if number not in pages]
    if not others:
        return None
    over, farthest = max((_beyond(shut, number, pages), number) for number in others)
    if over > MEETS:
        source = next(one.source for one in net.creases if farthest in (one.one, one.other))
        return PopUpTrouble("pop-up-stands-out", source, (over,))
    return _on_the_way(tree)


def moves_freely(folded: Folded, blank: Blank) -> bool:
    """Whether it is a pop-up with slanting folds that opens flat and shuts flat: its angles between are its own."""
    pages = _pages(folded.net, blank)
    found = list(pop_ups(folded.net, pages))
    return bool(found) and any(not _parallel(one.one, one.gutter) for one in found)


def _pages(net: Net, blank: Blank) -> list[int]:
    """The panels in which the corners of the blank lie."""
    corners = box_between(0.0, 0.0, float(blank.width), float(blank.height))
    return [
        number
        for number, panel in enumerate(net.panels)
        if any(hypot(x - a, y - b) <= MEETS for x, y in corners for a, b in panel.outline)
    ]


def pop_ups(net: Net, pages: Sequence[int]) -> Iterator[PopUp]:
    """Those of two panels, each of which hangs on one page; `pages` are the panels of the card, by number."""
    gutter = next((one for one in net.creases if one.one in pages and one.other in pages and one.angle), None)
    if gutter is None:
        return
    for middle in net.creases:
        if not {middle.one, middle.other}.isdisjoint(pages):
            continue
        hung = [
            [one for one in net.creases if panel in (one.one, one.other) and one.across(panel) in pages]
            for panel in (middle.one, middle.other)
        ]
        if len(hung[0]) == len(hung[1]) == 1:
            yield PopUp(hung[0][0], hung[1][0], middle, gutter)


def _does_not_shut(pop: PopUp) -> PopUpTrouble | None:
    folds = (pop.one, pop.other, pop.middle)
    if all(_parallel(one, pop.gutter) for one in folds):
        p, q, m = (_off(one, pop.gutter) for one in folds)
        # The strip has to be as deep as its other end is far from the fold of the card.
        if abs(abs(m - p) - abs(q)) <= MEETS:
            return None
        return PopUpTrouble("pop-up-fold-misplaced", pop.middle.source, (abs(q), abs(p), abs(abs(m - p) - abs(q))))
    vertex = _shared(pop)
    if vertex is None:
        return None
    a, b = (_angle(vertex, one, pop.gutter) for one in (pop.one, pop.other))
    g, d = (_angle(vertex, one, pop.middle) for one in (pop.one, pop.other))
    # Measured to that end of the card's fold which lies beyond the point: 180 degrees less the angles of the formula.
    if abs(180 - a - d) <= _SAME_ANGLE and abs(180 - b - g) <= _SAME_ANGLE:
        return None
    return PopUpTrouble("v-fold-does-not-shut", pop.middle.source, (180 - b, 180 - a))


def _parallel(one: Crease, other: Crease) -> bool:
    (ax, ay), (bx, by) = _way(one), _way(other)
    return abs(ax * by - ay * bx) <= _SAME_WAY


def _way(one: Crease) -> Point:
    dx, dy = one.end[0] - one.start[0], one.end[1] - one.start[1]
    long = hypot(dx, dy)
    return dx / long, dy / long


def _off(one: Crease, gutter: Crease) -> float:
    """How far a parallel fold lies from the card's own, to either side of it."""
    (wx, wy), (x, y) = _way(gutter), gutter.start
    return wx * (one.start[1] - y) - wy * (one.start[0] - x)


def _shared(pop: PopUp) -> Point | None:
    """The point in which all four folds meet."""
    ends = [(one.start, one.end) for one in (pop.one, pop.other, pop.middle)]
    for point in (pop.gutter.start, pop.gutter.end):
        if all(min(hypot(x - point[0], y - point[1]) for x, y in pair) <= MEETS for pair in ends):
            return point
    return None


def _angle(vertex: Point, one: Crease, other: Crease) -> float:
    """Degrees between two folds that begin in one point."""
    ways = []
    for crease in (one, other):
        far = max((crease.start, crease.end), key=lambda at: hypot(at[0] - vertex[0], at[1] - vertex[1]))
        long = hypot(far[0] - vertex[0], far[1] - vertex[1])
        ways.append(((far[0] - vertex[0]) / long, (far[1] - vertex[1]) / long))
    (ax, ay), (bx, by) = ways
    return degrees(acos(max(-1.0, min(1.0, ax * bx + ay * by))))


def _beyond(shut: Folded, panel: int, pages: Sequence[int]) -> float:
    """How far a panel stands over the box round the pages, all of them lying flat."""
    over = 0.0
    for axis in (0, 1):
        page = [spot[axis] for number in pages for spot in shut.corners(number)]
        own = [spot[axis] for spot in shut.corners(panel)]
        over = max(over, max(own) - max(page), min(page) - min(own))
    return over


def _turned_by(turn: float, crease: Crease) -> float:
    return copysign(turn, crease.angle) if crease.angle else 0.0


def _on_the_way(tree: Tree) -> PopUpTrouble | None:
    """Two of its parts that run into each other between open and shut, where all folds go by one angle."""
    if not all(_parallel(one, tree.net.creases[0]) for one in tree.net.creases if one.angle):
        return None
    for turn in _BETWEEN:
        on_way = tree.folded(partial(_turned_by, turn))
        if not on_way.opened and (pair := next(collisions(on_way), None)):
            source = next(one.source for one in tree.net.creases if pair[0] in (one.one, one.other))
            return PopUpTrouble("pop-up-parts-collide", source)
    return None
