"""Equal lengths of one piece that no relation ties: they print alike, where nothing that must hold stands against it.

These are wishes. Sums, fits and what stands as written go before, and so does the farthest a length may move. For sizes
and panels, by which a piece is cut, a finer step is taken that a ruler still shows; for all else, such as scores, none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.figures.group import ClosedGroup, Rules, StepSearch
from foldwright.figures.problem import Constraint, Problem, groups_of, less, merged
from foldwright.figures.table import WORDS, FigureTable
from foldwright.geometry.lengths import LengthId

_ELSEWHERE = frozenset({"room", "border", "woven", "slides"})
"""Lengths that are left between two pieces, and are nothing of either."""
_CUT = frozenset({"size", "panel"})


class Wish(Struct, frozen=True):
    """A row that two equal lengths hold when they print alike; `strong` where both are sizes or panels."""

    row: Constraint
    strong: bool


def with_wishes(
    table: FigureTable, values: Sequence[int], steps: Sequence[int]
) -> Iterator[tuple[list[int], ClosedGroup]]:
    """Groups in which equal lengths are printed apart, closed anew with as many of them alike as can be.

    `steps` are those the lengths were closed on; what was closed between the lines of a ruler, or farther than usual,
    is left as it is.
    """
    problem, rules = table.problem, table.rules
    wishes = list(_wishes(table))
    if all(wish.row.holds(values) for wish in wishes):
        return
    for members in groups_of(len(table.names), [*(wish.row.terms for wish in wishes), *table.joined]):
        local, on = set(members), {steps[index] for index in members}
        own = [wish for wish in wishes if wish.row.terms[0][0] in local]
        if all(wish.row.holds(values) for wish in own) or not on.isdisjoint(rules.finer):
            continue
        step = max(on) or rules.steps[0]
        if _is_plain(problem, members, values, step, rules.reach):
            closed = _fulfilled(problem, members, own, values, step, rules)
            if closed is not None:
                yield members, closed


def _wishes(table: FigureTable) -> Iterator[Wish]:
    """Each length that is as long as one before it in its piece, with the first of those; what is cut goes before."""
    first: dict[tuple[str, int], LengthId] = {}
    exact = table.exact
    lengths = [
        name for name in exact if name.piece != WORDS and name.side not in _ELSEWHERE and name not in table.rests
    ]
    for number, name in enumerate(sorted(lengths, key=lambda name: name.place not in _CUT), 1):
        known = first.setdefault((name.piece, exact[name]), name)
        terms = less(table.terms[name], table.terms[known])
        if terms:
            # No relation of the recipe is its source.
            yield Wish(Constraint(terms, 0, 0, -number), name.place in _CUT and known.place in _CUT)


def _is_plain(problem: Problem, members: Sequence[int], values: Sequence[int], step: int, reach: int) -> bool:
    """Whether it was closed with everything within reach and nothing given up."""
    part = problem.part(members)
    own = [values[index] for index in members]
    return part.deviation(own) <= reach and all(row.at(step).holds(own) for row in part.rows)


def _fulfilled(
    problem: Problem, members: Sequence[int], wishes: Sequence[Wish], values: Sequence[int], step: int, rules: Rules
) -> ClosedGroup | None:
    """The group with the wishes taken one after the other, each kept that can hold with those before; None where none
    of those that are broken can."""
    found: ClosedGroup | None = None
    now = list(values)
    search = StepSearch(few=True)
    for strong in (True, False):
        some = [wish for wish in wishes if wish.strong is strong]
        allowed = tuple(one for one in rules.steps if one <= step) if strong else (step,)
        for wish in sorted(some, key=lambda wish: not wish.row.holds(now)):
            longer = replace(problem, rows=(*problem.rows, wish.row))
            if wish.row.holds(now):
                # What is best already, and holds, is the best of all that hold.
                problem = longer
                continue
            smaller, places = merged(longer.part(members))
            closed = search.coarsest(smaller, allowed, rules.reach)
            if closed is None:
                continue
            found = replace(closed, values=[closed.values[place] for place in places])
            problem, step = longer, closed.step
            for index, value in zip(members, found.values, strict=True):
                now[index] = value
            allowed = tuple(one for one in allowed if one <= step)
    return found
