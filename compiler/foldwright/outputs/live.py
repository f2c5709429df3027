"""A recipe while it is being written: its page in parts and all that is the matter with it, again after every change.

What comes out is what `compile_recipe` makes of the same text. It comes quicker since the rooms below keep what they
worked out. Photographs are not put into the page: it names them, and who shows it asks for them by those names.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from foldwright.document.model import Document, Photograph
from foldwright.finding import Finding
from foldwright.measure.length import System
from foldwright.outputs.checking import check_texts
from foldwright.outputs.compiling import theme_of, unfit
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Understood, compose_document, in_text_order
from foldwright.render.photos import ReadyPhoto, name_of, prepare_photos, reduced
from foldwright.render.themes import ThemeError, load_theme
from foldwright.render.web.images import Image
from foldwright.render.web.parts import PageParts
from foldwright.render.web.tutorial import tutorial_parts
from foldwright.surroundings import Surroundings

_STYLES = 48
"""Styles that are held, of which there are few."""
TUTORIAL = ("tutorial",)


class LivePage(Struct, frozen=True):
    """What a text comes to. Where there is nothing to make a page of, `page` is None, and so are the others.

    `understood` is the recipe as it is written, `shown` the same in the size of the page, of which the document is.
    """

    findings: tuple[Finding, ...]
    page: PageParts | None = None
    understood: Understood | None = None
    shown: Understood | None = None
    document: Document | None = None


class Live:
    """Compiles one text after the other; what it gives depends on none before. It holds styles, and the photographs of
    the last two pages, as a browser may still show the older."""

    def __init__(self, photos_at: str = "photos/") -> None:
        self._at = photos_at
        self._photos: tuple[Mapping[str, ReadyPhoto], ...] = ({}, {})
        self._styles: dict[str, str] = {}

    def page(
        self,
        texts: Texts,
        surroundings: Surroundings,
        theme: str = "",
        systems: tuple[System, ...] = tuple(System),
        size: str = "",
    ) -> LivePage:
        """The page of a recipe as it stands, in the look wished for or else its studio's own, in a `size` it has."""
        written = check_texts(texts, surroundings)
        checked = written
        if written.understood and size in written.understood.recipe.other_sizes:
            checked = check_texts(texts, surroundings, size)
        shown = checked.understood
        if shown is None:
            return LivePage(checked.findings, understood=written.understood)
        recipe = shown.recipe
        photos, photo_findings = prepare_photos(recipe, surroundings.read)
        look, look_findings = theme_of(recipe.studio, theme, TUTORIAL, surroundings)
        findings = in_text_order((*checked.findings, *photo_findings, *look_findings))
        system = recipe.system if recipe.system in systems else systems[0]
        document = compose_document(shown, findings, texts.by_name, system)
        showing = _Shown(self._at, photos)
        try:
            page = tutorial_parts(document, look, showing.show, systems)
            self._hold(page.head.style, load_theme(look).style)
        except ThemeError as trouble:
            more = unfit(trouble, recipe.studio, theme)
            return LivePage(in_text_order((*findings, more)), None, written.understood, shown, document)
        self._photos = (showing.named, self._photos[0])
        return LivePage(findings, page, written.understood, shown, document)

    def photo(self, name: str) -> ReadyPhoto | None:
        """A photograph by the name it has in the page."""
        return next((named[name] for named in self._photos if name in named), None)

    def style(self, name: str) -> str | None:
        """The style of a page, by the name its head has for it."""
        return self._styles.get(name)

    def _hold(self, name: str, style: str) -> None:
        self._styles.pop(name, None)
        self._styles[name] = style
        while len(self._styles) > _STYLES:
            del self._styles[next(iter(self._styles))]


class _Shown:
    """The photographs of one page: where each is to be had, no wider than it is shown."""

    def __init__(self, at: str, photos: Mapping[str, ReadyPhoto]) -> None:
        self._at, self._photos = at, photos
        self.named: dict[str, ReadyPhoto] = {}

    def show(self, photo: Photograph, width: int = 0) -> Image | None:
        ready = self._photos.get(photo.path)
        if ready is None:
            return None
        name = name_of(ready.data)
        if 0 < width < ready.width:
            name, ready = f"{name}-{width}", reduced(ready, width)
        self.named[name] = ready
        return Image(self._at + name, ready.width, ready.height, photo.shows)
