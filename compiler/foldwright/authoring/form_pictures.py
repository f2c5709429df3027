"""A form as it looks when it is made, and where on it each of the numbers lies that it is asked for."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from itertools import chain, pairwise
from math import dist

from msgspec.structs import replace

from foldwright.begin.draft.begun import Begun, begin
from foldwright.begin.forms import EXAMPLES, SIZES, FormAnswers, draft_of_form, read_size
from foldwright.document.catalogue import Catalogue
from foldwright.finding import Wrong
from foldwright.geometry.folding.space import Spot, dot, minus, times
from foldwright.geometry.pictures.finishing import finished_by_hand
from foldwright.geometry.pictures.joining import lid_over
from foldwright.geometry.pictures.solid import Leaf, faces_of
from foldwright.geometry.pictures.standing import extent_of
from foldwright.geometry.pictures.state import Added, PieceState, State
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pictures.whole import sheets_standing
from foldwright.geometry.pictures.workshop import Workshop, workshop_of
from foldwright.geometry.scene import Face, Point, Scene, scene_of
from foldwright.measure.length import Length, System
from foldwright.pipeline import Understood
from foldwright.recipe.facts.writing import write_length
from foldwright.render.drawing.measured import MeasuredSide, draw_measured, outwards
from foldwright.render.drawing.svg import draw

_WAYS: dict[str, Spot] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}
_ALONG = {
    **dict.fromkeys(("solid", "made", "roofed", "pillow"), ("x", "y", "z")),
    **dict.fromkeys(("front", "page", "flat"), ("x", "yz")),
    **dict.fromkeys(("tube", "cone"), ("r", "z")),
    "sided": ("xy", "z"),
    "prism": ("x", "z"),
    "side": ("x",),
    "wheel": ("r",),
}
"""Which ways the numbers of each kind of size go on what is made: to the right, away, up, or from side to side as it
is seen (`r`) of what is round."""
_NEARLY, _MUCH_THAT_WAY = 0.02, 0.6
_INSIDE = 1e-3
_PANELS, _WIDE_MM = 4, 60.0
_LIFTED = 0.6
"""How far a lid is held over its base, as a part of the height of both."""


def draw_form(begun: Begun, answers: FormAnswers, words: Catalogue, unknown: Container[int] = ()) -> str:
    """The form as SVG with its sides; `begun` is the recipe that was begun of the answers. Empty where nothing of that
    size can be folded. Sides that are `unknown` have no number yet."""
    understood = begun.checked.understood
    if understood is None or any(blank.doubtful for blank in understood.flat.blanks):
        return ""
    scene, sides = form_scene(understood, answers.form, answers.size)
    if not scene.faces:
        return ""
    sides = tuple(replace(side, label="?") if at in unknown else side for at, side in enumerate(sides))
    called = words.say(f"desk-begin.form.{answers.form}.name")
    names = tuple(side.label for side in sides)
    title, desc = (words.say(f"desk-begin.drawing.{part}", form=called, sizes=names) for part in ("title", "desc"))
    return draw_measured(scene, sides, title, desc)


def form_picture(form: str, words: Catalogue) -> str:
    """The form as SVG, in the size that is suggested to who has none in mind."""
    size = read_size(EXAMPLES[System.METRIC][SIZES[form]], form, System.METRIC)
    assert not isinstance(size, Wrong)
    called = words.say(f"desk-begin.form.{form}.name")
    answers = FormAnswers(called, form, size, _PANELS, words.say("desk-begin.card"))
    begun = begin(draft_of_form(answers, words), "form", "form")
    assert begun.checked.understood is not None
    scene, _ = form_scene(begun.checked.understood, form, size)
    return draw(scene, {}, _WIDE_MM * min(1.0, scene.width / scene.height), 8.0, called)


def made_scene(understood: Understood) -> Scene | None:
    """A recipe's finished thing with what it holds, without a look at its steps; None where that shows nothing."""
    workshop = workshop_of(understood.recipe, understood.flat, understood.folding, frozenset())
    pieces = understood.recipe.pieces
    done = {piece.name.value: _done(workshop, piece.name.value) for piece in pieces}
    filled = [Added("fill", piece.name.value, one.value) for piece in pieces for one in piece.holds]
    pictures = finished_by_hand(workshop, State(done, added=tuple(filled)))
    return next((one.scene for one in pictures), None)


