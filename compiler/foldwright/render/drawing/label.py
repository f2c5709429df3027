"""A label as it will be drawn: letters, and fractions in the type's own figures, with its width known beforehand."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from html import escape
from pathlib import Path

from msgspec import Struct

LINE_HEIGHT = 0.98
"""The room a line of label needs across, in ems: figures and the letters that hang below."""
GAP = "\u202f"
"""What parts a whole number and its fraction, once: `1 1⁄4` set close reads as eleven quarters."""
EITHER = " / "
"""Between one length in two units: `1¼ in / 32 mm`."""
ROOM = 1.06
"""Labels are given six in a hundred more than Source Sans needs: a theme may set them in a wider face."""

_FRACTION = re.compile("(?P<space>[ \u202f\u00a0]?)(?P<over>[0-9]+)\u2044(?P<under>[0-9]+)")
_SIGNS = {
    "1⁄2": "½",
    "1⁄4": "¼",
    "3⁄4": "¾",
    "1⁄8": "⅛",
    "3⁄8": "⅜",
    "5⁄8": "⅝",
    "7⁄8": "⅞",
}
"""The fractions that are one sign; all others are raised figures, the fraction slash and lowered ones."""
_RAISED, _LOWERED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹"), str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


_BUILT = 0.88
"""The size of such raised and lowered figures: by themselves they are larger than those of the signs."""


class FractionCut(Struct, frozen=True, eq=False):
    """How large fractions are set: the type size of their signs and the room a line with them needs across, in ems."""

    part: float
    height: float = LINE_HEIGHT


SMALL_PARTS = FractionCut(part=1.1)
"""For screens, which can be drawn nearer."""
LARGE_PARTS = FractionCut(part=1.25, height=1.1)
"""For paper: of text of 8 points the fractions have 10. Their signs rise 0.65 em over the base line."""


class Label(Struct, frozen=True):
    """`parts` are plain letters and fractions in turn, beginning with letters; `width` is in ems."""

    text: str
    parts: tuple[str, ...]
    width: float
    cut: FractionCut = SMALL_PARTS

    @property
    def height(self) -> float:
        """The room it needs across, in ems."""
        return self.cut.height if len(self.parts) > 1 else LINE_HEIGHT


@lru_cache(maxsize=4096)
def label_of(text: str, cut: FractionCut = SMALL_PARTS) -> Label:
    """Cut a text such as `4 1⁄8 in` at its fractions."""
    parts: list[str] = []
    at = 0
    for match in _FRACTION.finditer(text):
        letters = text[at : match.start()]
        whole = letters[-1:].isdigit()
        parts += [letters + (GAP if whole else match["space"]), fraction_sign(match["over"], match["under"])]
        at = match.end()
    parts.append(text[at:])
    width = sum(width_of(part) * (_size(part, cut) if number % 2 else 1.0) for number, part in enumerate(parts))
    return Label(text, tuple(parts), width * ROOM, cut)


def _size(fraction: str, cut: FractionCut) -> float:
    return cut.part if len(fraction) == 1 else cut.part * _BUILT


def fraction_sign(over: str, under: str) -> str:
    """`¼`, or `⁹⁄₁₆` where there is no sign of its own."""
    known = _SIGNS.get(f"{over}\u2044{under}")
    return known or f"{over.translate(_RAISED)}\u2044{under.translate(_LOWERED)}"


@lru_cache(maxsize=4096)
def label_markup(label: Label, size: float) -> str:
    """The inside of an SVG text element of this type size."""
    return "".join(
        f'<tspan font-size="{size * _size(part, label.cut):.2f}">{part}</tspan>' if number % 2 else escape(part, False)
        for number, part in enumerate(label.parts)
    )


_WIDTHS = Path(__file__).with_name("letter_widths.toml").read_text(encoding="utf-8")
LETTER_WIDTHS: dict[str, int] = {
    letter: int(wide) for wide, letters in tomllib.loads(_WIDTHS).items() for letter in letters
}

OTHER_LETTER = 600
"""A guess on the wide side for a letter the table does not hold."""


def width_of(text: str) -> float:
    """The width of a text set without kerning, as a multiple of its type size."""
    widths = LETTER_WIDTHS
    return sum([widths.get(letter, OTHER_LETTER) for letter in text]) / 1000
