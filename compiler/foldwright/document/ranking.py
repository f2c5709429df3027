"""Which pictures a page with little room wants first.

The plan of the piece with most work in it comes first, then how the finished thing looks, then the folds and joints no
plan shows, then the other plans by how much is done to them, then the photographs of single steps. A plan is wanted
once, at the first step that changes its piece; a piece no step changes has it beside the list of pieces.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from foldwright.document.model import Photograph, Picture, PieceLine, PlacedPicture, StepText

_WORTH_A_PLACE = ("glue", "fold", "join", "slit", "corners")
"""The step pictures that show what no plan does, the one needed most first."""


def ranked_pictures(
    photo: Photograph | None, finished: Picture | None, pieces: Sequence[PieceLine], steps: Sequence[StepText]
) -> tuple[PlacedPicture, ...]:
    """Every picture there is room for on paper, the one needed most first."""
    plans = sorted(_plans(pieces, steps), key=lambda plan: -_work(plan.piece, steps))
    whole = [PlacedPicture(0, photo=photo)] if photo else [PlacedPicture(0, drawing=finished.name)] if finished else []
    single = [PlacedPicture(step.number, photo=step.photo) for step in steps if step.photo]
    drawings = sorted(_drawings(steps), key=lambda one: _WORTH_A_PLACE.index(one[0]))
    return (*plans[:1], *whole, *(shown for _, shown in drawings), *plans[1:], *single)


def _drawings(steps: Sequence[StepText]) -> Iterator[tuple[str, PlacedPicture]]:
    """Of each step the one picture that says most, unless a photograph does."""
    for step in steps:
        worth = [picture for picture in step.pictures if picture.kind in _WORTH_A_PLACE]
        if worth and not step.photo:
            best = min(worth, key=lambda picture: _WORTH_A_PLACE.index(picture.kind))
            yield best.kind, PlacedPicture(step.number, best.piece, drawing=best.name)


def _plans(pieces: Sequence[PieceLine], steps: Sequence[StepText]) -> Iterator[PlacedPicture]:
    """One for each piece that has a plan, in the order of the steps."""
    first: dict[str, int] = {}
    for step in steps:
        for name in step.shows:
            first.setdefault(name, step.number)
    drawn = {piece.name for piece in pieces if piece.picture}
    yield from (PlacedPicture(number, name) for name, number in first.items() if name in drawn)
    yield from (PlacedPicture(0, piece.name) for piece in pieces if piece.picture and piece.name not in first)


def _work(piece: str, steps: Sequence[StepText]) -> int:
    """In how many steps something is done to it."""
    return Counter(name for step in steps for name in step.shows)[piece]
