"""A blank as panels that hinge on one another: plain numbers in millimetres, good side up, x right and y down."""

from __future__ import annotations

from msgspec import Struct

from foldwright.geometry.flat.blank import Stance
from foldwright.geometry.flat.lines import BEND, Line, LineSource
from foldwright.geometry.scene import Point

_ON_LINE = 1e-6
"""As a part of a crease: how far off it a place of it may lie, for rounding."""
MEETS = 0.3 + 1e-6
"""Millimetres (0.3 and a hair): edges no farther apart than this meet, as near as paper is cut and folded (common
practice, no source)."""
SNAPS = 0.3 + 1e-6
"""Millimetres, the same: a line that ends no farther than this from another one, or from the edge, is meant to end
on it (common practice, no source)."""


class Panel(Struct, frozen=True):
    """One flat part between folds and cuts. `outline` runs clockwise as it is seen good side up with y down.

    `name` is the author's, or what the panel answers to, or empty; `openings` lie wholly inside, others are notches of
    the outline. `columns` and `rows` tell which strips of the blank it lies in, from 0 (None where it lies in several).
    """

    name: str
    outline: tuple[Point, ...]
    openings: tuple[tuple[Point, ...], ...] = ()
    glued: bool = False
    """A glue flap."""
    column: int | None = None
    row: int | None = None
    slits: tuple[tuple[Point, ...], ...] = ()
    """Cuts that end in the panel and free nothing."""


class Crease(Struct, frozen=True):
    """Two panels that hang together along a line.

    `angle` is what it is folded to when finished, in degrees: 0 flat, above nothing towards who looks at the good side
    (a valley), below away (a mountain), 180 either way folded flat on itself.
    """

    one: int
    other: int
    start: Point
    end: Point
    angle: float
    source: LineSource
    way: tuple[float, ...] = ()
    """The angles at even parts of the way from flat to finished, where it is not folded evenly all the time."""

    @property
    def smooth(self) -> bool:
        """Whether paper is only curved there: two facets of one panel, with no fold to be seen between them."""
        return self.source.side == BEND

    def turned(self, part: float) -> float:
        """The angle at this part of the way, from 0 to 1."""
        if not self.way:
            return self.angle * part
        at = part * (len(self.way) - 1)
        before = min(int(at), len(self.way) - 2)
        return self.way[before] + (self.way[before + 1] - self.way[before]) * (at - before)

    def across(self, panel: int) -> int:
        return self.other if panel == self.one else self.one

    def holds(self, point: Point) -> bool:
        """Whether a place on the blank lies on it."""
        dx, dy = self.end[0] - self.start[0], self.end[1] - self.start[1]
        px, py = point[0] - self.start[0], point[1] - self.start[1]
        long = dx * dx + dy * dy
        return abs(dx * py - dy * px) < _ON_LINE * long and -_ON_LINE < (dx * px + dy * py) / long < 1 + _ON_LINE


class Net(Struct, frozen=True):
    """All panels of a piece. The `root` stays where it is when the others are folded.

    `dangling` are the folds that stop in mid-panel; `size` is the larger side of the blank, what is tolerated is
    measured by it.
    """

    piece: str
    panels: tuple[Panel, ...]
    creases: tuple[Crease, ...]
    root: int
    size: float
    dangling: tuple[Line, ...] = ()
    loose: tuple[int, ...] = ()
    """Panels that hang on to nothing."""
    stance: Stance | None = None
    pressed: bool = False
    """Whether it is a rosette (see `flat.blank`)."""

    @property
    def curved(self) -> bool:
        """Whether some of it is bent and not folded."""
        return any(crease.smooth for crease in self.creases)
