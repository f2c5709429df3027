"""What a theme says of labels and place cards, read off one page that shows a text of each kind."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from foldwright.render.fonts import FACES
from foldwright.render.paper.placing import Specimen, specimen_of
from foldwright.render.paper.shaping import families_of, shaped
from foldwright.render.paper.typesetting import typeset
from foldwright.render.themes import ThemeError, load_paper_theme

LETTERINGS = frozenset(("name", "title", "contents", "warning", "foot", "guest", "table", "aside"))
FRAMES = frozenset(("label", "card"))


@lru_cache(4)
def specimen(theme: str, language: str) -> Specimen:
    """The specimen, laid out once. Raises ThemeError when a theme left a text out."""
    ready = load_paper_theme(theme, "labels")
    html = ready.filled(language=language)
    found = specimen_of(typeset(html, ready.style, "@page{size:210mm 297mm;margin:0}"))
    if lacking := sorted((LETTERINGS - found.letterings.keys()) | (FRAMES - found.frames.keys())):
        raise ThemeError("unreadable-theme", theme=theme, why=f'labels.html: class="{lacking[0]}"')
    return found


def missing_letters(texts: Iterable[str], language: str, theme: str) -> Mapping[str, str]:
    """The texts that hold letters of which no font on this machine has any, and those letters."""
    lettering = specimen(theme, language).letterings["guest"]
    found = {text: "".join(shaped(text, lettering).missing) for text in texts if not text.isascii()}
    return {text: letters for text, letters in found.items() if letters}


def borrowed_fonts(texts: Iterable[str], language: str, theme: str) -> tuple[str, ...]:
    """The fonts of this machine in which some of the texts are set, since the bundled faces lack their letters."""
    lettering = specimen(theme, language).letterings["guest"]
    own = {face.family for face in FACES.values()}
    found = (family for text in texts if not text.isascii() for family in families_of(text, lettering))
    return tuple(dict.fromkeys(family for family in found if family not in own))
