"""The gate of outline files: what is not plain, finite and small is refused before anything draws it.

The reader behind it (svgelements) forgives much: it takes `5%` for 5 and passes over transforms it does not know.
Whoever cuts along a line must know that it is the line they drew, so that here all stands as SVG 2 and CSS have it.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from foldwright.measure.length import millimetres

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

MOST_POINTS = 20_000
MOST_OPENINGS = 1000
_LONGEST, _FARTHEST = 40, 1e7
"""Characters of one number, and how large it may be: beyond that nothing is drawn that anybody could cut."""
_UNSAFE = frozenset({"script", "foreignobject", "image", "use", "animate", "animatetransform", "animatemotion", "set",
                     "iframe", "audio", "video", "a", "feimage"})  # fmt: skip
MM_PER_UNIT = {
    **{unit: float(millimetres(unit)) for unit in ("mm", "cm", "in")},
    "pt": float(millimetres("typographic point")),
    "pc": float(millimetres("pica")),
    "px": float(millimetres("pixel")),
    "q": float(millimetres("quarter millimetre")),
    "": float(millimetres("pixel")),
}
"""CSS Values 3: an inch is 96 px."""
_NUMBER = r"[-+]?(?:\d++\.?+\d*+|\.\d++)(?:[eE][-+]?\d++)?+"
_BETWEEN = r"[ \t\r\n\f]*+,?+[ \t\r\n\f]*+"
_NUMBERS = re.compile(_NUMBER)
_LENGTH = re.compile(rf"\s*({_NUMBER})\s*([a-zA-Z%]*)\s*")
_COUNTS = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "t": 2, "a": 7, "z": 1}
_TURNS = {"translate": (1, 2), "scale": (1, 2), "rotate": (1, 3), "skewx": (1,), "skewy": (1,), "matrix": (6,)}
"""How many numbers a transform takes (CSS Transforms 1)."""
_TRANSFORM = re.compile(rf"{_BETWEEN}([a-zA-Z]++)\s*\(([^()]*+)\){_BETWEEN}")


def _command(letter: str, count: int) -> str:
    """One command of a path as often as it is repeated (SVG 2, 9.3.9); the flags of an arc need nothing between."""
    one = rf"{_BETWEEN}{_NUMBER}"
    said = rf"(?:{one}){{3}}(?:{_BETWEEN}[01]){{2}}(?:{one}){{2}}" if letter == "a" else rf"(?:{one}){{{count}}}"
    return letter if letter == "z" else f"{letter}(?:{said})++"


@cache
def _any_command() -> re.Pattern[str]:
    """Made when the first file is read: it takes longer than all else at the start of a check."""
    commands = "|".join(_command(*counted) for counted in _COUNTS.items())
    return re.compile(rf"[ \t\r\n\f]*+({commands})[ \t\r\n\f]*+", re.IGNORECASE)


class PathError(Exception):
    """What stands in the file where numbers or a path should; `near` shows it."""

    def __init__(self, near: str) -> None:
        super().__init__(near)
        self.near = near[:20]


class OutOfInkError(Exception):
    """There are more points than may be drawn."""


class DoctypeError(Exception):
    """The file declares things: entities, which could make a short file endless and could name other files."""


def parsed(data: bytes) -> Element:
    """The file as a tree. Raises DoctypeError, and what the parser raises for what is no XML."""
    from xml.etree.ElementTree import TreeBuilder, XMLParser

    class Builder(TreeBuilder):
        # Told by the parser itself, whatever the file is encoded in.
        def doctype(self, *_: object) -> None:
            raise DoctypeError

    parser = XMLParser(target=Builder())
    parser.feed(data)
    return parser.close()


def plain_tag(tag: object) -> str:
    """A tag without its namespace, in small letters."""
    return str(tag).rpartition("}")[2].lower()


def unsafe_in(root: Element) -> str | None:
    """The first thing in a file that would run, fetch or move, as it stands there."""
    for element in root.iter():
        tag = plain_tag(element.tag)
        if tag in _UNSAFE:
            return f"<{tag}>"
        for name, value in element.attrib.items():
            plain = plain_tag(name)
            if plain.startswith("on"):
                return plain
            if plain in ("href", "src") and not value.startswith("#"):
                return plain
            if "url(" in value.lower() and "url(#" not in value.lower().replace('"', "").replace("'", ""):
                return "url("
        if tag == "style" and re.search(r"@import|url\(", element.text or "", re.IGNORECASE):
            return "<style>"
    return None


def number_of(text: str) -> float:
    """A number as SVG writes it. Raises PathError where it is too long or too large to mean anything."""
    value = float(text) if len(text) <= _LONGEST else _FARTHEST
    if not abs(value) < _FARTHEST:
        raise PathError(text)
    return value


def numbers_of(text: str) -> list[float]:
    """The numbers of a list, such as the corners of a polygon. Raises PathError where anything else stands in it."""
    if odd := _NUMBERS.sub("", text).replace(",", "").strip():
        raise PathError(text[text.index(odd[0]) :])
    return [number_of(number) for number in _NUMBERS.findall(text)]


def mm_of(text: str) -> float:
    """A length in millimetres. Raises PathError for what is none, or depends on what surrounds it."""
    match = _LENGTH.fullmatch(text) if len(text) <= _LONGEST else None
    unit = MM_PER_UNIT.get(match[2].lower()) if match else None
    if match is None or unit is None:
        raise PathError(text)
    return number_of(match[1]) * unit


def checked_path(d: str) -> str:
    """The `d` of a path as it is. Raises PathError where it is none, OutOfInkError where there is too much of it."""
    at = segments = closings = 0
    while at < len(d):
        match = _any_command().match(d, at)
        if match is None or (not segments and match[1] not in "Mm" and match[1][0] not in "Mm"):
            raise PathError(d[at:])
        numbers = _NUMBERS.findall(match[1])
        for number in numbers:
            number_of(number)
        kind, at = match[1][0].lower(), match.end()
        segments += max(1, len(numbers) // _COUNTS[kind])
        closings += kind == "z"
        # Each gives a point at least; and what is closed thousands of times takes the reader long.
        if segments > 2 * MOST_POINTS or closings > 2 * MOST_OPENINGS:
            raise OutOfInkError
    return d


def checked_transform(text: str) -> str:
    """A list of transforms as it is. Raises PathError."""
    at = 0
    while at < len(text):
        match = _TRANSFORM.match(text, at)
        if match is None or len(numbers_of(match[2])) not in _TURNS.get(match[1].lower(), ()):
            raise PathError(text[at:])
        at = match.end()
    return text
