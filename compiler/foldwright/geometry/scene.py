"""What a picture shows, before anybody has decided how large it is or where its labels go.

Coordinates are millimetres, x to the right, y down. Strokes and faces are exact outlines; dimensions name the length
they show by identity, so that a picture can be labelled in either unit system.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.lengths import LengthId

type Point = tuple[float, float]


class LineKind(Enum):
    """What a line of a drawing stands for; a theme says how each is drawn."""

    CUT = "cut"
    """A cut edge: the outline, a slit, a hole."""
    EDGE = "edge"
    """A cut edge that is there already, of a thing or of paper that is worked on."""
    SCORE = "score"
    """A fold whose direction is not said."""
    VALLEY = "valley"
    MOUNTAIN = "mountain"
    PERFORATION = "perforation"
    WASTE = "waste"
    """The edge of what is cut away."""
    CENTRE = "centre"
    """A mark at the middle of a hole."""
    CREASE = "crease"
    """A fold that has been made, or a score of an earlier step."""
    GUIDE = "guide"
    """The way a part takes to its place."""
    INKED = "inked"
    """What a hand has put on paper: a stamped picture, writing, a row of stitches."""


class Stress(Enum):
    """How much something in a drawing is to be seen."""

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
    TOOL = "tool"
    """The fence and the stop of a trimmer, and what a hand works with."""
    TWINE = "twine"
    RIBBON = "ribbon"
    TAPE = "tape"
    FOAM = "foam"
    FOOD = "food"
    BOUGHT = "bought"
    """An envelope, a bag, a hand: light, whatever paper is used."""
    THING = "thing"
    """What is no paper and nothing to eat: a bottle, a coin, a button."""


class Stroke(Struct, frozen=True):
    """An open or closed polyline."""

    kind: LineKind
    points: tuple[Point, ...]
    closed: bool = False
    emphasis: Stress = Stress.PLAIN
    corner: float = 0.0
    """The radius a closed rectangle's corners are rounded with."""


class Face(Struct, frozen=True):
    """A closed outline with a tone; one without an outline is its edges alone.

    `corner` rounds the corners of a rectangle (a circle is a square all corner).

    Faces hide what was drawn before them. `edges` are the lines of this face alone, hidden with it by the next ones;
    `shade` is how far it is turned from the light: 0 in a flat plan, 1 the lightest side of a thing in space, 3 the
    darkest. `gaps` are closed outlines inside, through which one sees what lies behind.
    """

    outline: tuple[Point, ...]
    tone: Tone
    corner: float = 0.0
    edges: tuple[Stroke, ...] = ()
    shade: int = 0
    gaps: tuple[tuple[Point, ...], ...] = ()
    hatched: bool = False
    """Whether glue goes on it."""
    paper: int = 0
    """Which of the scene's papers it is of."""
    grain: tuple[Point, Point] | None = None
    """Where a millimetre along and a millimetre across the paper lead to in the picture, for what is printed on it."""
    ground: tuple[tuple[Point, ...], ...] = ()
    """Where the light does not reach the table for what stands on it: closed outlines, each wider than the one before,
    which no frame of a picture takes into account."""


class Arrow(Struct, frozen=True):
    """The way something moves, its head at the last point; `behind` what is nearer."""

    path: tuple[Point, ...]
    behind: bool = False


class Sign(Enum):
    """What is done with the whole thing before it looks as it does: signs that are common in paper folding."""

    TURN_OVER = "turn-over"
    TURN_ROUND = "turn-round"


class ShownLength(Struct, frozen=True):
    """A length to show between two points of one side. `rank` 0 is the most needed; larger ranks may be left out."""

    length: LengthId
    start: Point
    end: Point
    side: str
    """Which side of the picture it wants to stand on: top, bottom, left or right."""
    rank: int = 0
    doubtful: bool = False
    running: bool = False
    """One of several that are all measured from the same `start`: its figure stands at its end (running dimensioning
    of ISO 129-1, from memory)."""
    rhythm: bool = False
    """One of several alike in a row, which are told as one: every so much, so many times."""


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


class Pick(Struct, frozen=True):
    """A part of a plan that can be picked up on a page: a panel, a hole, a line, a side. It is not drawn itself.

    `parts` is what it is, by identity, the part itself before the lengths it has; `rings` are where it lies, areas if
    they are `closed`. Who writes the page fills in the rest: the names in its markup, and what a reader hears.
    """

    parts: tuple[LengthId, ...]
    rings: tuple[tuple[Point, ...], ...]
    closed: bool = True
    inside: bool = False
    """Whether a line that goes round something is picked up by what lies in it, too."""
    name: str = ""
    """What its author calls it."""
    marks: tuple[str, ...] = ()
    """One for each of the parts, empty where it has none."""
    said: str = ""


