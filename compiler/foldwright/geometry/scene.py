"""What a picture shows, before anybody has decided how large it is or where its labels go.

Coordinates are millimetres, x to the right, y down. Strokes and faces are exact outlines; dimensions name the length
they show by identity, so that a picture can be labelled in either unit system.
"""

from __future__ import annotations

from enum import Enum

from msgspec import Struct

from foldwright.geometry.lengths import LengthId

type Point = tuple[float, float]


class LineKind(Enum):
    CUT = "cut"
    """A cut edge: the outline, a slit, a hole."""
    SCORE = "score"
    """A fold whose direction is not said."""
    VALLEY = "valley"
    MOUNTAIN = "mountain"
    PERFORATION = "perforation"
    WASTE = "waste"
    """The edge of what is cut away."""
    CENTRE = "centre"
    """A mark at the middle of a hole."""


class Emphasis(Enum):
    STRONG = "strong"
    PLAIN = "plain"
    FAINT = "faint"
    DOUBTFUL = "doubtful"
    """The place a finding speaks of."""


class Tone(Enum):
    """What a face is: its good side, its plain back, a glue area, a hole, waste, or a part nobody can vouch for."""

    GOOD = "good"
    PLAIN = "plain"
    GLUE = "glue"
    HOLE = "hole"
    WASTE = "waste"
    DOUBT = "doubt"


class Face(Struct, frozen=True):
    """A closed outline with a tone. `corner` rounds the corners of a rectangle (a circle is a square all corner)."""

    outline: tuple[Point, ...]
    tone: Tone
    corner: float = 0.0


class Stroke(Struct, frozen=True):
    """An open or closed polyline."""

    kind: LineKind
    points: tuple[Point, ...]
    closed: bool = False
    emphasis: Emphasis = Emphasis.PLAIN
    corner: float = 0.0
    """The radius a closed rectangle's corners are rounded with."""


class Dimension(Struct, frozen=True):
    """A length to show between two points of one side. `rank` 0 is the most needed; larger ranks may be left out."""

    length: LengthId
    start: Point
    end: Point
    side: str
    """Which side of the picture it wants to stand on: top, bottom, left or right."""
    rank: int = 0
    doubtful: bool = False


class Caption(Struct, frozen=True):
    """A panel's name, wanted at `centre`, inside a box of `width` x `height` mm.

    When `role` is set the text is no author's word but a code (`flap`) that the page has a word for, or a number; it
    may be left out where there is no room.
    """

    text: str
    centre: Point
    width: float
    height: float
    role: bool = False


class Callout(Struct, frozen=True):
    """The size of a hole: one length for a round one (`round`), two for others, near the box round the hole."""

    lengths: tuple[LengthId, ...]
    centre: Point
    width: float
    height: float
    round: bool = False
    doubtful: bool = False


class Scene(Struct, frozen=True):
    """A picture in millimetres: its extent, then what it holds in drawing order."""

    width: float
    height: float
    faces: tuple[Face, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    captions: tuple[Caption, ...] = ()
    callouts: tuple[Callout, ...] = ()

    @property
    def lengths(self) -> tuple[LengthId, ...]:
        """Every length the picture wants a label for, each once."""
        named = [dimension.length for dimension in self.dimensions]
        named += [length for callout in self.callouts for length in callout.lengths]
        return tuple(dict.fromkeys(named))