def form_scene(understood: Understood, form: str, size: Sequence[Length]) -> tuple[Scene, tuple[MeasuredSide, ...]]:
    """What is made, and its sides in the order in which they are asked for."""
    workshop = workshop_of(understood.recipe, understood.flat, understood.folding, frozenset())
    parts = _stood(workshop, form)
    faces = [face for leaves in parts for face in faces_of(leaves, workshop.view)]
    corners = [point for face in faces for point in face.outline]
    if not corners:
        return Scene(0.0, 0.0), ()
    left, top = (min(point[axis] for point in corners) for axis in (0, 1))

    def seen(spot: Spot) -> Point:
        x, y = workshop.view.point(spot)
        return x - left, y - top

    scene = scene_of(faces)
    sides: list[MeasuredSide] = []
    taken: list[Spot] = []
    for length, along in zip(size, _ALONG[SIZES[form]], strict=True):
        edges = _edges(parts[0], float(length.mm), along, taken)
        way = minus(edges[0][1], edges[0][0]) if edges else (0.0, 0.0, 0.0)
        taken.append(times(way, 1 / float(length.mm)))
        drawn = [(seen(one), seen(other)) for one, other in edges]
        shown = [edge for edge in drawn if _is_seen(edge, scene.faces)]
        if not drawn:
            one, other = _across(parts[0], float(length.mm), along, workshop.view)
            drawn = [(seen(one), seen(other))]
        sides.append(_side(shown or drawn, scene, tuple(shown), write_length(length)))
    return scene, tuple(sides)


def _stood(workshop: Workshop, form: str) -> tuple[tuple[Leaf, ...], ...]:
    """Every piece as it is when it is made, on the table; a lid is held over its base. None where one cannot be."""
    names = [piece.name.value for piece in workshop.recipe.pieces]
    if any(workshop.bending(name) is None for name in names):
        return ()
    done = {name: _done(workshop, name) for name in names}
    state = State(done, added=tuple(Added("roll", name) for name in names if form == "tube"))
    first, *others = (sheets_standing(workshop, state, name) for name in names)
    return first, *(lid_over(other, first, _LIFTED) for other in others)


def _done(workshop: Workshop, name: str) -> PieceState:
    bending = workshop.bending(name)
    sides = frozenset(("across", "down"))
    folds = bending.last if bending else 0
    return PieceState(cut_out=True, scored=sides, freed=True, opened=True, folds=folds, glued=True, folded=True)


# --- sides ----------------------------------------------------------------------------------------------------------


def _edges(leaves: Iterable[Leaf], long: float, along: str, taken: Sequence[Spot]) -> list[tuple[Spot, Spot]]:
    """The edges that are so long and go that way, or nearly: of several ways the straightest, then the one most go.
    None is taken twice."""
    ways = [_WAYS[one] for one in along if one in _WAYS]
    found: dict[Spot, list[tuple[Spot, Spot]]] = {}
    for one, other in chain.from_iterable(map(_lines_of, leaves)):
        if abs(dist(one, other) - long) > _NEARLY * long:
            continue
        way = times(minus(other, one), 1 / long)
        # Told apart only as far as an eye does, and whichever way along it was drawn.
        way = max(way, times(way, -1.0))
        if max((abs(dot(way, straight)) for straight in ways), default=0.0) > _MUCH_THAT_WAY:
            rough = tuple(round(part, 1) + 0.0 for part in way)
            found.setdefault((rough[0], rough[1], rough[2]), []).append((one, other))
    free = {way: all(abs(dot(way, one)) < _MUCH_THAT_WAY for one in taken) for way in found}
    straight = {way: max(abs(dot(way, one)) for one in ways) for way in found}
    best = max(found, key=lambda way: (free[way], straight[way], len(found[way])), default=None)
    return found[best] if best else []


