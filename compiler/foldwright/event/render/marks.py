"""What pictures of an event are made of: inks, textures that tell things apart in grey, boxes and words as SVG."""

from __future__ import annotations

from html import escape
from math import ceil, floor

from msgspec import Struct

from foldwright.render.drawing.label import width_of
from foldwright.render.themes import Composition

type Spot = tuple[float, float, float, float]
"""A box on a picture in millimetres: left, top, right, bottom."""

_FACE = "Foldwright Sans"
TEXT = 2.65
"""Millimetres: 7 1/2 points."""
LEAST_TEXT = 2.3
"""Millimetres: 6 1/2 points. What would be smaller stands in a key."""


class Inks(Struct, frozen=True):
    """The inks of a look. `tints` are of one lightness, so that textures tell them apart on every printer.

    `badge` is the ground of the numbers of cuts, `signal` what is written on it, `grid` the ink of a ruled ground.
    """

    ink: str
    soft: str
    paper: str
    waste: str
    badge: str
    signal: str
    rule: str
    tints: tuple[str, ...]
    grid: str = ""


_BOOK = Inks(
    "#1c2b33",
    "#51626a",
    "#ffffff",
    "#efede7",
    "#ffffff",
    "#1c2b33",
    "#c9d4d4",
    ("#dbe9ee", "#f4e3cf", "#dfead6", "#ecdfea", "#f3ecc8", "#d9e0f0"),
)
_SHOP = Inks(
    "#17181a", "#55585c", "#ffffff", "#ffffff", "#ffcf33", "#17181a", "#d2d3d1", ("#ffffff", "#f1f1ee"), "#cfd6d3"
)
_HOUSE = Inks("#221d18", "#61574c", "#ffffff", "#ffffff", "#ffffff", "#8c2418", "#d9cdb8", ("#f7f0e2", "#fffdf8"))
INKS = {
    Composition.PICTURE_BOOK: _BOOK,
    Composition.SHOP_DRAWING: _SHOP,
    Composition.HOUSEHOLD_BOOK: _HOUSE,
}


def svg(width: float, height: float, body: str, describes: str) -> str:
    """A whole picture, so many millimetres wide and high."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.2f} {height:.2f}" role="img" '
        f'font-family="{_FACE}"><title>{escape(describes)}</title>{body}</svg>'
    )


def box(spot: Spot, fill: str, ink: str, line: float = 0.2, *, dashed: bool = False, round_: float = 0.0) -> str:
    """A box with its outline."""
    left, top, right, bottom = spot
    more = ' stroke-dasharray=".8 .6"' if dashed else ""
    more += f' rx="{round_:.2f}"' if round_ else ""
    return (
        f'<rect x="{left:.2f}" y="{top:.2f}" width="{right - left:.2f}" height="{bottom - top:.2f}" fill="{fill}" '
        f'stroke="{ink}" stroke-width="{line}"{more}/>'
    )


def ground(spot: Spot, fill: str) -> str:
    """A plain ground without an outline."""
    left, top, right, bottom = spot
    return f'<path d="M{left:.2f} {top:.2f}H{right:.2f}V{bottom:.2f}H{left:.2f}Z" fill="{fill}"/>'


def line(path: str, ink: str, width: float = 0.2) -> str:
    """A path that is drawn and not filled."""
    return f'<path d="{path}" fill="none" stroke="{ink}" stroke-width="{width}"/>' if path else ""


def words(
    text: str,
    x: float,
    y: float,
    size: float,
    fill: str,
    *,
    turned: bool = False,
    middle: bool = False,
    anchor: str = "middle",
) -> str:
    """A line of words whose base is at `y`, or whose `middle` is."""
    # The middle of a line of small letters stands about a third of their size above the line.
    y += size * 0.34 if middle and not turned else 0.0
    x += size * 0.34 if middle and turned else 0.0
    # A page colours the words of its drawings as it likes, but those on dark ground.
    light = ' class="light"' if fill == "#ffffff" else ""
    turn = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if turned else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:.2f}" fill="{fill}" text-anchor="{anchor}"{turn}{light}>'
        f"{escape(text)}</text>"
    )


def wrapped(text: str, room: float) -> list[str]:
    """The words in lines no longer than the room."""
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and width_of(longer) * TEXT > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


# --- textures ---------------------------------------------------------------------------------------------------------

_APART = 1.5
_CLEAR = 0.45
"""No line of a texture runs so close to an edge."""
_THIN = 0.13
TEXTURES = 6
"""So many kinds are told apart; those that follow begin again with the first, which is plain."""


def texture(kind: int, spot: Spot, ink: str) -> str:
    """What tells a kind of thing from others without any colour: lines one way or another, or none."""
    return line("".join(_lines(kind % TEXTURES, spot)), ink, _THIN)


def _lines(which: int, spot: Spot) -> list[str]:
    left, top, right, bottom = spot
    upright = [f"M{x:.2f} {top:.2f}V{bottom:.2f}" for x in _steps(left + _CLEAR, right - _CLEAR, _APART)]
    level = [f"M{left:.2f} {y:.2f}H{right:.2f}" for y in _steps(top + _CLEAR, bottom - _CLEAR, _APART)]
    short = [
        f"M{x:.2f} {y:.2f}h.5"
        for row, y in enumerate(_steps(top, bottom, 0.9))
        for x in _steps(left, right - 0.5, _APART, row % 2 * _APART / 2)
    ]
    return ([], upright, short, level, _slanting(spot, 2.0, -1), upright + level)[which]


def hatch(spot: Spot, ink: str, apart: float = 1.3) -> str:
    """Slanting lines over what is waste."""
    return line("".join(_slanting(spot, apart, 1)), ink, 0.16)


def _steps(begin: float, end: float, apart: float, shift: float = 0.0) -> list[float]:
    """Places between two ends, on one grid for the whole picture."""
    first = floor((begin - shift) / apart) + 1
    return [number * apart + shift for number in range(first, ceil((end - shift) / apart))]


def _slanting(spot: Spot, apart: float, way: int) -> list[str]:
    """Lines at 45 degrees, one way (x + y is the same all along) or the other (x - y is), cut at the box's edges."""
    left, top, right, bottom = spot
    reach = (left + top, right + bottom) if way > 0 else (left - bottom, right - top)
    paths = []
    for at in _steps(*reach, apart * 2**0.5):
        begin, end = (
            (max(left, at - bottom), min(right, at - top))
            if way > 0
            else (
                max(left, at + top),
                min(right, at + bottom),
            )
        )
        paths.append(f"M{begin:.2f} {way * (at - begin):.2f}L{end:.2f} {way * (at - end):.2f}")
    return paths


def grid(wide: float, high: float, apart: float, ink: str) -> str:
    """A ruled ground."""
    upright = [f"M{x:.2f} 0V{high:.2f}" for x in _steps(0.0, wide, apart)]
    level = [f"M0 {y:.2f}H{wide:.2f}" for y in _steps(0.0, high, apart)]
    return line("".join((*upright, *level)), ink, 0.1)
