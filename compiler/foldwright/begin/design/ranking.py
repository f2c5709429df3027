"""Which proposal comes first: sense, then sheets, then a close fit, then easy numbers.

Counting sets exactly takes longer than making blanks. So every candidate is ranked by more than it can be worth (what
area allows), and only the first of them is counted, sheet by sheet, until the first one is counted throughout: nothing
that could come before it is left uncounted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from heapq import heappop, heappush
from itertools import count
from operator import le

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.model import DesignWish, Proposal, Things, ThingsLying
from foldwright.begin.draft.model import Panels
from foldwright.pack.cutting.sets import sets_at_most, sets_on_sheet
from foldwright.recipe.model import NamedSheet

SNUG, LOOSE = Fraction(32, 10), Fraction(8)
"""Millimetres of spare room on a side: up to the first (1/8 in) nothing rattles, beyond the second everything does. By
eye, no source."""
OPEN = frozenset({"tray", "lid", "drawer"})
"""Forms that lie on a table with what is in them, and are looked into from above."""
_HIGHER = Fraction(4, 5)
"""What stands in a bag is nearly as high as the bag is wide (a reasoned guess)."""


class Candidate(Struct, frozen=True):
    """A proposal that may not be counted yet: `a_sheet` has then more than there can be.

    `blanks` makes those of one that has none yet; `counted` is on how many sheets its sets are counted. `instead` are
    those that are no better, in case there is no such blank.
    """

    proposal: Proposal
    blanks: Callable[[], Panels | None] | None = None
    counted: int = 0
    instead: tuple[Candidate, ...] = ()


def at_most(wish: DesignWish, sizes: Sequence[tuple[Fraction, Fraction]]) -> tuple[Fraction, ...]:
    """More sets of pieces of these sizes (mm) than this come out of no sheet of the wish."""
    return tuple(sets_at_most(sizes, (sheet.across.mm, sheet.down.mm)) for sheet in wish.sheets)


def worth_counting(alike: Iterable[Candidate]) -> Iterator[Candidate]:
    """Of candidates in which things lie alike, those that may come first: no other has every blank as small or smaller,
    from which as many sets come, and is no worse otherwise."""
    kept: list[tuple[tuple[Fraction, ...], list[Candidate]]] = []
    for one in sorted(alike, key=lambda one: one.proposal.merit_but_sheets):
        sides = _sides(one)
        better = next((found for smaller, found in kept if all(map(le, smaller, sides))), None)
        if better is None:
            kept.append((sides, [one]))
        else:
            better.append(one)
    for _, (first, *others) in kept:
        yield replace(first, instead=tuple(others)) if first.blanks else first


def _sides(candidate: Candidate) -> tuple[Fraction, ...]:
    """What its blanks measure, or where they are not made yet, its inside: with that the blank grows."""
    if candidate.blanks:
        return tuple(length.mm for length in candidate.proposal.inside)
    return tuple(side for size in sizes_of(candidate.proposal.blanks) for side in size)


def best_first(wish: DesignWish, candidates: Iterable[Candidate]) -> Iterator[Proposal]:
    """Every proposal that comes out of some sheet, counted, in order of merit."""
    order = count()
    heap: list[tuple[object, int, Candidate]] = []

    def stand(one: Candidate) -> None:
        if any(one.proposal.a_sheet):
            heappush(heap, (one.proposal.merit, next(order), one))

    for candidate in candidates:
        stand(candidate)
    while heap:
        first = heappop(heap)[-1]
        if first.blanks is None and first.counted == len(wish.sheets):
            yield first.proposal
        elif further := _further(wish, first):
            stand(further)
        else:
            for other in first.instead:
                stand(other)


def _further(wish: DesignWish, candidate: Candidate) -> Candidate | None:
    """The same known better: with its blank, or counted on one sheet more."""
    proposal = candidate.proposal
    if candidate.blanks:
        if (blank := candidate.blanks()) is None:
            return None
        return Candidate(replace(proposal, blanks=(blank,), a_sheet=at_most(wish, sizes_of((blank,)))))
    counts = list(proposal.a_sheet)
    counts[candidate.counted] = sets_of(proposal.blanks, wish.sheets[candidate.counted])
    return Candidate(replace(proposal, a_sheet=tuple(counts)), None, candidate.counted + 1)


def sizes_of(blanks: Sequence[Panels]) -> tuple[tuple[Fraction, Fraction], ...]:
    """What each blank measures, across and down (mm)."""
    return tuple((across.mm, down.mm) for across, down in (blank.size for blank in blanks))


def sets_of(blanks: Sequence[Panels], sheet: NamedSheet) -> Fraction:
    """How many whole sets come out of a sheet."""
    return sets_on_sheet(sizes_of(blanks), (sheet.across.mm, sheet.down.mm))


# --- sense ----------------------------------------------------------------------------------------------------------


def oddness(form: str, things: Sequence[Things], lying: ThingsLying | None) -> int:
    """How many things one would rather not have about a way to lie in a form.

    On a table things lie and stand as their kind does, and a tray is no tower; in a bag they stand, and it is higher
    than wide. A box that shuts may lie on any of its sides, so only what must stand is asked of it.
    """
    if lying is None:
        return 0
    across, down, high = lying.box
    standing = any(one.stands for one in things)
    if form in OPEN:
        return lying.odd + (high > min(across, down) and not standing)
    if form != "gift bag":
        return lying.odd
    fallen = sum(one.stands and way[2] != one.size[-1].mm for one, (_, way) in zip(things, lying.rows, strict=True))
    return lying.odd + fallen + (high < across * _HIGHER and not standing)


def spare(form: str, room: Sequence[Fraction]) -> list[tuple[str, Fraction]]:
    """The room to spare on each side. A bag is higher than what stands in it so that it can be closed."""
    sides = ("across", "deep", "high") if len(room) > 2 else ("across", "down")
    found = list(zip(sides, room, strict=False))
    return [one for one in found if one[0] != "high"] if form == "gift bag" else found


def looseness(form: str, room: Sequence[Fraction]) -> int:
    """How much room there is that one would rather not have: a little on a side counts once, a lot twice."""
    return sum((side > SNUG) + (side > LOOSE) for _, side in spare(form, room))


def fit_of(room: Fraction) -> str:
    """A word for so much room to spare on a side."""
    return "snug" if room <= SNUG else "a-little-loose" if room <= LOOSE else "loose"
