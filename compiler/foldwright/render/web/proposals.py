"""Proposals on one page of the web: each large as it will be made and filled, its blanks small beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import Markup as Html
from msgspec import Struct

from foldwright.document.model import Document, Picture
from foldwright.document.words import plain
from foldwright.geometry.scene import Scene
from foldwright.measure.length import System
from foldwright.render.drawing.layout import LARGEST_SCALE
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.svg import draw
from foldwright.render.markup import set_line
from foldwright.render.themes import filled, load_page

_PLAN_MM, _TEXT_PT = 44.0, 7.5
_MADE_MM, _MADE_HIGH_MM = 112.0, 74.0
"""The room for what is made; the largest thing of the page fills it."""
_MOST = 3.0
"""Times true size: a small thing is not blown up further."""
_MARGIN_MM = 2.0


class Proposed(Struct, frozen=True):
    """One proposal: its number, its form, what to choose by, its blanks in words, and the sheet it is drawn from."""

    number: int
    form: str
    facts: tuple[str, ...]
    blanks: tuple[str, ...]
    drawn: Document
    badge: str = ""
    """Marks the best of several."""


class _ShownProposal(Struct, frozen=True):
    """The same, ready to place."""

    number: int
    form: str
    facts: list[Html]
    made: Html
    blanks: list[tuple[Html, Html]]
    """The plan of each, and its name and size."""
    badge: str


def proposals_page(
    rows: Sequence[Proposed], notes: Sequence[str], system: System, said: Mapping[str, str], theme: str
) -> bytes:
    """The whole page, right without a network. `notes` are sentences under its heading, `said` the words of its
    furniture. Raises ThemeError."""
    ready = load_page(theme, "proposals")
    manner = ready.drawing
    scale = _scale([manner.posed(made.scene) for row in rows if (made := _made(row.drawn))])
    shown = [_shown(row, system, scale, manner) for row in rows]
    parts = filled(
        ready.page,
        ready.name,
        rows=shown,
        best=[row for row in shown if row.badge],
        heading=set_line(said["heading"]),
        notes=[*map(set_line, notes)],
        said=said,
        style=Html(ready.style),
    )
    return b"".join(map(str.encode, parts))


def _shown(row: Proposed, system: System, scale: float, manner: DrawingManner) -> _ShownProposal:
    made = _made(row.drawn)
    plans = [_drawn(piece.picture, system, _PLAN_MM) for piece in row.drawn.pieces if piece.picture]
    return _ShownProposal(
        row.number,
        row.form,
        [*map(set_line, row.facts)],
        _drawn(made, system, scale * _room(manner.posed(made.scene)) + _MARGIN_MM, scale, manner) if made else Html(""),
        [*zip(plans, map(set_line, row.blanks), strict=True)],
        row.badge,
    )


def _made(document: Document) -> Picture | None:
    """The finished thing; of what no picture shows by itself, a band round something, the last thing done."""
    done = [picture for step in document.steps for picture in step.pictures]
    return document.finished or next(reversed(done), None)


def _room(scene: Scene) -> float:
    """How wide a picture has to be for the whole of a scene: it is drawn a little less high than that at most."""
    return max(scene.width, 1.15 * scene.height)


def _scale(scenes: Sequence[Scene]) -> float:
    """One scale for all, so that what is larger looks larger."""
    rooms = [min(_MADE_MM / scene.width, _MADE_HIGH_MM / scene.height) for scene in scenes]
    return min((*rooms, _MOST))


def _drawn(
    picture: Picture,
    system: System,
    width_mm: float,
    largest: float = LARGEST_SCALE,
    manner: DrawingManner = DrawingManner.PLAIN,
) -> Html:
    scene = picture.scene
    if scene.lengths and scene.height > 0:
        width_mm *= min(1.0, 1.3 * scene.width / scene.height)
    labels, describes = picture.labels.of(system), picture.describes.of(system)
    title = plain(picture.title, system)
    drawn = draw(scene, labels, width_mm, _TEXT_PT, title, describes, picture.words, largest, manner)
    return Html(drawn.replace("<svg ", '<svg class="drawing" ', 1))
