"""A sheet as one self-contained HTML page: no network, right on a phone and on paper, either unit system at a touch."""

from __future__ import annotations

import re
from functools import partial
from types import SimpleNamespace

from markupsafe import Markup as Html
from msgspec.structs import replace

from foldwright.document.model import PAGE as PAGE
from foldwright.document.model import Document, Picture
from foldwright.document.words import plain
from foldwright.measure.length import System
from foldwright.memory import Memory
from foldwright.recipe.facts.addresses import FEED
from foldwright.render.drawing.layout import lay_out
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.svg import draw as drawing
from foldwright.render.themes import Composition, Theme, filled, load_theme
from foldwright.render.web.drawings import BesidePage, InPage
from foldwright.render.web.howto import how_to
from foldwright.render.web.images import Image, Show, size_rules
from foldwright.render.web.open_graph import open_graph, preview_of
from foldwright.render.web.parts import Head, PageParts, page_parts
from foldwright.render.web.scaling import in_scale
from foldwright.render.web.shared import shared_look, shared_policy
from foldwright.render.web.view import Draw, view_of

UP, INDEX = "../", "index.html"
"""From a page to its library, and what lies there."""
BOTH_SYSTEMS = (System.IMPERIAL, System.METRIC)
_PLAN_WIDTH_MM, _PLAN_TEXT_PT = 80.0, 10.5
"""How wide a flat plan is drawn, and its letters: three stand side by side on a page of paper, their letters 7.5 pt."""
_STEP_WIDTH_MM, _STEP_TEXT_PT = 86.0, 11.4
"""The same of a step's picture: where it is 340 pixels wide on a screen its letters are 15 high."""
_ROOM_FOR_FIGURES_MM = 24.0
"""What the dimensions on both sides of a plan take."""
_WIDER = 1.05
_PLAIN = re.compile(r"\W")
_DRAWN: Memory[str] = Memory(256)
_SCALES: Memory[float] = Memory(128)


def tutorial(
    document: Document, theme: str, show: Show, systems: tuple[System, ...] = BOTH_SYSTEMS, draw: Draw | None = None
) -> bytes:
    """The whole page. `show` turns a photograph's name into an image to embed, or None when there is none to show.

    `systems` are those the page offers; the one the recipe was written in comes first. Raises ThemeError.
    """
    ready = load_theme(theme)
    order = in_order(document, systems)
    data = how_to(document, order[0])
    page = _view(document, ready, show, order, draw)
    parts = filled(
        ready.page,
        ready.name,
        page=page,
        label=page.label,
        style=Html(ready.style),
        script=Html(ready.script),
        policy=ready.policy(data),
        how_to=Html(data),
        library=None,
    )
    # Encoded part by part: nine tenths of a page are its style and faces, plain letters that are only copied.
    return b"".join(map(str.encode, parts))


def library_page(
    document: Document,
    theme: str,
    show: Show,
    systems: tuple[System, ...] = BOTH_SYSTEMS,
    draw: Draw | None = None,
    shared: bool = False,
) -> dict[str, bytes]:
    """The same page where it stands in a library, and its drawings beside it: it shares its style with others there and
    leads to them. It names the files of `shared_look`. With `shared` a picture for links lies beside it. Raises
    ThemeError.
    """
    ready = load_theme(theme)
    order = in_order(document, systems)
    address = document.head.page_address
    data = how_to(replace(document, head=replace(document.head, address=address)), order[0])
    drawings = BesidePage(ready.shared_style)
    page = _view(document, ready, show, order, draw, drawings)
    look = shared_look(theme)
    sizes = size_rules((*page.images, *drawings.first))
    preview = preview_of(document, order[0], shared, page.photo)
    library = SimpleNamespace(
        home=UP + INDEX,
        style=UP + look.style,
        script=UP + look.script,
        sizes=Html(sizes),
        feed=UP + FEED if address else "",
        address=address,
        shared_as=[one for one in open_graph(document, order[0], preview) if one[1]],
    )
    filled_in = ready.filled(
        page=page,
        label=page.label,
        style=Html(ready.style),
        script=Html(ready.script),
        policy=shared_policy(ready, sizes, data),
        how_to=Html(data),
        library=library,
    )
    # A look need not show every drawing it is offered.
    shown = {address: data for address, data in drawings.files.items() if address in filled_in}
    return {PAGE: filled_in.encode("utf-8"), **shown}


