"""Proposals on one page of the web: a table with the figures, and small pictures of each blank and of what it makes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import Markup as Html
from msgspec import Struct
from msgspec.structs import asdict

from foldwright.document.model import Document, Picture
from foldwright.document.words import plain
from foldwright.measure.length import System
from foldwright.render.drawing.svg import draw
from foldwright.render.markup import set_line
from foldwright.render.themes import DEFAULT_THEME, filled, load_page

_PLAN_MM, _MADE_MM, _TEXT_PT = 50.0, 34.0, 7.5


class Proposed(Struct, frozen=True):
    """One row: its number, the lines of figures, what comes out of each sheet, and the sheet it is drawn from."""

    number: int
    form: str
    lines: tuple[str, ...]
    sheets: tuple[str, ...]
    points: str
    proportion: str
    drawn: Document


def proposals_page(rows: Sequence[Proposed], sheets: Sequence[str], system: System, said: Mapping[str, str]) -> bytes:
    """The whole page, right without a network. `said` are the words of its furniture, `sheets` the column heads."""
    theme = load_page(DEFAULT_THEME, "proposals")
    views = [
        {**asdict(row), "lines": [*map(set_line, row.lines)], "pictures": [*map(Html, _pictures(row.drawn, system))]}
        for row in rows
    ]
    parts = filled(
        theme.page,
        theme.name,
        rows=views,
        sheets=[set_line(sheet) for sheet in sheets],
        names=sheets,
        heading=set_line(said["heading"]),
        said=said,
        style=Html(theme.style),
    )
    return b"".join(map(str.encode, parts))


def _pictures(document: Document, system: System) -> list[str]:
    plans = [_drawn(piece.picture, system, _PLAN_MM) for piece in document.pieces if piece.picture]
    return plans + ([_drawn(document.finished, system, _MADE_MM)] if document.finished else [])


def _drawn(picture: Picture, system: System, width_mm: float) -> str:
    scene = picture.scene
    width = width_mm * min(1.0, 1.3 * scene.width / scene.height) if scene.height > 0 else width_mm
    labels, describes = picture.labels.of(system), picture.describes.of(system)
    drawn = draw(scene, labels, width, _TEXT_PT, plain(picture.title, system), describes, picture.words)
    return drawn.replace("<svg ", '<svg class="drawing" ', 1)
