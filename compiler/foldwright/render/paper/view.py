"""What the template of a card or handout is given: blocks in their places, and what every page says of itself."""

from __future__ import annotations

from collections.abc import Sequence
from types import SimpleNamespace

from foldwright.document.model import Document
from foldwright.render.paper.content import Content, Version
from foldwright.render.themes import PaperTheme


def block_view(
    content: Content,
    name: str,
    place: str,
    width: str,
    version: Version | None = None,
    pictures: Sequence[SimpleNamespace] = (),
) -> SimpleNamespace:
    """A block as a template sets it: in one version, or in every wording there is.

    `place` and `width` are styles, the one of the block, the other of its words.
    """
    block = content.block(name).view(version.wordings if version else None)
    block.name, block.place, block.width, block.pictures = name, place, width, pictures
    return block


def page_html(theme: PaperTheme, document: Document, kind: str, paper: str, **holds: Sequence[SimpleNamespace]) -> str:
    """The page of a theme filled in with what it `holds`, under the names its template has for that.

    `kind` and `paper` are classes for stylesheets. Raises ThemeError.
    """
    page = SimpleNamespace(
        language=document.language,
        title=": ".join(part for part in (document.head.title, document.head.occasion) if part),
        author=document.head.author,
        kind=kind,
        paper=paper,
        **holds,
    )
    label = SimpleNamespace(**{name.replace("-", "_"): text for name, text in document.labels.items()})
    return theme.filled(page=page, label=label)
