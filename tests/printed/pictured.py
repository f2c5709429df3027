"""How large pictures are, and whether each stands beside its own step."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from itertools import chain

from msgspec import Struct
from msgspec.structs import replace

from printed.laid import Laid, laid
from printed.reading import Box

_HEADING = re.compile(r"H[1-6]?$")
_SLACK = 1.0
"""Points by which another heading may be nearer: two may be as near as each other."""


class Pictured(Struct, frozen=True):
    """A picture's ink. `step` is the number of the step it belongs to by the structure, from 1 (0: to none), `column`
    the width of the column of steps that one stands in; `share` is the picture's of it, by its longer side: what is
    tall and narrow is large without being wide. `room` is how wide and high the box is that the file gives it; with the
    margins of a drawing it is more than its ink."""

    page: int
    alt: str
    box: Box
    step: int
    column: float
    room: tuple[float, float]

    @property
    def high(self) -> float:
        return self.box.bottom - self.box.top

    @property
    def share(self) -> float:
        return max(self.box.x1 - self.box.x0, self.high) / self.column if self.column else 0.0


class _Step(Struct, frozen=True):
    number: int
    page: int
    box: Box
    head: Box
    figures: tuple[Laid, ...]
    things: tuple[tuple[int, Box], ...]
    """What it has on the pages, each piece by itself."""


def pictured(data: bytes) -> list[Pictured]:
    """Every picture, in order of reading."""
    tops = laid(data)
    steps = _steps(tops)
    of_step = {id(figure): step for step in steps for figure in step.figures}
    found = []
    for figure in (one for top in tops for one in top.all() if one.role == "Figure"):
        step = of_step.get(id(figure))
        x0, x1 = _column(step, steps) if step else (0.0, 0.0)
        found.append(Pictured(figure.page, figure.alt, figure.box, step.number if step else 0, x1 - x0, figure.room))
    return found


def astray(data: bytes) -> list[str]:
    """Pictures of steps to which the heading of another step is nearer than that of their own, or which stand on
    another page, unless the step fills more than one.

    A heading counts as wide as its column: what stands at its height stands beside it. Several pictures may lie between
    a picture and its heading, so long as no other heading does. Over its heading nothing of another step may be nearer
    to it than what its own has, either: a reader goes on from heading to picture, not back."""
    steps = _steps(laid(data))
    heads = {step.number: step.head._replace(x0=x0, x1=x1) for step in steps for x0, x1 in [_column(step, steps)]}
    found: list[str] = []
    for step in steps:
        for figure in step.figures:
            name = f"page {figure.page}: the picture “{figure.alt[:40]}” of step {step.number}"
            if figure.page != step.page:
                if not _goes_on(figure, step, steps):
                    found.append(f"{name} stands on another page than its heading")
                continue
            near = [other for other in steps if other.page == figure.page]
            ways = {other.number: _apart(figure.box, heads[other.number]) for other in near}
            nearest = min(ways, key=lambda number: ways[number])
            if ways[nearest] >= ways[step.number] - _SLACK:
                continue
            others = [heads[other.number] for other in near if other is not step]
            over = figure.box.bottom <= step.head.top
            if _parted(figure.box, heads[step.number], others) or (over and not _among_its_own(figure, step, near)):
                found.append(f"{name} stands nearer to the heading of step {nearest}")
    return found


def _goes_on(figure: Laid, step: _Step, steps: list[_Step]) -> bool:
    """Whether the step has the pages from its heading to the picture to itself: all that it has, down to the picture,
    stands there without anything of another step above or between."""
    others = [place for other in steps if other is not step for place in other.things]
    return not any(
        step.page < page < figure.page or (page == step.page) or (page == figure.page and box.top < figure.box.bottom)
        for page, box in others
    )


def _parted(figure: Box, own: Box, others: Iterable[Box]) -> bool:
    """Whether another heading stands between the picture and the heading of its step, or the picture reaches into it,
    in the column of the picture."""
    top, bottom = (own.top, figure.bottom) if own.top < figure.bottom else (figure.top, own.bottom)
    in_column = (head for head in others if head.x0 < figure.x1 and head.x1 > figure.x0)
    return any(head.top < bottom and head.bottom > top for head in in_column)


def _among_its_own(figure: Laid, step: _Step, near: Iterable[_Step]) -> bool:
    """Whether nothing of another step is nearer to the picture than the nearest thing that its own step has."""
    itself = set(figure.places)
    ways = {
        other.number: [
            _apart(figure.box, box) for page, box in other.things if page == figure.page and (page, box) not in itself
        ]
        for other in near
    }
    own = min(ways.pop(step.number), default=math.inf)
    return own <= min(chain.from_iterable(ways.values()), default=math.inf) + _SLACK


def _steps(tops: tuple[Laid, ...]) -> list[_Step]:
    """The entries of lists that have a heading. One without, but with a picture, is the rest of the one before it: what
    goes over the end of a page is written as two."""
    found: list[_Step] = []
    seen: set[int] = set()
    for entry in (one for top in tops for one in top.all() if one.role == "LI"):
        if id(entry) in seen:
            continue
        parts = list(entry.all())
        heading = next((part for part in parts if _HEADING.match(part.role)), None)
        figures = tuple(part for part in parts if part.role == "Figure")
        if heading is not None:
            seen |= {id(part) for part in parts}
            found.append(_Step(len(found) + 1, heading.page, entry.box, heading.box, figures, tuple(entry.places)))
        elif figures and found:
            last = found[-1]
            found[-1] = replace(last, figures=last.figures + figures, things=(*last.things, *entry.places))
    return found


def _column(step: _Step, steps: list[_Step]) -> tuple[float, float]:
    """From where to where the column reaches: what the steps above and below this one cover together, across, up to
    those that stand beside it."""
    on_page = [one.box for one in steps if one.page == step.page]
    x0, x1 = step.box.x0, step.box.x1
    for _ in on_page:
        over = [box for box in on_page if box.x0 < x1 and box.x1 > x0]
        x0, x1 = min(chain((x0,), (box.x0 for box in over))), max(chain((x1,), (box.x1 for box in over)))
    beside = [box for box in on_page if box.top < step.box.bottom and box.bottom > step.box.top]
    left = (box.x1 for box in beside if box.x1 <= step.box.x0)
    right = (box.x0 for box in beside if box.x0 >= step.box.x1)
    return max(chain((x0,), left)), min(chain((x1,), right))


def _apart(one: Box, other: Box) -> float:
    across = max(one.x0 - other.x1, other.x0 - one.x1, 0.0)
    down = max(one.top - other.bottom, other.top - one.bottom, 0.0)
    return math.hypot(across, down)
