"""A tool at work on a piece: what it leaves there, and the way it is moved."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from foldwright.geometry.folding.space import Spot, plus, times
from foldwright.geometry.pictures.handling import Handled, Handling
from foldwright.geometry.pictures.inking import ALONG, HIDDEN, PATTERNS, best_side, edge_of, frame_of
from foldwright.geometry.pictures.state import Added
from foldwright.geometry.pictures.stuff import supplies_meant
from foldwright.geometry.pictures.things import curve
from foldwright.geometry.pictures.tools import tool_faces
from foldwright.geometry.pictures.whole import Whole, holes_in, whole_of
from foldwright.geometry.scene import Arrow, Face, LineKind, Point, Stress, Stroke, Tone, scene_of
from foldwright.recipe.needs import supply_kind

_LONG = 0.55
"""How long a tool is drawn, as a part of the longest side of what it works on."""
_LIFTED = 0.12
"""How far a tool that is pressed down is held off, as a part of the same."""
_SWEEP = 0.3
_BESIDE = 0.34
"""How far beside a tool an arrow begins, as a part of the tool's length."""
_UPRIGHT = frozenset({"stamp", "punch", "tape"})
"""Tools that cover the place they are pressed on."""


class Work(Struct, frozen=True):
    """The tool an act is done with, and how it moves: `down`, `along` the work, or not at all."""

    tool: str
    moves: str = ""


WORK: dict[str, Work] = {
    "mark": Work("pencil"),
    "trace": Work("pencil", "along"),
    "draw": Work("pencil", "along"),
    "write": Work("pencil", "along"),
    "emboss": Work("stylus", "along"),
    "stamp": Work("stamp", "down"),
    "ink": Work("pad", "along"),
    "stencil": Work("brush", "along"),
    "colour": Work("pencil", "along"),
    "paint": Work("brush", "along"),
    "decorate": Work("brush", "along"),
    "heat": Work("heat gun", "along"),
    "sand down": Work("sandpaper", "along"),
    "spray": Work("can", "along"),
    "solder": Work("iron"),
    "burnish": Work("folder", "along"),
    "glue": Work("bottle", "along"),
    "stick": Work("bottle", "along"),
    "attach": Work("bottle", "along"),
    "hot glue": Work("gun", "along"),
    "tape": Work("tape", "down"),
    "staple": Work("stapler", "down"),
    "sew": Work("needle", "along"),
    "punch": Work("punch", "down"),
    "pierce": Work("awl", "down"),
    "press": Work("hand", "down"),
    "close": Work("hand", "down"),
    "tear": Work("hand", "along"),
    "round": Work("punch", "down"),
    "remove": Work("hand", "along"),
}


_GLUING = frozenset({"glue", "stick", "attach"})
"""Acts that look as what they are done with."""
_BY_STICKER = {
    "hot glue": "hot glue",
    "double-sided tape": "tape",
    "masking tape": "tape",
    "adhesive dot": "dots",
    "foam adhesive": "pads",
    "glue stick": "rub",
}
"""What gluing looks like, by the kind of what sticks; with all others it is glue from a bottle."""
_STICKING = {"dots": Work("hand", "down"), "pads": Work("hand", "down"), "rub": Work("glue stick", "along")}


def worked_on(task: Handling) -> Handled | None:
    """The piece by now, the tool on it, what it leaves; None when no good side of the piece is seen."""
    act, workshop = _look(task), task.workshop
    work = _STICKING.get(act) or WORK[act]
    state = task.state
    leaves_something = act in PATTERNS or act in ALONG
    during = state.adding(Added(act, task.piece)) if leaves_something else state
    whole = whole_of(workshop, during, task.piece)
    place = _place(task, act, work, whole)
    if place is None:
        return None
    start, end = (workshop.view.point(spot) for spot in place)
    long = _LONG * whole.size
    lifted = _LIFTED * whole.size if work.moves == "down" else 0.0
    tool = tool_faces(work.tool, end, long, workshop.view.left_handed, lifted)
    arrows = _moves(work, start, end, long, lifted, workshop.view.left_handed)
    faces = (*whole.faces(workshop), *_rims(task, whole), *tool)
    after = state if act in HIDDEN else during
    return Handled(_CODES.get(act, act), task.told, scene_of(faces, (), arrows), after)


