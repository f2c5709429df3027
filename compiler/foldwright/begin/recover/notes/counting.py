"""From runs of the ruler to the lines of a side: how many panels there are, and where each number lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.recover.model import RulerReading, SampleSide
from foldwright.begin.recover.notes.noted import EDGES, RunManner
from foldwright.begin.recover.notes.placing import ApartRuns, OneLineOrTwo, PlacedRuns, place_running
from foldwright.begin.recover.notes.runs import NARROWEST, RUNNING, MeasuredRun, gathered, settled, whole_run
from foldwright.measure.length import Length
from foldwright.measure.writing import plain_cross, write_readable
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.limits import MOST_PANELS

_MIDDLES = ("floor", "middle", "centre", "center")


def lay_side(
    piece: str, side: str, runs: Sequence[MeasuredRun], complaints: Complaints
) -> tuple[SampleSide, list[DraftNote]] | None:
    """The side its runs speak of; None (and a finding) when they do not speak of the same one."""
    assumed: list[DraftNote] = []
    runs = gathered(runs)
    known = settled(piece, side, runs, complaints, assumed)
    if known is None or not all(_rises(run, complaints) for run in known):
        return None
    counted = _counted(piece, side, known, assumed, complaints)
    if counted is None:
        return None
    count, lines = counted
    names = _names(count, known, lines)
    if (odd := _out_of_order(names)) and (named := next((run for run in known if run.items[0].name), None)):
        complaints.fault("names-out-of-order", named.said, name=odd, first=EDGES[side][0], last=EDGES[side][1])
        return None
    readings: list[RulerReading] = []
    for run, at in zip(known, lines, strict=True):
        panel = _panel(run, names, side) if run.way is RunManner.PANEL else 0
        if panel is None:
            known_names = tuple(name for name in names if name) or tuple(str(number + 1) for number in range(count))
            complaints.fault("reading-of-what-panel", run.place, piece=piece, panel=run.panel, known=known_names)
            return None
        readings += _readings(run, count, panel, at)
    return SampleSide(side, names, tuple(readings), runs[0].place), assumed


def _rises(run: MeasuredRun, complaints: Complaints) -> bool:
    if run.way not in (*RUNNING, RunManner.EACH_END):
        return True
    for one, following in pairwise(item for item in run.items if item.length):
        if one.length and following.length and following.length.mm <= one.length.mm:
            complaints.fault("readings-not-in-order", following.said, before=one.length, after=following.length)
            return False
    return True


# --- how many panels ------------------------------------------------------------------------------------------------


def _counted(
    piece: str, side: str, runs: Sequence[MeasuredRun], assumed: list[DraftNote], complaints: Complaints
) -> tuple[int, list[tuple[int, ...]]] | None:
    """How many panels there are, and for each run the lines its numbers lie at (none unless measured from an edge)."""
    counts = [(run, len(run.items)) for run in runs if run.way is RunManner.SINGLY]
    running = [run for run in runs if run.way in RUNNING]
    placed = place_running(running, runs, counts[0][1] if counts else None) if running else PlacedRuns(0, ())
    if isinstance(placed, OneLineOrTwo):
        complaints.fault("one-line-or-two", placed.run.said, piece=piece, side=side)
        return None
    if isinstance(placed, ApartRuns):
        _apart(piece, side, placed.first, placed.other, complaints)
        return None
    if running:
        counts.append((running[0], placed.count))
    edges = (run.items[-1].length for run in placed.edges)
    assumed.extend(DraftNote.of("last-is-the-edge", piece=piece, side=side, last=last) for last in edges)
    inward = [(run, 2 * len(run.items) + 1) for run in runs if run.way is RunManner.EACH_END]
    most = max(inward, key=lambda one: one[1], default=None)
    if most and all(most[1] > count for _, count in counts):
        counts.append(most)
    first = counts[0] if counts else None
    if first and (other := next((one for one in counts if one[1] != first[1]), None)):
        _apart(piece, side, first, other, complaints)
        return None
    count = first[1] if first else _numbered(piece, side, runs, assumed, complaints)
    if not count:
        return None
    if count > MOST_PANELS:
        complaints.fault("too-many-panels", first[0].place if first else runs[0].place, word=side, most=MOST_PANELS)
        return None
    if not running and not inward and _lacks_panel(piece, side, runs, complaints):
        return None
    lines = iter(placed.lines)
    return count, [next(lines) if run in running else () for run in runs]


def _apart(
    piece: str, side: str, first: tuple[MeasuredRun, int], other: tuple[MeasuredRun, int], complaints: Complaints
) -> None:
    facts = {"piece": piece, "side": side, "count": other[1], "first": first[1]}
    complaints.fault("panels-counted-differently", other[0].place, **facts, line=first[0].place)


def _numbered(
    piece: str, side: str, runs: Sequence[MeasuredRun], assumed: list[DraftNote], complaints: Complaints
) -> int:
    """How many panels there are where each was noted by its number: as many as the last one's. 0 (and a finding) when
    nothing says it."""
    alone = [run for run in runs if run.way is RunManner.PANEL]
    if not alone:
        return 1
    numbers = {int(run.panel) for run in alone if run.panel.isascii() and run.panel.isdecimal()}
    last = max(numbers, default=0)
    if len(alone) < 2 or len(numbers) < len({run.panel for run in alone}) or numbers != set(range(1, last + 1)):
        complaints.fault("how-many-panels", alone[0].place, piece=piece, side=side)
        return 0
    assumed.append(DraftNote.of("panels-as-numbered", piece=piece, side=side, count=last))
    return last


def _lacks_panel(piece: str, side: str, runs: Sequence[MeasuredRun], complaints: Complaints) -> bool:
    """Whether single panels leave so much of the whole side over that one was forgotten, most likely the last."""
    whole = whole_run(runs)
    row = next((run for run in runs if run.way is RunManner.SINGLY and run.is_full), None)
    if whole is None or row is None:
        return False
    length, last = whole.items[0].length, row.items[-1].length
    over = whole.lengths[0] - row.total
    slack = row.slack + whole.slack
    if over - slack < NARROWEST or length is None or last is None:
        return False
    first, between = row.items[0].length, row.lengths[1:]
    # With the first once more at the end, a row that is the same from both ends.
    mirrored = first is not None and abs(first.mm - over) <= slack and between == between[::-1] and len(between) > 0
    missing = first if mirrored and first else Length(over, length.unit)
    facts = {"piece": piece, "side": side, "total": Length(row.total, last.unit), "whole": length, "missing": missing}
    complaints.fault(
        "panel-missing-as-first" if mirrored else "panel-missing", row.said, **facts, row=_with_missing(row, missing)
    )
    return True


def _with_missing(row: MeasuredRun, missing: Length) -> str:
    """The row to type: the panel at its end, or before a last one that is the right or the bottom one."""
    panels = [f"{item.said.plain} {item.name}".rstrip() for item in row.items]
    at_end = not {"right", "bottom"}.intersection(row.items[-1].name.casefold().split())
    panels.insert(len(panels) if at_end else -1, plain_cross([write_readable(missing)]))
    return " | ".join(panels)


# --- between which lines --------------------------------------------------------------------------------------------


def _names(count: int, runs: Sequence[MeasuredRun], lines: Sequence[tuple[int, ...]]) -> tuple[str, ...]:
    """The name of every panel, the first one that was given."""
    names = [""] * count
    for run, at in zip(runs, lines, strict=True):
        if run.way is RunManner.SINGLY:
            panels = list(range(count))
        elif run.way is RunManner.FROM_START:
            panels = [line - 1 for line in at]
        elif run.way is RunManner.FROM_END:
            panels = list(at)
        else:
            continue
        for item, panel in zip(run.items, panels, strict=True):
            names[panel] = names[panel] or item.name
    return tuple(names)


def _out_of_order(names: Sequence[str]) -> str:
    """The middle one of three that does not stand in the middle: `left flap, right flap, floor`."""
    middle = next((at for at, name in enumerate(names) if name.casefold() in _MIDDLES), 1)
    others = {word for at, name in enumerate(names) if at != middle for word in name.casefold().split()}
    paired = any(pair <= others for pair in ({"left", "right"}, {"top", "bottom"}, {"front", "back"}))
    return names[middle] if len(names) == 3 and middle != 1 and paired else ""


def _panel(run: MeasuredRun, names: Sequence[str], side: str) -> int | None:
    """Which panel a run is about, counted from nought."""
    said = run.panel.casefold()
    if said.isascii() and said.isdecimal():
        return int(said) - 1 if 0 < int(said) <= len(names) else None
    known = [name.casefold() for name in names]
    if said in known:
        return known.index(said)
    first, last = EDGES[side]
    roles = {first: 0, last: len(names) - 1} | (dict.fromkeys(_MIDDLES, 1) if len(names) == 3 else {})
    if said in roles:
        return roles[said]
    near = nearest(said, [name for name in known if name], 0.8)
    return known.index(near) if near else None


def _readings(run: MeasuredRun, count: int, panel: int, lines: Sequence[int]) -> Iterator[RulerReading]:
    for number, item in enumerate(run.items):
        if item.length is None:
            continue
        match run.way:
            case RunManner.FROM_START:
                spans = [(0, lines[number])]
            case RunManner.FROM_END:
                spans = [(lines[number], count)]
            case RunManner.EACH_END:
                spans = [(0, number + 1), (count - number - 1, count)]
            case RunManner.WHOLE:
                spans = [(0, count)]
            case RunManner.PANEL:
                spans = [(panel, panel + 1)]
            case _:
                spans = [(number, number + 1)]
        for start, end in spans:
            yield RulerReading(start, end, item.length, item.bound, item.said.place, item.said.plain)
