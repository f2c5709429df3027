"""The packing solver, for what arithmetic leaves open. Its answers are checked again exactly."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations
from math import lcm

from foldwright.pack.model import Laid, Size, Thing

_SECONDS = 1.0
"""How long the solver may look. What it has not found by then is not known."""
_LARGEST = 10**6
"""The solver counts in whole numbers: up to so many to a side."""
_MOST = 200


def solve(things: Sequence[Thing], room: Size) -> tuple[Laid, ...] | None:
    """A way for all of them to lie in the room, or None when none was found."""
    if len(things) > _MOST:
        return None
    from packingsolver import Objective, box

    scale = _scale(things, room)
    builder = box.InstanceBuilder()
    builder.set_objective(Objective.Knapsack)
    builder.add_bin_type(*(int(side * scale) for side in room), copies=1)
    kinds = list(dict.fromkeys(things))
    for kind in kinds:
        sides = [-int(-side * scale // 1) for side in kind.size]
        # A rotation's letters say which of a thing's own sides lies across, down and high.
        names = ("XYZ", "YXZ") if kind.upright else ("XYZ", "YXZ", "XZY", "ZXY", "YZX", "ZYX")
        ways = [getattr(box.Rotation, name) for name in names]
        builder.add_item_type(*sides, rotations=ways, copies=things.count(kind))
    parameters = box.OptimizeParameters()
    parameters.time_limit = _SECONDS
    parameters.verbosity_level = 0
    solution = box.optimize(builder.build(), parameters).solution
    if not solution.full():
        return None
    laid = _read(solution, things, kinds, scale)
    return laid if laid is not None and _is_sound(laid, things, room) else None


def _scale(things: Sequence[Thing], room: Size) -> Fraction:
    """The factor that makes every length whole, or, where that is too fine, a thousandth of a millimetre or coarser."""
    lengths = [*room, *(side for thing in things for side in thing.size)]
    exact = lcm(*(length.denominator for length in lengths))
    if exact * max(lengths) <= _LARGEST:
        return Fraction(exact)
    return min(Fraction(1000), _LARGEST / max(lengths))


def _read(
    solution: object, things: Sequence[Thing], kinds: Sequence[Thing], scale: Fraction
) -> tuple[Laid, ...] | None:
    """The solver's places, each thing of a kind taken in turn, its own exact sides in the order it lies."""
    waiting = {kind: [number for number, thing in enumerate(things) if thing == kind] for kind in kinds}
    laid: list[Laid] = []
    for item in solution.bin(0).items:  # type: ignore[attr-defined]
        kind = kinds[item.item_type_id]
        size = _as_it_lies(kind, item.rotation.name)
        at = Fraction(item.x) / scale, Fraction(item.y) / scale, Fraction(item.z) / scale
        laid.append(Laid(waiting[kind].pop(0), at, size))
    return tuple(laid) if len(laid) == len(things) else None


def _as_it_lies(kind: Thing, rotation: str) -> Size:
    sides = dict(zip("XYZ", kind.size, strict=True))
    across, down, high = (sides[letter] for letter in rotation)
    return across, down, high


def _is_sound(laid: Sequence[Laid], things: Sequence[Thing], room: Size) -> bool:
    """Every thing inside, lying as it may, none in another: in exact numbers, whatever the solver rounded."""
    if sorted(one.thing for one in laid) != list(range(len(things))):
        return False
    for one in laid:
        inside = all(at >= 0 and at + long <= wide for at, long, wide in zip(one.at, one.size, room, strict=True))
        if not inside or one.size not in things[one.thing].ways:
            return False
    return not any(_overlap(one, other) for one, other in combinations(laid, 2))


def _overlap(one: Laid, other: Laid) -> bool:
    return all(
        at < its_at + its_long and its_at < at + long
        for at, long, its_at, its_long in zip(one.at, one.size, other.at, other.size, strict=True)
    )
