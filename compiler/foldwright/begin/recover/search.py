"""The plainest blank that explains the readings: an exact search by branch and bound, panel by panel.

What a blank costs is stated once, here. A panel costs the points of its length (see `measure.plainness`); nothing when
it is equal to its mirror image on the same side, `ALIKE` when it is equal to another panel of the piece. A reading that
is off by as much as it may be costs `FULLY_OFF`, less by the square of how little it is off; that is less than the two
points between a mark and the mark a quarter as wide, so that no panel is made odder to please one reading.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from math import ceil, floor

from msgspec import Struct

from foldwright.begin.recover.bounds import Bounds
from foldwright.begin.recover.model import SamplePiece
from foldwright.measure.length import System
from foldwright.measure.plainness import MARKS, RulerMark

ALIKE = Fraction(2)
"""The points of a panel that is equal to another one of the piece, but not its mirror image."""
FULLY_OFF = Fraction(1)
"""The points of a reading that is off by as much as it may be."""
CLOSE = Fraction(3)
"""A blank that costs no more than this beyond the plainest is worth telling: eight to one (two to the third)."""
_PARTS = 1_000_000
"""Points are reckoned in whole millionths, so that no answer hangs on the last digit of a float."""
_MOST_PANELS_TRIED = 400_000
"""Beyond so many panels in half-made blanks the search stops, and says that it did."""


class PanelChoice(Struct, frozen=True):
    """The panels of both sides in millimetres, across and down, and what they cost."""

    panels: tuple[tuple[Fraction, ...], tuple[Fraction, ...]]
    points: Fraction


class PlainestBlank(Struct, frozen=True):
    """The plainest blank of a piece in one system of units, the next if it is close; `proven` if all were seen."""

    best: PanelChoice | None
    next_best: PanelChoice | None = None
    proven: bool = True


def plainest(piece: SamplePiece, bounds: tuple[Bounds, Bounds], system: System) -> PlainestBlank:
    """The plainest blank on the marks of `system` that keeps all bounds.

    Marks finer than half of the narrowest bound are asked for only when nothing else explains the readings.
    """
    marks = MARKS[system]
    narrowest = min(reading.bound.mm for side in piece.sides for reading in side.readings)
    coarse = [mark for mark in marks if 2 * mark.mm >= narrowest]
    found = _PanelSearch(piece, bounds, coarse).run() if coarse else PlainestBlank(None)
    return found if found.best or len(coarse) == len(marks) else _PanelSearch(piece, bounds, marks).run()


class _PanelSearch:
    """One search: panels are given lengths in order, across then down; a half-made blank that cannot win is left."""

    def __init__(self, piece: SamplePiece, bounds: tuple[Bounds, Bounds], marks: Sequence[RulerMark]) -> None:
        self._sides = piece.sides
        self._bounds = bounds
        self._marks = marks
        self._order = [(side, panel) for side in (0, 1) for panel in range(piece.sides[side].count)]
        self._panels: list[Fraction] = []
        self._lines: tuple[list[Fraction], list[Fraction]] = ([Fraction(0)], [Fraction(0)])
        self._best: list[tuple[int, tuple[Fraction, ...]]] = []
        self._nodes = 0
        self._most_nodes = _MOST_PANELS_TRIED // max(len(self._order), 1)

    def run(self) -> PlainestBlank:
        """Search it all, or as many half-made blanks as may be tried."""
        self._go_on(0)
        across = self._sides[0].count
        blanks = (
            PanelChoice((panels[:across], panels[across:]), Fraction(points, _PARTS)) for points, panels in self._best
        )
        return PlainestBlank(next(blanks, None), next(blanks, None), self._nodes <= self._most_nodes)

    def _go_on(self, spent: int) -> None:
        number = len(self._panels)
        self._nodes += 1
        if number == len(self._order):
            self._best = sorted([*self._best, (spent, tuple(self._panels))])[:2]
            return
        side, _ = self._order[number]
        for cost, length in self._choices(number):
            if self._nodes > self._most_nodes:
                return
            if spent + cost + self._at_least[number + 1] > self._most_to_spend():
                break
            self._panels.append(length)
            self._lines[side].append(self._lines[side][-1] + length)
            self._go_on(spent + cost)
            self._lines[side].pop()
            self._panels.pop()

    def _most_to_spend(self) -> int:
        """More than this need not be looked at: a second blank is wanted only when it is close to the first."""
        if not self._best:
            return 10**12
        close = self._best[0][0] + int(CLOSE * _PARTS)
        return min(close, self._best[1][0]) if len(self._best) > 1 else close

    # --- one panel ------------------------------------------------------------------------------------------------

    def _choices(self, number: int) -> list[tuple[int, Fraction]]:
        """Every length the panel may have after those before it, with its cost, the cheapest first."""
        side, panel = self._order[number]
        mirror = self._sides[side].count - 1 - panel
        mirrored = self._panels[number - panel + mirror] if mirror < panel else None
        alike = set(self._panels)
        found = []
        for length, points in self._on_marks(*self._room(side, panel)):
            own = Fraction(0) if length == mirrored else ALIKE if length in alike else points
            found.append((int(own * _PARTS) + self._off(side, panel + 1, length), length))
        return sorted(found)

    def _room(self, side: int, panel: int) -> tuple[Fraction, Fraction]:
        """Between which lengths the panel must be so that its far line keeps its distance from all lines before."""
        bounds, lines = self._bounds[side], self._lines[side]
        here = lines[-1]
        lows = [lines[line] + low for line in range(panel + 1) if (low := bounds.low(line, panel + 1)) is not None]
        highs = [lines[line] + high for line in range(panel + 1) if (high := bounds.high(line, panel + 1)) is not None]
        return max(lows) - here, min(highs) - here

    def _on_marks(self, low: Fraction, high: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
        """The lengths on a mark in a room, each once at its coarsest mark, with their points."""
        seen: set[Fraction] = set()
        for mark in self._marks:
            for times in range(max(ceil(low / mark.mm), 1), floor(high / mark.mm) + 1):
                length = times * mark.mm
                if length not in seen:
                    seen.add(length)
                    yield length, mark.points

    def _off(self, side: int, line: int, length: Fraction) -> int:
        """What the readings that end at this line (and begin before it) cost for being off."""
        lines = self._lines[side]
        there = lines[-1] + length
        ending = (reading for reading in self._sides[side].readings if reading.end == line)
        offs = ((there - lines[one.start] - one.length.mm) / one.bound.mm for one in ending)
        return int(FULLY_OFF * sum(off**2 for off in offs) * _PARTS)

    # --- what is to come ------------------------------------------------------------------------------------------

    @cached_property
    def _at_least(self) -> list[int]:
        """What the panels from each one on cost at the least: one that can be like no other costs its own points."""
        rooms = [self._alone(side, panel) for side, panel in self._order]
        least = [0]
        for number in range(len(self._order) - 1, -1, -1):
            least.insert(0, least[0] + int(self._least_of(number, rooms) * _PARTS))
        return least

    def _least_of(self, number: int, rooms: Sequence[tuple[Fraction, Fraction]]) -> Fraction:
        low, high = rooms[number]
        side, panel = self._order[number]
        own = min((points for _, points in self._on_marks(low, high)), default=Fraction(0))
        for other, (its_low, its_high) in enumerate(rooms[:number]):
            if its_low <= high and low <= its_high:
                mirrored = self._order[other] == (side, self._sides[side].count - 1 - panel)
                own = min(own, Fraction(0) if mirrored else ALIKE)
        return own

    def _alone(self, side: int, panel: int) -> tuple[Fraction, Fraction]:
        low, high = self._bounds[side].low(panel, panel + 1), self._bounds[side].high(panel, panel + 1)
        assert low is not None
        assert high is not None
        return low, high
