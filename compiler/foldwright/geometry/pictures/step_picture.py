"""A picture of a step, as a scene that nobody has worded yet."""

from __future__ import annotations

from msgspec import Struct

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Scene


class StepPicture(Struct, frozen=True):
    """A picture of step `step` (0: of the finished thing).

    `code` says what it shows of `piece`: `cut`, `score-across`, `score-down`, `score-all-round`, `score-drawn` (lines
    that lie anywhere), `slit`, `corners`, `punch` and `open` (holes
    and other openings, also `-folded`), `round`, `fold`, `glue` (folding, with glue on the flaps), the same of some
    `parts` of it (`fold-part`, `glue-part`, and `fold-number`, `glue-number` where they are numbered and not named),
    `close` (folding what was left open), `made` (folded by now), `roll`, `roll-glue` and `rolled` (the same of what is
    rolled), `ring` and `press-flat` (of a rosette), `join` (on its way to `onto`), `joined`, `lid` (over `onto`),
    `drawer` (half out of `onto`); else what hands do (see `handwork`), and no `piece` means the whole thing.
    `lengths` are those it shows, in the order they are worked.
    """

    step: int
    code: str
    piece: str
    scene: Scene
    onto: str = ""
    parts: tuple[str, ...] = ()
    """The panels that are folded, the pieces that are put on, or the shapes that are opened."""
    lengths: tuple[LengthId, ...] = ()
    stages: tuple[Scene, ...] = ()
    """Of a piece that is folded: the way there, from flat to folded, all in one frame."""
    thing: str = ""
    """The supply it is done with."""
