"""What is asked for, how it lies together in a box, and what is proposed: blanks of plain forms that hold it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from enum import Enum
from fractions import Fraction
from itertools import groupby, product
from math import sqrt

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.blanks import BlankRules
from foldwright.begin.draft.card import DraftCard
from foldwright.begin.draft.model import DraftNote, Panels
from foldwright.geometry.flat.points import kept
from foldwright.measure.length import Length, System, Unit
from foldwright.pack.model import Size, Thing
from foldwright.recipe.model import NamedSheet
from foldwright.vocabulary.contents import Posture

FORMS = ("tray", "lid", "drawer", "tuck box", "gift bag", "band", "envelope", "card")
"""A tray, a tray with a lid, a drawer with a sleeve, a tuck box, a gift bag, a band round one thing, an envelope, and a
card for an envelope."""

THICKEST = {System.IMPERIAL: Length.of(Fraction(1, 4), Unit.INCH), System.METRIC: Length.of(6, Unit.MILLIMETRE)}
"""What goes into an envelope or onto a card is no thicker: thicker is no letter (Domestic Mail Manual 101.1, 2010)."""


class Things(Struct, frozen=True):
    """So many of one thing: its name and its size as said (two lengths for what is flat).

    Of something `round`, its diameter and how long it is; of a ball, its diameter alone.
    """

    name: str
    count: int
    size: tuple[Length, ...]
    envelope: str = ""
    """The name of a ready-made envelope, when that is what a card is wanted for."""
    called: str = ""
    """What several of them are called, as it was typed."""
    round: bool = False
    posture: Posture = Posture.ANY
    alone: bool = False
    """Whether nothing lies on it."""
    thickness: Length | None = None
    """How thick its kind is, of something of which only two sides are said."""

    @property
    def flat(self) -> bool:
        """Whether only two sides are said."""
        return len(self.size) == 2 and not self.round

    @property
    def thick(self) -> Length:
        """How thick something flat is taken to be."""
        return self.thickness or Length(SHEET_OF_PAPER, Unit.MILLIMETRE)

    @property
    def bears(self) -> bool:
        """Whether something may lie on it."""
        return not self.alone and self.posture is not Posture.UPRIGHT

    @property
    def stands(self) -> bool:
        """Whether it is kept as high as it is said to be."""
        return self.posture in (Posture.UPRIGHT, Posture.STANDS)


class DesignWish(Struct, frozen=True):
    """What is to be designed: what goes inside, in which forms, by which rules, of which card and sheets.

    Things may be in either system; what is proposed is in that of the rules.
    """

    things: tuple[Things, ...]
    forms: tuple[str, ...]
    rules: BlankRules
    card: DraftCard
    sheets: tuple[NamedSheet, ...]
    taken: tuple[DraftNote, ...] = ()
    """What was taken for granted."""


class Joined(Enum):
    """How one kind of thing lies by others: the numbers are directions, across, down and high."""

    BESIDE = 0
    BEHIND = 1
    ON = 2


class ThingsLying(Struct, frozen=True):
    """One way the things lie together: the box round them (across, down, high, in mm) and how they lie in it.

    `rows` has, for each kind of thing, how many lie side by side, behind each other and on each other, and how each
    lies.
    """

    box: Size
    rows: tuple[tuple[tuple[int, int, int], Size], ...]
    staggered: bool = False
    """Whether round things lie in each other's gaps: the rows behind each other are as many as there are."""
    joined: tuple[Joined, ...] = ()
    """How each further kind lies by those before it."""
    odd: int = 0
    """How many kinds lie or stand as one would rather not have them."""


class Proposal(Struct, frozen=True):
    """Blanks of one form that hold the things as they lie.

    `a_sheet` is how many whole sets come out of each sheet of the wish (a part of one when a set takes several sheets),
    `points` how much there is to say to name its numbers (see `measure.plainness`), `proportion` its longest side over
    its shortest. `room` is what is left round the things, across, down and high (mm). `odd` counts what one would
    rather not have: things on end or on each other, a tower of a tray; `loose` how much of the room is too much.
    """

    form: str
    lying: ThingsLying | None
    blanks: tuple[Panels, ...]
    a_sheet: tuple[Fraction, ...]
    points: Fraction
    proportion: Fraction
    inside: tuple[Length, ...]
    room: tuple[Fraction, ...] = ()
    envelope: str = ""
    odd: int = 0
    loose: int = 0

    @property
    def merit_but_sheets(self) -> tuple[int, int, Fraction, Fraction]:
        """What the sheets have no part in."""
        return self.odd, self.loose, self.points, self.proportion

    @property
    def merit(self) -> tuple[int, tuple[Fraction, ...], int, Fraction, Fraction]:
        """Smaller is better: sense, then most out of a sheet, a close fit, plain numbers, the most even proportion."""
        return self.odd, tuple(-number for number in self.a_sheet), self.loose, self.points, self.proportion


# --- how things lie together ------------------------------------------------------------------------------------------


_MOST_WAYS, _MOST_ODD_WAYS = 12, 6
"""Of the ways one kind can lie, and of those of several together, so many of the smallest are gone on with; of those
that one would rather not have, so many of each degree."""
_HAIR = 1e-4
"""Millimetres: what comes of a root is taken up."""
SHEET_OF_PAPER = Fraction(1, 10)
"""Millimetres: how thick something is of which only two sides are said, and of whose kind no more is known."""


def solid(things: Things) -> Size:
    """The size of one of the things, with a thickness."""
    sides = [length.mm for length in things.size]
    if things.round:
        return (sides[0], sides[0], sides[-1])
    return (sides[0], sides[1], sides[2] if len(sides) > 2 else things.thick.mm)


