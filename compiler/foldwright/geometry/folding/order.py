"""In which order a piece is folded: what has to be out of the way before the next fold can be made.

The order follows from the shape: a tube is closed before its ends, of an end the short flaps before the long ones and
what is tucked in last; of a box the walls with corner flaps on them before those that go over these flaps, and a lid
that hangs on it last; what lies flat on itself one leaf after the other where they would lie on one another. An author
who says another order has the last word. Common practice of packers and paper folders, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import hypot

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_TRIANGLE
from foldwright.geometry.folding.folded import Hinge, tree_of
from foldwright.geometry.folding.layering import FLATTEST, held_angles, layers_over, lies_on
from foldwright.geometry.folding.meeting import area_of
from foldwright.geometry.folding.net import Crease, Net
from foldwright.geometry.folding.space import dot, minus
from foldwright.geometry.scene import Point

_ROUND = 269.0
"""Degrees in all from which a row of panels goes once round; three square corners, a glue flap on top."""
_LARGE = 0.5
"""As a part of the panel that lies still: what is larger and hangs on a wall is a lid."""
_ALIKE = 0.1
"""As a part of the larger: two flaps whose areas differ by less are a pair, and are folded together."""
_NEARLY = 1e-6


class FoldOrder(Struct, frozen=True):
    """`groups` are the creases that are folded together, by number in the net, the first group first.

    `angles` is what every crease is folded to in the end, in degrees, as its own two panels see it: where a fold runs
    through a part that an earlier one has turned over, that part bends the other way (a sheet folded twice has a
    mountain beside a valley). `within` says for every crease how many layers come to lie outside of what it moves.
    `row` are the panels that go once round, in the order they lie in on the blank; of a piece that has no such row it
    is empty. `ends` says of every group whether it closes the `lower` or the `upper` end of that row, or neither.
    """

    groups: tuple[tuple[int, ...], ...]
    angles: tuple[float, ...]
    within: tuple[int, ...] = ()
    row: tuple[int, ...] = ()
    ends: tuple[str, ...] = ()

    def after(self, done: int) -> tuple[float, ...]:
        """The angle of every crease when so many groups have been folded."""
        folded = {number for group in self.groups[:done] for number in group}
        return tuple(angle if number in folded else 0.0 for number, angle in enumerate(self.angles))


@lru_cache(maxsize=256)
def order_of(net: Net, form: str = "", said: tuple[tuple[str, ...], ...] = (), outside: bool = False) -> FoldOrder:
    """The order in which a net is folded.

    `said` are panels in the order in which its author folds them, those folded together in one; what nobody names comes
    last. `outside` when corner
    flaps are stuck to the outside of the walls beside them.
    """
    ordering = _Ordering(net, outside)
    if net.curved:
        groups = list(_curved(net))
    elif form == "accordion" or not net.creases:
        groups = [ordering.folding]
    elif ordering.in_a_grid():
        groups = list(ordering.by_line())
    else:
        groups = list(ordering.by_shape())
    if said and not net.curved:
        groups = list(ordering.as_said(said, groups))
    kept = tuple(tuple(sorted(group)) for group in groups if group)
    ends = tuple(ordering.ends.get(group[0], "") for group in kept)
    if net.curved:
        return FoldOrder(kept, tuple(one.angle for one in net.creases), (0,) * len(net.creases), (), ends)
    angles = held_angles(net, ordering.tree, kept)
    tucked = ordering.tucked if outside else ordering.tucked | ordering.glued()
    within = layers_over(net, ordering.tree, kept, angles, tucked)
    return FoldOrder(kept, angles, within, ordering.row_of(), ends)


def _curved(net: Net) -> Iterator[set[int]]:
    """What is folded flat on the way, as the sides of a pillow box are before its ends go in, then what is bent."""
    if net.pressed:
        yield {at for at, one in enumerate(net.creases) if not one.smooth}
        yield {at for at, one in enumerate(net.creases) if one.smooth}
        return
    halfway = {at for at, one in enumerate(net.creases) if one.way and abs(one.turned(0.5)) >= FLATTEST}
    yield halfway
    yield {at for at, one in enumerate(net.creases) if one.angle} - halfway


class _Hanging(Struct):
    """What hangs on a panel that stays: its hinge, and every crease that is folded with it."""

    hinge: Hinge
    creases: set[int]
    deep: bool
    """Whether something hangs on it again."""
    area: float
    name: str


class _Ordering:
    def __init__(self, net: Net, outside: bool) -> None:
        self.net, self.outside, self.tree = net, outside, tree_of(net)
        self.number = {id(crease): number for number, crease in enumerate(net.creases)}
        self.folding = {number for number, crease in enumerate(net.creases) if crease.angle}
        self.tucked: set[int] = set()
        self.ends: dict[int, str] = {}
        self.hung: dict[int, list[Hinge]] = {}
        for hinge in self.tree.hinges:
            self.hung.setdefault(hinge.held, []).append(hinge)

    # --- what hangs on what ------------------------------------------------------------------------------------------

    def on(self, panel: int) -> Iterator[Hinge]:
        """The hinges by which something is folded onto a panel, those of what lies in one plane with it too."""
        for hinge in self.hung.get(panel, ()):
            if hinge.crease.angle:
                yield hinge
            else:
                yield from self.on(hinge.hung)

    def below(self, hinge: Hinge) -> Iterator[Hinge]:
        """A hinge and all that hang on it."""
        yield hinge
        for one in self.on(hinge.hung):
            yield from self.below(one)

    def unit(self, hinge: Hinge) -> _Hanging:
        creases = {self.number[id(one.crease)] for one in self.below(hinge)}
        panel = self.net.panels[hinge.hung]
        return _Hanging(hinge, creases, len(creases) > 1, area_of(panel.outline), panel.name)

    def joined(self, units: Sequence[_Hanging]) -> list[list[_Hanging]]:
        """Units that hang together by a crease that closes a ring can only be folded together."""
        of_panel = {one.hung: at for at, unit in enumerate(units) for one in self.below(unit.hinge)}
        groups = [[at] for at in range(len(units))]
        for crease in self.tree.closing:
            one, other = of_panel.get(crease.one), of_panel.get(crease.other)
            if one is None or other is None:
                continue
            units[one].creases.add(self.number[id(crease)])
            first, second = (next(group for group in groups if at in group) for at in (one, other))
            if first is not second:
                first += second
                groups.remove(second)
        return [[units[at] for at in group] for group in groups]

    def glued(self) -> set[int]:
        """The creases of glue flaps that hang on walls: they go behind the wall they are stuck to."""
        return {self._at(hinge) for hinge in self.tree.hinges if self.net.panels[hinge.hung].glued}

    # --- the orders --------------------------------------------------------------------------------------------------

    def as_said(self, said: Sequence[Sequence[str]], otherwise: Sequence[set[int]]) -> Iterator[set[int]]:
        """What is named in turn, and then the rest in the order it has of itself."""
        left = set(self.folding)
        for names in said:
            panels = enumerate(self.net.panels)
            named = {at for at, panel in panels if any(_is_named(panel.name, name) for name in names)}
            group = {at for at in left if len({self.net.creases[at].one, self.net.creases[at].other} & named) == 1}
            yield group
            left -= group
        yield from (group & left for group in otherwise)

    def in_a_grid(self) -> bool:
        """Whether folds flat on itself run through one another, so that a later one bends what an earlier laid over."""
        flat = all(abs(self.net.creases[at].angle) >= FLATTEST for at in self.folding)
        return flat and any(crease.angle for crease in self.tree.closing)

    def by_line(self) -> Iterator[set[int]]:
        """One line after the other, the one that lays the least over first: a pocket before the leaves. Two that lay
        alike parts over, none of them on the other, are folded together: the sides of what is turned in."""
        lines: list[set[int]] = []
        for at in self.folding:
            crease = self.net.creases[at]
            known = (line for line in lines if _in_line(crease, self.net.creases[next(iter(line))]))
            line = next(known, None)
            if line is None:
                lines.append({at})
            else:
                line.add(at)
        last: set[int] = set()
        for line in sorted(lines, key=lambda line: (-len(line), self._moved(line))):
            if last and self._are_a_pair(last, line):
                last |= line
                continue
            yield last
            last = line
        yield last

    def _are_a_pair(self, one: set[int], other: set[int]) -> bool:
        """Whether two lines face each other across what stays, and what they lay over leaves room for both."""
        creases = [self.net.creases[min(line)] for line in (one, other)]
        moved = [self._over(line) for line in (one, other)]
        areas = [self._moved(line) for line in (one, other)]
        alike = len(one) == len(other) and abs(areas[0] - areas[1]) <= _ALIKE * max(areas)
        if not alike or moved[0] & moved[1] or not _along(*creases) or creases[0].angle * creases[1].angle <= 0:
            return False
        apart = _off_line(creases[0], creases[1].start)
        reaches = (
            max(_off_line(crease, point) for at in panels for point in self.net.panels[at].outline)
            for crease, panels in zip(creases, moved, strict=True)
        )
        return sum(reaches) <= apart

    def _over(self, line: set[int]) -> set[int]:
        """The panels that a line lays over, with all that hang on them."""
        hinges = (hinge for hinge in self.tree.hinges if self._at(hinge) in line)
        return {one.hung for hinge in hinges for one in self.below(hinge)}

    def _moved(self, line: set[int]) -> float:
        areas = [area_of(self.net.panels[hinge.hung].outline) for hinge in self.tree.hinges if self._at(hinge) in line]
        return min(areas, default=0.0)

    def _at(self, hinge: Hinge) -> int:
        return self.number[id(hinge.crease)]

    def by_shape(self) -> Iterator[set[int]]:
        tube = self.tube()
        if tube:
            yield from self._tubular(tube)
        else:
            yield from self._around(self.net.root)

    def tube(self) -> list[Hinge]:
        """The hinges of a row of panels that goes once round, none where there is no such row."""
        for first in self.on(self.net.root):
            row = list(self._row(self.net.root, first))
            bends = sum(abs(hinge.crease.angle) for hinge in row)
            ends = [self.net.panels[hinge.hung] for hinge in row]
            lidded = any("lid" in panel.name for panel in ends) and not any(panel.glued for panel in ends)
            if bends >= _ROUND and not lidded:
                return row
        return []

    def row_of(self) -> tuple[int, ...]:
        """The panels that go once round, along the blank."""
        tube = self.tube()
        if not tube:
            return ()
        (x1, y1), (x2, y2) = tube[0].start, tube[0].end
        axis = 0 if abs(x2 - x1) < abs(y2 - y1) else 1
        panels = {self.net.root, *(hinge.hung for hinge in tube)}
        return tuple(sorted(panels, key=lambda at: _middle(self.net.panels[at].outline)[axis]))

    def _row(self, panel: int, like: Hinge) -> Iterator[Hinge]:
        for hinge in self.on(panel):
            crease = hinge.crease
            if abs(crease.angle) < FLATTEST and crease.angle * like.crease.angle > 0 and _along(crease, like.crease):
                yield hinge
                yield from self._row(hinge.hung, like)

    def _tubular(self, row: list[Hinge]) -> Iterator[set[int]]:
        """The tube, then its ends: the lower one, or the one named bottom, first."""
        round_it = {self._at(hinge) for hinge in row}
        panels = {self.net.root, *(hinge.hung for hinge in row)}
        for hinge in row:
            if self.net.panels[hinge.hung].glued:
                self.tucked.add(self._at(hinge))
        hinges = [hinge for panel in sorted(panels) for hinge in self.on(panel) if self._at(hinge) not in round_it]
        hems = [hinge for hinge in hinges if abs(hinge.crease.angle) >= FLATTEST]
        hems = hems if self._is_hem(hems, panels) else []
        yield {self._at(hinge) for hinge in hems}
        hinges = [hinge for hinge in hinges if hinge not in hems]
        panels |= {one.hung for hinge in hems for one in self.below(hinge)}
        closing = (crease for crease in self.tree.closing if {crease.one, crease.other} <= panels)
        yield round_it | {self.number[id(crease)] for crease in closing if abs(crease.angle) < FLATTEST}
        upper: list[_Hanging] = []
        lower: list[_Hanging] = []
        middle = _middle(self.net.panels[self.net.root].outline)
        for hinge in hinges:
            off = minus((*_middle((hinge.start, hinge.end)), 0.0), (*middle, 0.0))
            way = minus((*row[0].end, 0.0), (*row[0].start, 0.0))
            down = way if (way[1] or way[0]) > 0 else minus((0.0, 0.0, 0.0), way)
            (lower if dot(off, down) > 0 else upper).append(self.unit(hinge))
        turned = any("bottom" in unit.name for unit in upper) or any("lid" in unit.name for unit in lower)
        both = (("upper", upper), ("lower", lower)) if turned else (("lower", lower), ("upper", upper))
        for name, units in both:
            groups = list(self._in_turn(units, of_end=True))
            self.ends.update((at, name) for group in groups for at in group)
            yield from groups

    def _is_hem(self, hinges: Sequence[Hinge], walls: set[int]) -> bool:
        """Whether an edge is folded over all along: while the sheet is flat, before it is made into a tube."""
        hung = {hinge.hung for hinge in hinges}
        return any({crease.one, crease.other} <= hung for crease in self.tree.closing) and len(hung) * 2 > len(walls)

    def _around(self, root: int) -> Iterator[set[int]]:
        """What hangs on a panel, in turn; a lid that hangs on one of its walls is made ready, and shut last."""
        units = [self.unit(hinge) for hinge in self.on(root)]
        lids: list[Hinge] = []
        if not all(abs(unit.hinge.crease.angle) >= FLATTEST for unit in units):
            lids = [hinge for unit in units for hinge in self._lids(unit.hinge, root)]
        for lid in lids:
            with_lid = {self._at(one) for one in self.below(lid)}
            for unit in units:
                unit.creases -= with_lid
                unit.deep = len(unit.creases) > 1
        yield from self._in_turn(units)
        for lid in lids:
            yield from self._around(lid.hung)
            yield {self._at(lid)}

    def _lids(self, hinge: Hinge, root: int) -> Iterator[Hinge]:
        large = _LARGE * area_of(self.net.panels[root].outline)
        for one in self.on(hinge.hung):
            if area_of(self.net.panels[one.hung].outline) >= large and abs(one.crease.angle) < FLATTEST:
                yield one
            else:
                yield from self._lids(one, root)

    def _in_turn(self, units: list[_Hanging], of_end: bool = False) -> Iterator[set[int]]:
        """Units of one panel, or of one end of a tube: a pair together unless its two lie on one another."""
        glued = (self.net.panels[one.hung].name for unit in units for one in self.hung.get(unit.hinge.hung, ()))
        if GLUE_TRIANGLE in glued or any(len(ring) > 1 for ring in self.joined(units)):
            yield {at for unit in units for at in unit.creases}
            return
        flat = all(abs(unit.hinge.crease.angle) >= FLATTEST for unit in units)
        finished = self.tree.folded(lambda crease: crease.angle)
        found: list[list[_Hanging]] = []
        for unit in sorted(units, key=self._rank_flat if flat else self._rank_of_end if of_end else self._rank_of_wall):
            last = found[-1] if found else []
            pair = bool(last) and last[0].deep == unit.deep and (not (flat or of_end) or _alike(last[0], unit))
            if pair and not any(lies_on(finished, one.hinge.hung, unit.hinge.hung) for one in last):
                last.append(unit)
            else:
                found.append([unit])
            if of_end:
                self.tucked |= unit.creases - {self._at(unit.hinge)}
        yield from ({at for unit in group for at in unit.creases} for group in found)

    def _rank_of_wall(self, unit: _Hanging) -> tuple[float, ...]:
        """What is folded sooner has the smaller one."""
        return (float(unit.deep is self.outside),)

    def _rank_of_end(self, unit: _Hanging) -> tuple[float, ...]:
        return _soon(unit.name), float(unit.deep), _late(unit.name), round(unit.area, 1)

    def _rank_flat(self, unit: _Hanging) -> tuple[float, ...]:
        side = 0.0 if unit.name in ("left", "right") else 1.0
        x, y = _middle((unit.hinge.start, unit.hinge.end))
        return _soon(unit.name), side, _late(unit.name), round(unit.area, 1), -round(y, 3), -x


def _soon(name: str) -> float:
    return 0.0 if any(word in name for word in ("dust", "pocket", "slotted")) else 1.0


def _late(name: str) -> float:
    return 1.0 if any(word in name for word in ("top", "lid", "cover", "front", "closing", "locking")) else 0.0


def _alike(one: _Hanging, other: _Hanging) -> bool:
    return abs(one.area - other.area) <= _ALIKE * max(one.area, other.area)


def _is_named(panel: str, name: str) -> bool:
    """Whether a panel answers to a name: `pocket` is meant by `left pocket` too."""
    return panel.casefold() == name.casefold() or name.casefold() in panel.casefold().split()


def _along(one: Crease, other: Crease) -> bool:
    """Whether two creases are parallel."""
    ways = [(crease.end[0] - crease.start[0], crease.end[1] - crease.start[1]) for crease in (one, other)]
    (ax, ay), (bx, by) = ways
    return abs(ax * by - ay * bx) <= _NEARLY * hypot(ax, ay) * hypot(bx, by)


def _in_line(one: Crease, other: Crease) -> bool:
    """Whether two creases lie on one straight line."""
    far = max(other.start, other.end, key=lambda end: hypot(end[0] - one.start[0], end[1] - one.start[1]))
    return _along(one, other) and _along(one, replace(one, end=far))


def _off_line(crease: Crease, point: Point) -> float:
    """How far a place is from the line a crease lies on."""
    (ax, ay), (bx, by), (x, y) = crease.start, crease.end, point
    return abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / hypot(bx - ax, by - ay)


def _middle(points: Sequence[Point]) -> Point:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
