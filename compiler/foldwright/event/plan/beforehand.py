"""What is done when class begins, since the cutting plan was carried out and lengths came off their spools.

The pieces come to the table cut to size. A step that only cuts them out has nothing left; of one that goes on to score
or fold them the rest is left.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.plan.cutting import SheetPlan
from foldwright.geometry.pieces import Flat
from foldwright.measure.amounts import Dimension
from foldwright.recipe.model import Doing, Piece, Recipe, Step, Supply
from foldwright.recipe.needs import needs_of, supplies_named
from foldwright.vocabulary.work import CUTTING, PIERCING, SLITTING

_STRAIGHT = frozenset({"cut", "slice", "trim"})
"""Acts that cut a piece out of its sheet along straight lines, as the cutting plan does."""
_TOLD = re.compile(r"\b(?:cut|trim|slice)\b", re.IGNORECASE)
"""Where a step tells to cut a piece out: the first time it tells to cut anything."""
_CUT_LINES = frozenset({"cut", "perforation"})


class Beforehand(Struct, frozen=True):
    """Of one recipe: the pieces that were cut to size, and what that leaves to do.

    `shaped` are those whose outline, flaps or holes belong to the same cutting, and are left; `steps` have nothing left
    to do; `partly` are the pieces that need not be cut any more in a step that has something left, `lengths` the
    supplies that need not.
    """

    pieces: frozenset[str]
    shaped: frozenset[str]
    steps: frozenset[int]
    partly: Mapping[int, tuple[str, ...]]
    lengths: Mapping[int, tuple[str, ...]]


def beforehand_of(recipe: Recipe, flat: Flat, given: Collection[str] | None = None) -> Beforehand:
    """`given` are the pieces that the cutting plan gives, all of each; without them all that come out of sheets."""
    pieces = _laid(recipe, flat) if given is None else frozenset(given)
    work = _WorkLeft(recipe, pieces)
    steps = frozenset(step.number for step in recipe.steps if work.done(step))
    partly = {step.number: found for step in recipe.steps if (found := work.begun(step)) and step.number not in steps}
    lengths = {
        step.number: found for step in recipe.steps if (found := _lengths(step, recipe)) and step.number not in steps
    }
    return Beforehand(pieces, frozenset(filter(work.shaped, pieces)), steps, partly, lengths)


def needs_left(step: Step, text: str, recipe: Recipe, done: Beforehand) -> tuple[str, ...]:
    """What the rest of a step needs: not what only cutting out needs, nor what nothing is cut from any more.

    `text` is the plain text of its words.
    """
    pieces, lengths = done.partly.get(step.number, ()), done.lengths.get(step.number, ())
    if not (pieces or lengths):
        return needs_of(step, text, recipe)
    cut = {*pieces} - done.shaped
    doings = tuple(
        doing
        for doing in step.doings
        if doing.act not in CUTTING or not (cut.issuperset(doing.subjects) if doing.subjects else lengths)
    )
    if doings != step.doings:
        text = _TOLD.sub("", text, count=1)
    left = needs_of(replace(step, doings=doings), text, recipe)
    cut_from = {piece.supply.value for piece in recipe.pieces if piece.supply}
    still = {piece.supply.value for piece in recipe.pieces if piece.supply and piece.name.value not in done.pieces}
    return tuple(name for name in left if name not in cut_from or name in still)


def cut_lengths(recipe: Recipe) -> tuple[Supply, ...]:
    """What is packed cut to length off its spool."""
    return tuple(
        supply
        for supply in recipe.supplies
        if supply.use is not None and supply.use.value.dimension is Dimension.LENGTH and not supply.sheets
    )


def pieces_given(number: int, sheets: Sequence[SheetPlan]) -> frozenset[str]:
    """The pieces of a recipe, by its number among those of the event, of which the plan gives all, and cuts them."""
    given, lacking = set[str](), set[str]()
    for plan in sheets:
        missing = {*plan.cutting.too_large, *(kind for kind, _ in plan.cutting.short)}
        for kind, one in enumerate(plan.wanted):
            if one.recipe == number:
                (lacking if kind in missing or one.slant else given).add(one.piece)
    return frozenset(given - lacking)


def _laid(recipe: Recipe, flat: Flat) -> frozenset[str]:
    sheets = {supply.name.value.casefold() for supply in recipe.supplies if supply.sheets}
    laid = {blank.piece for blank in flat.blanks if blank.width > 0 and blank.height > 0}
    return frozenset(
        piece.name.value
        for piece in recipe.pieces
        if piece.name.value in laid and piece.supply is not None and piece.supply.value.casefold() in sheets
    )


def _to_shape(piece: Piece) -> bool:
    """Whether something is cut of it beside its four edges."""
    lines = any(line.value.kind in _CUT_LINES for line in piece.lines)
    return bool(piece.outline or piece.flaps or piece.holes or piece.corners or lines)


def _lengths(step: Step, recipe: Recipe) -> tuple[str, ...]:
    """The supplies that a step cuts to length, which come in the bag so: it says `cut` of no piece, and names them."""
    if not any(doing.act in _STRAIGHT and not doing.subjects for doing in step.doings):
        return ()
    return tuple(supply.name.value for supply in supplies_named(step, "", cut_lengths(recipe)))


class _WorkLeft:
    """What the steps of a recipe still do to the pieces that were cut to size."""

    def __init__(self, recipe: Recipe, cut: Collection[str]) -> None:
        self._recipe, self._cut = recipe, cut
        self._pieces = {piece.name.value: piece for piece in recipe.pieces}
        doings = [(step.number, doing) for step in recipe.steps for doing in step.doings]
        self._acts = {
            name: [(number, doing.act) for number, doing in doings if name in doing.subjects] for name in self._pieces
        }

    def shaped(self, name: str) -> bool:
        """Whether straight cuts out of the sheet leave something that no later act on the piece is said to cut."""
        piece, acts = self._pieces[name], self._acts[name]
        first = next((at for at, (_, act) in enumerate(acts) if act in CUTTING), -1)
        later = any(act in SLITTING | PIERCING for _, act in acts[first + 1 :])
        return _to_shape(piece) and (piece.outline is not None or not later)

    def done(self, step: Step) -> bool:
        """Whether nothing is left of a step."""
        return bool(step.doings) and all(self._done(step, doing) for doing in step.doings)

    def begun(self, step: Step) -> tuple[str, ...]:
        """The pieces that need not be cut out any more in a step."""
        return tuple(
            dict.fromkeys(
                name
                for doing in step.doings
                for name in doing.subjects
                if doing.act in _STRAIGHT and name in self._cut and self._cuts_out(step, name)
            )
        )

    def _done(self, step: Step, doing: Doing) -> bool:
        if doing.act not in _STRAIGHT:
            return False
        if not doing.subjects:
            return bool(_lengths(step, self._recipe))
        return all(
            name in self._cut and self._cuts_out(step, name) and not self.shaped(name) for name in doing.subjects
        )

    def _cuts_out(self, step: Step, name: str) -> bool:
        """Whether it is the step in which the piece is first cut, and cut straight."""
        first = next(((number, act) for number, act in self._acts[name] if act in CUTTING), None)
        return first is not None and first[0] == step.number and first[1] in _STRAIGHT
