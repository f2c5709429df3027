"""Lengths off spools in whole numbers: exact tables of what a spool can give, and what follows for what is bought."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush
from typing import TYPE_CHECKING, Any

from msgspec import Struct

if TYPE_CHECKING:
    import numpy

    type Line = numpy.ndarray[tuple[int], numpy.dtype[numpy.int64]]

_MOST_PLACES = 100_000
"""Places along a spool; where lengths have no coarser grid they are rounded to one, up to cut and down to prove."""
_MOST_WAYS = 1500
"""As many ways to cut a spool as that are all put into the program; of more it gets what the table finds."""
_MOST_CHOICES = 20_000


class Roll(Struct, frozen=True):
    """Spools of one length: what each costs, and how many there are (None: as many as are bought)."""

    room: int
    cost: int
    copies: int | None


class RollCut(Struct, frozen=True):
    """A way to cut a roll (its index): how many of each length."""

    roll: int
    counts: tuple[int, ...]


type Cuts = tuple[tuple[RollCut, int], ...]


class RollJob(Struct, frozen=True):
    """How long and how many, and the rolls they come off. Every length goes on some roll that is there."""

    lengths: tuple[int, ...]
    wanted: tuple[int, ...]
    rolls: tuple[Roll, ...]

    def sold(self) -> list[int]:
        return [number for number, roll in enumerate(self.rolls) if roll.copies is None]

    def scarce(self) -> list[int]:
        """Lengths that come off no roll that can be bought."""
        most = max((self.rolls[number].room for number in self.sold()), default=0)
        return [kind for kind, length in enumerate(self.lengths) if length > most]

    def most(self, kind: int, roll: int) -> int:
        return min(self.wanted[kind], self.rolls[roll].room // self.lengths[kind])

    def taken(self, cut: RollCut) -> int:
        return sum(count * length for count, length in zip(cut.counts, self.lengths, strict=True))

    def cost(self, cuts: Cuts) -> int:
        return sum(number * self.rolls[cut.roll].cost for cut, number in cuts)

    def missing(self, cuts: Cuts) -> list[int]:
        return [
            max(0, want - sum(number * cut.counts[kind] for cut, number in cuts))
            for kind, want in enumerate(self.wanted)
        ]

    def possible(self, cuts: Cuts) -> bool:
        """Whether they go on their rolls, and no more rolls are cut than there are."""
        if any(self.taken(cut) > self.rolls[cut.roll].room for cut, _ in cuts):
            return False
        used = [sum(number for cut, number in cuts if cut.roll == roll) for roll in range(len(self.rolls))]
        return all(one.copies is None or number <= one.copies for one, number in zip(self.rolls, used, strict=True))

    def merit(self, cuts: Cuts) -> tuple[int, int, int]:
        return sum(self.missing(cuts)), self.cost(cuts), sum(number for _, number in cuts)


class Knapsack:
    """What a piece of roll of any length is worth at most, for given values of the lengths; no more than are wanted."""

    def __init__(self, job: RollJob, upwards: bool, wanted: Sequence[int]) -> None:
        most = max(roll.room for roll in job.rolls)
        grid = -(-most // _MOST_PLACES)
        self._job = job
        self._rooms = [roll.room // grid for roll in job.rolls]
        self._lengths = [-(-length // grid) if upwards else length // grid for length in job.lengths]
        self._size = max(self._rooms) + 1
        self._lots = [
            (kind, lot)
            for kind, length in enumerate(self._lengths)
            for lot in _lots(min(wanted[kind], (self._size - 1) // max(1, length)))
        ]
        self.exact = grid == 1

    def best(self, values: Sequence[int]) -> FilledKnapsack:
        import numpy as np

        worth = np.zeros(self._size, dtype=np.int64)
        taken = []
        for kind, lot in self._lots:
            length, value = self._lengths[kind] * lot, values[kind] * lot
            gain = worth[: self._size - length] + value
            better = gain > worth[length:]
            worth[length:] = np.where(better, gain, worth[length:])
            taken.append((kind, lot, length, better))
        return FilledKnapsack(len(values), self._rooms, worth, taken)


class FilledKnapsack:
    """A filled table."""

    def __init__(
        self, kinds: int, rooms: Sequence[int], worth: Line, taken: Sequence[tuple[int, int, int, Any]]
    ) -> None:
        self._kinds, self._rooms, self._worth, self._taken = kinds, rooms, worth, taken

    def value(self, roll: int) -> int:
        return int(self._worth[self._rooms[roll]])

    def cut(self, roll: int) -> RollCut:
        at = self._rooms[roll]
        counts = [0] * self._kinds
        for kind, lot, length, better in reversed(self._taken):
            if at >= length and better[at - length]:
                counts[kind] += lot
                at -= length
        return RollCut(roll, tuple(counts))


def _lots(number: int) -> Iterator[int]:
    """Lots of which some make up every number from none to so many."""
    lot = 1
    while number > 0:
        yield min(lot, number)
        number -= lot
        lot *= 2


def first_fit(job: RollJob, sold: int | None) -> Cuts:
    """Spool by spool, the longest that still goes on it first; off what is owned, then off spools of one length."""
    left = list(job.wanted)
    order = sorted(range(len(left)), key=lambda kind: -job.lengths[kind])
    found: list[tuple[RollCut, int]] = []
    owned = [number for number, roll in enumerate(job.rolls) if roll.copies is not None]
    for roll in [*owned, *([] if sold is None else [sold])]:
        copies = job.rolls[roll].copies
        while copies is None or copies > 0:
            room, counts = job.rolls[roll].room, [0] * len(left)
            for kind in order:
                counts[kind] = min(left[kind], room // job.lengths[kind])
                room -= counts[kind] * job.lengths[kind]
            if not any(counts):
                break
            times = min(left[kind] // count for kind, count in enumerate(counts) if count)
            times = times if copies is None else min(times, copies)
            copies = None if copies is None else copies - times
            left = [had - times * count for had, count in zip(left, counts, strict=True)]
            found.append((RollCut(roll, tuple(counts)), times))
    return tuple(found)


def first_fits(job: RollJob) -> list[Cuts]:
    """That for each length that is sold; where none is, of what is owned alone."""
    return [first_fit(job, sold) for sold in job.sold()] or [first_fit(job, None)]


def every_way(job: RollJob) -> list[RollCut]:
    """Every way to cut each roll that leaves no room for one more; none when there are too many."""
    found: list[RollCut] = []
    order = sorted(range(len(job.lengths)), key=lambda kind: -job.lengths[kind])

    def fill(roll: int, at: int, room: int, counts: list[int]) -> None:
        if len(found) > _MOST_WAYS:
            return
        if at == len(order):
            full = all(counts[kind] == job.wanted[kind] or job.lengths[kind] > room for kind in order)
            if full and any(counts):
                found.append(RollCut(roll, tuple(counts)))
            return
        kind = order[at]
        most = min(job.wanted[kind], room // job.lengths[kind])
        # The last length fills what is left.
        for count in range(most, most - 1 if at == len(order) - 1 else -1, -1):
            fill(roll, at + 1, room - count * job.lengths[kind], [*counts[:kind], count, *counts[kind + 1 :]])

    for roll, one in enumerate(job.rolls):
        fill(roll, 0, one.room, [0] * len(order))
    return found if len(found) <= _MOST_WAYS else []


def exactly(job: RollJob, cuts: Cuts) -> Cuts:
    """The same without what is over; spools left empty are not used."""
    left = list(job.wanted)
    found: dict[RollCut, int] = {}
    for cut, number in sorted(cuts, key=lambda one: (job.rolls[one[0].roll].copies is None, -one[1], one[0].counts)):
        while number:
            counts = tuple(min(count, had) for count, had in zip(cut.counts, left, strict=True))
            if not any(counts):
                break
            times = min(number, *(had // count for had, count in zip(left, counts, strict=True) if count))
            left = [had - times * count for had, count in zip(left, counts, strict=True)]
            found[RollCut(cut.roll, counts)] = found.get(RollCut(cut.roll, counts), 0) + times
            number -= times
    return tuple(found.items())


type Limit = tuple[tuple[int, ...], int]
"""What a spool of each length that is sold is worth, and what all must be worth together."""


def cheapest(costs: Sequence[int], limits: Sequence[Limit]) -> tuple[int, tuple[int, ...] | None]:
    """The least cost of whole spools that pass every limit, and which; None for them where it is only a bound."""
    heap: list[tuple[int, int, tuple[int, ...]]] = [(0, 0, ())]
    for tried in range(_MOST_CHOICES):
        if not heap:
            break
        cost, _, counts = heappop(heap)
        if len(counts) == len(costs):
            return cost, counts
        if tried == _MOST_CHOICES - 1:
            return cost, None
        paid = sum(count * one for count, one in zip(counts, costs, strict=False))
        for count in range(_enough(counts, limits) + 1):
            more = (*counts, count)
            rest = _rest(costs, limits, more)
            if rest is not None:
                heappush(heap, (paid + count * costs[len(counts)] + rest, -len(more), more))
    return 0, None


def _enough(counts: Sequence[int], limits: Sequence[Limit]) -> int:
    """More of the next spool than that are never needed."""
    at = len(counts)
    return max((-(-left // worth[at]) for worth, left in _open(counts, limits) if worth[at]), default=0)


def _rest(costs: Sequence[int], limits: Sequence[Limit], counts: Sequence[int]) -> int | None:
    """What the other spools cost at least beside so many of the first; None where they cannot be enough."""
    most = 0
    for worth, left in _open(counts, limits):
        rates = [-(-left * cost // one) for cost, one in list(zip(costs, worth, strict=True))[len(counts) :] if one]
        if not rates:
            return None
        most = max(most, min(rates))
    return most


def _open(counts: Sequence[int], limits: Sequence[Limit]) -> Iterator[Limit]:
    """The limits that so many spools do not pass, and what is lacking."""
    for worth, needed in limits:
        left = needed - sum(count * one for count, one in zip(counts, worth, strict=False))
        if left > 0:
            yield worth, left
