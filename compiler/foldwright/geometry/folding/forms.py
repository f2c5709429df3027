"""What a form folds to: the finished angle of every score.

The good side of what is made is its outside: with the good side up every wall is folded away from who makes it, which
is a mountain. `good side in` after the form turns that round.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, degrees

from msgspec import Struct

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, Strip
from foldwright.geometry.flat.lines import LineSource, bends_in, sources_of
from foldwright.recipe.model import Fold

_GOOD_SIDE_IN = "good side in"
_UPRIGHT = frozenset({"tray", "lid", "case"})
_FLAT_ON_ITSELF = frozenset({"card", "gate", "tri-fold", "envelope"})


class Bends(Struct, frozen=True):
    """The finished angle of each score in degrees (see `net.Crease`); `root` names the panel that stays, or nothing."""

    angles: dict[LineSource, float]
    root: str = ""


def bends_of(blank: Blank, fold: Fold | None) -> Bends | None:
    """None when nothing is said of how the piece folds, or its form is not known to fold."""
    drawn = {
        source: float(line.angle)
        for source, line in zip(sources_of(blank), blank.drawn, strict=True)
        if line.angle is not None
    }
    drawn |= {line.source: bend.angle for line, bend in bends_in(blank)}
    if fold is None:
        return Bends(drawn) if drawn else None
    scores = scores_of(blank)
    if fold.angles:
        angles = [float(angle) for angle in fold.angles]
        rest = sorted({line.number for line in blank.drawn if line.kind in ("score", "valley", "mountain")})
        named = [*scores, *(LineSource("line", number) for number in rest)]
        return Bends({**dict(zip(named, angles, strict=False)), **drawn})
    inwards = any(_GOOD_SIDE_IN in remark.casefold() for remark in fold.remarks)
    if inwards and blank.made:
        drawn = {source: -angle for source, angle in drawn.items()}
    found = _of_form(blank, fold, scores)
    if found is None:
        return Bends(drawn) if drawn else None
    sign = 1.0 if inwards or fold.form == "accordion" else -1.0
    return Bends({**{score: sign * angle for score, angle in found.items()}, **drawn})


def scores_of(blank: Blank) -> tuple[LineSource, ...]:
    """The scores of the rows, those across first."""
    return tuple(
        LineSource(side, number)
        for side, strips in (("across", blank.across), ("down", blank.down))
        for number in range(1, len(strips))
    )


def _of_form(blank: Blank, fold: Fold, scores: tuple[LineSource, ...]) -> dict[LineSource, float] | None:
    if fold.form in _UPRIGHT:
        return dict.fromkeys(scores, 90.0)
    if fold.form in _FLAT_ON_ITSELF:
        return dict.fromkeys(scores, 180.0)
    if fold.form == "sleeve":
        return _round_about(blank)
    if fold.form == "accordion":
        row = blank.folds_across if len(blank.across) > 1 else blank.folds_down
        return {score: 180.0 if kind == "valley" else -180.0 for score, kind in zip(scores, row, strict=False)}
    return None


def _round_about(blank: Blank) -> dict[LineSource, float] | None:
    """Panels that go once round: square with four, as a triangle's sides ask for with three, even with more.

    A glue flap lies on the panel it is stuck to, so its score turns by the corner that is closed there.
    """
    side, strips = blank.main_row
    walls = [float(strip.long) for strip in strips if strip.role != GLUE_FLAP]
    if len(walls) < 3 or misplaced_glue_flaps(strips):
        return None
    corners = _corners(walls)
    if strips[0].role == GLUE_FLAP:
        corners = [corners[-1], *corners[:-1]]
    return {LineSource(side, number): corners[number - 1] for number in range(1, len(strips))}


def misplaced_glue_flaps(strips: Sequence[Strip]) -> bool:
    """Whether a row that goes once round has more glue flaps than one, or one that is not at its end."""
    flaps = [number for number, strip in enumerate(strips) if strip.role == GLUE_FLAP]
    return bool(flaps) and flaps not in ([0], [len(strips) - 1])


def _corners(walls: list[float]) -> list[float]:
    """By how much the paper turns after each wall."""
    if len(walls) == 4:
        return [90.0] * 4
    if len(walls) == 3:
        one, two, three = walls
        return [180.0 - _between(*sides) for sides in ((one, two, three), (two, three, one), (three, one, two))]
    return [360.0 / len(walls)] * len(walls)


def _between(one: float, other: float, opposite: float) -> float:
    """The angle between two sides of a triangle, by the law of cosines; 90 where there is no such triangle."""
    cosine = (one * one + other * other - opposite * opposite) / (2 * one * other)
    return degrees(acos(cosine)) if -1.0 < cosine < 1.0 else 90.0
