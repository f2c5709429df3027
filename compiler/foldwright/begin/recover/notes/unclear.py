"""Numbers of a line that may mean two things: they are asked about."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from foldwright.begin.recover.model import SIDES
from foldwright.begin.recover.notes.noted import NotedRun, RunManner
from foldwright.begin.recover.notes.parts import NotedNumber
from foldwright.begin.recover.notes.sides import other_scores
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase

_OPPOSITE = (({"left", "l"}, {"right", "r"}), ({"top", "t"}, {"bottom", "b"}))
_SEVERAL = frozenset({"sides", "ends", "edges", "flaps", "walls", "both"})
"""Names that stand for more than one panel."""


def is_unclear(whole: Phrase, runs: Sequence[NotedRun], complaints: Complaints) -> bool:
    """Whether it is not plain how many numbers there are, of which panel or side each is, or in which order they come.

    Then it is asked.
    """
    if half := next((run for run in runs if run.glued and _may_be_mixed(run)), None):
        first, last = (number.phrase for number in half.numbers)
        said = whole.part(first.start - whole.start, last.end - whole.start)
        complaints.fault("reading-comma-unclear", said)
    elif several := next(filter(None, map(_several, runs)), None):
        complaints.fault("reading-named-oddly", several.wide or several.phrase, name=several.name)
    elif row := next((run for run in runs if _unordered(run)), None):
        complaints.fault("counted-in-what-order", _row(whole, row))
    elif row := next((run for run in runs if _of_both_sides(run)), None):
        complaints.fault("edges-of-both-sides", _row(whole, row))
    elif row := next((run for run in runs if _of_either_side(run, runs)), None):
        complaints.fault("ends-of-which-side", _row(whole, row), number=row.numbers[0].phrase.plain)
    else:
        return False
    return True


def _row(whole: Phrase, run: NotedRun) -> Phrase:
    first, last = (number.wide or number.phrase for number in (run.numbers[0], run.numbers[-1]))
    return whole.part(first.start - whole.start, last.end - whole.start)


def _unordered(run: NotedRun) -> bool:
    """`2 of 62 mm, 2 of 22 mm`: most likely one of each, and again."""
    return len({id(number) for number in run.numbers if number.counted}) > 1


def _of_either_side(run: NotedRun, runs: Sequence[NotedRun]) -> bool:
    """`4 1/8 wide, 4 1/4 high, 5/8 from both sides`: which ends are meant, nobody can know."""
    if run.way is not RunManner.EACH_END or run.side or other_scores(run, runs):
        return False
    starts = [(one.numbers[0].phrase.start, one.side) for one in runs]
    before = sorted(start for start in starts if start[0] < run.numbers[0].phrase.start)
    return {side for _, side in before[-2:]} == set(SIDES)


def _of_both_sides(run: NotedRun) -> bool:
    """`left 5/8, right 5/8, top 1 3/4, bottom 1 3/4`, but not `top | left side | bottom | right side`."""
    words = [frozenset(number.name.casefold().split()) for number in run.numbers]
    return all(any(one & first and following & last for one, following in pairwise(words)) for first, last in _OPPOSITE)


def _may_be_mixed(run: NotedRun) -> bool:
    """`3,1/2`: two panels, or three and a half."""
    if len(run.numbers) != 2 or run.numbers[0].unit:
        return False
    whole, part = (number.value for number in run.numbers)
    return whole is not None and part is not None and whole.denominator == 1 and part < 1


def _several(run: NotedRun) -> NotedNumber | None:
    """`sides 5/8 each, middle 2 7/8`: one number that is of more than one panel, or the last of scores with a name."""
    names = [number.name.casefold() for number in run.numbers]
    once = (one for one, name in zip(run.numbers, names, strict=True) if name in _SEVERAL and names.count(name) == 1)
    if run.scores and len(run.numbers) > 1 and run.numbers[-1].name and not any(names[:-1]):
        # `scores 5/8 and 3 1/2, trim 4 1/8`
        return run.numbers[-1]
    return None if run.way is RunManner.EACH_END else next(once, None)


def whole_or_middle(runs: Sequence[NotedRun]) -> Phrase | None:
    """`2 7/8, 5/8 each side`: the number that may be the whole side, or what is left of it between the ends."""
    sides = {run.side for run in runs if run.ends}
    of_them = (run for run in runs if (run.side or run.meant) in sides and not run.sized)
    alone = (run for run in of_them if run.way is RunManner.UNSAID)
    bare = (run.numbers[0] for run in alone if len(run.numbers) == 1 and not run.numbers[0].name)
    return next((number.phrase for number in bare), None)
