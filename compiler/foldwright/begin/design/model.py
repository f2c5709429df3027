"""What is asked for, how it lies together in a box, and what is proposed: blanks of plain forms that hold it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import sqrt

from msgspec import Struct

from foldwright.begin.draft.blanks import BlankRules
from foldwright.begin.draft.card import DraftCard
from foldwright.begin.draft.model import Panels
from foldwright.geometry.flat.points import kept
from foldwright.measure.length import Length
from foldwright.pack.model import Size, Thing
from foldwright.recipe.model import NamedSheet

FORMS = ("tray", "lid", "drawer", "tuck box", "gift bag", "band", "envelope", "card")
"""A tray, a tray with a lid, a drawer with a sleeve, a tuck box, a gift bag, a band round one thing, an envelope, and a
card for an envelope."""


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

    @property
    def flat(self) -> bool:
        """Whether only two sides are said."""
        return len(self.size) == 2 and not self.round


class DesignWish(Struct, frozen=True):
    """What is to be designed: what goes inside, in which forms, by which rules, of which card and sheets.

    Things may be in either system; what is proposed is in that of the rules.
    """

    things: tuple[Things, ...]
    forms: tuple[str, ...]
    rules: BlankRules
    card: DraftCard
    sheets: tuple[NamedSheet, ...]


class ThingsLying(Struct, frozen=True):
    """One way the things lie together: the box round them (across, down, high, in mm) and how they lie in it.

    `rows` has, for each kind of thing, how many lie side by side, behind each other and on each other, and how each
    lies.
    """

    box: Size
    rows: tuple[tuple[tuple[int, int, int], Size], ...]
    staggered: bool = False
    """Whether round things lie in each other's gaps: the rows behind each other are as many as there are."""


class Proposal(Struct, frozen=True):
    """Blanks of one form that hold the things as they lie.

    `a_sheet` is how many whole sets come out of each sheet of the wish (a part of one when a set takes several sheets),
    `points` how much there is to say to name its numbers (see `measure.plainness`), `proportion` its longest side over
    its shortest. `room` is what is left round the things, across, down and high (mm).
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

    @property
    def merit(self) -> tuple[tuple[Fraction, ...], Fraction, Fraction]:
        """Smaller is better: most out of a sheet, then the plainest numbers, then the most even proportion."""
        return tuple(-number for number in self.a_sheet), self.points, self.proportion


# --- how things lie together ------------------------------------------------------------------------------------------


_MOST_WAYS = 12
"""Of the ways one kind can lie, and of those of several together, so many of the smallest are gone on with."""
_HAIR = 1e-4
"""Millimetres: what comes of a root is taken up."""
SHEET_OF_PAPER = Fraction(1, 10)
"""Millimetres: how thick something is of which only two sides are said."""


def solid(things: Things) -> Size:
    """The size of one of the things, with a thickness."""
    sides = [length.mm for length in things.size]
    if things.round:
        return (sides[0], sides[0], sides[-1])
    return (sides[0], sides[1], sides[2] if len(sides) > 2 else SHEET_OF_PAPER)


def ways_to_lie(all_things: Sequence[Things]) -> tuple[ThingsLying, ...]:
    """The boxes into which everything goes, none of which another one would go into; the smallest floors first."""
    ways: tuple[ThingsLying, ...] = ()
    for things in all_things:
        own = _smallest(_rows(things))
        ways = _smallest(_beside(ways, own)) if ways else own
    return ways


def _rows(things: Things) -> Iterator[ThingsLying]:
    for way in Thing(solid(things)).ways:
        for grid in _grids(things.count):
            across, down, high = (many * long for many, long in zip(grid, way, strict=True))
            if across >= down:
                yield ThingsLying((across, down, high), ((grid, way),))
    if things.round:
        yield from _in_the_gaps(things)


def _in_the_gaps(things: Things) -> Iterator[ThingsLying]:
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
            yield ThingsLying((across, down, layers * long), ((grid, (width, width, long)),), staggered=True)


def _grids(count: int) -> Iterator[tuple[int, int, int]]:
    """So many side by side, behind each other and on each other, with no row or layer to spare."""
    for across, down in product(range(1, count + 1), repeat=2):
        high = -(-count // (across * down))
        needed_down = -(-count // (across * high))
        if needed_down == down and -(-count // (down * high)) == across:
            yield across, down, high


def _beside(some: Iterable[ThingsLying], others: Iterable[ThingsLying]) -> Iterator[ThingsLying]:
    """Two kinds side by side, behind each other, or one on the other; the second may lie turned."""
    for one, other in product(some, others):
        a, b, c = one.box
        for d, e, f in {other.box, (other.box[1], other.box[0], other.box[2])}:
            for box in ((a + d, max(b, e), max(c, f)), (max(a, d), b + e, max(c, f)), (max(a, d), max(b, e), c + f)):
                across, down = max(box[:2]), min(box[:2])
                mixed = one.staggered or other.staggered
                yield ThingsLying((across, down, box[2]), (*one.rows, *other.rows), mixed)


def _smallest(ways: Iterable[ThingsLying]) -> tuple[ThingsLying, ...]:
    kept: list[ThingsLying] = []
    by_floor = sorted(ways, key=lambda lying: (lying.box[0] * lying.box[1] * lying.box[2], lying.box))
    for lying in by_floor:
        if not any(all(less <= more for less, more in zip(one.box, lying.box, strict=True)) for one in kept):
            kept.append(lying)
    kept.sort(key=lambda lying: (_paper(lying.box), lying.box))
    return tuple(kept[:_MOST_WAYS])


def _paper(box: Size) -> Fraction:
    """The least blank of a tray round it."""
    return (box[0] + 2 * box[2]) * (box[1] + 2 * box[2])
