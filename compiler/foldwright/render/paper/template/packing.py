"""Pieces on as few pages as a simple rule finds: the tallest first, each as high and as far left as it goes."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct


class Want(Struct, frozen=True):
    """Room in millimetres for something as it is and, if it may lie on its side, turned (its words stay below it)."""

    upright: tuple[float, float]
    turned: tuple[float, float] | None = None


class TemplatePlace(Struct, frozen=True):
    """Where a piece lies: its page, and millimetres from the left and top of the room there."""

    page: int
    left: float
    top: float
    turned: bool


type _Free = tuple[float, float, float, float]
"""A rectangle nothing lies in: left, top, right, bottom."""


def pack(wants: Sequence[Want], wide: float, high: float, gap: float) -> list[TemplatePlace | None]:
    """A place for each, in the same order, on pages of this size; None for what fits on none.

    `gap` parts neighbours.
    """
    pages: list[list[_Free]] = []
    places: list[TemplatePlace | None] = [None] * len(wants)
    order = sorted(range(len(wants)), key=lambda number: (-max(wants[number].upright), number))
    for number in order:
        want = wants[number]
        for page, free in enumerate(pages):
            place = _into(want, page, free, gap)
            if place:
                places[number] = place
                break
        else:
            free = [(0.0, 0.0, wide + gap, high + gap)]
            place = _into(want, len(pages), free, gap)
            if place:
                pages.append(free)
                places[number] = place
    return places


def _into(want: Want, page: int, free: list[_Free], gap: float) -> TemplatePlace | None:
    """The highest place on a page, then the leftmost; as it is rather than turned. Takes the room from `free`."""
    found: list[tuple[float, float, bool, float, float]] = []
    for turned, size in ((False, want.upright), (True, want.turned)):
        if size is None:
            continue
        wide, high = size[0] + gap, size[1] + gap
        for left, top, right, bottom in free:
            if right - left >= wide - 1e-9 and bottom - top >= high - 1e-9:
                found.append((top, left, turned, wide, high))
    if not found:
        return None
    top, left, turned, wide, high = min(found)
    _take((left, top, left + wide, top + high), free)
    return TemplatePlace(page, left, top, turned)


def _take(taken: _Free, free: list[_Free]) -> None:
    """Every free rectangle keeps what is left of it on each side; those inside another are dropped."""
    rest: list[_Free] = []
    left, top, right, bottom = taken
    for one in free:
        x1, y1, x2, y2 = one
        if right <= x1 or left >= x2 or bottom <= y1 or top >= y2:
            rest.append(one)
            continue
        rest += [(x1, y1, left, y2)] if left > x1 else []
        rest += [(right, y1, x2, y2)] if right < x2 else []
        rest += [(x1, y1, x2, top)] if top > y1 else []
        rest += [(x1, bottom, x2, y2)] if bottom < y2 else []
    free[:] = [one for number, one in enumerate(rest) if not _covered(one, number, rest)]


def _covered(one: _Free, number: int, all_: Sequence[_Free]) -> bool:
    for other_number, other in enumerate(all_):
        inside = other[0] <= one[0] and other[1] <= one[1] and other[2] >= one[2] and other[3] >= one[3]
        if other_number != number and inside and (other != one or other_number < number):
            return True
    return False
