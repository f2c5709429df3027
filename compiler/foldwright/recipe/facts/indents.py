"""Tabs and uneven indents: mended where the meaning is plain, named where it is not."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.limits import DEEPEST
from foldwright.recipe.facts.lines import FactLine, read_lines
from foldwright.recipe.facts.phrase import Phrase

_SPACES = re.compile(r"^ +(?=\S)", re.MULTILINE)
_TABS = re.compile(r"^ *\t[^\S\n]*(?=[^\s#])", re.MULTILINE)
_USUAL_TABS = (4, 8)
"""Columns at which editors set tab stops (common practice, no source)."""


class _IndentLevel(Struct, frozen=True):
    """A column at which lines stand below one another: list entries (their dashes) or words."""

    column: int
    is_list: bool


def even_lines(text: str, file: str, offset: int, complaints: Complaints) -> list[FactLine]:
    """The lines of the facts with indents that fit together.

    Where tabs stand among lines pushed in by spaces, they are as wide as makes the lines fit: as one level, as two, or
    as editors show them. If that is not plain, the first line for which it makes a difference is named.
    """
    if not _TABS.search(text):
        return _even_out(read_lines(text, file, offset), complaints)
    level = min(map(len, _SPACES.findall(text)), default=0)
    widths = sorted({level, 2 * level, *_USUAL_TABS}, reverse=True) if level else [1]
    readings = [_reading(text, file, offset, width) for width in widths]
    best = min(readings, key=lambda reading: len(reading.misfits) + len(reading.complaints.findings))
    rivals = [one for one in readings if len(one.misfits) <= len(best.misfits)] if level else []
    differing = (line for one in rivals for line in _differing(best.lines, one.lines))
    unclear = next((line for line in (*differing, *best.misfits) if level), None)
    if unclear:
        complaints.fault("unclear-tab", unclear.phrase)
    tabbed = {line.phrase.place for line in best.lines if line.tab and level}
    complaints.findings += [finding for finding in best.complaints.findings if finding.place not in tabbed]
    return best.lines


class _IndentReading(Struct, frozen=True):
    """The lines as they stand when tabs have one width; `misfits` are those at which that makes little sense."""

    lines: list[FactLine]
    misfits: list[FactLine]
    complaints: Complaints


def _reading(text: str, file: str, offset: int, width: int) -> _IndentReading:
    own = Complaints()
    lines = _even_out(read_lines(text, file, offset, width), own)
    return _IndentReading(lines, list(_misfits(lines)), own)


def _misfits(lines: Sequence[FactLine]) -> Iterator[FactLine]:
    """Where a tab leaves a word with nothing, or sets a word and its value below another that has one."""
    for line, below in pairwise(lines):
        deeper = below.column > line.column
        if (line.tab or below.tab) and (
            (line.header and not deeper and not below.dash) or (deeper and not line.header)
        ):
            yield below if below.tab else line


def _differing(lines: Sequence[FactLine], others: Sequence[FactLine]) -> Iterator[FactLine]:
    """The lines pushed in by a tab that stand below another line in another reading."""
    for line, parent, other in zip(lines, _parents(lines), _parents(others), strict=False):
        if line.tab and parent != other:
            yield line


def _parents(lines: Sequence[FactLine]) -> list[Phrase | None]:
    """What each line stands under. Dashes may stand right under the word they belong to."""
    above: list[tuple[float, Phrase]] = []
    parents: list[Phrase | None] = []
    for line in lines:
        at = line.indent + (0.5 if line.dash else 0)
        while above and above[-1][0] >= at:
            above.pop()
        parents.append(above[-1][1] if above else None)
        above.append((at, line.phrase))
    return parents


def _even_out(lines: Iterable[FactLine], complaints: Complaints) -> list[FactLine]:
    """The lines with indents that fit together; a line that can stand nowhere is named and left out."""
    evened: list[FactLine] = []
    levels: list[_IndentLevel] = []
    too_deep = False
    for line in lines:
        last = evened[-1] if evened else None
        placed = _place(line, last, levels, complaints)
        if placed is None:
            complaints.fault("stray-dash", line.phrase)
        elif len(placed) > DEEPEST:
            if not too_deep:
                complaints.fault("too-deep", line.phrase, limit=DEEPEST)
            too_deep = True
        else:
            levels = placed
            indent = levels[-1].column - line.dash
            evened.append(line if indent == line.indent else replace(line, indent=indent))
    return evened


def _place(
    line: FactLine, last: FactLine | None, levels: list[_IndentLevel], complaints: Complaints
) -> list[_IndentLevel] | None:
    """The levels open once this line stands in its place; None when there is none for it."""
    is_list = line.dash > 0
    if last is None:
        return None if is_list else [_IndentLevel(line.indent, False)]
    chosen = _level_of(line, last, levels, complaints)
    if chosen is None:
        return None
    return [*chosen, _IndentLevel(chosen[-1].column + line.dash, False)] if is_list else chosen


def _level_of(
    line: FactLine, last: FactLine, levels: list[_IndentLevel], complaints: Complaints
) -> list[_IndentLevel] | None:
    is_list = line.dash > 0
    open_here = [number for number, level in enumerate(levels) if level.is_list is is_list]
    for number in reversed(open_here):
        if levels[number].column == line.indent:
            return levels[: number + 1]
    deeper = line.indent - levels[-1].column
    # Dashes may stand right under the word they belong to.
    if (is_list and deeper >= 0 and (deeper or last.header)) or (deeper > 0 and (_may_hold_more(last) or deeper > 1)):
        return [*levels, _IndentLevel(line.indent, is_list)]
    if not open_here:
        return None
    nearest = sorted(open_here, key=lambda number: (abs(levels[number].column - line.indent), -number))
    best = levels[nearest[0]].column
    if len(nearest) > 1:
        other = levels[nearest[1]].column
        if abs(best - line.indent) > 1 or abs(other - line.indent) == abs(best - line.indent):
            complaints.fault("unclear-indent", line.phrase, spaces=line.indent, best=best, other=other)
    return levels[: nearest[0] + 1]


def _may_hold_more(last: FactLine) -> bool:
    """A word with nothing after its colon, or a line whose colon was forgotten."""
    return last.header or (last.key is None and not last.dash)
