"""Uneven indents: mended where the meaning is plain, named where it is not."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from foldwright.recipe.complaints import Complaints
from foldwright.recipe.limits import DEEPEST
from foldwright.recipe.lines import Line


class _Level(Struct, frozen=True):
    """A column at which lines stand below one another: list entries (their dashes) or words."""

    column: int
    is_list: bool


def even_out(lines: Iterable[Line], complaints: Complaints) -> list[Line]:
    """The lines with indents that fit together; a line that can stand nowhere is named and left out."""
    evened: list[Line] = []
    levels: list[_Level] = []
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


def _place(line: Line, last: Line | None, levels: list[_Level], complaints: Complaints) -> list[_Level] | None:
    """The levels open once this line stands in its place; None when there is none for it."""
    is_list = line.dash > 0
    if last is None:
        return None if is_list else [_Level(line.indent, False)]
    chosen = _level_of(line, last, levels, complaints)
    if chosen is None:
        return None
    return [*chosen, _Level(chosen[-1].column + line.dash, False)] if is_list else chosen


def _level_of(line: Line, last: Line, levels: list[_Level], complaints: Complaints) -> list[_Level] | None:
    is_list = line.dash > 0
    open_here = [number for number, level in enumerate(levels) if level.is_list is is_list]
    for number in reversed(open_here):
        if levels[number].column == line.indent:
            return levels[: number + 1]
    deeper = line.indent - levels[-1].column
    # Dashes may stand right under the word they belong to.
    if (is_list and deeper >= 0 and (deeper or last.header)) or (deeper > 0 and (_may_hold_more(last) or deeper > 1)):
        return [*levels, _Level(line.indent, is_list)]
    if not open_here:
        return None
    nearest = sorted(open_here, key=lambda number: (abs(levels[number].column - line.indent), -number))
    best = levels[nearest[0]].column
    if len(nearest) > 1:
        other = levels[nearest[1]].column
        if abs(best - line.indent) > 1 or abs(other - line.indent) == abs(best - line.indent):
            _ask(line, best, other, complaints)
    return levels[: nearest[0] + 1]


def _may_hold_more(last: Line) -> bool:
    """A word with nothing after its colon, or a line whose colon was forgotten."""
    return last.header or (last.key is None and not last.dash)


def _ask(line: Line, best: int, other: int, complaints: Complaints) -> None:
    complaints.fault("unclear-indent", line.phrase, spaces=line.indent, best=best, other=other)
