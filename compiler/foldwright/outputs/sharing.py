"""Pictures for sharing, and the words that go beside them."""

from __future__ import annotations

from foldwright.document.share_text import share_words
from foldwright.outputs.model import MadeFiles, OutputSource
from foldwright.outputs.paper_findings import letters_missing
from foldwright.recipe.facts.web import as_uri


def share_files(source: OutputSource) -> MadeFiles:
    """Three pictures and their words. Raises ThemeError."""
    from foldwright.render.paper.galley import Unprintable
    from foldwright.render.share.composing import compose_pictures, letters_lacking
    from foldwright.render.share.images import jpeg
    from foldwright.render.themes import load_look

    document, look = source.document, load_look(source.theme)
    if letters := letters_lacking(document, look):
        missing = tuple(Unprintable(letter, "head") for letter in letters)
        return MadeFiles(findings=tuple(letters_missing(missing, source.recipe, source.texts)))
    files = {one.file: jpeg(one.svg, one.photographs) for one in compose_pictures(document, source.photos, look)}
    words = share_words(document, as_uri(document.head.address))
    return MadeFiles({**files, "share.txt": words.encode("utf-8")})