def _lines_of(leaf: Leaf) -> Iterator[tuple[Spot, Spot]]:
    """Its edges but for those that are no lines: seams of what is round."""
    ring = pairwise((*leaf.outline, leaf.outline[0]))
    return (edge for edge, kind in zip(ring, leaf.edges, strict=True) if kind is not None)


def _across(leaves: Sequence[Leaf], long: float, along: str, view: View) -> tuple[Spot, Spot]:
    """Where no edge is so long: how far it is through the middle, on the table; upwards, beside it."""
    low, high = extent_of(leaves)
    x, y = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
    to_the_right = _level(view)
    if along == "z":
        half = max(high[0] - low[0], high[1] - low[1]) / 2
        foot = x + to_the_right[0] * half, y + to_the_right[1] * half
        return (*foot, low[2]), (*foot, high[2])
    if along == "r":
        dx, dy = (part * long / 2 for part in to_the_right[:2])
        front = high[2] if high[2] - low[2] < long / 4 else low[2]
        return (x - dx, y - dy, front), (x + dx, y + dy, front)
    if along == "xy":
        # From one flat side to the other, over the open top.
        to_and_fro = abs(high[1] - low[1] - long) < abs(high[0] - low[0] - long)
        return (
            ((x, low[1], high[2]), (x, high[1], high[2]))
            if to_and_fro
            else ((low[0], y, high[2]), (high[0], y, high[2]))
        )
    return (low[0], low[1], low[2]), (high[0], low[1], low[2])


def _level(view: View) -> Spot:
    """The way on the table that goes straight to the right in the picture."""
    x, _ = view.point((1.0, 0.0, 0.0))
    y, _ = view.point((0.0, 1.0, 0.0))
    return x, y, 0.0


def _side(
    edges: Sequence[tuple[Point, Point]], scene: Scene, lit: tuple[tuple[Point, Point], ...], label: str
) -> MeasuredSide:
    """Measured along the edge that lies farthest out, rather below than above."""
    middle = scene.width / 2, scene.height / 2

    def far(edge: tuple[Point, Point]) -> float:
        (x1, y1), (x2, y2) = edge
        out = outwards(*edge, middle)
        return out[0] * ((x1 + x2) / 2 - middle[0]) + out[1] * ((y1 + y2) / 2 - middle[1]) + out[1] * scene.height / 8

    start, end = max(edges, key=far)
    return MeasuredSide(start, end, lit, label)


def _is_seen(edge: tuple[Point, Point], faces: Sequence[Face]) -> bool:
    """Whether no face drawn after its own lies over the middle of an edge."""
    (x1, y1), (x2, y2) = edge
    middle = (x1 + x2) / 2, (y1 + y2) / 2
    own = max((number for number, face in enumerate(faces) if _borders(face, edge)), default=-1)
    return not any(_is_in(middle, face) for face in faces[own + 1 :])


def _borders(face: Face, edge: tuple[Point, Point]) -> bool:
    return all(min((dist(point, end) for point in face.outline), default=1.0) < _INSIDE for end in edge)


def _is_in(point: Point, face: Face) -> bool:
    x, y = point
    crossings = 0
    for (x1, y1), (x2, y2) in pairwise((*face.outline, *face.outline[:1])):
        long = dist((x1, y1), (x2, y2))
        if long and abs((x2 - x1) * (y1 - y) - (x1 - x) * (y2 - y1)) / long < _INSIDE:
            return False
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            crossings += 1
    return crossings % 2 == 1
