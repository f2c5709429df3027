"""A piece as it lies flat, good side up: rows of panels, scores, cuts, holes; every number exact, in millimetres."""

from __future__ import annotations

from fractions import Fraction
from math import cos, sin

from msgspec import Struct, field

from foldwright.geometry.lengths import LengthId

type ExactPoint = tuple[Fraction, Fraction]

MANY = 5
"""So many scores equally far apart are told as one: `every 10 mm, 29 times`."""
GLUE_FLAP = "glue flap"
"""The role of a panel that is glued under another."""
GLUE_TRIANGLE = "glue triangle"
"""A part of a flap that is glued to the flap beside it, so that the two swing in together."""


class Strip(Struct, frozen=True):
    """One panel of a row or column: from `start` to `end` along its side; `name` may be empty.

    `role` is what the panel answers to when it has no name: left, right, top, bottom, floor, glue flap, or nothing.
    """

    name: str
    start: Fraction
    end: Fraction
    length: LengthId
    doubtful: bool = False
    role: str = ""

    @property
    def long(self) -> Fraction:
        """How long it is along its side, in millimetres."""
        return self.end - self.start

    @property
    def called(self) -> str:
        """Its name, else what it answers to."""
        return self.name or self.role


class Cut(Struct, frozen=True):
    """A straight cut (or score) from point to point."""

    start: ExactPoint
    end: ExactPoint


class Offset(Struct, frozen=True):
    """How far a hole is from an edge: the length, and the two places on its side it lies between.

    `edge` is left, right, top or bottom; `of` says whether the hole's middle or its edge is meant.
    """

    edge: str
    of: str
    length: LengthId
    start: Fraction
    end: Fraction
    place: str = ""
    """The place with a name it is measured from, where that is no edge."""


class Opening(Struct, frozen=True):
    """A hole or a notch: its shape as the recipe has it, the box round it, its sizes and offsets by identity."""

    shape: str
    left: Fraction
    top: Fraction
    width: Fraction
    height: Fraction
    sizes: tuple[LengthId, ...] = ()
    offsets: tuple[Offset, ...] = ()
    panel: str = ""
    """The panel its author named, empty when it is measured on the piece."""
    mirror: str = ""
    """The side (`across`, `down`) along which this is another hole's mirror image; its offsets are told there."""
    doubtful: bool = False
    edge: str = ""
    """The edge a notch is cut into: left, right, top or bottom; empty for a hole."""
    copy: int = 0
    """Which copy of a repeated hole it is, the first being 0; its offsets are those of the first."""
    apart: LengthId | None = None
    """How far each copy is from the next, along the side this length is on."""
    at: str = ""
    """The place with a name its middle is at or beside."""


class CardSlots(Struct, frozen=True):
    """Slots that hold a card: its size across and down (mm) and where it lies; `lines` are the numbers of the cuts
    among what is `drawn` on the blank, and `name` is what they are for, empty where only its size is said.

    `shape` is `corner slots` (a slit across every corner) or `half-moon slots` (tabs over two of its edges, joined
    along their straight side).
    """

    shape: str
    left: Fraction
    top: Fraction
    wide: Fraction
    high: Fraction
    sizes: tuple[LengthId, ...]
    lines: tuple[int, ...]
    name: str = ""


class Drawn(Struct, frozen=True):
    """A line of the long form: its kind and points; an `arc` runs from the first through the second to the third."""

    kind: str
    points: tuple[ExactPoint, ...]
    arc: bool = False
    doubtful: bool = False
    number: int = 0
    """Which of the piece's `lines` it is, from 1; copies of one line share it."""
    angle: Fraction | None = None
    """Degrees it is folded to, as the author said them: above nothing towards you, below away."""


class Bend(Struct, frozen=True):
    """A line along which paper that is curved turns by so many degrees, as the facets that stand for the curve do.

    Nobody measures or scores it: it is in no list, drawing or template. A piece of a curved score, which is one of the
    `drawn` as a whole, is `scored`. `way` are the angles at even parts of the way from flat to finished, where it is
    not bent evenly all the time; the last of them is `angle`.
    """

    start: ExactPoint
    end: ExactPoint
    angle: float
    scored: bool = False
    way: tuple[float, ...] = ()


class Stance(Struct, frozen=True):
    """How what is curved is turned so that it stands upright: in its own plane, then leaned back, both in degrees."""

    turn: float = 0.0
    lean: float = 0.0


class Sector(Struct, frozen=True):
    """What a cone is cut from: part of a circle round a `point`, or of the ring between two circles.

    It runs clockwise, as the blank is seen, from the direction `start`, counted from the right; both angles in radians.
    Of one that is cut off, `inner` is the radius of the smaller circle.
    """

    point: tuple[float, float]
    start: float
    angle: float
    radius: float
    inner: float = 0.0

    def place(self, turned: float, radius: float) -> tuple[float, float]:
        """So many radians from its first edge, and so far from the point."""
        at = self.start + turned
        return self.point[0] + radius * cos(at), self.point[1] + radius * sin(at)


