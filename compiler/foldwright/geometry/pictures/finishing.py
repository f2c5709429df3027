"""The finished thing with all that hands have added: its bow, its band, what lies in it."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from foldwright.geometry.pictures.going_in import pair_scene
from foldwright.geometry.pictures.handling import main_piece
from foldwright.geometry.pictures.popped_up import popped_up
from foldwright.geometry.pictures.putting import finished_pictures
from foldwright.geometry.pictures.solid import faces_of
from foldwright.geometry.pictures.state import State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.whole import seat_of, whole_of
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.geometry.scene import scene_of

_ROUND = frozenset({"tie", "wrap", "band"})
"""What holds a lid down: a thing that is tied is shown closed."""
_SEEN = frozenset({"thread", "fill", "roll", "glue-to", "cap", "lid", "drawer", "weave", *_ROUND})
"""What the picture of the paper alone would lack."""


def finished_by_hand(workshop: Workshop, state: State) -> Iterator[StepPicture]:
    """What all the steps come to; where hands add nothing, the paper alone."""
    pictures = tuple(finished_pictures(workshop, state))
    if not any(added.how in _SEEN for added in state.added):
        yield from pictures
        return
    main = main_piece(workshop, state)
    held = any(added.how in _ROUND and seat_of(added.piece, state) == seat_of(main, state) for added in state.added)
    pair = next((one for one in pictures if one.code in ("lid", "drawer")), None)
    if pair is not None and not held:
        apart = replace(state, added=tuple(one for one in state.added if one.how not in ("lid", "drawer")))
        above, below = whole_of(workshop, apart, pair.piece), whole_of(workshop, apart, pair.onto)
        yield replace(pair, scene=pair_scene(workshop, apart, pair.code, pair.piece, above, below, arrow=False))
    elif main and not held and (leaves := popped_up(workshop, state, main)):
        yield StepPicture(0, "joined", main, scene_of(faces_of(leaves, workshop.view)))
    elif main:
        yield StepPicture(0, "joined", main, scene_of(whole_of(workshop, state, main).faces(workshop)))
