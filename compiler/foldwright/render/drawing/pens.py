"""What the lines and tones of a drawing look like, in grey on paper and by custom property on a page.

Cut edges are continuous and wide, everything else narrow, two to one (ISO 128); folds are broken lines as in packaging
and paper folding: a score dashed, a valley long-dashed, a mountain dash-dot, a perforation dotted. The conventions
differ between trades, so every page carries a legend.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from msgspec import Struct

from foldwright.geometry.scene import LineKind, Stress, Tone

INK = "#1c1c1c"
FINE_INK = "#5c5c5c"
DOUBT_INK = "#a81e1e"

_DASHES: dict[LineKind, tuple[float, ...]] = {
    LineKind.SCORE: (9, 4),
    LineKind.VALLEY: (16, 4),
    LineKind.MOUNTAIN: (16, 4, 1, 4),
    LineKind.PERFORATION: (0.1, 4),
    LineKind.CENTRE: (),
    LineKind.GUIDE: (6, 5),
}
"""Dashes and gaps in line widths (a dash of 12 and a gap of 3 in ISO 128-2, opened a little for small pictures)."""

TONES: dict[Tone, str] = {
    Tone.GOOD: "#f1f1f1",
    Tone.PLAIN: "#ffffff",
    Tone.GLUE: "#dcdcdc",
    Tone.HOLE: "#ffffff",
    Tone.WASTE: "#ffffff",
    Tone.DOUBT: "#ffffff",
    Tone.TOOL: "#8c8c8c",
    Tone.TWINE: "#d8bd8a",
    Tone.RIBBON: "#c98a9b",
    Tone.TAPE: "#efe6b8",
    Tone.FOAM: "#ffffff",
    Tone.FOOD: "#d9a066",
    Tone.THING: "#bccad2",
}
SHADES: dict[Tone, tuple[str, ...]] = {
    Tone.GOOD: ("#d4d4d4", "#c2c2c2", "#acacac"),
    Tone.PLAIN: ("#ffffff", "#f7f7f7", "#ededed"),
    Tone.TOOL: ("#a2a2a2", "#8c8c8c", "#747474"),
    Tone.TWINE: ("#e3cd9f", "#d8bd8a", "#c4a76f"),
    Tone.RIBBON: ("#d79fae", "#c98a9b", "#b27284"),
    Tone.TAPE: ("#f5efcd", "#efe6b8", "#ddd29c"),
    Tone.FOAM: ("#ffffff", "#f1f1f1", "#dcdcdc"),
    Tone.FOOD: ("#e6b380", "#d9a066", "#c08950"),
    Tone.THING: ("#cfdae0", "#bccad2", "#a3b4be"),
}
"""The sides of a thing in space, from the one most in the light on: the good side is darker throughout than the plain
back, so that the two are told apart in grey."""
OTHER_PAPERS: tuple[tuple[str, ...], ...] = (("#e6e6e6", "#dadada", "#c8c8c8"), ("#b9b9b9", "#a8a8a8", "#949494"))
"""The good sides of a second and a third paper, lighter and darker; a fourth is as the first again."""
HATCHED = frozenset({Tone.WASTE, Tone.DOUBT})

SMALL_PICTURE = 70.0
"""Below this width in millimetres the next finer line group of ISO 128 is used."""


class Pens(Struct, frozen=True):
    """Line widths in millimetres, and the attributes each kind of line is drawn with."""

    narrow: float
    wide: float
    fine: float
    strokes: dict[LineKind, str]
    doubtful: dict[LineKind, str]
    strong: dict[LineKind, str]
    """The lines a step is about: twice as wide."""
    faint: dict[LineKind, str]
    """Lines of earlier steps."""

    def of(self, kind: LineKind, emphasis: Stress) -> str:
        sets = {Stress.DOUBTFUL: self.doubtful, Stress.STRONG: self.strong, Stress.FAINT: self.faint}
        return sets.get(emphasis, self.strokes)[kind]


@lru_cache(maxsize=8)
def pens_for(small: bool) -> Pens:
    """The wide line is 0.5 mm, in small pictures 0.35 mm; narrow lines are half of that."""
    wide = 0.35 if small else 0.5
    narrow = wide / 2
    plain = {kind: _attributes(kind, wide, narrow, INK) for kind in LineKind}
    doubtful = {kind: _attributes(kind, wide, narrow, DOUBT_INK) for kind in LineKind}
    strong = {kind: _attributes(kind, wide * 1.4, narrow * 2.2, INK) for kind in LineKind}
    faint = {kind: _attributes(kind, narrow, narrow * 0.8, FINE_INK) for kind in LineKind}
    return Pens(narrow, wide, round(narrow * 0.7, 3), plain, doubtful, strong, faint)


def shade_of(tone: Tone, shade: int, paper: int) -> str:
    """The fill of a side in space."""
    papers = (SHADES[tone], *OTHER_PAPERS) if tone is Tone.GOOD else (SHADES[tone],)
    return papers[paper % len(papers)][shade - 1]


def _attributes(kind: LineKind, wide: float, narrow: float, ink: str) -> str:
    width = wide if kind is LineKind.CUT else narrow
    name = "doubt-line" if ink == DOUBT_INK else f"fine {kind.value}" if ink == FINE_INK else f"line {kind.value}"
    if kind is LineKind.PERFORATION:
        width = narrow * 1.6
    if kind in (LineKind.CENTRE, LineKind.WASTE, LineKind.GUIDE):
        ink, width = FINE_INK if ink == INK else ink, narrow * 0.7
    dashes = _DASHES.get(kind, ())
    pattern = f' stroke-dasharray="{" ".join(f"{dash * width:.2f}" for dash in dashes)}"' if dashes else ""
    cap = ' stroke-linecap="round"' if kind is LineKind.PERFORATION else ""
    join = ' stroke-linejoin="round"' if kind in (LineKind.CUT, LineKind.CREASE, LineKind.INKED) else ""
    return f'class="{name}" fill="none" stroke="{ink}" stroke-width="{width:.3g}"{pattern}{cap}{join}'


STYLES = Path(__file__).with_name("drawing.css").read_text(encoding="utf-8")
"""Rules for a page's style sheet: a theme sets `--plan-ink`, `--plan-fold`, `--plan-good` and their like.

Where a theme gives the colour of a thing in space, each shade has seven hundredths of ink more than the one before.
"""
