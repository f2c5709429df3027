"""Invented recipes: whatever the rounding, what adds up adds up, and nothing compared moves farther than it may.

A thousand of them each time, and ten thousand on a long run.
"""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest

from figures.hard_rules import broken, worth
from figures.made_up import made_up_recipe
from foldwright.figures.closing import close
from foldwright.geometry.lengths import Sum
from foldwright.measure.length import System
from workbench.long import tries

RECIPES, BATCHES = tries(1000, 10_000), 20
PIECES = (1, 1, 2, 2, 3, 3, 4, 5, 6, 7, 8)
FARTHEST = {System.METRIC: Fraction(1, 2), System.IMPERIAL: Fraction(254, 320)}
"""Half a millimetre and a thirty-second of an inch."""


@pytest.mark.parametrize("batch", range(BATCHES))
def test_every_hard_rule_holds_in_print(batch: int) -> None:
    for seed in range(batch, RECIPES, BATCHES):
        random = Random(seed)
        lengths = made_up_recipe(random, random.choice(PIECES))
        system = random.choice(list(System))
        figures = close(lengths, system)
        assert list(broken(lengths, figures)) == [], seed
        assert not {note.code for note in figures.notes} & {"cannot-close", "closing-not-proven"}, seed
        moved_further = {name for note in figures.notes if note.code == "moved-further" for name in note.lengths}
        wholes = {one.total for one in lengths.relations if isinstance(one, Sum) and not one.held}
        for name, length in lengths.by_id.items():
            printed = worth(figures[name])
            assert printed == figures[name].mm, (seed, name)
            assert printed > 0, (seed, name)
            near = abs(printed - length.mm) <= FARTHEST[system]
            assert near or name in moved_further or name in wholes, (seed, name)
            step = figures.steps.get(name)
            assert step is None or printed % step == 0, (seed, name)
