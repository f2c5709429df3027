"""Which pictures the steps of a recipe get: what each does to paper, shown before or after, one thing a picture."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from msgspec.structs import replace

from foldwright.finding.unplaced import unplaced
from foldwright.geometry.folding.pieces import Folding
from foldwright.geometry.folding.said import order_in_words
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.finishing import finished_by_hand
from foldwright.geometry.pictures.handwork import HANDS, SHARED, handwork_pictures
from foldwright.geometry.pictures.putting import putting_pictures
from foldwright.geometry.pictures.round_about import says_through
from foldwright.geometry.pictures.schedule import joins, schedule_of
from foldwright.geometry.pictures.shaping import shaping_pictures
from foldwright.geometry.pictures.state import State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.workshop import Workshop, workshop_of
from foldwright.geometry.pieces import Flat
from foldwright.memory import Memory
from foldwright.recipe.model import Doing, Recipe, Step
from foldwright.recipe.needs import supplies_named
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary.work import CLOSING, FOLDING, GLUING, PRESSING

type Painter = Callable[[Workshop, State, Step, Sequence[Doing]], tuple[tuple[StepPicture, ...], State]]
"""From what there is by now, a step and some of its doings in a row: their pictures, and what there is then."""

_PICTURES: Memory[tuple[StepPicture, ...]] = Memory()


def step_pictures(
    recipe: Recipe, flat: Flat, folding: Folding, spoken: frozenset[LengthId] = frozenset()
) -> tuple[StepPicture, ...]:
    """Every picture in the order of the steps, the finished thing last. `spoken` are the lengths the words name."""
    return _PICTURES.of(
        "all",
        _shown_of(recipe, flat, folding, spoken),
        lambda: tuple(_told(workshop_of(recipe, flat, folding, spoken))),
    )


def _shown_of(recipe: Recipe, flat: Flat, folding: Folding, spoken: frozenset[LengthId]) -> object:
    """All that pictures show: of the words of steps only what painters listen for."""
    steps = recipe.steps
    words = [(schedule_of(blank, steps), order_in_words(blank, steps)) for blank in flat.blanks]
    heard = tuple(_heard(recipe, step) for step in steps)
    lists = unplaced((recipe.pieces, recipe.supplies, recipe.studio.hand))
    return lists, heard, words, replace(flat, findings=()), replace(folding, findings=()), spoken


def _heard(recipe: Recipe, step: Step) -> object:
    text = spoken_text(step.words)
    named = [supply.name.value for supply in supplies_named(step, text, recipe.supplies)]
    return step.number, step.doings, [said.value for said in step.uses], named, says_through(step)


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
