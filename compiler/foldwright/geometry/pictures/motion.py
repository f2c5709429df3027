"""A piece on its way from flat to folded, as scenes in one frame, so that nothing jumps between them."""

from __future__ import annotations

from functools import lru_cache

from foldwright.geometry.folding.folded import tree_of
from foldwright.geometry.folding.net import Net
from foldwright.geometry.pictures.bending import posed, rooted, standing_of
from foldwright.geometry.pictures.composing import scenes_of
from foldwright.geometry.pictures.solid import edges_of, faces_of, sheets_of
from foldwright.geometry.pictures.standing import stood
from foldwright.geometry.pictures.view import View
from foldwright.geometry.scene import Scene

STAGES = 9
"""From flat to folded; each fold moves by some eleven degrees, or twice that for leaves, from one to the next."""


@lru_cache(maxsize=256)
def motion_of(net: Net, form: str, view: View, paper: int = 0) -> tuple[Scene, ...]:
    """The stages in order, the first flat, the last folded. All have the same size and stand on the same spot.

    Kept by content, as all that is folded for a picture: a piece nobody has changed is folded once.
    """
    held = rooted(net, form)
    standing = standing_of(held, form, made=False)
    tree, edges = tree_of(held), edges_of(held)
    stages = [posed(tree, stage / (STAGES - 1)) for stage in range(STAGES)]
    return scenes_of([faces_of(stood(sheets_of(one, (), paper, edges), standing), view)[1:] for one in stages])
