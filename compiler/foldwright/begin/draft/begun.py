"""A draft tried out: on the first sheet on which all is well, checked as any recipe is."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from foldwright.begin.draft.model import Draft
from foldwright.begin.draft.writing import write_draft
from foldwright.document.catalogue import catalogue
from foldwright.document.words import plain
from foldwright.finding import Finding
from foldwright.measure.length import System
from foldwright.pipeline import Checked, check_recipe, compose_document
from foldwright.recipe.model import Studio

ASKED_OF_THE_AUTHOR = frozenset({"contains-unsaid"})
"""Suggestions that only the author can answer and that must be answered: they are never hushed."""
_DRAWING_MM, _DRAWING_PT = 150.0, 9.0
"""How wide a drawing beside a recipe is, and its figures: half a sheet of paper."""


class Begun(Struct, frozen=True):
    """A draft as text, and what was found in it; suggestions hushed in the text are kept here to be told once."""

    file: str
    text: str
    checked: Checked
    hushed: tuple[Finding, ...] = ()


def begin(draft: Draft, file: str, slug: str, studio: Studio | None = None) -> Begun:
    """The draft on the first of its sheets on which nothing is found.

    If there is none, on the first where there are only suggestions, with those hushed that may be; else on the last,
    with what is wrong with it. `file` is what findings call the text.
    """
    words = catalogue()

    def tried(sheet: str, hush: tuple[str, ...] = ()) -> Begun:
        text = write_draft(draft, words, sheet, hush)
        return Begun(file, text, check_recipe(text, file, slug, studio))

    attempts: list[tuple[str, Begun]] = []
    for sheet in draft.sheets:
        attempts.append((sheet, tried(sheet)))
        if not attempts[-1][1].checked.findings:
            return attempts[-1][1]
    sheet, begun = next((one for one in attempts if not one[1].checked.wrong), attempts[-1])
    if begun.checked.wrong:
        return begun
    hushed = tuple(one for one in begun.checked.findings if one.code not in ASKED_OF_THE_AUTHOR)
    again = tried(sheet, tuple(dict.fromkeys(one.code for one in hushed)))
    return Begun(file, again.text, again.checked, hushed)


def drawings(begun: Begun, system: System) -> Mapping[str, bytes]:
    """The flat plan of every piece as an SVG file, by file name."""
    from foldwright.outputs.piece_files import file_names
    from foldwright.render.drawing.svg import draw

    assert begun.checked.understood is not None
    document = compose_document(begun.checked.understood, (), {begun.file: begun.text})
    pictures = [piece.picture for piece in document.pieces if piece.picture]
    files = {}
    for name, picture in zip(file_names(picture.name for picture in pictures), pictures, strict=True):
        labels, title = picture.labels.of(system), plain(picture.title, system)
        described = picture.describes.of(system), picture.words
        drawn = draw(picture.scene, labels, _DRAWING_MM, _DRAWING_PT, title, *described)
        files[f"{name}-drawing.svg"] = drawn.encode()
    return files
