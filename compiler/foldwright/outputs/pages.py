"""The outputs for a screen, and the document as data."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from foldwright.document.data import as_json
from foldwright.document.model import Photograph, Readiness
from foldwright.outputs.model import PAGE, MadeFiles, OutputSource


def tutorial_page(source: OutputSource) -> MadeFiles:
    """The page: whole in one file, or among others in a library, its photographs beside it. Raises ThemeError."""
    from foldwright.render.photos import reduced
    from foldwright.render.web.images import Image, as_files
    from foldwright.render.web.tutorial import library_page, tutorial

    systems = source.wish.systems
    if source.wish.in_library:
        shown = {name: as_files(name, ready) for name, ready in source.photos.items()}

        def offer(photo: Photograph, width: int = 0) -> Image | None:
            del width  # the browser takes what it needs
            image = shown.get(photo.path)
            return replace(image[0], shows=photo.shows) if image else None

        page = library_page(source.document, source.theme, offer, systems, shared=_is_shared(source))
        photos = {path: data for _, files in shown.values() for path, data in files.items()}
        return MadeFiles({**page, **photos, **_round_it(source)})

    def show(photo: Photograph, width: int = 0) -> Image | None:
        ready = source.photos.get(photo.path)
        if ready and 0 < width < ready.width:
            ready = reduced(ready, width)
        return Image(ready.address, ready.width, ready.height, photo.shows) if ready else None

    return MadeFiles({PAGE: tutorial(source.document, source.theme, show, systems)})


def _is_shared(source: OutputSource) -> bool:
    """Whether there will be a picture for links to the page; only with the studio's address does the page name it."""
    document = source.document
    if "share" not in source.wish.outputs or document.standing is Readiness.DRAFT or not document.head.address:
        return False
    from foldwright.render.share.composing import letters_lacking
    from foldwright.render.themes import load_look

    return not letters_lacking(document, load_look(source.theme))


def _round_it(source: OutputSource) -> Mapping[str, bytes]:
    """What a library has beside the page: its picture for lists, and what its folder's short address leads to."""
    from foldwright.outputs.list_picture import list_picture
    from foldwright.render.web.onward import onward

    head = source.document.head
    return {
        **list_picture(source).files,
        "index.html": onward(head.title, PAGE, head.page_address, source.document.language),
    }


def fragment_files(source: OutputSource) -> MadeFiles:
    """The page's inside for another page, its pictures beside it."""
    from foldwright.render.web.fragment import fragment

    made = fragment(source.document, source.photos, source.wish.systems, source.wish.pictures_at)
    return MadeFiles({"fragment.html": made.html.encode("utf-8"), **made.files})


def document_data(source: OutputSource) -> MadeFiles:
    """All that was worked out, for other programs."""
    return MadeFiles({"sheet.json": as_json(source.document).encode("utf-8")})
