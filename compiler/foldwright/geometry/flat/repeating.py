"""Lines and holes that are repeated: how far each copy stands from the first, and the spacing by identity."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from foldwright.geometry.lengths import Ledger, LengthId
from foldwright.recipe.model import Repeat


def shifts(repeat: Repeat) -> Iterator[tuple[Fraction, Fraction]]:
    """How far across and down each copy is moved, in millimetres, the first by nothing."""
    for copy in range(repeat.times):
        far = copy * repeat.apart.mm
        yield (far, Fraction(0)) if repeat.side == "across" else (Fraction(0), far)


def spacing(piece: str, what: str, number: int, repeat: Repeat) -> LengthId:
    """The spacing of a repeated `line` or `hole`, one length however often it is repeated."""
    return LengthId(piece, f"{what} apart", repeat.side, number)


def note_repeat(piece: str, what: str, number: int, repeat: Repeat, ledger: Ledger) -> LengthId:
    """Notes the spacing down."""
    name = spacing(piece, what, number, repeat)
    ledger.lengths[name] = repeat.apart
    return name
