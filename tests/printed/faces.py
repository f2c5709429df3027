"""The fonts in a file: all embedded, all among those allowed, each character with a glyph.

ISO 14289-1, 7.21 (from memory): programs embedded (7.21.4.1), a way from glyph to character (7.21.7), no .notdef
(7.21.8).
"""

from __future__ import annotations

import io
from collections.abc import Collection

import pikepdf
from fontTools.ttLib import TTFont
from msgspec import Struct

_PROGRAMS = ("/FontFile", "/FontFile2", "/FontFile3")
_POSTSCRIPT_NAME = 6
"""Of the name table (OpenType specification, name identifiers)."""


class Face(Struct, frozen=True):
    """A font of the file: the name the file gives it (without the subset's letters), the PostScript name within the
    embedded program (empty when nothing is embedded or it does not say), its kind and how its text is encoded."""

    name: str
    program: str
    kind: str
    encoding: str
    embedded: bool
    to_unicode: bool


def faces(data: bytes) -> list[Face]:
    """Every font in the file, whether a page uses it or not; the two halves of a composite font are one."""
    with pikepdf.open(io.BytesIO(data)) as file:
        fonts = [
            thing for thing in file.objects if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/Font"
        ]
        return sorted(
            (_face(font) for font in fonts if not str(font.Subtype).startswith("/CIDFont")), key=lambda face: face.name
        )


def face_complaints(data: bytes, allowed: Collection[str]) -> list[str]:
    """Fonts that are not embedded, of Type 3, or whose program is not one of `allowed` (PostScript names such as
    SourceSansPro-Regular); text with characters for which the font has no glyph."""
    found: list[str] = []
    for face in faces(data):
        if face.kind == "Type3":
            found.append(f"{face.name or 'a font'} is a Type 3 font")
        elif not face.embedded:
            found.append(f"{face.name} is not embedded")
        elif face.program not in allowed:
            found.append(f"{face.name} ({face.program or 'without a name'}) is none of the fonts allowed")
        # WeasyPrint maps characters by a table of its own only where it points some of them to no glyph.
        if face.kind == "Type0" and face.encoding != "Identity-H":
            found.append(f"{face.name} lacks glyphs for some characters")
        if not face.to_unicode:
            found.append(f"{face.name} does not say which characters its glyphs are")
    return found


def _face(font: pikepdf.Object) -> Face:
    described = font.DescendantFonts[0] if "/DescendantFonts" in font else font
    descriptor = described.get("/FontDescriptor", pikepdf.Dictionary())
    program = next((descriptor[key] for key in _PROGRAMS if key in descriptor), None)
    encoding = font.get("/Encoding", "")
    return Face(
        name=str(font.get("/BaseFont", "")).removeprefix("/").split("+")[-1],
        program=_name_within(program),
        kind=str(font.Subtype).removeprefix("/"),
        encoding=str(encoding).removeprefix("/") if isinstance(encoding, pikepdf.Name) else "of its own",
        embedded=program is not None,
        to_unicode="/ToUnicode" in font,
    )


def _name_within(program: pikepdf.Object | None) -> str:
    if program is None:
        return ""
    with TTFont(io.BytesIO(program.read_bytes()), lazy=True) as font:
        return (font["name"].getDebugName(_POSTSCRIPT_NAME) or "") if "name" in font else ""
