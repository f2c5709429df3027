"""How well the page is filled: by content (what is no artifact), whatever borders and tints lie under it."""

from __future__ import annotations

from msgspec import Struct

from printed.reading import POINTS, Box, Page, bounds


class Column(Struct, frozen=True):
    """A column of the text area: where its first and last ink stand, and the share of the area's height covered."""

    x0: float
    x1: float
    first: float
    last: float
    share: float


def text_area(
    page: Page,
    margin: float | tuple[float, float, float, float],
    *,
    head: float | None = None,
    foot: float | None = None,
) -> Box:
    """The page less its margins (mm; one, or top, right, bottom, left), or from `head` down to `foot` (points)."""
    sides = (margin,) * 4 if isinstance(margin, int | float) else margin
    top, right, bottom, left = (side * POINTS["mm"] for side in sides)
    return Box(left, top if head is None else head, page.width - right, page.height - bottom if foot is None else foot)


def ink_box(page: Page, area: Box) -> Box | None:
    """The least box around the content within the area; None when there is none."""
    inside = _within(page, area)
    return bounds(inside) if inside else None


def fill(page: Page, area: Box) -> float:
    """The ink box's share of the area, 0 to 1."""
    box = ink_box(page, area)
    return _size(box) / _size(area) if box else 0.0


def columns(page: Page, area: Box, *, gutter: float = 6.0, bridge: float = 20.0) -> list[Column]:
    """The columns that the content forms: parts with no gap across as wide as `gutter` points all the way down.
    Gaps downwards of up to `bridge` points, as between lines and steps, count as covered; those at the head and the
    foot of the area do not."""
    boxes = _within(page, area)
    found: list[Column] = []
    for x0, x1 in _joined([(box.x0, box.x1) for box in boxes], gutter):
        spans = [(box.top, box.bottom) for box in boxes if x0 <= box.x0 and box.x1 <= x1]
        covered = _joined(spans, bridge)
        share = sum(end - start for start, end in covered) / (area.bottom - area.top)
        found.append(Column(x0, x1, covered[0][0], covered[-1][1], share))
    return found


def _within(page: Page, area: Box) -> list[Box]:
    """The parts of the content that lie in the area."""
    cut = [
        Box(max(box.x0, area.x0), max(box.top, area.top), min(box.x1, area.x1), min(box.bottom, area.bottom))
        for box in page.content
    ]
    return [box for box in cut if box.x0 < box.x1 and box.top < box.bottom]


def _joined(spans: list[tuple[float, float]], gap: float) -> list[tuple[float, float]]:
    """The spans in order, those less than `gap` apart made one."""
    joined: list[tuple[float, float]] = []
    for start, end in sorted(spans):
        if joined and start - joined[-1][1] < gap:
            joined[-1] = joined[-1][0], max(joined[-1][1], end)
        else:
            joined.append((start, end))
    return joined


def _size(box: Box) -> float:
    return (box.x1 - box.x0) * (box.bottom - box.top)
