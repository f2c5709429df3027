"""A net on its way from flat to finished, as people fold: group after group, and tucked in behind what comes later."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.geometry.flat.forms.round import ROLLED
from foldwright.geometry.folding.folded import Folded, Hinge, Tree, tree_of
from foldwright.geometry.folding.layering import FLATTEST, lies_on
from foldwright.geometry.folding.meeting import area_of
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.order import FoldOrder, order_of
from foldwright.geometry.pictures.curling import curled
from foldwright.geometry.pictures.solid import Edges, edges_of
from foldwright.geometry.pictures.standing import Standing

PART_WAY = 0.72
"""Of the way: a wall leans and does not stand yet, and none is seen edge on."""
HALF_SHUT = 0.55
"""Of the way, for a leaf that will lie flat on another, and for what goes round, so that one sees in."""
_AHEAD = 1.35
"""How much sooner than the walls their flaps are folded."""
_TUCKED = 1.5
"""Degrees by which a flap is drawn past the panel it lies behind, so that it is seen to be inside."""
_OPEN = 180.0 - FLATTEST
"""Degrees: a leaf folded flat on another is drawn so much open, or one would be seen and not two."""
_CLOSER = 0.25
"""How much nearer a leaf lies than the one that is folded over it, as a part of the angle it is open."""
_NEARLY_FLAT = 179.5
"""Degrees: panels that lie flat on one another, and yet one is nearer."""
_TORN = 0.02
"""As a part of the blank: panels that hang together may be drawn so far apart, and nobody sees it."""
_FLAP = 0.6
"""What is less than this part of what it hangs on is a flap of it, and is folded sooner."""
_STANDS_UPRIGHT = frozenset({"card", "gate", "accordion"})


_LAPPED = frozenset({"envelope", "gable-top"})
"""What is glued together where its flaps lie on one another."""


def flaps_of(net: Net) -> tuple[int, ...]:
    """The panels glue goes on: corner flaps and glue flaps."""
    return tuple(number for number, panel in enumerate(net.panels) if panel.glued or panel.name == "flap")


class Bending(Struct, frozen=True):
    """How a net is folded for pictures: held by one of its panels, in order."""

    net: Net
    form: str
    tree: Tree
    order: FoldOrder
    number: dict[int, int] = field(default_factory=dict)
    """Of every crease of the net, by identity, its number."""
    rings: frozenset[int] = frozenset()
    """The creases in rings of panels, which hold together only as they are meant."""
    edges: Edges = ()
    """Which edges of the panels are folds and which are cut."""
    ahead: frozenset[int] = frozenset()
    """The creases of what is folded ahead of the panel it hangs on."""
    wet: tuple[int, ...] = ()
    """The panels glue goes on."""

    @property
    def last(self) -> int:
        """How many groups there are."""
        return len(self.order.groups)

    @property
    def flat(self) -> bool:
        """Whether all its folds lay it flat on itself."""
        return all(abs(crease.angle) >= FLATTEST for crease in self.net.creases if crease.angle)

    def number_of(self, hinge: Hinge) -> int:
        return self.number[id(hinge.crease)]

    def group(self, crease: int) -> int:
        """Which group a crease is folded with, -1 where it stays flat."""
        return next((place for place, group in enumerate(self.order.groups) if crease in group), -1)

    def leading(self, start: int, end: int) -> tuple[Hinge, ...]:
        """The hinges on what stays still, of the groups from `start` to before `end`: what a hand takes hold of."""
        moving = {at for group in self.order.groups[start:end] for at in group}
        moved = {hinge.hung for hinge in self.tree.hinges if self.number_of(hinge) in moving}
        return tuple(hinge for hinge in self.tree.hinges if self.number_of(hinge) in moving and hinge.held not in moved)

    def shuts(self, start: int, end: int) -> bool:
        """Whether these groups lay something flat on what stays."""
        if self.net.curved and not start:
            return any(abs(crease.turned(0.5)) >= FLATTEST for crease in self.net.creases)
        return any(abs(hinge.crease.angle) >= FLATTEST for hinge in self.leading(start, end))

    def part_way(self, start: int, end: int) -> float:
        """How far these groups are folded in a picture of them; nothing where paper would tear on the way."""
        closed_in = start == 0 and bool(self.order.row)
        part = HALF_SHUT if closed_in or self.shuts(start, end) else PART_WAY
        return part if self.holds(self.posed(start, end, part)) else 0.0

    def holds(self, folded: Folded) -> bool:
        """Whether nothing is torn that anybody would see."""
        return all(one.apart <= _TORN * self.net.size for one in folded.opened)

    def posed(self, start: int, end: int = 0, part: float = 1.0) -> Folded:
        """The groups before `start` folded, those from there to before `end` part of the way, the others flat."""
        if self.net.curved:
            return curled(self.tree, flaps_of(self.net), (start + max(0, end - start) * part) / self.last)
        angles = [0.0] * len(self.net.creases)
        for place, group in enumerate(self.order.groups):
            for at in group:
                if place < start or (place < end and part >= 1.0):
                    angles[at] = self._finished(at, place)
                elif place < end:
                    angles[at] = self._finished(at, place) * min(1.0, part * (_AHEAD if at in self.ahead else 1.0))
        folded = self._folded(angles)
        return folded if self.holds(folded) else self._folded(self._straight_through(angles))

    def laid(self, groups: int) -> Folded:
        """So many groups folded all the way, and not drawn open so that one sees the layers."""
        return self._folded(
            [angle if 0 <= self.group(at) < groups else 0.0 for at, angle in enumerate(self.order.angles)]
        )

    def _folded(self, angles: list[float]) -> Folded:
        return self.tree.folded(lambda crease: angles[self.number[id(crease)]])

    def _finished(self, crease: int, place: int) -> float:
        """What a fold is drawn at when it is made: a leaf a little open, a flap a little inside what goes over it."""
        angle = self.order.angles[crease]
        sign = 1.0 if angle > 0 else -1.0
        # What is pleated at the corners of a board would stick out past them, were its first edges drawn open.
        pleated = self.form == "turned in" and place < self.last - 1
        if crease in self.rings and (not self.flat or pleated):
            return sign * min(abs(angle), _NEARLY_FLAT)
        if abs(angle) < FLATTEST:
            return angle + sign * _TUCKED * self.order.within[crease]
        return sign * min(abs(angle), 180.0 - _OPEN * _CLOSER ** (self.last - 1 - place))

    def _straight_through(self, angles: list[float]) -> list[float]:
        """A score that runs on through a place where others meet it is bent as one while those are flat."""
        found, creases = list(angles), self.net.creases
        reached = [at for at, angle in enumerate(angles) if angle]
        while reached:
            bent = reached.pop()
            for at, crease in enumerate(creases):
                if not found[at] and _runs_on(crease.start, crease.end, creases[bent].start, creases[bent].end):
                    found[at] = found[bent]
                    reached.append(at)
        return found


def _runs_on(start: tuple[float, float], end: tuple[float, float], *other: tuple[float, float]) -> bool:
    """Whether a line goes straight on from one end of another."""
    for near, far in ((start, end), (end, start)):
        for its_near, its_far in (other, other[::-1]):
            if abs(near[0] - its_near[0]) + abs(near[1] - its_near[1]) < 1e-3:
                ax, ay, bx, by = far[0] - near[0], far[1] - near[1], its_far[0] - near[0], its_far[1] - near[1]
                if abs(ax * by - ay * bx) < 1e-3 * (ax * ax + ay * ay) and ax * bx + ay * by < 0:
                    return True
    return False


@lru_cache(maxsize=256)
def bending_of(net: Net, form: str, said: tuple[tuple[str, ...], ...] = (), outside: bool = False) -> Bending:
    """How a net of a form is folded; `said` and `outside` as in `order_of`. Kept by content."""
    held = rooted(net, form)
    number = {id(crease): at for at, crease in enumerate(held.creases)}
    tree, order = tree_of(held), order_of(held, form, said, outside)
    ahead = frozenset(number[id(hinge.crease)] for hinge in tree.hinges if _is_flap(held, order, hinge))
    wet = (*flaps_of(held), *_laps(tree, order, number)) if form in _LAPPED else flaps_of(held)
    return Bending(held, form, tree, order, number, _rings(tree, number), edges_of(held), ahead, wet)


def _laps(tree: Tree, order: FoldOrder, number: dict[int, int]) -> Iterator[int]:
    """The flaps that others are stuck down on; what is folded last of all shuts what is full, and is not."""
    finished = tree.folded(lambda crease: order.angles[number[id(crease)]])
    turn = {at: place for place, group in enumerate(order.groups) for at in group}
    places = {hinge.hung: turn.get(number[id(hinge.crease)], -1) for hinge in tree.hinges}
    for one, place in places.items():
        later = (at for at, its in places.items() if place < its < len(order.groups) - 1)
        if place >= 0 and any(lies_on(finished, one, at) for at in later):
            yield one


def _is_flap(net: Net, order: FoldOrder, hinge: Hinge) -> bool:
    """Whether a panel is folded ahead of the one it hangs on: glue goes on it, or it is smaller and hangs on a wall."""
    if abs(hinge.crease.angle) >= FLATTEST:
        return False
    panel = net.panels[hinge.hung]
    if panel.glued or panel.name == "flap":
        return True
    deep = hinge.held != net.root and hinge.held not in order.row
    return deep and area_of(panel.outline) < _FLAP * area_of(net.panels[hinge.held].outline)


def _rings(tree: Tree, number: dict[int, int]) -> frozenset[int]:
    """Every crease of a ring of panels: the one that closes it, and those between its two ends."""
    above = {hinge.hung: hinge for hinge in tree.hinges}
    found: set[int] = set()
    for crease in tree.closing:
        ways = []
        for panel in (crease.one, crease.other):
            way = set()
            while panel in above:
                way.add(number[id(above[panel].crease)])
                panel = above[panel].held
            ways.append(way)
        found |= ways[0] ^ ways[1] | {number[id(crease)]}
    return frozenset(found)


def rooted(net: Net, form: str) -> Net:
    """The net held by the panel that lies still while it is worked on, or that one looks at when it is done."""
    names = [panel.name for panel in net.panels]
    if net.curved:
        return net
    if form == "card" and len(names) == 2:
        return replace(net, root=names.index("front") if "front" in names else 1)
    if form == "pocket":
        return replace(net, root=names.index("front"))
    order = order_of(net, form)
    if form == "sleeve" and order.row:
        row = walls_of(net, order)
        return replace(net, root=row[len(row) // 2])
    if not form and net.creases and all(abs(crease.angle) >= FLATTEST for crease in net.creases):
        return replace(net, root=_middle_one(net))
    if order.row and any(order.ends):
        row = walls_of(net, order)
        front = next((panel for panel in row if names[panel] == "front"), None)
        return replace(net, root=_facing(net, order, row) if front is None else front)
    return net


def walls_of(net: Net, order: FoldOrder) -> list[int]:
    """The panels that go once round, without those that are glued to one of them; all where every one is called so."""
    return [panel for panel in order.row if not net.panels[panel].glued] or list(order.row)


def _middle_one(net: Net) -> int:
    """The panel that most others hang on, among the large ones."""
    areas = [area_of(panel.outline) for panel in net.panels]
    hung = [sum(at in (crease.one, crease.other) for crease in net.creases) for at in range(len(areas))]
    large = [at for at, area in enumerate(areas) if area >= _FLAP * max(areas)]
    return max(large, key=lambda at: (hung[at], -at))


def _facing(net: Net, order: FoldOrder, row: list[int]) -> int:
    """The wall opposite the one that the last flap hangs on, so that it is shut towards who looks at it."""
    last = {panel for at in order.groups[-1] for panel in (net.creases[at].one, net.creases[at].other)}
    hinge = next((place for place, panel in enumerate(row) if panel in last), 0)
    return row[(hinge + 2) % len(row)] if len(row) > 3 else row[len(row) // 2]


def standing_of(bending: Bending, made: bool, lid: bool = False, end: str = "") -> Standing:
    """How it stands: a box with its front to the front, what is closed flat upright, a finished lid top up.

    A tall box is made into a tube as it lies, its inside up; it stands while its `upper` end is shut, and stands on its
    head while its `lower` one is.
    """
    net, form, order = bending.net, bending.form, bending.order
    if net.curved:
        back = any(crease.smooth and crease.angle < 0 for crease in net.creases)
        return (Standing.UPRIGHT_BACK if back else Standing.UPRIGHT) if form in ROLLED else Standing.GOOD_UP
    if form == "pocket":
        return Standing.UPRIGHT if made else Standing.PLAIN_UP
    mountains = sum(crease.angle < 0 for crease in net.creases) * 2 >= len(net.creases)
    if order.row and any(order.ends) and mountains and (made or end):
        hinge = next(one for one in net.creases if {one.one, one.other} <= set(order.row))
        upright = abs(hinge.end[0] - hinge.start[0]) < abs(hinge.end[1] - hinge.start[1])
        if end == "lower":
            return Standing.HEAD_DOWN if upright else Standing.SIDEWAYS_DOWN
        return Standing.UPRIGHT if upright else Standing.SIDEWAYS
    if form in _STANDS_UPRIGHT and not order.row:
        return Standing.UPRIGHT_BACK if form == "gate" else Standing.UPRIGHT
    rows = {panel.name: panel.row for panel in net.panels}
    top_near = rows.get("front") == 0 and len(set(rows.values())) > 1
    if mountains and not (lid and made):
        return Standing.PLAIN_UP_TOP_NEAR if top_near else Standing.PLAIN_UP
    return Standing.GOOD_UP_TOP_NEAR if top_near else Standing.GOOD_UP
