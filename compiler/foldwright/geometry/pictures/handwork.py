"""What hands do besides cutting, scoring, folding and layering: which picture each act gets."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec.structs import replace

from foldwright.geometry.pictures.going_in import contents_for, filled, holder_of, pair_of, paired, posted, sealed
from foldwright.geometry.pictures.handling import Handled, Handling, handling_of
from foldwright.geometry.pictures.marking import WORK, worked_on
from foldwright.geometry.pictures.meeting import end_put_on, joined_by_glue, put_to, turned, woven
from foldwright.geometry.pictures.round_about import belt_put_on, bent_sheet, bound
from foldwright.geometry.pictures.state import State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.whole import seat_of
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.recipe.model import Doing, Step

_HOLDERS = frozenset({"envelope", "bag", "box"})

type Hand = Callable[[Handling], Handled | None]


def _together(task: Handling) -> Handled | None:
    """Two pieces that belong together, a piece into its envelope, things into a piece, or a piece to another one."""
    pair = pair_of(task)
    if pair is not None:
        return paired(task, *pair)
    holder = holder_of(task, _HOLDERS)
    if holder is not None and not len(task.doing.subjects) > 1:
        return posted(task, holder)
    if len(task.doing.subjects) > 1:
        return joined_by_glue(task) or put_to(task)
    supply = contents_for(task)
    return filled(task, supply) if supply is not None else None


def _wrapped(task: Handling) -> Handled | None:
    return belt_put_on(task) or bound(task)


def _closed(task: Handling) -> Handled | None:
    """A box, an envelope, or whatever is there, pressed shut."""
    holder = None if task.named else holder_of(task, frozenset({"envelope"}))
    if holder is not None:
        return sealed(task, holder)
    pair = pair_of(task)
    return paired(task, *pair) if pair else worked_on(task)


def _glued(task: Handling) -> Handled | None:
    """What is stuck to another piece by its `glued:`, or glue put on a piece by itself."""
    if len(task.doing.subjects) > 1:
        return joined_by_glue(task) or end_put_on(task)
    return worked_on(task) if task.named else None


HANDS: dict[str, Hand] = {
    **dict.fromkeys(WORK, worked_on),
    **dict.fromkeys(("tie", "thread"), bound),
    "wrap": _wrapped,
    **dict.fromkeys(("insert", "lay", "fill", "pack"), _together),
    "close": _closed,
    **dict.fromkeys(("glue", "hot glue", "tape", "stick", "attach", "solder"), _glued),
    **dict.fromkeys(("roll", "bend"), bent_sheet),
    "weave": woven,
    "turn": turned,
    "assemble": _together,
}
"""The acts this room draws. Those of `SHARED` come here only where nothing is left to be shown of the paper itself."""
SHARED = frozenset(
    {
        "punch",
        "pierce",
        "glue",
        "hot glue",
        "tape",
        "stick",
        "attach",
        "assemble",
        "close",
        "tear",
        "remove",
        "round",
        "solder",
    }
)
UNDRAWN: dict[str, str] = {
    "measure": "nothing is changed; the lengths are in the picture of what is cut or scored then",
    "print": "a machine does it, and what it prints nobody has told us",
    "check": "nothing is changed",
    "dry": "nobody does anything",
    "wait": "nobody does anything",
    "collect": "nothing is changed; what is needed stands in a list",
    "sort": "nothing is changed",
    "share out": "nothing is changed",
    "clean": "nothing is changed that stays",
}
"""Acts without a picture, and why."""


_ON_THEIR_OWN = frozenset({"glue-to", "post", "seal", "weave", "roll", "bend", "band"})
"""Pictures that show a piece otherwise than it stands."""


def handwork_pictures(
    workshop: Workshop, state: State, step: Step, doings: Sequence[Doing]
) -> tuple[tuple[StepPicture, ...], State]:
    """A picture of each thing hands do, one after the other, and what there is after that."""
    told: list[StepPicture] = []
    for doing in doings:
        task = handling_of(workshop, state, step, doing)
        shown = HANDS[doing.act](task) if task is not None and doing.act in HANDS else None
        if shown is None:
            continue
        state, scene = shown.state, shown.scene
        if shown.code not in _ON_THEIR_OWN:
            seat = seat_of(task.piece, state) if task else ""
            signs, state = state.stood(seat, workshop.bench(state).stands(seat))
            scene = replace(scene, signs=signs)
        parts = (shown.thing,) * shown.count
        picture = StepPicture(step.number, shown.code, shown.piece, scene, shown.onto, parts, thing=shown.thing)
        if not any(one.scene == picture.scene for one in told):
            told.append(picture)
    return tuple(told), state
