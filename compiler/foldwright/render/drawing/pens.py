"""What the lines and tones of a drawing look like, in grey on paper and by custom property on a page.

Four pens, on every page and paper: for what is cut, for the edges of what is there, for folds, for dimensions. Their
widths are of the series of ISO 128-2, folds half as wide as cuts. Folds are broken lines as in packaging and paper
folding: a valley dashed, a mountain dash-dot, a fold whose way is not said in short dashes, a perforation dotted. The
conventions differ between trades, so every page carries a legend.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import hypot
from pathlib import Path

from foldwright.geometry.scene import LineKind, PaperLook, Point, Stress, Tone
from foldwright.vocabulary.colours import contrast, lightness, mixed

CUT, EDGE, SCORE, FINE = 0.5, 0.35, 0.25, 0.18
"""Widths in millimetres: of cuts, of edges (and of folds a step is about), of scores, of dimensions (and of all that
is faint)."""
INK = "#1c1c1c"
LIGHT_INK = "#f6f6f6"
"""Lines on dark paper."""
FINE_INK = "#4c4c4c"
DOUBT_INK = "#a81e1e"
LEGIBLE = 3.0
"""The least contrast of a line and what it is drawn on (WCAG 2.2, 1.4.11)."""

_DOT = 0.01
"""As long as its round ends make it."""
_DASHES: dict[LineKind, tuple[float, ...]] = {
    LineKind.SCORE: (0.9, 0.6),
    LineKind.VALLEY: (2.6, 0.9),
    LineKind.MOUNTAIN: (2.6, 0.7, 0.3, 0.7),
    LineKind.PERFORATION: (_DOT, 1.1),
    LineKind.GUIDE: (_DOT, 0.75),
}
"""Dashes and gaps in millimetres."""
_DOTTED = frozenset({LineKind.PERFORATION, LineKind.GUIDE})
_PERIODS = 3
"""A line that shows fewer of them might be of another kind."""
_FINEST = 0.36
"""Dashes are never smaller than this part of their size: then a dash of a mountain is a millimetre long."""

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
    Tone.BOUGHT: "#faf8f4",
    Tone.FOOD: "#d9a066",
    Tone.THING: "#bccad2",
}
SHADES: dict[Tone, tuple[str, ...]] = {
    Tone.TOOL: ("#a2a2a2", "#8c8c8c", "#747474"),
    Tone.TWINE: ("#e3cd9f", "#d8bd8a", "#c4a76f"),
    Tone.RIBBON: ("#d79fae", "#c98a9b", "#b27284"),
    Tone.TAPE: ("#f5efcd", "#efe6b8", "#ddd29c"),
    Tone.BOUGHT: ("#fbf9f5", "#f3f0ea", "#e4e0d8"),
    Tone.FOAM: ("#ffffff", "#f1f1f1", "#dcdcdc"),
    Tone.FOOD: ("#e6b380", "#d9a066", "#c08950"),
    Tone.THING: ("#cfdae0", "#bccad2", "#a3b4be"),
}
"""The sides of what is no paper, from the one most in the light on."""
ANY_PAPER = PaperLook("#dcd8cf", "#f7f5f1")
"""Where nobody says of what paper something is."""
_SHADED = (0.0, 0.05, 0.11)
"""How much ink a side of paper has in its colour, from the one most in the light on."""
_PALEST_WASH, _DARKEST_WASH = 95.0, 79.0
"""A flat plan is washed in its paper's colour, lighter the darker that is: lines and words on it are the page's own and
must be read. Between these lightnesses (CIE L*) the order of papers is kept."""
HATCHED = frozenset({Tone.WASTE, Tone.DOUBT})


def paper_tone(paper: PaperLook, good: bool, shade: int) -> str:
    """The colour of a side of paper in space."""
    return mixed(paper.front if good else paper.back, INK, _SHADED[shade - 1])


def wash_of(tone: str) -> float:
    """How opaque a paper's colour lies on the white of a flat plan."""
    light = lightness(tone)
    wanted = _DARKEST_WASH + (_PALEST_WASH - _DARKEST_WASH) * light / 100
    return min(1.0, round((100 - wanted) / max(100 - light, 1.0), 2))


def is_dark(tone: str) -> bool:
    """Whether dark lines would not show on it."""
    return contrast(tone, INK) < LEGIBLE


def dash_scale(lines: Iterable[tuple[LineKind, Sequence[Point]]], scale: float) -> float:
    """How large the dashes of a picture are, so that the shortest of its broken lines shows three of each."""
    most = 1.0
    for kind, points in lines:
        if dashes := _DASHES.get(kind):
            long = sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(points))
            most = min(most, long * scale / (_PERIODS * sum(dashes)))
    return max(_FINEST, round(most, 2))


@lru_cache(maxsize=512)
def pen_of(kind: LineKind, emphasis: Stress = Stress.PLAIN, dashes: float = 1.0, ink: str = "") -> str:
    """The attributes of a line. `ink` is that of an edge on a sheet of paper, which no theme changes."""
    faint, doubt = emphasis is Stress.FAINT or kind in _FINE_KINDS, emphasis is Stress.DOUBTFUL
    # Light lines on dark paper look wider than they are.
    width = FINE if ink == LIGHT_INK else _width(kind, emphasis)
    if ink:
        name, colour = kind.value if kind in _FINE_KINDS else "edge", ink
    elif doubt:
        name, colour = "doubt-line", DOUBT_INK
    else:
        name, colour = (f"fine {kind.value}", FINE_INK) if faint else (f"line {kind.value}", INK)
    broken = " ".join(f"{max(part * dashes, _DOT):.2f}" for part in _DASHES.get(kind, ()))
    pattern = f' stroke-dasharray="{broken}"' if broken else ""
    cap = ' stroke-linecap="round"' if kind in _DOTTED else ""
    join = "" if broken or kind in _FINE_KINDS else ' stroke-linejoin="round"'
    return f'class="{name}" fill="none" stroke="{colour}" stroke-width="{width}"{pattern}{cap}{join}'


_FINE_KINDS = frozenset({LineKind.CENTRE, LineKind.WASTE, LineKind.GUIDE})
"""Kinds of line that are never more than a help to the eye."""


def _width(kind: LineKind, emphasis: Stress) -> float:
    if emphasis is Stress.FAINT or kind in (LineKind.CENTRE, LineKind.WASTE):
        return FINE
    if kind is LineKind.CUT:
        return CUT
    return EDGE if kind is LineKind.EDGE or emphasis is Stress.STRONG or kind is LineKind.PERFORATION else SCORE


STYLES = Path(__file__).with_name("drawing.css").read_text(encoding="utf-8")
"""Rules for a page's style sheet: a theme sets `--plan-ink`, `--plan-fold`, `--plan-wash` and their like."""
