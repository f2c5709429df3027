"""Which pictures the steps of a recipe get: what each does to paper, shown before or after, one thing a picture."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from foldwright.geometry.folding.pieces import Folding
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.finishing import finished_by_hand
from foldwright.geometry.pictures.handwork import HANDS, SHARED, handwork_pictures
from foldwright.geometry.pictures.putting import putting_pictures
from foldwright.geometry.pictures.schedule import joins
from foldwright.geometry.pictures.shaping import shaping_pictures
from foldwright.geometry.pictures.state import State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.workshop import Workshop, workshop_of
from foldwright.geometry.pieces import Flat
from foldwright.recipe.model import Doing, Recipe, Step
from foldwright.vocabulary.work import CLOSING, FOLDING, GLUING, PRESSING

type Painter = Callable[[Workshop, State, Step, Sequence[Doing]], tuple[tuple[StepPicture, ...], State]]
"""From what there is by now, a step and some of its doings in a row: their pictures, and what there is then."""


def step_pictures(
    recipe: Recipe, flat: Flat, folding: Folding, spoken: frozenset[LengthId] = frozenset()
) -> tuple[StepPicture, ...]:
    """Every picture in the order of the steps, the finished thing last. `spoken` are the lengths the words name."""
    return tuple(_told(workshop_of(recipe, flat, folding, spoken)))


def _told(workshop: Workshop) -> Iterator[StepPicture]:
    state = workshop.untouched()
    for step in workshop.recipe.steps:
        for painter, doings in groupby(step.doings, lambda doing: _painter_of(workshop, doing)):
            row = tuple(doings)
            pictures, state = painter(workshop, state, step, row)
            if not pictures:
                pictures, state = handwork_pictures(workshop, state, step, row)
            yield from pictures
    yield from finished_by_hand(workshop, state)


def _painter_of(workshop: Workshop, doing: Doing) -> Painter:
    """Who shows what is done; doings in a row of one painter are shown together."""
    if not joins(doing) and _is_curved(workshop, doing):
        return shaping_pictures
    if doing.act in HANDS and (doing.act not in SHARED or _is_rolled(workshop, doing)):
        return handwork_pictures
    return putting_pictures if joins(doing) and _meet(workshop, doing) else shaping_pictures


def _is_curved(workshop: Workshop, doing: Doing) -> bool:
    """Whether it is rolled or bent on the way to its form: then it is shaped, and not only shown bent."""
    blanks = [workshop.blank(name) for name in doing.subjects]
    if doing.act == PRESSING:
        return any(blank is not None and blank.pressed for blank in blanks)
    return doing.act in FOLDING | GLUING | CLOSING and any(
        blank is not None and (blank.bends or blank.pressed) for blank in blanks
    )


def _meet(workshop: Workshop, doing: Doing) -> bool:
    """Whether the pieces are put on one another; `glue base and lid` is each of them by itself."""
    pieces = [piece for name in doing.subjects if (piece := workshop.piece(name))]
    said = [one.value.piece for piece in pieces for one in (*piece.goes_on, *piece.goes_round)]
    said += [one.value.to.piece for piece in pieces for one in piece.glued]
    mates = [one.value.piece for piece in pieces for one in (*piece.fits_over, *piece.slides_in)]
    return any(workshop.named(name) in doing.subjects for name in said) or not any(
        workshop.named(name) in doing.subjects for name in mates
    )


def _is_rolled(workshop: Workshop, doing: Doing) -> bool:
    """Whether the piece is rolled in this recipe: what is glued of it is no flap of a folded piece."""
    doings = (one for step in workshop.recipe.steps for one in step.doings)
    return any(one.act == "roll" and set(doing.subjects) & set(one.subjects) for one in doings)
