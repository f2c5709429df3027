"""Two pieces that meet otherwise than layer on layer: glued in two places, put into a slot, woven; and a turn."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

from msgspec.structs import replace

from foldwright.geometry.flat.panels import faces_meant
from foldwright.geometry.flat.points import floats
from foldwright.geometry.folding.space import Spot, plus, times
from foldwright.geometry.pictures.binding import eyelets_of
from foldwright.geometry.pictures.capping import is_end
from foldwright.geometry.pictures.handling import Handled, Handling
from foldwright.geometry.pictures.joining import panel_at
from foldwright.geometry.pictures.pocketing import pocket_scene
from foldwright.geometry.pictures.solid import Leaf, faces_of
from foldwright.geometry.pictures.standing import extent_of, moved, rested
from foldwright.geometry.pictures.state import Added, Bond
from foldwright.geometry.pictures.weaving import woven_leaves
from foldwright.geometry.pictures.whole import Whole, ends_of, whole_of
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.geometry.scene import Arrow, Scene, scene_of
from foldwright.geometry.together.weaving import Strips, Weave, strips_of
from foldwright.recipe.model import Gluing, Placement

_APART = 0.35
"""How far pieces are held off, as a part of the larger one."""
_STRIPS = 6
"""How many strips are woven in a picture where a recipe does not say."""
_BESIDE = 0.4
"""How far beside a strip on its way its arrow is drawn, as a part of how wide it is."""
_ON = 0.1
"""How far past the middle of the mat the arrow of a strip on its way ends, as a part of the mat."""


def joined_by_glue(task: Handling) -> Handled | None:
    """A piece that is glued where its `glued:` says, an arrow to each place."""
    workshop = task.workshop
    for name in task.doing.subjects:
        piece = workshop.piece(name)
        said = [one.value for one in piece.glued] if piece else []
        said = [one for one in said if workshop.named(one.to.piece) in task.doing.subjects]
        # A piece whose sizes do not add up has no net, and no picture.
        if said and None not in (workshop.net(name), workshop.net(workshop.named(said[0].to.piece))):
            target = workshop.named(said[0].to.piece)
            scene = _glued_scene(task, name, target, said)
            state = task.state.adding(Added("glue-to", name, target)).bonded(_bonds(workshop, name, said))
            return Handled("glue-to", name, scene, state, target)
    return None


def end_put_on(task: Handling) -> Handled | None:
    """A disc that closes a tube, held over its end; of two the other below."""
    workshop, subjects = task.workshop, task.doing.subjects
    pairs = ((one, other) for one in subjects for other in subjects if one != other)
    pair = next((two for two in pairs if is_end(workshop.blank(two[0]), workshop.blank(two[1]))), None)
    if pair is None:
        return None
    disc, tube = pair
    whole = whole_of(workshop, task.state, tube)
    held = ends_of(workshop, task.state, whole.leaves, disc, _APART * whole.size)
    home = ends_of(workshop, task.state, whole.leaves, disc)
    view = workshop.view
    ways = [Arrow(tuple(view.point(_centre(leaf)) for leaf in both)) for both in zip(held, home, strict=True)]
    scene = scene_of(faces_of((*whole.leaves, *held), view), (), ways)
    return Handled("cap", disc, scene, task.state.adding(Added("cap", tube, disc)), tube)


def _centre(leaf: Leaf) -> Spot:
    x, y, z = (sum(axis) / len(leaf.outline) for axis in zip(*leaf.outline, strict=True))
    return x, y, z


def _bonds(workshop: Workshop, name: str, said: list[Gluing]) -> Iterator[Bond]:
    """A flat piece that is glued to a panel of another lies on it from then on, whichever of them says so."""
    for one in said:
        target = workshop.named(one.to.piece)
        flat = [piece for piece in (name, target) if (net := workshop.net(piece)) and len(net.panels) == 1]
        if flat == [name]:
            yield Bond(name, replace(one.to, piece=target))
        elif flat == [target]:
            yield Bond(target, Placement("outside", name, one.own_panel, "centred"))


def _glued_scene(task: Handling, name: str, target: str, said: list[Gluing]) -> Scene:
    workshop, state = task.workshop, task.state
    own, other = whole_of(workshop, state, name), _laid_open(task, target)
    several = len(said) > 1 and len({one.to.panel for one in said}) == 1
    size = max(own.size, other.size)
    if several:
        places = [_aside(other, own, side * _APART * size, side) for side in (-1.0, 1.0)]
        homes = [places[at % 2] for at in range(len(said))]
        faces = [*faces_of((*places[0], *own.leaves, *places[1]), workshop.view)]
        held: tuple[Leaf, ...] = own.leaves
    else:
        held = moved(own.leaves, (0.0, 0.0, other.bounds[1][2] + _APART * size))
        homes = [other.leaves] * len(said)
        faces = [*other.faces(workshop), *faces_of(held, workshop.view)]
    arrows = []
    for one, home in zip(said, homes, strict=True):
        start, end = _middle(workshop, held, name, one.own_panel), _middle(workshop, home, target, one.to.panel)
        if start and end:
            arrows.append(Arrow((workshop.view.point(start), workshop.view.point(end))))
    return scene_of(faces, (), arrows)


def _laid_open(task: Handling, target: str) -> Whole:
    """What something is glued into lies open, its inside up; what does not open stands as it is."""
    workshop, net, blank = task.workshop, task.workshop.net(target), task.workshop.blank(target)
    if net is None or blank is None or blank.form not in _OPENS or target not in task.state.bent:
        return whole_of(workshop, task.state, target)
    bench = workshop.bench(task.state, (), frozenset({target}))
    return Whole(rested([leaf for group in bench.groups(target) for leaf in group.sheets]))


_OPENS = frozenset({"card", "gate", "accordion", ""})


def _aside(other: Whole, own: Whole, gap: float, side: float) -> tuple[Leaf, ...]:
    """A copy of what it is glued to, left or right of it."""
    half = (own.bounds[1][0] - own.bounds[0][0]) / 2 + (other.bounds[1][0] - other.bounds[0][0]) / 2
    return moved(other.leaves, (side * half + gap, 0.0, 0.0))


def _middle(workshop: Workshop, leaves: tuple[Leaf, ...], piece: str, panel: str) -> Spot | None:
    """The middle of a panel, where the piece lies now; of the whole piece where none is named."""
    blank, net = workshop.blank(piece), workshop.net(piece)
    own = [leaf for leaf in leaves if leaf.piece == piece]
    if blank is None or net is None or not own:
        return None
    faces = faces_meant(blank, panel)
    number = panel_at(net, floats((faces[0].middle,))[0]) if faces else None
    ring = own[number if number is not None and number < len(own) else 0].outline
    total: Spot = (0.0, 0.0, 0.0)
    for spot in ring:
        total = plus(total, spot)
    return times(total, 1 / len(ring))


def put_to(task: Handling) -> Handled | None:
    """One piece over another that it goes into or on to, with an arrow to its slot or its middle."""
    workshop, state = task.workshop, task.state
    known = [name for name in task.doing.subjects if workshop.net(name) is not None]
    if len(known) < 2:
        return None
    mover, target = known[0], known[-1]
    after = state.adding(Added("put-to", mover, target))
    into = pocket_scene(task, mover, target)
    if into is not None:
        return Handled("put-to", mover, into, after, target)
    below, above = whole_of(workshop, state, target), whole_of(workshop, state, mover)
    top = below.bounds[1][2]
    held = moved(above.leaves, (0.0, 0.0, top + _APART * max(above.size, below.size)))
    slots = [slot for slot in eyelets_of(below.leaves) if workshop.view.sees(slot.good)]
    end: Spot = slots[0].middle if slots else (0.0, 0.0, top)
    (x1, y1, low), (x2, y2, _) = extent_of(held)
    start = ((x1 + x2) / 2, (y1 + y2) / 2, low)
    scene = scene_of(
        (*below.faces(workshop), *faces_of(held, workshop.view)),
        (),
        (Arrow((workshop.view.point(start), workshop.view.point(end))),),
    )
    return Handled("put-to", mover, scene, after, target)


def turned(task: Handling) -> Handled | None:
    """The thing, and an arrow round it."""
    whole = whole_of(task.workshop, task.state, task.piece)
    (x1, y1, _), (x2, y2, top) = whole.bounds
    radius = max(x2 - x1, y2 - y1) * 0.62
    turns = [pi * (1.15 + 0.8 * step / 8) for step in range(9)]
    view = task.workshop.view
    path = tuple(view.point((radius * cos(t), radius * sin(t), top * 0.1)) for t in turns)
    return Handled("turn", task.told, scene_of(whole.faces(task.workshop), (), (Arrow(path),)), task.state)


# --- weaving ----------------------------------------------------------------------------------------------------------


def woven(task: Handling) -> Handled | None:
    """Strips of one set over and under those of the other, the last one on its way."""
    workshop = task.workshop
    weave = _weave_of(workshop, task.doing.subjects or (task.piece,))
    if weave is None:
        return None
    columns, rows = workshop.strips(weave)
    view, moving = workshop.view, rows.loose
    arrows: tuple[Arrow, ...] = ()
    if moving:
        y, wide = rows.marks[-1] + _BESIDE * (rows.marks[-1] - rows.marks[-2]), columns.marks[-1] - columns.marks[0]
        start, end = view.point((rows.low - wide / 4, y, 2.0)), view.point((wide * _ON, y, 2.0))
        arrows = (Arrow((start, end)),)
    scene = scene_of(faces_of(tuple(woven_leaves(columns, rows, moving)), view), (), arrows)
    state = task.state.adding(Added("weave", weave.one.piece, weave.other.piece))
    return Handled("weave", weave.one.piece, scene, state, weave.other.piece)


def _weave_of(workshop: Workshop, subjects: tuple[str, ...]) -> Weave | None:
    """The one that is said of the pieces; else of two of them, or of one with six strips of nothing that is known."""
    for weave in workshop.flat.weaves:
        if not set(subjects).isdisjoint(weave.pieces):
            return weave
    blanks = [blank for name in subjects if (blank := workshop.blank(name))]
    if not blanks:
        return None
    one, other = (_several(strips_of(blank)) for blank in (blanks[0], blanks[-1]))
    return Weave(one, other)


def _several(strips: Strips) -> Strips:
    """Six, where a recipe does not say how many."""
    return strips if len(strips.widths) > 1 else replace(strips, widths=strips.widths * _STRIPS)
