"""What the templates of an event see: the parts of its papers, fractions set, pictures drawn."""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace

from markupsafe import Markup as Html

from foldwright.event.document.model import CutWork, EventPaper, EventPart, Lanes, PaperTable, PaperWords, Tick, Ticks
from foldwright.event.render.pictures import lanes_picture, sheet_picture
from foldwright.render.markup import set_line

_SHEET = 0.36
"""How much of the width the picture of a sheet may take."""

type Picture = Callable[[str, float, float], str]
"""From an SVG and its size in millimetres to the mark-up that shows it."""


def paper_view(paper: EventPaper, show: Picture, wide: float, high: float) -> SimpleNamespace:
    """A paper whose pictures are at most so many millimetres wide and high."""
    parts = [_part(part, show, wide, high) for part in paper.parts]
    return SimpleNamespace(slug=paper.slug, title=paper.title, summary=set_line(paper.summary), parts=parts)


def _part(part: EventPart, show: Picture, wide: float, high: float) -> SimpleNamespace:
    match part:
        case PaperWords():
            return _view("words", part.heading, paragraphs=list(map(set_line, part.paragraphs)))
        case Ticks():
            return _view("ticks", part.heading, lines=list(map(_tick, part.lines)))
        case PaperTable():
            return _table(part)
        case CutWork():
            svg, width, height = sheet_picture(part.picture, wide * _SHEET, high)
            return _view(
                "cuts",
                part.heading,
                picture=Html(show(svg, width, height)),
                lines=list(map(_tick, part.cuts)),
                check=set_line(part.check),
            )
        case Lanes():
            svg, width, height = lanes_picture(part, wide)
            key = [set_line(words) for _, words in part.key]
            return _view("lanes", part.heading, picture=Html(show(svg, width, height)), key=key)


def _table(part: PaperTable) -> SimpleNamespace:
    kinds = ["figure" if number in part.figures else "" for number in range(len(part.columns))]

    def cells(row: tuple[str, ...]) -> list[SimpleNamespace]:
        return [SimpleNamespace(text=set_line(text), kind=kind) for text, kind in zip(row, kinds, strict=True)]

    return _view(
        "table",
        part.heading,
        columns=cells(part.columns),
        rows=[cells(row) for row in part.rows],
        foot=cells(part.foot) if part.foot else [],
        ticked=part.ticked,
    )


def _view(kind: str, heading: str, **rest: object) -> SimpleNamespace:
    return SimpleNamespace(kind=kind, heading=set_line(heading) if heading else "", **rest)


def _tick(line: Tick) -> SimpleNamespace:
    return SimpleNamespace(text=set_line(line.text), aside=set_line(line.aside) if line.aside else "")
