"""Steps as numbered panels in rows: each panel's picture above its words, all of a row beginning level."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from foldwright.render.paper.arranging import Arranged, Setting
from foldwright.render.paper.compositions.page import Frame, Placed

_STRETCH = 3.0
"""Ems by which the gaps between rows may grow so that the last one ends at the foot."""


class PanelRows(Struct, frozen=True):
    """Rows of so many panels, with their heights."""

    rows: tuple[tuple[Arranged, ...], ...]
    heights: tuple[float, ...]
    gap: float

    @classmethod
    def of(cls, items: Sequence[Arranged], number: int, setting: Setting) -> PanelRows:
        rows = tuple(_level(items[start : start + number]) for start in range(0, len(items), number))
        return cls(rows, tuple(max(one.height for one in row) for row in rows), setting.gap)

    @property
    def height(self) -> float:
        """How high all are together."""
        return sum(self.heights) + self.gap * max(0, len(self.rows) - 1)

    def placed(self, frame: Frame, number: int, top: float, bottom: float, setting: Setting) -> tuple[Placed, ...]:
        """The panels from `top` on; rows part so that the last one ends at `bottom`, within reason."""
        width, apart = frame.column(number), self.gap
        if len(self.rows) > 1:
            spare = max(0.0, bottom - top - self.height)
            apart += min(spare / (len(self.rows) - 1), _STRETCH * setting.em)
        placed: list[Placed] = []
        for row, tall in zip(self.rows, self.heights, strict=True):
            placed += [Placed(place * (width + frame.gutter), top, width, one) for place, one in enumerate(row)]
            top += tall + apart
        return tuple(placed)


def _level(row: Sequence[Arranged]) -> tuple[Arranged, ...]:
    """A row whose words begin on one line, the pictures standing on them."""
    line = max(one.words_top for one in row)
    return tuple(_lowered(one, line - one.words_top) if one.spots else one for one in row)


def _lowered(one: Arranged, by: float) -> Arranged:
    spots = tuple(replace(spot, top=spot.top + by) for spot in one.spots)
    return replace(one, height=one.height + by, words_top=one.words_top + by, spots=spots)
