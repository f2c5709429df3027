"""From a recipe's texts to the files of its output folder: the pipeline, then each output that was wished for."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct, field

from foldwright.cli.sources import Source
from foldwright.cli.texts import Texts
from foldwright.finding import Finding, Strength
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe, compose_sheet, in_text_order
from foldwright.recipe.model import Studio
from foldwright.render.photos import Prepared, prepare_photos
from foldwright.render.themes import DEFAULT_THEME, ThemeError, built_in_themes, load_theme
from foldwright.render.tutorial import tutorial
from foldwright.render.view import Image
from foldwright.sheet.data import as_json
from foldwright.sheet.model import Photograph, Sheet
from foldwright.surroundings import Surroundings


class Wish(Struct, frozen=True):
    """Which outputs, in which units, through which theme (empty: the studio's own), where pictures will stand."""

    outputs: tuple[str, ...]
    systems: tuple[System, ...]
    theme: str = ""
    pictures_at: str = ""


class Made(Struct, frozen=True):
    """Files by name, and all that was found. No files when there was nothing to make them of."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    faulty: bool = False


class Ready(Struct, frozen=True):
    """All an output is made from."""

    sheet: Sheet
    photos: Mapping[str, Prepared]
    theme: str
    wish: Wish


def make(source: Source, texts: Texts, wish: Wish, surroundings: Surroundings) -> Made:
    """Compile one recipe, whose photographs are among its `surroundings`.

    With a fault in it the page is still made, as a draft; the fragment is not.
    """
    if texts.text is None:
        return Made(findings=texts.findings)
    checked = check_recipe(texts.text, source.name, source.slug, texts.studio)
    if checked.understood is None:
        return Made(findings=in_text_order((*texts.findings, *checked.findings)))
    recipe = checked.understood.recipe
    photos, photo_findings = prepare_photos(recipe, surroundings.read)
    theme, theme_findings = _theme(source, recipe.studio, wish)
    findings = in_text_order((*texts.findings, *checked.findings, *photo_findings, *theme_findings))
    sheet = compose_sheet(checked.understood, findings, texts.by_name)
    faulty = any(finding.strength is Strength.FAULT for finding in findings)
    files: dict[str, bytes] = {}
    for name in wish.outputs:
        if not (faulty and name in _FINISHED_ONLY):
            files |= _OUTPUTS[name](Ready(sheet, photos, theme, wish))
    return Made(files, findings, faulty)


def _theme(source: Source, studio: Studio, wish: Wish) -> tuple[str, tuple[Finding, ...]]:
    """The theme to use; the studio's may name a folder beside the studio file."""
    said = studio.theme
    if wish.theme or said is None or not said.value:
        return wish.theme or DEFAULT_THEME, ()
    name = said.value
    if name not in built_in_themes() and source.studio is not None:
        name = str(source.studio.parent / name)
    try:
        load_theme(name)
    except ThemeError as trouble:
        facts = {**trouble.facts, "theme": said.value}
        return DEFAULT_THEME, (Finding.of(trouble.code, Strength.MISFIT, said.place, **facts),)
    return name, ()


def _tutorial(ready: Ready) -> dict[str, bytes]:
    def show(photo: Photograph) -> Image | None:
        prepared = ready.photos.get(photo.path)
        if prepared is None:
            return None
        return Image(prepared.address, prepared.width, prepared.height, photo.shows)

    return {"tutorial.html": tutorial(ready.sheet, ready.theme, show, ready.wish.systems)}


def _fragment(ready: Ready) -> dict[str, bytes]:
    from foldwright.render.fragment import fragment

    made = fragment(ready.sheet, ready.photos, ready.wish.systems, ready.wish.pictures_at)
    return {"fragment.html": made.html.encode("utf-8"), **made.files}


def _sheet(ready: Ready) -> dict[str, bytes]:
    return {"sheet.json": as_json(ready.sheet).encode("utf-8")}


_OUTPUTS: Mapping[str, Callable[[Ready], dict[str, bytes]]] = {
    "tutorial": _tutorial,
    "fragment": _fragment,
    "sheet": _sheet,
}
_FINISHED_ONLY = frozenset({"fragment"})
"""Outputs that would be handed on as they are: not made of a recipe with a fault."""


def warm_up(theme: str) -> None:
    """Load now what every page needs, so that processes started from this one have it. Raises ThemeError."""
    load_theme(theme or DEFAULT_THEME)
