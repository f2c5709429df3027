"""The faces a page carries with it: cut down to the characters a page needs, renamed, as `data:` addresses.

Subsetting a face takes a third of a second, so the result is kept between runs (`kept`).
"""

from __future__ import annotations

import base64
import hashlib
import io
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from foldwright.measure.writing import NARROW_SPACE
from foldwright.render.kept import kept

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

_CHARACTERS = (
    *range(0x20, 0x7F),
    *range(0xA0, 0x180),
    *(ord(sign) for sign in "–—‘’‚“”„†•…\u202f′″⁄−×€→✓½¼¾⅛⅜⅝⅞⁰⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉"),
)
"""Latin with its accents, typographer's marks, and the figures of measures; anything else falls back to the system."""
_FEATURES = ("kern", "mark", "mkmk", "ccmp", "locl", "liga", "frac", "numr", "dnom", "lnum", "onum", "pnum", "tnum")
_VERSION = "3"
"""Goes into the names of kept copies: raise it when the way of making them changes."""


class FontFace(Struct, frozen=True):
    """One face: the family name pages use for it, weight and style, and the file of the font package."""

    family: str
    weight: int
    italic: bool
    package: str
    file: str

    def rule(self, source: str) -> str:
        """The `@font-face` rule of the face; `source` is where its data are, as CSS."""
        style = "italic" if self.italic else "normal"
        named = f'font-family:"{self.family}";font-weight:{self.weight};font-style:{style}'
        return f"@font-face{{{named};src:{source}}}"


FACES: dict[str, FontFace] = {
    "sans": FontFace("Foldwright Sans", 400, False, "font_source_sans_pro", "SourceSansPro-Regular.ttf"),
    "sans-italic": FontFace("Foldwright Sans", 400, True, "font_source_sans_pro", "SourceSansPro-It.ttf"),
    "sans-semibold": FontFace("Foldwright Sans", 600, False, "font_source_sans_pro", "SourceSansPro-Semibold.ttf"),
    "sans-black": FontFace("Foldwright Sans", 900, False, "font_source_sans_pro", "SourceSansPro-Black.ttf"),
    "serif": FontFace("Foldwright Serif", 400, False, "font_source_serif_pro", "SourceSerifPro-Regular.ttf"),
    "serif-italic": FontFace("Foldwright Serif", 400, True, "font_source_serif_pro", "SourceSerifPro-It.ttf"),
    "serif-semibold": FontFace("Foldwright Serif", 600, False, "font_source_serif_pro", "SourceSerifPro-Semibold.ttf"),
}


def font_file(face: FontFace) -> Path:
    """The whole face, as its package brings it."""
    import importlib.util

    spec = importlib.util.find_spec(face.package)
    if spec is None or spec.origin is None:
        raise FileNotFoundError(f"the font package {face.package} is not installed")
    return Path(spec.origin).parent / "files" / face.file


@cache
def face_rule(name: str) -> str:
    """The `@font-face` rule of a face, its data inside."""
    face = FACES[name]
    data = base64.b64encode(_made(name, face, "woff", subset)).decode("ascii")
    return face.rule(f'url(data:font/woff;base64,{data}) format("woff")')


@cache
def whole_face(name: str) -> bytes:
    """The whole face for paper, where the typesetter itself cuts it down: TrueType, with the narrow space."""
    return _made(name, FACES[name], "ttf", renamed)


def _made(name: str, face: FontFace, kind: str, make: Callable[[bytes, FontFace], bytes]) -> bytes:
    """What `make` makes of the face, from the kept copy when there is one made of the same file in the same way."""
    whole = font_file(face).read_bytes()
    mark = hashlib.sha256(whole + repr((_VERSION, _CHARACTERS, _FEATURES, face.family)).encode()).hexdigest()[:16]
    return kept(f"{name}-{mark}.{kind}", lambda: make(whole, face))


def subset(whole: bytes, face: FontFace) -> bytes:
    """The face with the page's characters and features only, as WOFF, the same bytes every time.

    The family gets a name of ours: the fonts' licence keeps theirs for the unchanged fonts.
    """
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    options = Options()
    options.layout_features = list(_FEATURES)
    options.hinting = False
    options.name_IDs = [0, 1, 2, 13, 14]
    options.notdef_outline = True
    font = TTFont(io.BytesIO(whole), recalcTimestamp=False)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=_CHARACTERS)
    subsetter.subset(font)
    font.flavor = "woff"
    return _named(font, face)


def renamed(whole: bytes, face: FontFace) -> bytes:
    """The face with every character it has, under our name, as TrueType."""
    from fontTools.ttLib import TTFont

    return _named(TTFont(io.BytesIO(whole), recalcTimestamp=False), face)


def _named(font: TTFont, face: FontFace) -> bytes:
    _add_narrow_space(font)
    for record in font["name"].names:
        if record.nameID == 1:
            record.string = face.family
    out = io.BytesIO()
    font.save(out, reorderTables=True)
    return out.getvalue()


def _add_narrow_space(font: Any) -> None:
    """Give a face that lacks U+202F one of a fifth of an em, so that figures and units keep to one face."""
    from fontTools.ttLib.tables._g_l_y_f import Glyph

    name = "uni202F"
    if ord(NARROW_SPACE) in font.getBestCmap():
        return
    font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"].glyphs[name] = Glyph()
    font["hmtx"].metrics[name] = (font["head"].unitsPerEm // 5, 0)
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap[ord(NARROW_SPACE)] = name
