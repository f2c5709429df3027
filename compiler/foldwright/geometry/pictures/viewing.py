"""From where a recipe is looked at: one view for all its pictures, so that what is done is seen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from foldwright.geometry.folding.meeting import area_of
from foldwright.geometry.folding.space import Spot, times
from foldwright.geometry.pictures.bending import Bending, walls_of
from foldwright.geometry.pictures.folding import shot_standing, shots_of
from foldwright.geometry.pictures.standing import turn_of
from foldwright.geometry.pictures.view import AZIMUTHS, View

_EDGE_ON = 0.16
"""The sine of some nine degrees: a panel that is looked at along its face at less is seen as a line."""

_WORK = 3
"""A side that work is done on counts as much as so many panels seen as lines: by eye, no source."""
_LARGE = 0.3
"""As a part of the panel that lies still: what is smaller may be seen as a line."""


def view_of(bendings: Iterable[Bending], shown: Iterable[Spot], left_handed: bool) -> View:
    """The view in which the fewest panels are seen edge on while they are folded, and of the sides in `shown` the
    fewest are turned away, insides of tubes among them; of views as good as each other the one that is usual."""
    folded = list(bendings)
    moving = [normal for bending in folded for normal in _normals(bending)]
    work, insides = list(shown), [side for bending in folded for side in _insides(bending)]

    def hidden(view: View) -> int:
        edge_on = sum(abs(view.project(normal)[2]) < _EDGE_ON for normal in moving)
        away = [sum(view.project(side)[2] < _EDGE_ON for side in sides) for sides in (work, insides)]
        return edge_on + _WORK * away[0] + away[1]

    return min((View(left_handed, azimuth) for azimuth in AZIMUTHS), key=hidden)


def _insides(bending: Bending) -> Iterator[Spot]:
    """The way the inside looks of the wall that stands highest while a tube is made: from behind it hides the rest."""
    if not bending.order.row:
        return
    shot = next(one for one in shots_of(bending, 0, bending.last) if not bending.order.ends[one.start])
    pose = bending.posed(shot.start, shot.end, bending.part_way(shot.start, shot.end))
    turn = turn_of(shot_standing(bending, shot))
    highest = max(
        walls_of(bending.net, bending.order), key=lambda panel: max(turn(spot)[2] for spot in pose.corners(panel))
    )
    yield times(turn(pose.normal(highest)), -1.0)


def _normals(bending: Bending) -> Iterator[Spot]:
    """The way every large panel faces that is being folded, as it stands on the table."""
    large = _LARGE * area_of(bending.net.panels[bending.net.root].outline)
    for shot in shots_of(bending, 0, bending.last):
        turn = turn_of(shot_standing(bending, shot))
        part = bending.part_way(shot.start, shot.end)
        pose = bending.posed(shot.start, shot.end, part)
        moving = {at for group in bending.order.groups[shot.start : shot.end] for at in group}
        for hinge in bending.tree.hinges:
            if bending.number_of(hinge) in moving and area_of(bending.net.panels[hinge.hung].outline) >= large:
                yield turn(pose.normal(hinge.hung))