def finished_drawing(document: Document, theme: str) -> tuple[Image, dict[str, bytes]] | None:
    """The finished thing, drawn, as the page in a library shows it, with its file; None where none is drawn. Raises
    ThemeError."""
    picture = document.finished
    if picture is None:
        return None
    ready = load_theme(theme)
    drawings = BesidePage(ready.shared_style)
    drawings.unwritten(picture.name, draw_plan(picture, document.system, ready.drawing), first=True)
    return (drawings.first[0], drawings.files) if drawings.first else None


def tutorial_parts(document: Document, theme: str, show: Show, systems: tuple[System, ...] = BOTH_SYSTEMS) -> PageParts:
    """The body of the same page in parts, for whoever has its style already. Raises ThemeError."""
    ready = load_theme(theme)
    page = _view(document, ready, show, in_order(document, systems), None)
    # Nine tenths of the whole would be style and faces, and what is there for machines.
    left_out = dict.fromkeys(("style", "script", "policy", "how_to", "library"), "")
    html = "".join(filled(ready.page, ready.name, page=page, label=page.label, **left_out))
    return page_parts(Head(page.language, page.head.title, _PLAIN.sub("", ready.style_hash)), html)


def _view(
    document: Document,
    ready: Theme,
    show: Show,
    order: tuple[System, ...],
    draw: Draw | None,
    drawings: InPage | None = None,
) -> SimpleNamespace:
    told = ready.composition is Composition.SHOP_DRAWING
    scaled = in_scale(document, partial(own_scale, manner=ready.drawing), told)
    plates = ready.composition is Composition.HOUSEHOLD_BOOK
    drawn = draw or partial(draw_plan, manner=ready.drawing)
    return view_of(scaled, order, drawn, show, plates, ready.drawing, ready.rooms, drawings)


def in_order(document: Document, systems: tuple[System, ...]) -> tuple[System, ...]:
    """The systems a page shows, the one the recipe was written in first."""
    return tuple(sorted(systems, key=lambda system: system is not document.system))


def draw_plan(picture: Picture, system: System, manner: DrawingManner = DrawingManner.PLAIN) -> str:
    """A flat plan, or the picture of a step, as SVG text."""
    name = picture.name, picture.kind, bool(picture.labels.of(system)), system, manner
    return _DRAWN.of(name, picture, lambda: _drawn(picture, system, manner))


def _drawn(picture: Picture, system: System, manner: DrawingManner) -> str:
    return drawing(
        picture.scene,
        picture.labels.of(system),
        _true_width(picture, system) if picture.told_scale else _width(picture),
        _text_pt(picture),
        plain(picture.title, system),
        picture.describes.of(system),
        picture.words,
        picture.largest,
        manner,
    )


def own_scale(picture: Picture, manner: DrawingManner = DrawingManner.PLAIN) -> float:
    """How large a picture is drawn where it stands alone, in the system in which that is less."""
    return _SCALES.of((picture.name, picture.kind, manner), picture, lambda: _own_scale(picture, manner))


def _own_scale(picture: Picture, manner: DrawingManner) -> float:
    scene, width, size, words = manner.posed(picture.scene), _width(picture), _text_pt(picture), picture.words
    return min(lay_out(scene, picture.labels.of(one), width, size, words).scale for one in BOTH_SYSTEMS)


def _true_width(picture: Picture, system: System) -> float:
    """How wide to draw so that the piece is as large as the scale beside it says, whatever its figures take."""
    scene, labels, size = picture.scene, picture.labels.of(system), _text_pt(picture)
    width = scene.width * picture.largest + _ROOM_FOR_FIGURES_MM
    while lay_out(scene, labels, width, size, picture.words, picture.largest).scale < picture.largest:
        width *= _WIDER
    return width


def _width(picture: Picture) -> float:
    """The same for all plans, and for all pictures of steps: as a page makes them smaller, they stay in scale."""
    return _PLAN_WIDTH_MM if picture.kind == "plan" else _STEP_WIDTH_MM


def _text_pt(picture: Picture) -> float:
    return _PLAN_TEXT_PT if picture.kind == "plan" else _STEP_TEXT_PT
