"""A picture of a step, as a scene that nobody has worded yet."""

from __future__ import annotations

from msgspec import Struct

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Scene


class StepPicture(Struct, frozen=True):
    """A picture of step `step` (0: of the finished thing).

    `code` says what it shows of `piece`: `cut`, `score-across`, `score-down`, `score-all-round`, `score-drawn` (lines
    that lie anywhere), `slit`, `corners`, `punch`, `fold`, `glue` (folding, with glue on the flaps), `made` (folded),
    the same of what is rolled (`roll`, `roll-glue`, `rolled`), `join` (on its way to `onto`), `joined`, `lid` (over
    `onto`), `drawer` (half out of `onto`). `lengths` are those it shows, in the order they are worked.
    """

    step: int
    code: str
    piece: str
    scene: Scene
    onto: str = ""
    lengths: tuple[LengthId, ...] = ()
    stages: tuple[Scene, ...] = ()
    """Of a piece that is folded: the way there, from flat to folded, all in one frame."""
