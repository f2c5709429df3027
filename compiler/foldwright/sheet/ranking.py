"""Which pictures a page with little room wants first.

The plan of the piece with most work in it comes first, then how the finished thing looks, then the other plans by how
much is done to them, then the photographs of single steps. A plan is wanted once, at the first step that changes its
piece; a piece no step changes has it beside the list of pieces.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from foldwright.sheet.model import Photograph, PieceLine, Shown, StepText


def ranked_pictures(
    photo: Photograph | None, pieces: Sequence[PieceLine], steps: Sequence[StepText]
) -> tuple[Shown, ...]:
    """Every picture there is, the one needed most first."""
    plans = sorted(_plans(pieces, steps), key=lambda plan: -_work(plan.piece, steps))
    finished = [Shown(0, photo=photo)] if photo else []
    single = [Shown(step.number, photo=step.photo) for step in steps if step.photo]
    return (*plans[:1], *finished, *plans[1:], *single)


def _plans(pieces: Sequence[PieceLine], steps: Sequence[StepText]) -> Iterator[Shown]:
    """One for each piece that has a plan, in the order of the steps."""
    first: dict[str, int] = {}
    for step in steps:
        for name in step.shows:
            first.setdefault(name, step.number)
    drawn = {piece.name for piece in pieces if piece.picture}
    yield from (Shown(number, name) for name, number in first.items() if name in drawn)
    yield from (Shown(0, piece.name) for piece in pieces if piece.picture and piece.name not in first)


def _work(piece: str, steps: Sequence[StepText]) -> int:
    """In how many steps something is done to it."""
    return Counter(name for step in steps for name in step.shows)[piece]
