"""Drawn pictures as PNG, with the faces the program brings along: the same on every machine."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from foldwright.render.fonts import FACES, font_file

FAMILY = "Source Sans Pro"
"""The name the bundled sans has inside its own files."""


def png(svg: str, width: int) -> bytes:
    """The picture `width` pixels wide on white."""
    import resvg_py

    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg,
            width=width,
            # Without it a drawing sized in millimetres has no size at all. CSS has 96 pixels to the inch.
            dpi=96,
            background="#ffffff",
            skip_system_fonts=True,
            font_files=_font_files(),
            font_family=FAMILY,
            sans_serif_family=FAMILY,
        )
    )


def png_size(data: bytes) -> tuple[int, int]:
    """Width and height of a PNG: two numbers of four bytes after the name of its first chunk (RFC 2083, 4.1.1)."""
    return int.from_bytes(data[16:20]), int.from_bytes(data[20:24])


@cache
def _font_files() -> list[str]:
    return [str(Path(font_file(FACES[name]))) for name in ("sans", "sans-italic", "sans-semibold")]
