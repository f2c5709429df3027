"""Sharing the steps out among stations in a row: the least cycle for so many people.

A station may be allowed two people side by side, who take turns: then no single long step holds up all the others.
The exact answer is a dynamic program over the sets of steps that can be done at some moment (with each step all that
must come before it), as Held, Karp and Shareshian have it (Operations Research 11, 1963).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

MOST_SETS = 4096
"""With more sets of steps than this (twelve steps in any order have so many) the answer is by rule of thumb."""
MOST_SETS_EVENED = 512
"""Up to so many sets the most even of the best answers is looked for."""


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


def balance(tasks: Sequence[Task], stations: int) -> Balance:
    """Hands-on work alone, so that the largest station time is the least; among such, the least sum of squares.

    With at least as many stations as tasks each has its own and the last are empty. ValueError as `in_order`, or
    below one station.
    """
    if stations < 1:
        raise ValueError(f"{stations} stations")
    line = StationLine(in_order(tasks))
    if stations >= len(line.seconds):
        return line.balance([1 << task for task in range(len(line.seconds))], stations, proven=True)
    least = max(max(line.seconds), -(-sum(line.seconds) // stations))
    by_rule = min((_by_rule(line, stations, least, rule) for rule in rules_of(line)), key=line.largest)
    sets = line.sets()
    if sets is None:
        return line.balance(by_rule, stations, proven=line.largest(by_rule) == least)
    most = line.largest(by_rule)
    trying = least
    while least < most:
        if len(_fewest(line, sets, trying)) <= stations:
            most = trying
        else:
            least = trying + 1
        trying = (least + most) // 2
    if len(sets) > MOST_SETS_EVENED:
        return line.balance(_fewest(line, sets, most), stations, proven=True)
    return line.balance(_most_even(line, stations, most), stations, proven=True)


# --- sets of tasks as bits ---------------------------------------------------------------------------------------

type Bits = int
"""A set of tasks: bit i is the i-th in order."""


class StationLine:
    """Tasks in order, and the sets of them that can be done."""

    def __init__(self, tasks: tuple[Task, ...]) -> None:
        at = {task.number: place for place, task in enumerate(tasks)}
        self.numbers = [task.number for task in tasks]
        self.seconds = [task.seconds for task in tasks]
        self.before: list[Bits] = [
            sum(1 << place for place in {at[number] for number in task.before if number in at}) for task in tasks
        ]
        self.all: Bits = (1 << len(tasks)) - 1

    def open(self, done: Bits) -> Iterator[int]:
        """What can be done next."""
        for task, before in enumerate(self.before):
            if not done >> task & 1 and before & ~done == 0:
                yield task

    def sets(self, most: int = MOST_SETS) -> list[Bits] | None:
        """Every set that can be done at some moment, smaller before larger; None if there are more than so many."""
        found: dict[Bits, None] = {0: None}
        order = [0]
        for done in order:
            for task in self.open(done):
                more = done | 1 << task
                if more not in found:
                    found[more] = None
                    order.append(more)
            if len(order) > most:
                return None
        return order

    def time(self, station: Bits) -> int:
        return sum(seconds for task, seconds in enumerate(self.seconds) if station >> task & 1)

    def largest(self, stations: Sequence[Bits]) -> int:
        return max(map(self.time, stations))

    def balance(self, filled: Sequence[Bits], stations: int, *, proven: bool) -> Balance:
        padded = [*filled, *[0] * (stations - len(filled))]
        return Balance(
            tuple(tuple(number for task, number in enumerate(self.numbers) if bits >> task & 1) for bits in padded),
            tuple(map(self.time, padded)),
            (1,) * len(padded),
            proven,
        )


def _fewest(line: StationLine, sets: list[Bits], cycle: int) -> list[Bits]:
    """The fewest stations within the cycle: for each set the fewest, and then the least in the last of them.

    Both are one number, full stations x (cycle + 1) + seconds in the open one.
    """
    whole = cycle + 1
    best: dict[Bits, tuple[int, int]] = {0: (0, -1)}
    for done in sets:
        value = best[done][0]
        for task in line.open(done):
            seconds = line.seconds[task]
            fits = value % whole + seconds <= cycle
            reached = value + seconds if fits else (value // whole + 1) * whole + seconds
            more = done | 1 << task
            if more not in best or reached < best[more][0]:
                best[more] = (reached, task)
    filled: list[Bits] = [0] * (best[line.all][0] // whole + 1)
    done = line.all
    while done:
        value, task = best[done]
        filled[value // whole] |= 1 << task
        done ^= 1 << task
    return filled


def _most_even(line: StationLine, stations: int, cycle: int) -> list[Bits]:
    """Within the cycle, the least sum of the squares of the station times."""
    time = sum(line.seconds)
    loads: dict[Bits, list[tuple[Bits, int]]] = {}
    layers: list[dict[Bits, tuple[int, Bits]]] = [{0: (0, 0)}]
    for left in range(stations - 1, -1, -1):
        layer: dict[Bits, tuple[int, Bits]] = {}
        for done, (squares, _) in layers[-1].items():
            if done not in loads:
                loads[done] = _loads(line, done, cycle)
            still = time - line.time(done)
            for more, seconds in loads[done]:
                cost = squares + seconds * seconds
                if still - seconds <= left * cycle and (more not in layer or cost < layer[more][0]):
                    layer[more] = (cost, done)
        layers.append(layer)
    filled: list[Bits] = []
    done = line.all
    for layer in reversed(layers[1:]):
        before = layer[done][1]
        filled.append(done ^ before)
        done = before
    return filled[::-1]


def _loads(line: StationLine, done: Bits, cycle: int) -> list[tuple[Bits, int]]:
    """What may have been done after one more station, and how long that station takes."""
    found = {done: 0}
    order = [done]
    for now in order:
        for task in line.open(now):
            more, seconds = now | 1 << task, found[now] + line.seconds[task]
            if seconds <= cycle and more not in found:
                found[more] = seconds
                order.append(more)
    return list(found.items())


# --- rules of thumb ----------------------------------------------------------------------------------------------

type Rule = Callable[[int], int]
"""The greatest first."""


def rules_of(line: StationLine) -> list[Rule]:
    """The longest; the most work with all that follow it (ranked positional weight); the most that follow it."""
    follow: list[Bits] = [0] * len(line.seconds)
    for task in range(len(follow) - 1, -1, -1):
        for earlier in range(task):
            if line.before[task] >> earlier & 1:
                follow[earlier] |= follow[task] | 1 << task
    weight = [line.seconds[task] + line.time(later) for task, later in enumerate(follow)]
    return [lambda task: line.seconds[task], lambda task: weight[task], lambda task: follow[task].bit_count()]


def _fill(line: StationLine, cycle: int, rule: Rule) -> list[Bits]:
    """One station after another is filled with what fits, by the rule."""
    filled: list[Bits] = [0]
    done, seconds = 0, 0
    while done != line.all:
        fitting = [task for task in line.open(done) if seconds + line.seconds[task] <= cycle]
        if not fitting:
            filled.append(0)
            seconds = 0
            continue
        task = max(fitting, key=rule)
        filled[-1] |= 1 << task
        done |= 1 << task
        seconds += line.seconds[task]
    return filled


def _by_rule(line: StationLine, stations: int, least: int, rule: Rule) -> list[Bits]:
    most = sum(line.seconds)
    best = [line.all]
    while least < most:
        trying = (least + most) // 2
        filled = _fill(line, trying, rule)
        if len(filled) <= stations:
            best, most = filled, trying
        else:
            least = trying + 1
    return best
