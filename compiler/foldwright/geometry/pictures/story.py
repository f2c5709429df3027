"""Which pictures the steps of a recipe get: what each does to paper, shown before or after, one thing a picture."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from foldwright.geometry.folding.pieces import Folding
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.putting import finished_pictures, putting_pictures
from foldwright.geometry.pictures.shaping import shaping_pictures
from foldwright.geometry.pictures.state import State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.workshop import Workshop, workshop_of
from foldwright.geometry.pieces import Flat
from foldwright.recipe.model import Doing, Recipe, Step
from foldwright.vocabulary.work import GLUING

type Painter = Callable[[Workshop, State, Step, Sequence[Doing]], tuple[tuple[StepPicture, ...], State]]
"""From what there is by now, a step and some of its doings in a row: their pictures, and what there is then."""


def step_pictures(
    recipe: Recipe, flat: Flat, folding: Folding, spoken: frozenset[LengthId] = frozenset()
) -> tuple[StepPicture, ...]:
    """Every picture in the order of the steps, the finished thing last. `spoken` are the lengths the words name."""
    return tuple(_told(workshop_of(recipe, flat, folding, spoken)))


def _told(workshop: Workshop) -> Iterator[StepPicture]:
    state = State()
    for step in workshop.recipe.steps:
        for painter, doings in groupby(step.doings, _painter_of):
            pictures, state = painter(workshop, state, step, tuple(doings))
            yield from pictures
    yield from finished_pictures(workshop, state)


def _painter_of(doing: Doing) -> Painter:
    """Who shows what is done; doings in a row of one painter are shown together."""
    return putting_pictures if doing.act in GLUING and len(doing.subjects) >= 2 else shaping_pictures
