"""The best closing of one group by branch and bound, in whole numbers.

Best is, in this order: the least largest deviation, the least sum of deviations, the smallest figures in order of
mention. So there is exactly one best closing, or none.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable

from msgspec import Struct

from foldwright.figures.problem import Constraint, Problem, nearest

type Box = tuple[list[int], list[int]]
"""The smallest and the largest value each length may still take."""


class BudgetSpentError(Exception):
    """The search was cut short."""


class Budget(Struct):
    """How many more branches a search may try, and a closing it has met, for when the search is cut short."""

    left: int
    found: list[int] | None = None

    def spend(self) -> None:
        self.left -= 1
        if self.left < 0:
            raise BudgetSpentError


def best_closing(problem: Problem, step: int, reach: int, budget: Budget) -> list[int] | None:
    """The best values on multiples of `step`, none farther than `reach` from its length; None when there are none.

    Raises BudgetSpentError when the budget does not suffice.
    """
    problem = problem.at(step)
    widest = box_within(problem, step, reach) if problem.on_grid(step) else None
    if widest is None or not narrow(problem.rows, widest, step):
        return None

    def any_within(level: int) -> list[int] | None:
        box = box_within(problem, step, level)
        values = None if box is None else _any(problem, step, box, budget)
        budget.found = values or budget.found
        return values

    found = least_level(problem, levels_of(problem, widest, step), any_within)
    if found is None:
        return None
    tight = box_within(problem, step, problem.deviation(found))
    total = None if tight is None else _least_sum(problem, step, tight, budget)
    if tight is None or total is None:
        raise AssertionError("a box that holds a closing is not empty")
    return _first_in_order(problem, step, tight, total, budget)


def box_within(problem: Problem, step: int, reach: int) -> Box | None:
    """Every length's values within `reach`, on the step and above nothing; None when a length has no value left.

    A length no row speaks of has but its nearest.
    """
    low, high = [], []
    related = problem.related
    for index, (exact, fixed) in enumerate(zip(problem.exact, problem.fixed, strict=True)):
        if fixed:
            smallest = largest = exact
        elif index in related:
            smallest = -((reach - exact) // step) * step
            largest = (exact + reach) // step * step
            if exact > 0:
                smallest = max(smallest, step)
        else:
            smallest = largest = nearest(exact, step)
            if abs(smallest - exact) > reach:
                return None
        if smallest > largest:
            return None
        low.append(smallest)
        high.append(largest)
    return low, high


def narrow(rows: tuple[Constraint, ...], box: Box, step: int) -> bool:
    """Shrinks the box in place to what the rows leave possible, until nothing changes; False when nothing is left."""
    changed = True
    while changed:
        changed = False
        for row in rows:
            outcome = _narrow_row(row, box, step)
            if outcome is None:
                return False
            changed = changed or outcome
    return True


def _narrow_row(row: Constraint, box: Box, step: int) -> bool | None:
    """Whether the row shrank the box; None when it can no longer hold."""
    low, high = box
    smallest, largest = _extremes(row, box)
    least, most = row.least, row.most
    if largest < least or (most is not None and smallest > most):
        return None
    # How far any length may raise the row above its smallest, and lower it below its largest.
    rise = largest - smallest if most is None else most - smallest
    fall = largest - least
    if rise >= largest - smallest <= fall:
        return False
    changed = False
    for index, times in row.terms:
        width = high[index] - low[index]
        size = times if times > 0 else -times
        if not width or (size * width <= rise and size * width <= fall):
            continue
        up = rise // size // step * step
        down = fall // size // step * step
        if up > width:
            up = width
        if down > width:
            down = width
        if up + down < width:
            return None
        if times > 0:
            low[index], high[index] = high[index] - down, low[index] + up
        else:
            low[index], high[index] = high[index] - up, low[index] + down
        # The row's smallest rose and its largest fell by what the length lost at either end.
        rise -= size * (width - down)
        fall -= size * (width - up)
        changed = True
    return changed


def _extremes(row: Constraint, box: Box) -> tuple[int, int]:
    low, high = box
    smallest = largest = 0
    for index, times in row.terms:
        if times > 0:
            smallest += times * low[index]
            largest += times * high[index]
        else:
            smallest += times * high[index]
            largest += times * low[index]
    return smallest, largest


def levels_of(problem: Problem, box: Box, step: int) -> list[int]:
    """Every largest deviation a closing inside the box can have, ascending."""
    distances: set[int] = set()
    floor = 0
    for exact, low, high in zip(problem.exact, box[0], box[1], strict=True):
        own = [abs(value - exact) for value in range(low, high + 1, step)]
        floor = max(floor, min(own))
        distances.update(own)
    return sorted(distance for distance in distances if distance >= floor)


def least_level(problem: Problem, levels: list[int], any_within: Callable[[int], list[int] | None]) -> list[int] | None:
    """A closing with the least largest deviation, of those `any_within` finds.

    A wider reach allows whatever a narrower one allows, so the levels can be halved; they are first climbed in
    growing strides, since the least is nearly always among the lowest.
    """
    found, low, stride = None, 0, 1
    high = len(levels)
    while low < high:
        middle = min(low + stride - 1, high - 1) if found is None else (low + high) // 2
        values = any_within(levels[middle])
        if values is None:
            low, stride = middle + 1, stride * 2
        else:
            found, high = values, min(middle, bisect_left(levels, problem.deviation(values)))
    return found


def _any(problem: Problem, step: int, box: Box, budget: Budget) -> list[int] | None:
    """A closing inside the box, the first met when every length tries its nearest values first."""
    if not narrow(problem.rows, box, step):
        return None
    index = _open(box)
    if index is None:
        return box[0]
    for value in _nearest_first(problem, step, box, index):
        budget.spend()
        found = _any(problem, step, _with(box, index, value), budget)
        if found is not None:
            return found
    return None


def _least_sum(problem: Problem, step: int, box: Box, budget: Budget, least: int | None = None) -> int | None:
    """The least sum of deviations inside the box if it is below `least`, else `least`."""
    if not narrow(problem.rows, box, step):
        return least
    if least is not None and _sum_at_least(problem, box, step) >= least:
        return least
    index = _open(box)
    if index is None:
        return _sum_at_least(problem, box, step)
    for value in _nearest_first(problem, step, box, index):
        budget.spend()
        least = _least_sum(problem, step, _with(box, index, value), budget, least)
    return least


def _first_in_order(problem: Problem, step: int, box: Box, total: int, budget: Budget) -> list[int] | None:
    """The smallest figures in order of mention inside the box whose deviations come to no more than `total`."""
    if not narrow(problem.rows, box, step) or _sum_at_least(problem, box, step) > total:
        return None
    index = _open(box)
    if index is None:
        return box[0]
    for value in range(box[0][index], box[1][index] + 1, step):
        budget.spend()
        found = _first_in_order(problem, step, _with(box, index, value), total, budget)
        if found is not None:
            return found
    return None


def _sum_at_least(problem: Problem, box: Box, step: int) -> int:
    """A sum of deviations no closing inside the box can be below; exact when the box is a single closing."""
    total = 0
    for exact, weight, low, high in zip(problem.exact, problem.each_weight, box[0], box[1], strict=True):
        if exact <= low:
            total += weight * (low - exact)
        elif exact >= high:
            total += weight * (exact - high)
        else:
            over = (exact - low) % step
            total += weight * min(over, step - over)
    return total


def _open(box: Box) -> int | None:
    """The first length in order of mention that still has a choice."""
    return next((index for index, (low, high) in enumerate(zip(*box, strict=True)) if low < high), None)


def _with(box: Box, index: int, value: int) -> Box:
    low, high = box[0].copy(), box[1].copy()
    low[index] = high[index] = value
    return low, high


def _nearest_first(problem: Problem, step: int, box: Box, index: int) -> list[int]:
    """The multiples of `step` that a length may still take, the nearest first, the smaller of two as near."""
    exact, (low, high) = problem.exact[index], box
    return sorted(range(low[index], high[index] + 1, step), key=lambda value: abs(value - exact))
