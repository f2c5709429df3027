"""Sharing the steps out among stations in a row, one or two people at each: the least cycle for so many people.

Two who take turns at a station have half as much to do each, so that one long step does not hold up all the others
(paralleling of stations, as the books on line balancing call it). The exact answer is a dynamic program over the sets
of steps that can be done at some moment, as Held, Karp and Shareshian have it (Operations Research 11, 1963), with the
people used and the room left at the open station for each set; both are kept only where neither is beaten.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import accumulate

from msgspec import Struct
from msgspec.structs import replace

MOST_SETS = 512
"""With more sets of steps than this (nine steps in any order have so many) the answer is by rule of thumb."""


class Precedence(Struct, frozen=True):
    """What must be done before, of something counted otherwise: nothing for the first `start`, then one for `each`.

    Of a stack of sheets that gives pieces for 12 kits after other sheets gave those for 30: `start` 30, `each` 12.
    """

    task: int
    start: Fraction
    each: Fraction

    def upto(self, number: int) -> int:
        """How many must be done for so many; there may be fewer of it, who then are enough."""
        start, each = self.start, self.each
        over = (number * start.denominator - start.numerator) * each.denominator
        return max(0, -(-over // (start.denominator * each.numerator)))


class Task(Struct, frozen=True):
    """A step as work to be shared out; times in whole seconds.

    There are `count` of it. `seconds` is hands-on for each, `get_ready` once for each person who does it, `set_up`
    once for each lot, `wait` after each lot, with nobody busy. `after` are the tasks to be done before, one by one for
    the same kit; one that is not among the tasks counts as done. `needs` are those that are counted otherwise.
    `machines` people at most can be at it at once (0: any number); tasks with the same `machine` share them.
    """

    number: int
    seconds: int
    get_ready: int = 0
    wait: int = 0
    after: tuple[int, ...] = ()
    machine: str = ""
    machines: int = 0
    count: int = 1
    set_up: int = 0
    needs: tuple[Precedence, ...] = ()

    @property
    def before(self) -> tuple[int, ...]:
        return (*self.after, *(need.task for need in self.needs))

    def needed(self, number: int) -> Iterator[tuple[int, int]]:
        """Which tasks must have come how far before so many of this can be done."""
        for one in self.after:
            yield one, number
        for need in self.needs:
            yield need.task, need.upto(number)


class Balance(Struct, frozen=True):
    """Task numbers for each station in order of work (one may be empty), the hands-on seconds at each, its people.

    Not `proven`: more than MOST_SETS sets were to be seen; the cycle may not be the least.
    """

    stations: tuple[tuple[int, ...], ...]
    times: tuple[int, ...]
    people: tuple[int, ...]
    proven: bool = True

    @property
    def cycle(self) -> Fraction:
        """The most at any station, for each of its people."""
        return max(Fraction(time, people) for time, people in zip(self.times, self.people, strict=True))

    @property
    def share(self) -> tuple[tuple[frozenset[int], tuple[int, ...]], ...]:
        """The people of each station, counted from nought, and its tasks."""
        ends = accumulate(self.people)
        crews = (frozenset(range(end - people, end)) for end, people in zip(ends, self.people, strict=True))
        return tuple(zip(crews, self.stations, strict=True))


def in_order(tasks: Sequence[Task]) -> tuple[Task, ...]:
    """As given as far as possible, each after all that must be done before. A number twice, or a ring: ValueError."""
    numbers = {task.number for task in tasks}
    if len(numbers) < len(tasks):
        raise ValueError("a step number twice")
    left, done, order = list(tasks), set[int](), list[Task]()
    while left:
        found = next((task for task in left if not (set(task.before) & numbers) - done), None)
        if found is None:
            raise ValueError(f"steps {[task.number for task in left]} wait for each other")
        left.remove(found)
        done.add(found.number)
        order.append(found)
    return tuple(order)


def balance_pairs(tasks: Sequence[Task], people: int) -> Balance:
    """One or two people at each station, `people` in all, so that the most for each of them is the least that can be.

    There must be a task, and somebody. ValueError as `in_order`. Several may be as good; which is no matter.
    """
    line = _StationLine(in_order(tasks))
    # Cycles are counted in half seconds, so that those of two people are whole numbers too.
    least = max(-(-2 * sum(line.seconds) // people), *line.seconds)
    best = line.balance([(line.all, 1)], people)

    def search(found_by: Callable[[int], list[_Station]], best: Balance) -> Balance:
        """The least cycle for which stations are found; that of the bound is tried first, which is often enough."""
        low, trying = least, least
        while low < 2 * best.cycle:
            if found := found_by(trying):
                best = line.balance(found, people)
            else:
                low = trying + 1
            trying = (low + int(2 * best.cycle)) // 2
        return best

    best = search(lambda cycle: _by_rule(line, cycle, people), best)
    if 2 * best.cycle == least:
        return best
    sets = line.sets()
    if sets is None:
        return replace(best, proven=False)
    return search(lambda cycle: _exact(line, sets, cycle, people), best)


# --- sets of tasks as bits ---------------------------------------------------------------------------------------

type _Bits = int
"""A set of tasks: bit i is the i-th in order."""
type _Station = tuple[_Bits, int]
"""Its tasks, and one or two people."""


class _StationLine:
    """Tasks in order, and the sets of them that can be done."""

    def __init__(self, tasks: tuple[Task, ...]) -> None:
        at = {task.number: place for place, task in enumerate(tasks)}
        self.numbers = [task.number for task in tasks]
        self.seconds = [task.seconds for task in tasks]
        self.before: list[_Bits] = [
            sum(1 << place for place in {at[number] for number in task.before if number in at}) for task in tasks
        ]
        self.all: _Bits = (1 << len(tasks)) - 1

    def open(self, done: _Bits) -> Iterator[int]:
        """What can be done next."""
        for task, before in enumerate(self.before):
            if not done >> task & 1 and before & ~done == 0:
                yield task

    def sets(self) -> list[_Bits] | None:
        """Every set that can be done at some moment, smaller before larger; None if there are more than MOST_SETS."""
        found: dict[_Bits, None] = {0: None}
        order = [0]
        for done in order:
            for task in self.open(done):
                more = done | 1 << task
                if more not in found:
                    found[more] = None
                    order.append(more)
            if len(order) > MOST_SETS:
                return None
        return order

    def time(self, station: _Bits) -> int:
        return sum(seconds for task, seconds in enumerate(self.seconds) if station >> task & 1)

    def balance(self, filled: Sequence[_Station], people: int) -> Balance:
        """Who is over stands at stations of their own with nothing to do."""
        over = people - sum(at for _, at in filled)
        sets = [*(bits for bits, _ in filled), *[0] * over]
        return Balance(
            tuple(tuple(number for task, number in enumerate(self.numbers) if bits >> task & 1) for bits in sets),
            tuple(map(self.time, sets)),
            (*(at for _, at in filled), *(1,) * over),
        )


# --- exactly ---------------------------------------------------------------------------------------------------------


class _Reached(Struct, frozen=True):
    """A set of tasks done with so many people; `room` is left at the station that is open, of one or two (`at`)."""

    used: int
    room: int
    at: int
    task: int = -1
    opened: bool = False
    last: _Reached | None = None


def _exact(line: _StationLine, sets: Sequence[_Bits], cycle: int, people: int) -> list[_Station]:
    """Stations within the cycle (in half seconds) for no more than so many people; empty: there are none."""
    room = {1: cycle // 2, 2: cycle}
    reached: dict[_Bits, list[_Reached]] = {0: [_Reached(0, 0, 1)]}
    for done in sets:
        states = reached.pop(done, []) if done != line.all else []
        for task in line.open(done) if states else ():
            for state in states:
                for more in _with(state, task, line.seconds[task], room):
                    if more.used <= people:
                        _keep(reached.setdefault(done | 1 << task, []), more, room)
    ends = reached.get(line.all)
    if not ends:
        return []
    filled: list[_Station] = [(0, ends[0].at)]
    state = ends[0]
    while state.last is not None:
        bits, at = filled[-1]
        filled[-1] = bits | 1 << state.task, at
        if state.opened and state.last.last is not None:
            filled.append((0, state.last.at))
        state = state.last
    return filled[::-1]


def _with(state: _Reached, task: int, seconds: int, room: dict[int, int]) -> list[_Reached]:
    """One task more: at the open station if it goes in, which is never worse than opening another."""
    if state.used and seconds <= state.room:
        return [_Reached(state.used, state.room - seconds, state.at, task, False, state)]
    return [
        _Reached(state.used + at, most - seconds, at, task, True, state) for at, most in room.items() if seconds <= most
    ]


def _keep(states: list[_Reached], more: _Reached, room: dict[int, int]) -> None:
    if any(_as_good(one, more, room) for one in states):
        return
    states[:] = [one for one in states if not _as_good(more, one, room)]
    states.append(more)


def _as_good(one: _Reached, other: _Reached, room: dict[int, int]) -> bool:
    """Whatever the other can go on to, this one can: at its open station, or at one it opens with the people spared."""
    spared = other.used - one.used
    return spared >= 0 and max(one.room, room.get(min(spared, 2), 0)) >= other.room


# --- rules of thumb ----------------------------------------------------------------------------------------------

type _Rule = Callable[[int], int]
"""The greatest first."""


def _rules_of(line: _StationLine) -> list[_Rule]:
    """The longest; the most work with all that follow it (ranked positional weight); the most that follow it."""
    follow: list[_Bits] = [0] * len(line.seconds)
    for task in range(len(follow) - 1, -1, -1):
        for earlier in range(task):
            if line.before[task] >> earlier & 1:
                follow[earlier] |= follow[task] | 1 << task
    weight = [line.seconds[task] + line.time(later) for task, later in enumerate(follow)]
    return [lambda task: line.seconds[task], lambda task: weight[task], lambda task: follow[task].bit_count()]


def _by_rule(line: _StationLine, cycle: int, people: int) -> list[_Station]:
    """One station after another is filled with what fits, by each rule; two people where the first task needs them."""
    for rule in _rules_of(line):
        filled = _fill(line, cycle, rule)
        if sum(at for _, at in filled) <= people:
            return filled
    return []


def _fill(line: _StationLine, cycle: int, rule: _Rule) -> list[_Station]:
    filled: list[_Station] = []
    done, room = 0, 0
    while done != line.all:
        waiting = list(line.open(done))
        fitting = [task for task in waiting if line.seconds[task] <= room] if filled else []
        if not fitting:
            first = max(waiting, key=rule)
            at = 1 if line.seconds[first] <= cycle // 2 else 2
            filled.append((0, at))
            room = cycle if at == 2 else cycle // 2
            fitting = [first]
        task = max(fitting, key=rule)
        bits, at = filled[-1]
        filled[-1] = bits | 1 << task, at
        done |= 1 << task
        room -= line.seconds[task]
    return filled