class BlankFace(Struct, frozen=True):
    """A rectangle on a blank: a panel or the whole of it, its extents by identity.

    It has a `name` of its own only on a blank that is worked out from its finished size, where panels are no strips.
    """

    left: Fraction
    right: Fraction
    top: Fraction
    bottom: Fraction
    across: LengthId
    down: LengthId
    name: str = ""

    @property
    def wide(self) -> Fraction:
        """How far it reaches across, in millimetres."""
        return self.right - self.left

    @property
    def high(self) -> Fraction:
        """How far it reaches down, in millimetres."""
        return self.bottom - self.top

    @property
    def middle(self) -> ExactPoint:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2


class Blank(Struct, frozen=True):
    """`across` are the strips from left to right, `down` from top to bottom (one strip when there is no score).

    `flap_cuts` free the corner flaps; `flaps_joined` names the strips they stay joined to, and `flap_side` says
    whether those are strips of `down` or of `across` (empty when there are no flaps). `corners_removed` when the
    corners are cut away. `round` when the outline is a circle of diameter `width`.
    """

    piece: str
    count: int
    width: Fraction
    height: Fraction
    across: tuple[Strip, ...]
    down: tuple[Strip, ...]
    flap_cuts: tuple[Cut, ...] = ()
    flaps_joined: tuple[str, ...] = ()
    corners_removed: bool = False
    openings: tuple[Opening, ...] = ()
    notches: tuple[Opening, ...] = ()
    drawn: tuple[Drawn, ...] = ()
    doubtful: frozenset[str] = field(default_factory=frozenset)
    """Sides (`across`, `down`) that do not add up, and facts (`flaps`, `fold`) that could not be read."""
    form: str = ""
    """The form it is folded to, empty when it stays flat."""
    folds_across: tuple[str, ...] = ()
    """Each score between the strips of `across`: `score`, `valley` or `mountain`, seen from the good side."""
    folds_down: tuple[str, ...] = ()
    flap_side: str = ""
    flap_trim: LengthId | None = None
    flap_trimmed: Fraction = Fraction(0)
    """How much is taken off the free edge of each corner flap."""
    flaps_outside: bool = False
    """Whether the corner flaps are stuck to the outside of the walls."""
    round: bool = False
    outline: tuple[ExactPoint, ...] = ()
    """A free outline, closed, inside the box of `width` x `height`; empty for a rectangle or a circle."""
    inner: tuple[tuple[ExactPoint, ...], ...] = ()
    """What a free outline leaves open inside."""
    stays: ExactPoint | None = None
    """A place on the panel that lies still when the others are folded, where the form says which that is."""
    made: tuple[tuple[LengthId, Fraction], ...] = ()
    """What it measures once it is made, where it is worked out from that: across, down and, but for envelopes, high."""
    layers: tuple[tuple[str, int], ...] = ()
    """By how many thicknesses of card the room inside is smaller than what it measures when made: each of those sizes
    by its place (`across`, `down`, `high`)."""
    beyond: tuple[tuple[str, Fraction], ...] = ()
    """How much more than its made size and its card it measures outside (mm), where a lid reaches past the walls."""
    bought: bool = False
    """Whether it is no piece but a supply that pieces go into, such as an envelope."""
    bends: tuple[Bend, ...] = ()
    """Where it is curved: as facets."""
    pressed: bool = False
    """Whether it is an accordion whose ends are glued together to a ring, and that is pressed flat: a rosette."""
    stance: Stance | None = None
    sector: Sector | None = None
    """What it is drawn as, where it is rolled to a cone."""
    faces: tuple[BlankFace, ...] = ()
    """Its panels that have names, where they are no strips; the first is the one that is looked at."""
    marks: tuple[tuple[LengthId, Fraction], ...] = ()
    """Of a form that is worked out, how far every place that is set out lies from the left and from the top edge."""
    corners: tuple[ExactPoint, ...] = ()
    """The corners of its outline in the order in which its author counts them; none where nobody does."""
    labels: tuple[tuple[str, ExactPoint], ...] = ()
    """Panels that have a name and are no upright rectangles, such as flaps: each name with a place on the panel."""

    turned_in: bool = False
    """Whether what stands over the edges of what it lies on is turned in over them."""
    stacked: int = 1
    """How many alike are glued on one another to make one; they are in `count`."""
    slots: tuple[CardSlots, ...] = ()
    """What holds a card on it."""

    @property
    def unsure(self) -> bool:
        """Whether some of its facts are missing or could not be read, so that what it lacks may be among them."""
        return not self.doubtful <= {"across", "down"}

    def row(self, across: bool) -> tuple[str, tuple[Strip, ...], tuple[str, ...]]:
        """One side: its name, its strips, and what each score between them is."""
        if across:
            return "across", self.across, self.folds_across
        return "down", self.down, self.folds_down

    def rhythm(self, side: str) -> tuple[LengthId, ...]:
        """The panels before the scores of a side, where there are many scores and all are equally far apart."""
        panels = self.row(side == "across")[1][:-1]
        even = len(panels) >= MANY and all(panel.long == panels[0].long for panel in panels)
        return tuple(panel.length for panel in panels) if even else ()

    @property
    def main_row(self) -> tuple[str, tuple[Strip, ...]]:
        """The side whose panels are folded where only one side has scores, and its strips."""
        return ("across", self.across) if len(self.across) > 1 else ("down", self.down)

    @property
    def boxed(self) -> bool:
        """Whether its scores cross, so that its four corners are flaps or waste."""
        return len(self.across) == 3 and len(self.down) == 3
