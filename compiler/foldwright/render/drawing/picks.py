"""What of a plan can be picked up, as groups that a page's scripts and styles know by their marks.

Nothing here can be seen until a page's style shows it (`desk/static/plans.css`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Pick, Scene
from foldwright.render.drawing.layout import DrawingLayout, PlacedText
from foldwright.render.drawing.strokes import way_of

_REACH_MM = 3.5
"""How wide a line is to the pointer, in millimetres of the picture."""
_AROUND = 0.25
"""How much farther than its letters a figure reaches to the pointer, in ems."""


def picked(scene: Scene, layout: DrawingLayout, written: Callable[[PlacedText], str]) -> Iterator[str]:
    """A group for each part; a figure is in that of the part whose length it shows. Names lie on them."""
    if not scene.picks:
        yield from map(written, layout.texts)
        return
    figures: dict[int | None, list[PlacedText]] = {}
    for text in layout.texts:
        figures.setdefault(_owner(scene.picks, text), []).append(text)
    marks = {part: mark for pick in scene.picks for part, mark in zip(pick.parts, pick.marks, strict=True)}
    for number, pick in enumerate(scene.picks):
        own = "".join(_figure(text, marks, written) for text in figures.get(number, ()))
        yield _group(pick, own, layout)
    yield f'<g pointer-events="none">{"".join(map(written, figures.get(None, ())))}</g>'


def _owner(picks: Sequence[Pick], text: PlacedText) -> int | None:
    """The part that is the text's first length, else one that has it."""
    first = text.lengths[0] if text.lengths else None
    having = [number for number, pick in enumerate(picks) if first in pick.parts]
    return min(having, key=lambda number: picks[number].parts.index(first) if first else 0, default=None)


def _group(pick: Pick, figures: str, layout: DrawingLayout) -> str:
    way = "".join(way_of(ring, layout, pick.closed) for ring in pick.rings)
    shape = "pick-area" if pick.closed else "pick-line"
    reach = "" if pick.closed else f' stroke="transparent" stroke-width="{_REACH_MM}"'
    takes = "all" if pick.closed or pick.inside else "stroke"
    return "".join(
        [
            f'<g class="pick" {_marked(pick.marks)} role="button" tabindex="0" aria-label="{escape(pick.said)}">',
            f'<path class="{shape}" fill="none" stroke="none" fill-rule="evenodd" d="{way}"/>',
            f'<path class="pick-reach" fill="none" fill-rule="evenodd" pointer-events="{takes}"{reach} d="{way}"/>',
            figures,
            "</g>",
        ]
    )


def _marked(marks: Sequence[str]) -> str:
    return f'data-mark="{escape(" ".join(filter(None, marks)))}"'


def _figure(text: PlacedText, marks: Mapping[LengthId, str], written: Callable[[PlacedText], str]) -> str:
    """A figure on a plate of its own, which is lit with its own lengths alone."""
    own = _marked([marks.get(length, "") for length in text.lengths])
    return f'{_plate(text, own)}<g pointer-events="none">{written(text)}</g>'


def _plate(text: PlacedText, marked: str) -> str:
    left, top, right, bottom = text.box
    more = _AROUND * text.size
    place = f'x="{left - more:.2f}" y="{top - more:.2f}"'
    size = f'width="{right - left + 2 * more:.2f}" height="{bottom - top + 2 * more:.2f}" rx="{more:.2f}"'
    return f'<rect class="pick-plate" {marked} fill="none" pointer-events="all" {place} {size}/>'