_CODES = {
    **dict.fromkeys(("glue", "stick", "attach"), "glue-on"),
    "dots": "dots-on",
    "pads": "pads-on",
    "rub": "glue-stick",
    "hot glue": "hot-glue",
    "tape": "tape-on",
    "sand down": "sand-down",
    "punch": "punch-here",
    "close": "press-shut",
}
"""What a picture is called, where it is not called as the act is."""


def _look(task: Handling) -> str:
    """The act as it looks: gluing by what is named to glue with, or by the only thing in the recipe that sticks."""
    act, recipe = task.doing.act, task.workshop.recipe
    if act not in _GLUING:
        return act
    meant, others = supplies_meant(recipe, task.step, task.doing)
    sticky = [kind.name for one in meant if (kind := supply_kind(one)) and kind.adhesive]
    alone = {kind.name for one in others if (kind := supply_kind(one)) and kind.adhesive}
    what = sticky[0] if sticky else alone.pop() if len(alone) == 1 else ""
    return _BY_STICKER.get(what, act)


def _place(task: Handling, act: str, work: Work, whole: Whole) -> tuple[Spot, Spot] | None:
    """Where the tool's work begins and ends."""
    holes = holes_in(task.workshop, task.piece, whole.leaves) if act in ("punch", "pierce") else ()
    if holes:
        seen = max(holes, key=lambda hole: task.workshop.view.project(hole.middle)[2])
        return seen.middle, seen.middle
    number = best_side(whole.leaves, task.piece)
    if number is None and whole.leaves:
        seen_best = [leaf for leaf in whole.leaves if task.workshop.view.sees(leaf.good)] or list(whole.leaves)
        leaf = max(seen_best, key=lambda one: max(map(abs, frame_of(one)[1])))
    elif number is None:
        return None
    else:
        leaf = whole.leaves[number]
    if act in ("press", "close"):
        middle = frame_of(leaf)[0]
        return middle, middle
    if act == "round":
        corner = max(leaf.outline, key=lambda spot: task.workshop.view.point(spot)[1])
        return corner, corner
    if act in ALONG or act in ("burnish", "remove", "pierce", "punch"):
        one, other = edge_of(leaf, folds=act in ("sew", "staple", "burnish", "pierce", "punch"))
        one, other = sorted((one, other), key=lambda spot: task.workshop.view.point(spot)[0])
        return _between(one, other, 0.25), _between(one, other, 0.6)
    middle, across, _ = frame_of(leaf)
    return plus(middle, times(across, -0.6)), plus(middle, times(across, 0.5)) if work.moves == "along" else middle


def _between(one: Spot, other: Spot, part: float) -> Spot:
    return plus(times(one, 1 - part), times(other, part))


def _moves(work: Work, start: Point, end: Point, long: float, lifted: float, left: bool) -> tuple[Arrow, ...]:
    """Beside the tool: down to the paper, or along the way it has gone, a little off so that both are seen."""
    side = -1.0 if left else 1.0
    if work.moves == "down" and work.tool in _UPRIGHT:
        x = end[0] - side * long * _BESIDE
        return (Arrow(((x, end[1] - lifted - long * 0.45), (x, end[1] - lifted * 0.3))),)
    if work.moves == "down":
        # The tool leans to one side; the arrow comes from the other and ends at the very place.
        start = end[0] - side * long * _BESIDE, end[1] - long * _BESIDE
        return (Arrow(curve(start, (end[0] - side * long * 0.1, start[1] + long * 0.05), end)),)
    if work.moves != "along":
        return ()
    (x1, y1), (x2, y2) = start, end
    if abs(x2 - x1) + abs(y2 - y1) < _SWEEP * long:
        return ()
    off = long * 0.14
    end = x2 - (x2 - x1) * 0.15, y2 - (y2 - y1) * 0.15 - off
    return (Arrow(curve((x1, y1 - off), ((x1 + end[0]) / 2, (y1 - off + end[1]) / 2 - off * 0.6), end)),)


def _rims(task: Handling, whole: Whole) -> tuple[Face, ...]:
    """The holes that are being made, strong."""
    if task.doing.act not in ("punch", "pierce"):
        return ()
    view = task.workshop.view
    blank = task.workshop.blank(task.piece)
    gaps: Sequence[tuple[Spot, ...]] = [gap for leaf in whole.leaves for gap in leaf.gaps if view.sees(leaf.good)]
    if blank is None or not gaps:
        return ()
    rims = tuple(Stroke(LineKind.CUT, tuple(map(view.point, gap)), True, Stress.STRONG) for gap in gaps)
    return (Face((), Tone.PLAIN, edges=rims),)
