"""How long a class lasts: everyone makes their own, tools are shared by taking turns, and some hands are slower.

Welcome and clearing up are not in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

SLOWEST = Fraction(3, 2)
"""The slowest take half as long again with their hands (common practice, no source)."""


class ClassStep(Struct, frozen=True):
    """Whole seconds for one making. `share` tools for all (0: everyone has one).

    `meanwhile` is the number of the step the wait may overlap, 0 when nothing may.
    """

    number: int
    hands_on: int
    get_ready: int = 0
    waiting: int = 0
    meanwhile: int = 0
    share: int = 0
    optional: bool = False


class ClassTime(Struct, frozen=True):
    """When a step begins and how long it lasts with all its turns and getting ready, without its wait; in seconds."""

    number: int
    turns: int
    start: int
    seconds: int
    slow_start: int


class ClassLength(Struct, frozen=True):
    """The steps that are counted; `usual` and `slow` are the whole in seconds, the last wait with it."""

    steps: tuple[ClassTime, ...]
    usual: int
    slow: int


def class_length(steps: Sequence[ClassStep], people: int) -> ClassLength:
    """The steps one after the other but for optional ones, everyone at the same one; ValueError without people.

    Where n tools are shared, the hands-on time is multiplied by people / n, rounded up: they take turns. Getting
    ready is done once, and by slower makers too in its own time; a half second is rounded up.
    """
    if people < 1:
        raise ValueError(f"{people} people")
    counted = [step for step in steps if not step.optional]
    seconds = [_seconds(step, people, Fraction(1)) for step in counted]
    usual, length = _starts(counted, seconds)
    slow, slow_length = _starts(counted, [_seconds(step, people, SLOWEST) for step in counted])
    times = (
        ClassTime(step.number, _turns(step, people), *timed)
        for step, *timed in zip(counted, usual, seconds, slow, strict=True)
    )
    return ClassLength(tuple(times), length, slow_length)


def _turns(step: ClassStep, people: int) -> int:
    return -(-people // step.share) if step.share else 1


def _seconds(step: ClassStep, people: int, slowness: Fraction) -> int:
    hands_on = step.hands_on * _turns(step, people) * slowness
    return step.get_ready + int(hands_on + Fraction(1, 2))


def _starts(steps: Sequence[ClassStep], seconds: Sequence[int]) -> tuple[list[int], int]:
    """When each begins, and when all is done. A wait holds up every later step but the one it may overlap."""
    clock = 0
    starts: list[int] = []
    waits: list[tuple[int, int]] = []
    for step, lasts in zip(steps, seconds, strict=True):
        clock = max([clock, *(end for end, meanwhile in waits if meanwhile != step.number)])
        starts.append(clock)
        clock += lasts
        if step.waiting:
            waits.append((clock + step.waiting, step.meanwhile))
    return starts, max([clock, *(end for end, _ in waits)])
