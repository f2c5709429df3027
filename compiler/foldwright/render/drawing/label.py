"""A label as it will be drawn: plain letters and real fractions, with its width known beforehand."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from html import escape
from pathlib import Path

from msgspec import Struct

LINE_HEIGHT = 0.98
"""The room a line of label needs across, in ems: figures and the letters that hang below."""
AFTER_WHOLE = 0.08
STROKE_RISE = 0.02
ROOM = 1.06
"""Labels are given six in a hundred more than Source Sans needs: a theme may set them in a wider face."""

_FRACTION = re.compile("(?P<space>[ \u202f\u00a0]?)(?P<over>[0-9]+)\u2044(?P<under>[0-9]+)")


class FractionCut(Struct, frozen=True, eq=False):
    """How fractions are set, in ems. The stroke is an ordinary slash, tucked under the figures by `tight`.

    The real fraction slash would make some shapers turn all figures near it into fraction figures of their own, on top
    of these, while others set the letters of a drawing one by one and make none.
    """

    part: float
    """The type size of numerator and denominator."""
    rise: float
    """How far a numerator is raised, so that its top is about level with the whole figures beside it or a little
    above."""
    drop: float
    """How far a denominator is lowered, to keep it apart from the stroke."""
    stroke: float
    tight: float
    height: float = LINE_HEIGHT
    """The room a line with a fraction needs across."""


SMALL_PARTS = FractionCut(part=0.64, rise=0.28, drop=0.05, stroke=0.88, tight=0.07)
"""For screens, which can be drawn nearer: a little larger than the font's own fraction figures."""
LARGE_PARTS = FractionCut(part=0.88, rise=0.235, drop=0.14, stroke=1.2, tight=0.09, height=1.15)
"""For paper: every figure of a fraction in text of 8 points has at least 7. Its stroke rises 0.55 em over the middle of
the line."""


class Label(Struct, frozen=True):
    """`parts` are plain letters and (numerator, denominator) in turn, beginning with letters; `width` is in ems."""

    text: str
    parts: tuple[str | tuple[str, str], ...]
    width: float
    cut: FractionCut = SMALL_PARTS

    @property
    def height(self) -> float:
        """The room it needs across, in ems."""
        return self.cut.height if len(self.parts) > 1 else LINE_HEIGHT


@lru_cache(maxsize=4096)
def label_of(text: str, cut: FractionCut = SMALL_PARTS) -> Label:
    """Cut a text such as `4 1⁄8 in` at its fractions; the space before a fraction goes, its figures stand close."""
    parts: list[str | tuple[str, str]] = []
    width, at = 0.0, 0
    for match in _FRACTION.finditer(text):
        letters = text[at : match.start()]
        space = match["space"] if letters and not letters[-1].isdigit() else ""
        parts += [letters + space, (match["over"], match["under"])]
        width += width_of(letters + space) + (AFTER_WHOLE if letters else 0.0)
        width += cut.part * width_of(match["over"] + match["under"])
        width += cut.stroke * width_of("/") - 2 * cut.tight
        at = match.end()
    parts.append(text[at:])
    return Label(text, tuple(parts), (width + width_of(text[at:])) * ROOM, cut)


@lru_cache(maxsize=4096)
def label_markup(label: Label, size: float) -> str:
    """The inside of an SVG text element of this type size."""
    if len(label.parts) == 1:
        return escape(label.text, quote=False)
    cut = label.cut
    small, stroke = f"{size * cut.part:.2f}", f"{size * cut.stroke:.2f}"
    rise, fall = size * cut.rise, size * (cut.rise - STROKE_RISE)
    drop, back = size * (cut.drop + STROKE_RISE), size * cut.drop
    tight = f"{size * cut.tight:.2f}"
    lowered = False
    out: list[str] = []
    for part in label.parts:
        if isinstance(part, str):
            # The base line stays where the last denominator left it, so the letters after it are lifted back.
            lift = f' dy="-{back:.2f}"' if lowered and part else ""
            lowered = lowered and not part
            letters = escape(part, quote=False)
            out.append(f"<tspan{lift}>{letters}</tspan>" if lift else letters)
            continue
        gap = f' dx="{size * AFTER_WHOLE:.2f}"' if out[-1] else ""
        up = rise + (back if lowered else 0.0)
        out.append(
            f'<tspan font-size="{small}"{gap} dy="-{up:.2f}">{part[0]}</tspan>'
            f'<tspan font-size="{stroke}" dx="-{tight}" dy="{fall:.2f}">/</tspan>'
            f'<tspan font-size="{small}" dx="-{tight}" dy="{drop:.2f}">{part[1]}</tspan>'
        )
        lowered = True
    return "".join(out)


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
