"""Stations in a row at which one or two people work side by side: the least cycle for so many people.

Two who take turns at a station have half as much to do each, so that one long task does not hold up all the others
(paralleling of stations, as the books on line balancing call it). The same dynamic program as in `balancing`, with the
people used and the room left at the open station for each set of tasks; both are kept only where neither is beaten.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct

from foldwright.event.plan.balancing import Balance, Bits, Rule, StationLine, Task, balance, in_order, rules_of

MOST_SETS = 512
"""With more sets of tasks than this the answer is by rule of thumb."""


class _Reached(Struct, frozen=True):
    """A set of tasks done with so many people; `room` is left at the station that is open, of one or two (`at`)."""

    used: int
    room: int
    at: int
    task: int = -1
    opened: bool = False
    last: _Reached | None = None


def balance_pairs(tasks: Sequence[Task], people: int) -> Balance:
    """One or two people at each station, `people` in all, so that the most for each of them is the least that can be.

    ValueError as `balance`. Several may be as good; the most even is not looked for.
    """
    if people < 2 or not tasks:
        return balance(tasks, people)
    line = StationLine(in_order(tasks))
    # Cycles are counted in half seconds, so that those of two people are whole numbers too.
    least = max(-(-2 * sum(line.seconds) // people), *line.seconds)
    best = _told(line, [(line.all, 1)], people)

    def search(found_by: Callable[[int], list[_Station]], best: Balance) -> Balance:
        """The least cycle for which stations are found; that of the bound is tried first, which is often enough."""
        low, trying = least, least
        while low < 2 * best.cycle:
            if found := found_by(trying):
                best = _told(line, found, people)
            else:
                low = trying + 1
            trying = (low + int(2 * best.cycle)) // 2
        return best

    best = search(lambda cycle: _by_rule(line, cycle, people), best)
    if 2 * best.cycle == least:
        return best
    sets = line.sets(MOST_SETS)
    if sets is None:
        return Balance(best.stations, best.times, best.people, proven=False)
    return search(lambda cycle: _exact(line, sets, cycle, people), best)


type _Station = tuple[Bits, int]


def _told(line: StationLine, filled: Sequence[_Station], people: int) -> Balance:
    """Who is over stands at stations of their own with nothing to do."""
    over = people - sum(at for _, at in filled)
    alone = line.balance([bits for bits, _ in filled], len(filled) + over, proven=True)
    return Balance(alone.stations, alone.times, (*(at for _, at in filled), *(1,) * over))


def _exact(line: StationLine, sets: Sequence[Bits], cycle: int, people: int) -> list[_Station]:
    """Stations within the cycle (in half seconds) for no more than so many people; empty: there are none."""
    room = {1: cycle // 2, 2: cycle}
    reached: dict[Bits, list[_Reached]] = {0: [_Reached(0, 0, 1)]}
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


def _by_rule(line: StationLine, cycle: int, people: int) -> list[_Station]:
    """One station after another is filled with what fits, by each rule; two people where the first task needs them."""
    for rule in rules_of(line):
        filled = _fill(line, cycle, rule)
        if sum(at for _, at in filled) <= people:
            return filled
    return []


def _fill(line: StationLine, cycle: int, rule: Rule) -> list[_Station]:
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


def share_of(balanced: Balance) -> tuple[tuple[frozenset[int], tuple[int, ...]], ...]:
    """The people of each station, counted from nought, and its tasks."""
    found = []
    first = 0
    for numbers, people in zip(balanced.stations, balanced.people, strict=True):
        found.append((frozenset(range(first, first + people)), numbers))
        first += people
    return tuple(found)