def ways_to_lie(all_things: Sequence[Things], shut: bool = False) -> tuple[ThingsLying, ...]:
    """The boxes into which everything goes, none of which another one would go into that is no odder; the least odd
    first, then the least paper. One that is `shut` may lie on any of its sides, and things lie in it as they come."""
    ways: tuple[ThingsLying, ...] = ()
    bearing = True
    for things in all_things:
        own = _smallest(_rows(things, shut), shut)
        # One kind lies on another where that can bear it.
        ways = _smallest(_beside(ways, own, bearing or things.bears), shut) if ways else own
        bearing = bearing and things.bears
    return ways


def _rows(things: Things, shut: bool) -> Iterator[ThingsLying]:
    for way in Thing(solid(things), things.posture is Posture.UPRIGHT).ways:
        for grid in _grids(things.count):
            across, down, high = (many * long for many, long in zip(grid, way, strict=True))
            if across >= down:
                yield ThingsLying((across, down, high), ((grid, way),), odd=_odd(things, grid, way, shut))
    if things.round:
        yield from _in_the_gaps(things, shut)


def _odd(things: Things, grid: tuple[int, int, int], way: Size, shut: bool) -> int:
    """Whether it does not stand or lie as its kind does, or not on its own; what is of no kind stands on no end."""
    own = solid(things)
    if shut:
        wrong, alone = False, things.alone and things.posture is Posture.UPRIGHT
    elif things.stands:
        wrong, alone = way[2] != own[2], things.alone
    elif things.posture is Posture.LIES or (things.round and own[2] < own[0]):
        wrong, alone = way[2] != min(own), things.alone
    else:
        wrong, alone = way[2] > max(way[:2]) and way[2] != own[2], things.alone
    # Nothing lies on what is alone, or stands on end or on edge.
    return int(wrong) + int(grid[2] > 1 and (alone or way[2] > min(own)))


def _in_the_gaps(things: Things, shut: bool) -> Iterator[ThingsLying]:
    """Round things that stand in rows of so many and one less in turn, each row in the gaps of the one before it.

    Of circles a diameter apart, such rows lie half the root of three of it apart (the hexagonal laying).
    """
    width, _, long = solid(things)
    for layers in range(1, things.count + 1):
        each = -(-things.count // layers)
        for many in range(2, each + 1):
            rows = next(rows for rows in range(2, 2 * each + 2) if many * rows - rows // 2 >= each)
            deep = width + (rows - 1) * kept(float(width) * sqrt(3) / 2 + _HAIR, 10_000)
            across, down = max(many * width, deep), min(many * width, deep)
            grid = (many, rows, layers)
            way = (width, width, long)
            odd = _odd(things, grid, way, shut)
            yield ThingsLying((across, down, layers * long), ((grid, way),), staggered=True, odd=odd)


def _grids(count: int) -> Iterator[tuple[int, int, int]]:
    """So many side by side, behind each other and on each other, with no row or layer to spare."""
    for across, down in product(range(1, count + 1), repeat=2):
        high = -(-count // (across * down))
        needed_down = -(-count // (across * high))
        if needed_down == down and -(-count // (down * high)) == across:
            yield across, down, high


def _beside(some: Iterable[ThingsLying], others: Iterable[ThingsLying], bears: bool) -> Iterator[ThingsLying]:
    """Two kinds side by side, behind each other, or one on the other; the second may lie turned."""
    for one, other in product(some, others):
        for second in dict.fromkeys((other, _turned(other))):
            for joined in Joined if bears else (Joined.BESIDE, Joined.BEHIND):
                sides = [max(pair) for pair in zip(one.box, second.box, strict=True)]
                sides[joined.value] = one.box[joined.value] + second.box[joined.value]
                together = ThingsLying(
                    (sides[0], sides[1], sides[2]),
                    (*one.rows, *second.rows),
                    one.staggered or second.staggered,
                    (*one.joined, joined),
                    one.odd + second.odd + (joined is Joined.ON),
                )
                yield together if sides[0] >= sides[1] else _turned(together)


def _turned(lying: ThingsLying) -> ThingsLying:
    """The same seen from the side: what was across is down. Rows in each other's gaps are told without a direction."""

    def swapped[T](three: tuple[T, T, T]) -> tuple[T, T, T]:
        return three[1], three[0], three[2]

    rows = ((grid if lying.staggered and way[0] == way[1] else swapped(grid), swapped(way)) for grid, way in lying.rows)
    other = {Joined.BESIDE: Joined.BEHIND, Joined.BEHIND: Joined.BESIDE, Joined.ON: Joined.ON}
    joined = tuple(other[one] for one in lying.joined)
    return replace(lying, box=swapped(lying.box), rows=tuple(rows), joined=joined)


def _smallest(ways: Iterable[ThingsLying], shut: bool) -> tuple[ThingsLying, ...]:
    kept: list[ThingsLying] = []
    for lying in sorted(ways, key=lambda one: (one.odd, one.box[0] * one.box[1] * one.box[2], one.box)):
        if not any(all(less <= more for less, more in zip(one.box, lying.box, strict=True)) for one in kept):
            kept.append(lying)
    kept.sort(key=lambda lying: (lying.odd, _paper(lying.box, shut), lying.box))
    least = min((lying.odd for lying in kept), default=0)
    degrees = [list(alike) for _, alike in groupby(kept, key=lambda lying: lying.odd)]
    return tuple(
        lying for alike in degrees for lying in alike[: _MOST_WAYS if alike[0].odd == least else _MOST_ODD_WAYS]
    )


def _paper(box: Size, shut: bool) -> Fraction:
    """The least blank of a tray round it, or of a box that is shut: what its six sides come to."""
    across, down, high = box
    if shut:
        return across * down + down * high + high * across
    return (across + 2 * high) * (down + 2 * high)
