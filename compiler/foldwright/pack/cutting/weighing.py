"""What cutting a layout takes in time, so that a sheet more can be weighed against a layout less."""

from __future__ import annotations

from fractions import Fraction

from foldwright.pack.cutting.model import Arrangement, CutLayout, Cutting, Rectangle

LAYOUT_SECONDS, SETTING_SECONDS = 60, 20
"""To find a layout, read it and count its sheets; to set the stop and check it (common practice, no source)."""


def work_of(layouts: tuple[CutLayout, ...]) -> int:
    """Seconds at the trimmer that depend on the layouts, not on how many sheets of each there are."""
    return sum(LAYOUT_SECONDS + SETTING_SECONDS * len(_settings(layout.whole)) for layout in layouts)


def worth_of(cutting: Cutting, second: Fraction) -> Fraction:
    """Sheets and work together."""
    return cutting.cost + second * work_of(cutting.layouts)


def _settings(part: Rectangle) -> set[tuple[Arrangement, Fraction]]:
    found: set[tuple[Arrangement, Fraction]] = set()
    for one in part.parts:
        if part.row is not None and not one.is_offcut:
            found.add((part.row, one.along(part.row)))
        found |= _settings(one)
    return found
