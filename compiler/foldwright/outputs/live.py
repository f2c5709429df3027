"""A recipe while it is being written: its page in parts and all that is the matter with it, again after every change.

What comes out is what `compile_recipe` makes of the same text. It comes quicker since the rooms below keep what they
worked out (`keeping`), and since photographs, which take longest, are prepared here once: the page names them, and who
shows it asks for them by those names.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping

from msgspec import Struct

from foldwright.document.model import Document, Photograph
from foldwright.finding import Finding
from foldwright.measure.length import System
from foldwright.outputs.checking import check_texts
from foldwright.outputs.compiling import theme_of, unfit
from foldwright.outputs.texts import Texts
from foldwright.pipeline import Understood, compose_document, in_text_order
from foldwright.render.photos import ReadyPhoto, Unusable, prepare, prepare_photos, reduced
from foldwright.render.themes import ThemeError, load_theme
from foldwright.render.web.parts import PageParts
from foldwright.render.web.tutorial import tutorial_parts
from foldwright.render.web.view import Image
from foldwright.surroundings import Surroundings

_REMEMBERED = 48
"""Photographs, those made smaller counted by themselves; and styles, of which there are few."""
TUTORIAL = ("tutorial",)


class LivePage(Struct, frozen=True):
    """What a text comes to. Where there is nothing to make a page of, `page` is None, and so are the others."""

    findings: tuple[Finding, ...]
    page: PageParts | None = None
    understood: Understood | None = None
    document: Document | None = None


class Live:
    """Compiles one text after the other. It holds photographs and a style; what it gives depends on none before."""

    def __init__(self, photos_at: str = "photos/") -> None:
        self._at = photos_at
        self._photos: dict[str, ReadyPhoto | Unusable] = {}
        self._styles: dict[str, str] = {}

    def page(
        self, texts: Texts, surroundings: Surroundings, theme: str = "", systems: tuple[System, ...] = tuple(System)
    ) -> LivePage:
        """The page of a recipe as it stands, in the look wished for or else its studio's own."""
        checked = check_texts(texts, surroundings)
        understood = checked.understood
        if understood is None:
            return LivePage(checked.findings)
        recipe = understood.recipe
        photos, photo_findings = prepare_photos(recipe, surroundings.read, self._prepared)
        look, look_findings = theme_of(recipe.studio, theme, TUTORIAL, surroundings)
        findings = in_text_order((*checked.findings, *photo_findings, *look_findings))
        system = recipe.system if recipe.system in systems else systems[0]
        document = compose_document(understood, findings, texts.by_name, system)
        try:
            page = tutorial_parts(document, look, _Shown(self, photos).show, systems)
            self._remember(self._styles, page.head.style, load_theme(look).style)
        except ThemeError as trouble:
            more = unfit(trouble, recipe.studio, theme)
            return LivePage(in_text_order((*findings, more)), None, understood, document)
        return LivePage(findings, page, understood, document)

    def photo(self, name: str) -> ReadyPhoto | None:
        """A photograph by the name it has in the page."""
        found = self._photos.get(name)
        return found if isinstance(found, ReadyPhoto) else None

    def style(self, name: str) -> str | None:
        """The style of a page, by the name its head has for it."""
        return self._styles.get(name)

    def address(self, photo: ReadyPhoto, width: int = 0) -> tuple[str, ReadyPhoto]:
        """Where a photograph is to be had, no wider than `width` if that is said, and as it is there."""
        name = _name_of(photo.data)
        if 0 < width < photo.width:
            name, whole = f"{name}-{width}", photo
            photo = self.photo(name) or reduced(whole, width)
        self._remember(self._photos, name, photo)
        return self._at + name, photo

    def _prepared(self, data: bytes) -> ReadyPhoto | Unusable:
        name = f"from-{_name_of(data)}"
        ready = self._photos.get(name) or prepare(data)
        self._remember(self._photos, name, ready)
        return ready

    @staticmethod
    def _remember[What](some: dict[str, What], name: str, what: What) -> None:
        some.pop(name, None)
        some[name] = what
        while len(some) > _REMEMBERED:
            del some[next(iter(some))]


class _Shown(Struct, frozen=True):
    """The photographs of one page."""

    live: Live
    photos: Mapping[str, ReadyPhoto]

    def show(self, photo: Photograph, width: int = 0) -> Image | None:
        ready = self.photos.get(photo.path)
        if ready is None:
            return None
        source, shown = self.live.address(ready, width)
        return Image(source, shown.width, shown.height, photo.shows)


def _name_of(data: bytes) -> str:
    """A name that no other bytes have, so that a browser may keep what it has once."""
    return hashlib.blake2b(data, digest_size=12).hexdigest()
