"""The packing solver, for what the tables leave open: searches of two, of three and of any number of stages at once.

How far it looks is counted in what it keeps open at a time, never in seconds: it finds the same on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from fractions import Fraction
from typing import Any

from msgspec import Struct

from foldwright.pack.cutting.model import Arrangement
from foldwright.pack.cutting.patterns import Sketch, Way, in_row

_KEPT_OPEN = 512
"""Half-filled layouts that a search keeps for each unit of effort; the worst beyond that are given up."""

type Sheets = tuple[tuple[int, Sketch, int], ...]
"""Which stock, how it is cut, and how many sheets so."""


class Solved(Struct, frozen=True):
    """The ways that give every piece, each of its number of stages, and what any way costs at least."""

    ways: tuple[Sheets, ...]
    bound: Fraction


def solve(
    ways: Sequence[Way],
    wanted: Sequence[int],
    rooms: Sequence[tuple[int, int]],
    stocks: Sequence[tuple[int, int | None]],
    effort: int,
) -> Solved:
    """Look as far as `effort` says. `stocks` are the whole cost of each and how many there are; numbers are whole."""

    def found_in(stages: int | None) -> tuple[Sheets, Fraction]:
        """With one sheet more of each stock where the solver raises, as it does when it has but one to choose from.

        What takes more of a stock than there is, the caller refuses; the bound holds, as more sheets never cost more.
        """
        try:
            return _search(ways, wanted, rooms, stocks, stages, effort, 0)
        except RuntimeError:
            return _search(ways, wanted, rooms, stocks, stages, effort, 1)

    with ThreadPoolExecutor(3) as pool:
        runs = list(pool.map(found_in, (2, 3, None)))
    found = tuple(sheets for sheets, _ in runs if sheets)
    # A search of few stages proves nothing about more of them.
    return Solved(found, runs[-1][1])


def _search(
    ways: Sequence[Way],
    wanted: Sequence[int],
    rooms: Sequence[tuple[int, int]],
    stocks: Sequence[tuple[int, int | None]],
    stages: int | None,
    effort: int,
    spare: int,
) -> tuple[Sheets, Fraction]:
    from packingsolver import Objective, OptimizationMode, rectangleguillotine

    builder = rectangleguillotine.InstanceBuilder()
    builder.set_objective(Objective.VariableSizedBinPacking)
    if stages is None:
        builder.set_number_of_stages_unlimited()
    else:
        builder.set_number_of_stages(stages)
    builder.set_cut_type(rectangleguillotine.CutType.NonExact)
    builder.set_first_stage_orientation(rectangleguillotine.CutOrientation.Any)
    for (width, height), (cost, copies) in zip(rooms, stocks, strict=True):
        most = spare + (sum(wanted) if copies is None else copies)
        # What is owned costs the solver one, or it would count for nothing which of it is used.
        builder.add_bin_type(width, height, cost=float(cost or 1), copies=most)
    kinds = [kind for kind, number in enumerate(wanted) if number]
    for kind in kinds:
        own = [way for way in ways if way[0] == kind]
        builder.add_item_type(own[0][1], own[0][2], oriented=len(own) == 1, copies=wanted[kind])
    parameters = rectangleguillotine.OptimizeParameters()
    parameters.verbosity_level = 0
    parameters.use_tree_search = True
    parameters.not_anytime_tree_search_queue_size = _KEPT_OPEN * effort
    parameters.optimization_mode = OptimizationMode.NotAnytimeDeterministic
    output = rectangleguillotine.optimize(builder.build(), parameters)
    bound = _whole(output.variable_sized_bin_packing_bound)
    solution = output.solution
    # One that is not full leaves pieces out.
    return (_read(solution, kinds) if solution.full() else ()), bound


def _whole(bound: float) -> Fraction:
    """The solver counts costs in whole numbers, but tells its bound as a float."""
    return Fraction(max(0, int(bound + 1e-6))) if bound < 1e15 else Fraction(0)


def _read(solution: Any, kinds: Sequence[int]) -> Sheets:
    found = []
    for number in range(solution.number_of_different_bins()):
        sheet = solution.bin(number)
        nodes = list(sheet.nodes)
        root = next(index for index, node in enumerate(nodes) if node.f < 0)
        sketch = _sketch(nodes, root, kinds)
        if sketch is not None:
            found.append((sheet.bin_type_id, sketch, sheet.copies))
    return tuple(found)


def _sketch(nodes: Sequence[Any], index: int, kinds: Sequence[int]) -> Sketch | None:
    """A node of the solver's tree without what falls off; its own sides are what its piece takes."""
    node = nodes[index]
    if node.item_type_id >= 0 and not node.children:
        return Sketch(node.r - node.l, node.t - node.b, kinds[node.item_type_id])
    parts = [(child, sketch) for child in node.children if (sketch := _sketch(nodes, child, kinds))]
    if not parts:
        return None
    if len(parts) == 1:
        return parts[0][1]
    row = Arrangement.ACROSS if len({nodes[child].l for child, _ in parts}) > 1 else Arrangement.DOWN
    return in_row(row, [sketch for _, sketch in parts])
