"""Runs of the ruler along one side, and what the numbers themselves show of how they were measured."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.recover.notes.lengths import RowItem
from foldwright.begin.recover.notes.noted import EDGES, RunManner
from foldwright.finding import Place
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase

NARROWEST = Fraction(6)
"""Millimetres: nobody makes a narrower panel (common practice, no source). Numbers nearer than that are one line."""
RUNNING = (RunManner.FROM_START, RunManner.FROM_END)


class MeasuredRun(Struct, frozen=True):
    """The numbers of one run; `panel` is what a run of that way is about, `said` all of it.

    `scores` is whether all of them are score lines, so that none is the far edge; `arrows` and `bars` are what stands
    between the numbers; `unclear` whether blanks alone part numbers, and a whole from its fraction as well; `backwards`
    whether the first is the last panel.
    """

    way: RunManner
    items: tuple[RowItem, ...]
    place: Place
    said: Phrase
    panel: str = ""
    scores: bool = False
    arrows: bool = False
    bars: bool = False
    unclear: bool = False
    backwards: bool = False

    @property
    def lengths(self) -> list[Fraction]:
        """Every number that was read, in millimetres."""
        return [item.length.mm for item in self.items if item.length]

    @property
    def total(self) -> Fraction:
        """What its numbers come to."""
        return sum(self.lengths, Fraction(0))

    @property
    def slack(self) -> Fraction:
        """By how much that may be off."""
        return sum((item.bound.mm for item in self.items), Fraction(0))

    @property
    def is_full(self) -> bool:
        """Whether every number of it was read."""
        return all(item.length for item in self.items)

    @property
    def rises(self) -> bool:
        """Whether each number is larger than the one before."""
        return all(one < following for one, following in pairwise(self.lengths))


def whole_run(runs: Sequence[MeasuredRun]) -> MeasuredRun | None:
    """The first reading of the whole side."""
    return next((run for run in runs if run.way is RunManner.WHOLE and run.is_full), None)


def gathered(runs: Sequence[MeasuredRun]) -> list[MeasuredRun]:
    """The runs; scores that were noted one by one (`score at 5/8`, then `score at 3 1/2`) are put together."""
    done = list(runs)
    for way in RUNNING:
        alone = [run for run in done if run.way is way and len(run.items) == 1 and run.is_full]
        ordered = sorted(alone, key=lambda run: run.lengths[0])
        apart = all(other.lengths[0] - one.lengths[0] >= NARROWEST for one, other in pairwise(ordered))
        if len(ordered) > 1 and apart:
            items = tuple(run.items[0] for run in ordered)
            at = next(at for at, run in enumerate(done) if run is alone[0])
            joined = set(map(id, alone))
            done = [run for run in done if id(run) not in joined]
            done.insert(at, replace(alone[0], items=items, scores=ordered[-1].scores))
    return done


def settled(
    piece: str, side: str, runs: Sequence[MeasuredRun], complaints: Complaints, assumed: list[DraftNote]
) -> list[MeasuredRun] | None:
    """The runs, each with how it was measured; None (and a finding) when one may have been measured in two ways."""
    whole = whole_run(runs)
    done: list[MeasuredRun] = []
    for run in runs:
        way = run.way
        if way is RunManner.UNSAID:
            shown = _shown(run, whole)
            if shown is None:
                facts = {"side": side, "edge": EDGES[side][0]}
                complaints.fault("reading-arrows-unclear", run.said, **facts)
                return None
            way, sure = shown
            if not sure:
                code = "taken-singly" if way is RunManner.SINGLY else "taken-running"
                assumed.append(DraftNote.of(code, piece=piece, side=side, edge=EDGES[side][0], said=run.said.plain))
        if _has_own_total(run, way, whole):
            complaints.fault("panel-or-whole", run.said, piece=piece, side=side)
            return None
        if run.unclear and not _plain_by_blanks(run, way, whole):
            complaints.fault("reading-spaces-unclear", run.said)
            return None
        done.append(_turned(run, way) if run.backwards else replace(run, way=way))
    return done


def _turned(run: MeasuredRun, way: RunManner) -> MeasuredRun:
    """`right to left`: the panels the other way round, or measured from the other edge."""
    if way is RunManner.FROM_START:
        return replace(run, way=RunManner.FROM_END)
    return replace(run, way=way, items=run.items[::-1])


def _has_own_total(run: MeasuredRun, way: RunManner, whole: MeasuredRun | None) -> bool:
    """Whether the first or the last number is what all others come to, and nothing shows that it is a panel."""
    if way is not RunManner.SINGLY or run.way is not RunManner.UNSAID or run.bars or len(run.items) < _MANY:
        return False
    if whole is not None or not run.is_full:
        return False
    return any(abs(run.total - 2 * run.lengths[at]) <= run.slack for at in (0, -1))


def _shown(run: MeasuredRun, whole: MeasuredRun | None) -> tuple[RunManner, bool] | None:
    """What the numbers show, and whether that is plain enough to go without saying; None when nothing does."""
    lengths = run.lengths
    if len(lengths) < 2 or not run.rises:
        return RunManner.SINGLY, True
    if whole and run.is_full:
        length, slack = whole.lengths[0], whole.slack
        if abs(run.total - length) <= run.slack + slack:
            return RunManner.SINGLY, True
        last = abs(lengths[-1] - length) <= run.items[-1].bound.mm + slack
        if last or (run.total > length + run.slack + slack and lengths[-1] < length - NARROWEST):
            return RunManner.FROM_START, False
    if run.arrows:
        return None
    return RunManner.SINGLY, len(lengths) < _MANY or run.bars


_MANY = 3
"""Of two numbers that rise nobody need wonder; three and more are often measured from the edge (a reasoned guess)."""


def _plain_by_blanks(run: MeasuredRun, way: RunManner, whole: MeasuredRun | None) -> bool:
    """Whether `5/8 2 7/8 5/8` can only be meant in one way: as it rises, adds up, or is the same from both ends."""
    if way in RUNNING:
        return run.rises
    if whole and abs(run.total - whole.lengths[0]) <= run.slack + whole.slack:
        return True
    return run.lengths == run.lengths[::-1]
