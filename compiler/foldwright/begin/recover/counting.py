"""From runs of the ruler to the lines of a side: how many panels there are, and where each number lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.recover.model import RulerReading, SampleSide
from foldwright.begin.recover.rows import RowItem
from foldwright.finding import Place
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.limits import MOST_PANELS

_NARROWEST = Fraction(6)
"""Millimetres: nobody makes a narrower panel (common practice, no source). Numbers nearer than that are one line."""


class RunManner(Enum):
    """How a run was measured."""

    SINGLY = "singly"
    FROM_START = "from start"
    """Each number from the left (or top) edge."""
    FROM_END = "from end"
    WHOLE = "whole"
    PANEL = "panel"
    """One panel, by its name or number."""


class MeasuredRun(Struct, frozen=True):
    """The numbers of one line about one side; `panel` is what a run of that way is about."""

    way: RunManner
    items: tuple[RowItem, ...]
    place: Place
    panel: str = ""


def lay_side(
    piece: str, side: str, runs: Sequence[MeasuredRun], complaints: Complaints
) -> tuple[SampleSide, list[DraftNote]] | None:
    """The side its runs speak of; None (and a finding) when they do not speak of the same one."""
    for run in runs:
        if run.way in (RunManner.FROM_START, RunManner.FROM_END) and not _rises(run, complaints):
            return None
    assumed: list[DraftNote] = []
    counts = list(_counts(piece, side, runs, assumed))
    count, place = counts[0] if counts else (1, runs[0].place)
    if other := next((one for one in counts if one[0] != count), None):
        facts = {"piece": piece, "side": side, "count": other[0], "first": count}
        complaints.fault("panels-counted-differently", other[1], **facts, line=place)
        return None
    if not counts and (lone := next((run for run in runs if run.way is RunManner.PANEL), None)):
        complaints.fault("how-many-panels", lone.place, piece=piece, side=side)
        return None
    if count > MOST_PANELS:
        complaints.fault("too-many-panels", place, word=side, most=MOST_PANELS)
        return None
    names = _names(count, runs)
    readings: list[RulerReading] = []
    for run in runs:
        panel = _panel(run, names, side) if run.way is RunManner.PANEL else 0
        if panel is None:
            known = tuple(name for name in names if name) or tuple(str(number + 1) for number in range(count))
            complaints.fault("reading-of-what-panel", run.place, piece=piece, panel=run.panel, known=known)
            return None
        readings += _readings(run, count, panel)
    return SampleSide(side, names, tuple(readings), runs[0].place), assumed


def _rises(run: MeasuredRun, complaints: Complaints) -> bool:
    for one, following in pairwise(run.items):
        if following.length.mm <= one.length.mm:
            complaints.fault("readings-not-in-order", following.said, before=one.length, after=following.length)
            return False
    return True


# --- how many panels ------------------------------------------------------------------------------------------------


def _counts(
    piece: str, side: str, runs: Sequence[MeasuredRun], assumed: list[DraftNote]
) -> Iterator[tuple[int, Place]]:
    """How many panels each run speaks of, and where it does."""
    yield from ((len(run.items), run.place) for run in runs if run.way is RunManner.SINGLY)
    running = [run for run in runs if run.way in (RunManner.FROM_START, RunManner.FROM_END)]
    whole = _whole(runs)
    meeting = whole is None and _meet_from_both_ends(running)
    for run in running:
        last = run.items[-1].length.mm
        if whole is None and not meeting:
            assumed.append(DraftNote.of("last-is-the-edge", piece=piece, side=side, last=run.items[-1].length))
        to_edge = not meeting if whole is None else last > whole - _NARROWEST
        yield len(run.items) + (0 if to_edge else 1), run.place


def _whole(runs: Sequence[MeasuredRun]) -> Fraction | None:
    """How long the side is, as somebody said or as single panels come to."""
    said = next((run.items[0].length.mm for run in runs if run.way is RunManner.WHOLE), None)
    if said is not None:
        return said
    sums = (sum((item.length.mm for item in run.items), Fraction(0)) for run in runs if run.way is RunManner.SINGLY)
    return next(sums, None)


def _meet_from_both_ends(running: Sequence[MeasuredRun]) -> bool:
    """Whether runs from both edges speak of the same scores: each score's two distances come to the same whole."""
    starts = [run for run in running if run.way is RunManner.FROM_START]
    ends = [run for run in running if run.way is RunManner.FROM_END]
    if not starts or not ends or len(starts[0].items) != len(ends[0].items):
        return False
    pairs = list(zip(starts[0].items, reversed(ends[0].items), strict=True))
    sums = [one.length.mm + other.length.mm for one, other in pairs]
    slack = max(one.bound.mm + other.bound.mm for one, other in pairs)
    return max(sums) - min(sums) <= 2 * slack and starts[0].items[-1].length.mm < max(sums) - _NARROWEST


# --- between which lines --------------------------------------------------------------------------------------------


def _names(count: int, runs: Sequence[MeasuredRun]) -> tuple[str, ...]:
    """The name of every panel, the first one that was given."""
    names = [""] * count
    for run in runs:
        if run.way in (RunManner.WHOLE, RunManner.PANEL):
            continue
        for number, item in enumerate(run.items):
            panel = count - 1 - number if run.way is RunManner.FROM_END else number
            names[panel] = names[panel] or item.name
    return tuple(names)


def _panel(run: MeasuredRun, names: Sequence[str], side: str) -> int | None:
    """Which panel a run is about, counted from nought."""
    said = run.panel.casefold()
    if said.isascii() and said.isdecimal():
        return int(said) - 1 if 0 < int(said) <= len(names) else None
    known = [name.casefold() for name in names]
    if said in known:
        return known.index(said)
    first, last = ("left", "right") if side == "across" else ("top", "bottom")
    roles = {first: 0, last: len(names) - 1} | ({"floor": 1} if len(names) == 3 else {})
    if said in roles:
        return roles[said]
    near = nearest(said, [name for name in known if name], 0.8)
    return known.index(near) if near else None


def _readings(run: MeasuredRun, count: int, panel: int) -> Iterator[RulerReading]:
    for number, item in enumerate(run.items):
        match run.way:
            case RunManner.SINGLY:
                start, end = number, number + 1
            case RunManner.FROM_START:
                start, end = 0, number + 1
            case RunManner.FROM_END:
                start, end = count - number - 1, count
            case RunManner.WHOLE:
                start, end = 0, count
            case RunManner.PANEL:
                start, end = panel, panel + 1
        yield RulerReading(start, end, item.length, item.bound, item.said.place, item.said.plain)
