"""The numbers of one thing as its size: which is a diameter, which the height, and what is taken for granted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.tokens import Kind, Token
from foldwright.begin.draft.model import DraftNote
from foldwright.measure.length import Length, Unit
from foldwright.vocabulary.contents import UNKNOWN, Content, Posture, Shape

_ROUND_WORDS = frozenset({"round", "circular", "cylinder", "cylindrical"})
_BALL_WORDS = frozenset({"ball", "balls", "sphere", "spheres", "spherical"})
_CUBE_WORDS = frozenset({"cube", "cubes", "cubic", "dice", "die"})
_PHOTO = "photo"
_PHOTO_SIZES = frozenset({(3, 5), (4, 4), (4, 6), (5, 5), (5, 7), (6, 8), (8, 8), (8, 10), (8, 12), (11, 14)})
"""Inches that prints are called by without a unit: `4 x 6` (common practice, no source)."""
_HIGH = ("height", "thickness")
_FLOOR = ("length", "width", "depth")


class Measure(Struct, frozen=True):
    """One number of a size, which side it is said to be, and whether its unit stands behind it."""

    length: Length
    side: str = ""
    own_unit: bool = True


class Size(Struct, frozen=True):
    """What the numbers come to: a size as `Things` has it, and what was taken for granted."""

    sides: tuple[Length, ...]
    round: bool = False
    thickness: Length | None = None
    notes: tuple[DraftNote, ...] = ()


class NoUnitError(Exception):
    """No number of a size has a unit, and nobody said one."""


class IncompleteError(Exception):
    """Numbers are missing, or there are too many."""


def measures_of(run: Sequence[Token], unit: Unit | None) -> list[Measure]:
    """The numbers of a run of tokens with what is said of each; `unit` is that of bare ones where no other is said.

    Raises NoUnitError and IncompleteError.
    """
    numbers: list[tuple[Token, str]] = []
    waiting = ""
    before = bool(run) and run[0].kind is Kind.SIDE
    for at, token in enumerate(run):
        if token.kind is Kind.NUMBER:
            numbers.append((token, waiting))
            waiting = ""
        elif token.kind is Kind.SIDE:
            follows = any(one.kind is Kind.NUMBER for one in run[at + 1 : at + 2])
            if not numbers or (follows and (before or numbers[-1][1])):
                waiting = token.side
            else:
                numbers[-1] = numbers[-1][0], numbers[-1][1] or token.side
    return [*_with_units(numbers, unit)]


def _with_units(numbers: Sequence[tuple[Token, str]], unit: Unit | None) -> Iterator[Measure]:
    """A unit covers the bare numbers before it, else those behind it."""
    said = [token.unit for token, _ in numbers]
    for at, (token, side) in enumerate(numbers):
        own = next((one for one in (*said[at:], *reversed(said[:at])) if one), unit)
        if own is None:
            raise NoUnitError
        if not token.value:
            raise IncompleteError
        yield Measure(Length(token.value * own.mm, own), side, token.unit is not None)


def photo_unit(run: Sequence[Token], content: Content) -> Unit | None:
    """`5 x 7 photo`: prints are called by their inches."""
    sides = tuple(
        sorted(int(token.value) for token in run if token.kind is Kind.NUMBER and token.value.denominator == 1)
    )
    return Unit.INCH if content.name == _PHOTO and sides in _PHOTO_SIZES else None


def size_of_measures(measures: Sequence[Measure], content: Content, name: str) -> Size:
    """The size of a thing of a kind that is called so. Raises IncompleteError."""
    words = {word.casefold() for word in name.split()}
    if not measures:
        raise IncompleteError
    if "square" in words and len(measures) == 2:
        measures = [replace(measures[0], side="square"), measures[1]]
    measures = [*_squares(measures)]
    if len(measures) == 1 and (measures[0].side == "edge" or words & _CUBE_WORDS):
        return Size((measures[0].length,) * 3)
    if len(measures) > 3:
        raise IncompleteError
    said = [one.side for one in measures]
    if "diameter" in said or ("across" in said and len(measures) < 3 and not set(said) & set(_FLOOR)):
        return _round(measures, content, words)
    if words & _BALL_WORDS and len(measures) == 1:
        return _ball(measures[0].length, content)
    if words & _ROUND_WORDS and len(measures) == 2:
        return _diameter_first(measures)
    return _by_kind(measures, content)


def _squares(measures: Sequence[Measure]) -> Iterator[Measure]:
    """`2 in square` is two sides."""
    for one in measures:
        if one.side == "square" and len(measures) < 3:
            yield from (replace(one, side=""),) * 2
        else:
            yield one


def _round(measures: Sequence[Measure], content: Content, words: set[str]) -> Size:
    """A diameter was said, of one number or of all of them."""
    if len(measures) == 1:
        flat = content.shape in (Shape.ROUND, Shape.LONG) or words & _ROUND_WORDS
        if flat and content.shape is not Shape.BALL:
            raise IncompleteError
        return _ball(measures[0].length, content)
    if len(measures) > 2:
        raise IncompleteError
    return _diameter_first(measures)


def _ball(length: Length, content: Content) -> Size:
    known = content.shape is Shape.BALL
    return Size((length,), round=True, notes=() if known else (DraftNote.of("ball", size=length),))


def _diameter_first(measures: Sequence[Measure]) -> Size:
    """Where the diameter stands behind, and is meant by itself (`110 mm x 40 mm in diameter`), it comes first."""
    one, other = measures
    behind = other.side in ("diameter", "across") and one.side not in ("diameter", "across")
    of_all = not one.own_unit and not one.side
    high_first = one.side in (*_HIGH, "length")
    if (behind and not of_all) or high_first:
        one, other = other, one
    return Size((one.length, other.length), round=True)


def _by_kind(measures: Sequence[Measure], content: Content) -> Size:
    """No diameter was said: the kind of thing tells what fewer than three numbers mean."""
    sides = [one.length for one in measures]
    if len(sides) == 3:
        return _three(measures, content)
    if len(sides) == 1:
        if content.shape is Shape.BALL:
            return _ball(sides[0], content)
        raise IncompleteError
    if content.shape is Shape.LONG:
        thin, long = sorted(sides)
        return Size((thin, long), round=True, notes=(DraftNote.of("round-long", diameter=thin, long=long),))
    if content.shape in (Shape.ROUND, Shape.BALL):
        size = _diameter_first(measures)
        wide, high = size.sides
        return replace(size, notes=(DraftNote.of("round", diameter=wide, high=high),))
    if content.shape is Shape.FLAT:
        thick = Length(content.thickness or Fraction(0), Unit.MILLIMETRE)
        return Size(tuple(sides), thickness=thick, notes=(DraftNote.of("thickness", thick=thick),))
    if content is not UNKNOWN or any(one.side in _HIGH for one in measures):
        raise IncompleteError
    return Size(tuple(sides), notes=(DraftNote.of("thin"),))


def _three(measures: Sequence[Measure], content: Content) -> Size:
    """Across, down and high; the height is the number that is said to be it, else the last."""
    said = [one.side for one in measures]
    up = next((said.index(side) for side in _HIGH if side in said), None)
    if up is None and "depth" in said and {"length", "width"} <= set(said):
        up = said.index("depth")
    foot = [one.length for at, one in enumerate(measures) if at != (2 if up is None else up)]
    high = measures[2 if up is None else up].length
    stands = content.posture in (Posture.UPRIGHT, Posture.STANDS)
    return Size((*foot, high), notes=(DraftNote.of("high", high=high),) if stands and up is None else ())
