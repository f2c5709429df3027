"""What steps make of pieces that were given flat: a rectangle rolled to a tube, a part of a circle to a cone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import hypot, pi

from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, ExactPoint, Stance
from foldwright.geometry.flat.forms.round import (
    ROLLED,
    cone_bends,
    cone_of,
    middle_of,
    sector_in,
    stance_of,
    tube_bends,
)
from foldwright.geometry.flat.lines import FOLDS
from foldwright.geometry.flat.points import floats, kept
from foldwright.geometry.flat.rosettes import rosette
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.lengths import Ledger, LengthId
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece, Recipe

_RULER = 0.8
"""How far two sizes measured with a ruler may be apart: half a millimetre or a thirty-second of an inch, and a hair."""
_MOST_LAP = 1.4
"""What is longer than so many times round is no tube that laps over itself, but rolled up more than once."""
_PAST = 1.02
"""Rulings run so far past a rim that was drawn by hand, so that they meet it wherever it is."""


def rolled_up(
    recipe: Recipe, blanks: Sequence[Blank], cards: Mapping[str, Thickness | None], ledger: Ledger
) -> tuple[Blank, ...]:
    """The blanks, those curved that a step rolls, or whose author calls them a tube without a finished size alone."""
    rolls = {
        name.casefold() for step in recipe.steps for one in step.doings if one.act == "roll" for name in one.subjects
    }
    pieces = {piece.name.value: piece for piece in recipe.pieces}
    blanks = [rosette(blank, pieces[blank.piece], recipe, cards.get(blank.piece), ledger) for blank in blanks]
    return tuple(
        _rolled(blank, pieces[blank.piece], cards.get(blank.piece), ledger)
        if blank.piece.casefold() in rolls or blank.form in ROLLED
        else blank
        for blank in blanks
    )


def _rolled(blank: Blank, piece: Piece, card: Thickness | None, ledger: Ledger) -> Blank:
    if blank.bends or blank.doubtful or not _may_be_rolled(blank, piece):
        return blank
    sector = sector_in(floats(blank.outline)) if blank.outline else None
    unit = next((size.value.lengths[0].unit for size in (piece.size, piece.finished) if size), Unit.MILLIMETRE)
    if sector is not None:
        foot, high = map(kept, cone_of(sector))
        made = _made(blank, {"diameter": foot, "high": high}, unit, ledger)
        _compare(piece, "cone", (foot, high), card, unit, ledger)
        return replace(
            blank,
            form="cone",
            outline=tuple(_with_point(blank.outline, sector.point)),
            bends=tuple(cone_bends(sector, (), _PAST)),
            stance=stance_of(sector),
            stays=middle_of(sector),
            made=(made[0], *made),
        )
    if blank.outline or blank.round:
        return blank
    across = _runs_across(blank, piece)
    long, whole = (blank.height, blank.width) if across else (blank.width, blank.height)
    around = _around(blank, piece, across, whole)
    diameter = kept(float(around) / pi)
    made = _made(blank, {"diameter": diameter, "long": long}, unit, ledger)
    _compare(piece, "tube", (diameter, long), card, unit, ledger)
    bends = tuple(tube_bends(around, whole, long, across))
    middle = (around / 2, long / 2) if across else (long / 2, around / 2)
    return replace(
        blank,
        form="tube",
        bends=bends,
        made=(made[0], *made),
        layers=(("diameter", 1), ("long", 0)),
        stays=middle,
        stance=None if across else Stance(90.0),
    )


def _may_be_rolled(blank: Blank, piece: Piece) -> bool:
    """Whether nothing says that it is folded."""
    fold = piece.fold.value if piece.fold else None
    folded = fold is not None and (fold.form not in ("", "flat", *ROLLED) or any(fold.angles))
    drawn = any(line.kind in FOLDS for line in blank.drawn)
    return not folded and not drawn and min(len(blank.across), len(blank.down)) == 1 and blank.count > 0


def _made(
    blank: Blank, sizes: Mapping[str, Fraction], unit: Unit, ledger: Ledger
) -> tuple[tuple[LengthId, Fraction], ...]:
    """What it measures when it is rolled, noted as worked out."""
    made = tuple((LengthId(blank.piece, "made", side), mm) for side, mm in sizes.items())
    for name, mm in made:
        ledger.lengths[name] = Length(mm, unit)
        ledger.worked_out.add(name)
    return made


def _runs_across(blank: Blank, piece: Piece) -> bool:
    """Whether it goes round from left to right: as its panels do, as its finished size says, else the longer side."""
    if len(blank.across) != len(blank.down):
        return len(blank.across) > len(blank.down)
    if piece.finished:
        said = [float(length.mm) for length in piece.finished.value.lengths]
        by_side = {side: min(abs(float(other) - one) for one in said) for side, other in _others(blank)}
        return by_side["across"] <= by_side["down"]
    return blank.width >= blank.height


def _others(blank: Blank) -> tuple[tuple[str, Fraction], ...]:
    """How long the tube is that goes round along each side."""
    return ("across", blank.height), ("down", blank.width)


def _around(blank: Blank, piece: Piece, across: bool, whole: Fraction) -> Fraction:
    """Once round: without its glue flap, or as far as its finished size says if the rest can be what laps over."""
    _, strips, _ = blank.row(across)
    if any(strip.role == GLUE_FLAP for strip in strips):
        return sum((strip.long for strip in strips if strip.role != GLUE_FLAP), Fraction(0))
    for said in piece.finished.value.lengths if piece.finished else ():
        around = kept(float(said.mm) * pi, 10**9)
        if around <= whole <= _MOST_LAP * around:
            return around
    return whole


def _compare(
    piece: Piece, form: str, made: tuple[Fraction, Fraction], card: Thickness | None, unit: Unit, ledger: Ledger
) -> None:
    """What its author says it measures when made, beside what it is rolled to."""
    if piece.finished is None:
        return
    said = sorted(float(length.mm) for length in piece.finished.value.lengths)[-2:]
    tolerance = _RULER + 2 * float(card.length.mm if card else 0)
    if any(abs(one - float(other)) > tolerance for one, other in zip(said, sorted(made), strict=True)):
        facts = {"wide": Length(made[0], unit), "long": Length(made[1], unit)}
        ledger.misfit(f"rolls-to-another-{form}", piece.finished.place, piece=piece.name.value, **facts)


def _with_point(outline: Sequence[ExactPoint], point: tuple[float, float]) -> Iterator[ExactPoint]:
    """The outline with a corner at the point of its cone, where that lies on an edge."""
    place = kept(point[0], 10**9), kept(point[1], 10**9)
    for one, other in zip(outline, (*outline[1:], outline[0]), strict=True):
        yield one
        middle = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
        if hypot(float(middle[0]) - point[0], float(middle[1]) - point[1]) < 1e-6:
            yield place
