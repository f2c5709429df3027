"""Words set by arithmetic: how wide a text is in one of our faces, and how it is broken into lines that fit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache, lru_cache
from html import escape

from msgspec import Struct

from foldwright.render.fonts import FACES, font_file

_ELLIPSIS = "…"


class Line(Struct, frozen=True):
    """A line of text in its place: `x` and the base line, in pixels; with `centred`, x is its middle."""

    text: str
    face: str
    size: float
    fill: str
    x: float
    y: float
    centred: bool = False

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom: as wide as its letters advance, from the tallest letter to the deepest."""
        wide = width_of(self.text, self.face) * self.size
        left = self.x - wide / 2 if self.centred else self.x
        return left, self.y - ASCENT * self.size, left + wide, self.y + DESCENT * self.size

    def svg(self) -> str:
        face = FACES[self.face]
        family = "Source Serif Pro" if face.family.endswith("Serif") else "Source Sans Pro"
        look = f'font-family="{family}" font-weight="{face.weight}"{" font-style='italic'" if face.italic else ""}'
        anchor = ' text-anchor="middle"' if self.centred else ""
        place = f'x="{self.x:.2f}" y="{self.y:.2f}" font-size="{self.size:g}" fill="{self.fill}"'
        return f'<text {look} {place}{anchor} xml:space="preserve">{escape(self.text, quote=False)}</text>'


ASCENT, DESCENT = 1.04, 0.34
"""Ems that letters reach over the base line and under it, with accents (`hhea` of Source Serif, the taller)."""


def lacking(texts: Iterable[str], faces: Iterable[str]) -> tuple[str, ...]:
    """The letters of these texts that one of the faces does not have, each once."""
    known = [_advances(face) for face in faces]
    letters = dict.fromkeys(letter for text in texts for letter in text)
    return tuple(letter for letter in letters if any(letter not in one for one in known))


@lru_cache(maxsize=4096)
def width_of(text: str, face: str) -> float:
    """In ems, without kerning, which brings letters together far more often than apart."""
    advances = _advances(face)
    return sum(advances[letter] for letter in text)


@cache
def _advances(face: str) -> dict[str, float]:
    """By letter, how wide it is in ems."""
    from fontTools.ttLib import TTFont

    with TTFont(font_file(FACES[face]), lazy=True) as font:
        metrics, em = font["hmtx"].metrics, font["head"].unitsPerEm
        return {chr(code): metrics[glyph][0] / em for code, glyph in font.getBestCmap().items()}


def broken(text: str, face: str, ems: float) -> tuple[str, ...]:
    """The text in lines no wider than that; a word that is wider by itself is parted where the line ends."""
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        joined = f"{line} {word}" if line else word
        if width_of(joined, face) <= ems:
            line = joined
            continue
        if line:
            lines.append(line)
        *whole, line = _parted(word, face, ems)
        lines += whole
    return (*lines, line)


def _parted(word: str, face: str, ems: float) -> Iterator[str]:
    """A word in stretches no wider than that; each has one letter at least."""
    begin = 0
    for end in range(1, len(word) + 1):
        if end - begin > 1 and width_of(word[begin:end], face) > ems:
            yield word[begin : end - 1]
            begin = end - 1
    yield word[begin:]


class Fitted(Struct, frozen=True):
    """A text in lines, and the size at which they fit; not `whole` when it had to be shortened for that."""

    lines: tuple[str, ...]
    size: float
    whole: bool = True


def fitted(text: str, face: str, sizes: Sequence[float], width: float, most: int) -> Fitted:
    """The text in the largest size in which it has no more than `most` lines, and no word is parted if that can be.

    What has more lines in the smallest size ends with an ellipsis: the words beside the picture have all of it.
    """
    ways = [Fitted(broken(text, face, width / size), size) for size in sizes]
    fit = [way for way in ways if len(way.lines) <= most]
    words = set(text.split(" "))
    if unbroken := [way for way in fit if all(set(line.split(" ")) <= words for line in way.lines)]:
        return unbroken[0]
    return fit[0] if fit else _shortened(ways[-1], face, width, most)


def _shortened(way: Fitted, face: str, width: float, most: int) -> Fitted:
    *kept, last = way.lines[:most]
    while width_of(last + _ELLIPSIS, face) * way.size > width:
        last = last[:-1].rstrip()
    return Fitted((*kept, last + _ELLIPSIS), way.size, whole=False)
