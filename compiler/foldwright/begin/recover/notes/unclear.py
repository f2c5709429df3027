"""Numbers of a line that may mean two things: they are asked about."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.begin.recover.notes.noted import NotedRun, RunManner
from foldwright.begin.recover.notes.parts import NotedNumber
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase

_SEVERAL = frozenset({"sides", "ends", "edges", "flaps", "walls", "both"})
"""Names that stand for more than one panel."""


def is_unclear(whole: Phrase, runs: Sequence[NotedRun], complaints: Complaints) -> bool:
    """Whether a comma may part a number or two, or a number may be of one panel or of two; then it is asked."""
    if half := next((run for run in runs if run.glued and _may_be_mixed(run)), None):
        first, last = (number.phrase for number in half.numbers)
        said = whole.part(first.start - whole.start, last.end - whole.start)
        complaints.fault("reading-comma-unclear", said)
    elif several := next(filter(None, map(_several, runs)), None):
        complaints.fault("reading-named-oddly", several.wide or several.phrase, name=several.name)
    else:
        return False
    return True


def _may_be_mixed(run: NotedRun) -> bool:
    """`3,1/2`: two panels, or three and a half."""
    if len(run.numbers) != 2 or run.numbers[0].unit:
        return False
    whole, part = (number.value for number in run.numbers)
    return whole is not None and part is not None and whole.denominator == 1 and part < 1


def _several(run: NotedRun) -> NotedNumber | None:
    """`sides 5/8 each, middle 2 7/8`: one number that is of more than one panel."""
    names = [number.name.casefold() for number in run.numbers]
    once = (one for one, name in zip(run.numbers, names, strict=True) if name in _SEVERAL and names.count(name) == 1)
    return None if run.way is RunManner.EACH_END else next(once, None)


def whole_or_middle(runs: Sequence[NotedRun]) -> Phrase | None:
    """`2 7/8, 5/8 each side`: the number that may be the whole side, or what is left of it between the ends."""
    sides = {run.side for run in runs if run.ends}
    alone = (run for run in runs if run.side in sides and run.way is RunManner.UNSAID and not run.sized)
    bare = (run.numbers[0] for run in alone if len(run.numbers) == 1 and not run.numbers[0].name)
    return next((number.phrase for number in bare), None)
