"""How fast cards are made: beside one plain layout of the same words, cold from the command line, and their fonts.

The plain layout is WeasyPrint's own, through its public interface: the words of the finished card, in the theme's
style, in one column on an endless page, without pictures.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING
from unittest import mock

if TYPE_CHECKING:
    from foldwright.document.model import Document
    from foldwright.render.photos import ReadyPhoto

TOP = Path(__file__).resolve().parents[2]
RECIPE = TOP / "recipes" / "birdhouse"
COLUMN_MM = 90


def card_and_galley(rounds: int) -> tuple[float, float]:
    """Median seconds of a finished card (from the sheet to the PDF) and of the plain layout, taken in turn.

    Of the four there are, both systems on both papers, since one that has to be laid out twice says little of the rest.
    """
    cards = [_a_card(system, paper) for system in ("imperial", "metric") for paper in ("letter", "A4")]
    plain = [(_in_one_column(html), style) for _, html, style in cards]

    def make() -> None:
        for one, _, _ in cards:
            one()

    def lay_out() -> None:
        for html, style in plain:
            _lay_out(html, style)

    made, laid = _in_turn(make, lay_out, rounds)
    return made / len(cards), laid / len(cards)


def with_and_without_harfbuzz(rounds: int) -> tuple[float, float]:
    """Median seconds of writing the PDF of a card, its fonts cut down by HarfBuzz, and by fontTools."""
    from weasyprint.pdf import fonts

    from foldwright.render.paper import card

    pages: list[object] = []
    typeset = card.typeset

    def keep(*words: object, **more: object) -> object:
        pages.append(typeset(*words, **more))
        return pages[-1]

    with mock.patch.object(card, "typeset", keep):
        _a_card()[0]()

    def write() -> None:
        pages[-1].pdf()

    def write_without() -> None:
        with mock.patch.object(fonts, "harfbuzz_subset", None):
            write()

    return _in_turn(write, write_without, rounds)


def _a_card(system: str = "imperial", paper: str = "letter") -> tuple[Callable[[], None], str, str]:
    """What makes a card, and the page and style it lays out in the end."""
    from foldwright.measure.length import System
    from foldwright.render.paper import card
    from foldwright.render.paper.papers import PAPERS

    on = next(one for one in PAPERS if one.name == paper)
    sheet, photos = _sheet()
    laid: list[tuple[object, ...]] = []
    typeset = card.typeset

    def seen(*words: object, **more: object) -> object:
        laid.append(words)
        return typeset(*words, **more)

    def make() -> None:
        made = card.Proof(sheet, System(system), "harbour", photos).card(on)
        assert isinstance(made, card.Card), made

    with mock.patch.object(card, "typeset", seen):
        make()
    html, style, *_ = laid[-1]
    return make, str(html), str(style)


def _sheet() -> tuple[Document, dict[str, ReadyPhoto]]:
    from foldwright.outputs.reading import read_texts
    from foldwright.outputs.sources import find_sources
    from foldwright.pipeline import check_recipe, compose_document
    from foldwright.render.photos import prepare_photos
    from foldwright.surroundings import Folder

    (source,), _ = find_sources([RECIPE])
    texts = read_texts(source)
    assert texts.text is not None
    checked = check_recipe(texts.text, source.name, source.slug, texts.studio)
    assert checked.understood is not None
    photos, _ = prepare_photos(checked.understood.recipe, Folder(source.folder).read)
    return compose_document(checked.understood, checked.findings, texts.by_name), photos


def _in_one_column(html: str) -> str:
    """The same words where they fall: nothing is placed, no picture is shown."""
    return re.sub(r"<img[^>]*>", "", re.sub(r' style="[^"]*"', "", html))


def _lay_out(html: str, style: str) -> None:
    from weasyprint import CSS, HTML

    from foldwright.render.paper.typesetting import bundled_faces, font_configuration

    page = f"@page{{size:{COLUMN_MM}mm 10000mm}}.side,.cell,.block{{position:static}}"
    text = "body{font-size:9.5pt;line-height:1.3}"
    fonts = font_configuration()
    HTML(string=html).render(
        font_config=fonts, stylesheets=[bundled_faces(), CSS(string=style + page + text, font_config=fonts)]
    )


def _in_turn(one: Callable[[], None], other: Callable[[], None], rounds: int) -> tuple[float, float]:
    for act in (one, other):
        act()
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(rounds):
        for act, kept in zip((one, other), times, strict=True):
            started = time.perf_counter()
            act()
            kept.append(time.perf_counter() - started)
    return median(times[0]), median(times[1])