class PaperLook(Struct, frozen=True):
    """A paper as it is drawn: the colour of its good side and of its back, `#rrggbb`; what is printed on it, in which
    colour (see `vocabulary.colours`)."""

    front: str
    back: str
    pattern: str = ""
    figure: str = ""
    opaque: float = 1.0
    """How much of what lies behind it is hidden."""


class Scene(Struct, frozen=True):
    """A picture in millimetres: its extent, then what it holds in drawing order."""

    width: float
    height: float
    faces: tuple[Face, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    dimensions: tuple[ShownLength, ...] = ()
    captions: tuple[Caption, ...] = ()
    callouts: tuple[Callout, ...] = ()
    arrows: tuple[Arrow, ...] = ()
    signs: tuple[Sign, ...] = ()
    papers: tuple[PaperLook, ...] = ()
    """By the number that faces have; without any, paper looks like paper."""
    picks: tuple[Pick, ...] = ()
    """What can be picked up, in the order in which it is gone through; none where a plan is only looked at."""

    @property
    def lengths(self) -> tuple[LengthId, ...]:
        """Every length the picture wants a label for, each once."""
        named = [dimension.length for dimension in self.dimensions]
        named += [length for callout in self.callouts for length in callout.lengths]
        return tuple(dict.fromkeys(named))


def scene_of(
    faces: Sequence[Face],
    strokes: Sequence[Stroke] = (),
    arrows: Sequence[Arrow] = (),
    dimensions: Sequence[ShownLength] = (),
    captions: Sequence[Caption] = (),
) -> Scene:
    """Everything moved so that the smallest x and y are nought."""
    points = [point for face in faces for point in face.outline]
    points += [point for stroke in strokes for point in stroke.points]
    points += [point for arrow in arrows for point in arrow.path]
    return _framed(faces, strokes, arrows, dimensions, captions, _frame(points))


def scenes_of(stages: Sequence[Sequence[Face]]) -> tuple[Scene, ...]:
    """Several in one frame that holds them all."""
    frame = _frame([point for faces in stages for face in faces for point in face.outline])
    return tuple(_framed(faces, (), (), (), (), frame) for faces in stages)


def on_ground(scene: Scene) -> Scene:
    """The scene in a frame that holds what lies in shadow as well."""
    shadows = [point for face in scene.faces for ring in face.ground for point in ring]
    if not shadows:
        return scene
    frame = _frame([*shadows, (0.0, 0.0), (scene.width, scene.height)])
    moved = _framed(scene.faces, scene.strokes, scene.arrows, scene.dimensions, scene.captions, frame)
    return replace(moved, signs=scene.signs, papers=scene.papers)


type _Frame = tuple[float, float, float, float]


def _frame(points: Sequence[Point]) -> _Frame:
    """Left, top, right, bottom."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _framed(
    faces: Sequence[Face],
    strokes: Sequence[Stroke],
    arrows: Sequence[Arrow],
    dimensions: Sequence[ShownLength],
    captions: Sequence[Caption],
    frame: _Frame,
) -> Scene:
    left, top, right, bottom = frame

    def moved(ring: Sequence[Point]) -> tuple[Point, ...]:
        return tuple([(x - left, y - top) for x, y in ring])

    def stroke(one: Stroke) -> Stroke:
        return replace(one, points=moved(one.points))

    def face(one: Face) -> Face:
        gaps = tuple(map(moved, one.gaps))
        ground, edges = tuple(map(moved, one.ground)), tuple(map(stroke, one.edges))
        return replace(one, outline=moved(one.outline), gaps=gaps, edges=edges, ground=ground)

    def dimension(one: ShownLength) -> ShownLength:
        start, end = moved((one.start, one.end))
        return replace(one, start=start, end=end)

    return Scene(
        right - left,
        bottom - top,
        tuple(map(face, faces)),
        tuple(map(stroke, strokes)),
        tuple(map(dimension, dimensions)),
        captions=tuple(replace(one, centre=moved((one.centre,))[0]) for one in captions),
        arrows=tuple(replace(arrow, path=moved(arrow.path)) for arrow in arrows),
    )
