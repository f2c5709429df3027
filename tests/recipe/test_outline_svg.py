"""Outlines from SVG files: read as an independent reader reads them, and refused where they should be."""

from __future__ import annotations

import io
from math import cos, pi, sin

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from foldwright.finding import Strength
from foldwright.pipeline import check_recipe
from foldwright.recipe.outline_svg import MOST_BYTES, Outline, Refused, read_outline

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">'


def svg(inner: str, head: str = HEAD) -> bytes:
    return f"{head}{inner}</svg>".encode()


def path(d: str) -> bytes:
    return svg(f'<path d="{d}"/>')


def outline(data: bytes) -> Outline:
    found = read_outline(data)
    assert isinstance(found, Outline), found
    return found


CURVED = (
    "M10 10 h60 v40 h-60 z",
    "M10,50 C10,20 50,10 80,30 S90,90 50,90 S10,80 10,50 Z",
    "M20 20 Q50 0 80 20 T80 80 Q50 100 20 80 Z",
    "M10 50 A40 40 0 1 1 90 50 A40 40 0 0 1 10 50 Z",
    "M10 60a30 20 30 1 1 40 10l-5 5z",
    "m 10 10 60 0 0 50 c -10 20 -40 20 -60 0 z",
    "M10 10H90V90H10Z",
    "M30 10a20 20 0 0140 0v60h-40z",
)


@pytest.mark.parametrize("d", CURVED)
def test_curves_are_read_as_svgelements_reads_them(d: str) -> None:
    """Area and box of a fine polygon of the path by svgelements (MIT), which had no part in this."""
    found = outline(path(d))
    other = svgelements.Path(d)
    points = [other.point(step / 4000) for step in range(4000)]
    wanted = Polygon([(point.x, point.y) for point in points])
    left, top, right, bottom = other.bbox()
    assert (found.width, found.height) == pytest.approx((right - left, bottom - top), abs=0.03)
    assert Polygon(found.points).area == pytest.approx(wanted.area, rel=2e-3)


@pytest.mark.parametrize(
    "shape",
    [
        '<rect x="5" y="6" width="40" height="30"/>',
        '<rect x="5" y="6" width="40" height="30" rx="8"/>',
        '<circle cx="50" cy="50" r="20"/>',
        '<ellipse cx="50" cy="50" rx="30" ry="10"/>',
        '<polygon points="10,10 60,20 40,70"/>',
        '<g transform="translate(10 5) rotate(30)"><rect width="20" height="10"/></g>',
        '<g transform="scale(2)"><g transform="matrix(1 0.2 0 1 3 4)"><rect width="20" height="10"/></g></g>',
        '<rect transform="skewX(20) rotate(10 5 5)" width="20" height="10"/>',
    ],
)
def test_shapes_and_transforms_are_read_as_svgelements_reads_them(shape: str) -> None:
    found = outline(svg(shape))
    read = svgelements.SVG.parse(io.BytesIO(svg(shape)), ppi=25.4, reify=True)
    (own,) = [one for one in read.elements() if isinstance(one, svgelements.Shape)]
    left, top, right, bottom = svgelements.Path(own).bbox()
    assert (found.width, found.height) == pytest.approx((right - left, bottom - top), abs=0.03)


def test_units_are_those_of_css() -> None:
    """CSS Values 3: an inch is 25.4 mm and 96 px; a view box says how many units that is."""
    square = '<rect width="2" height="2"/>'
    for head, side in (
        ('<svg width="2in" height="2in" viewBox="0 0 2 2">', 50.8),
        ('<svg width="5cm" height="5cm" viewBox="0 0 10 10">', 10.0),
        ('<svg viewBox="0 0 2 2">', 2 * 25.4 / 96),
        ("<svg>", 2 * 25.4 / 96),
    ):
        data = svg(square.replace("2", "20") if side < 1 else square, head)
        assert outline(data).width == pytest.approx(side if side >= 1 else side * 10, rel=1e-9)


def test_what_lies_inside_is_an_opening() -> None:
    found = outline(path("M0 0H80V60H0Z M20 20H40V40H20Z"))
    assert (found.width, found.height) == (80, 60) and len(found.inner) == 1
    assert Polygon(found.inner[0]).area == pytest.approx(400)


REFUSED = {
    "outline-open": path("M10 10 L60 10 L60 50"),
    "outline-crosses-itself": path("M10 10 L60 60 L60 10 L10 60 Z"),
    "outline-none": svg("<g/>"),
    "outline-several": path("M0 0H20V20H0Z M50 50H80V80H50Z"),
    "outline-unreadable": b"<svg><path></svg>",
    "outline-absurd": svg('<rect width="90" height="90"/>', '<svg width="90000mm" viewBox="0 0 1 1">'),
    "outline-path": path("M10 10 L banana"),
    "outline-too-large": b"<svg>" + b" " * MOST_BYTES + b"</svg>",
}


@pytest.mark.parametrize("code", REFUSED)
def test_what_is_no_outline_is_refused_with_a_reason(code: str) -> None:
    found = read_outline(REFUSED[code])
    assert isinstance(found, Refused) and found.code == code


@pytest.mark.parametrize(
    "inner",
    [
        "<script>alert(1)</script>",
        '<rect width="9" height="9" onclick="x()"/>',
        '<image href="other.png"/>',
        '<use href="https://harbourstreet.example/a.svg#b"/>',
        "<foreignObject><p>x</p></foreignObject>",
        '<rect width="9" height="9"><animate attributeName="x"/></rect>',
        '<rect width="9" height="9" style="fill:url(https://harbourstreet.example/x)"/>',
        "<style>@import 'x.css'</style>",
    ],
)
def test_what_could_run_or_fetch_is_refused(inner: str) -> None:
    found = read_outline(svg('<rect width="50" height="50"/>' + inner))
    assert isinstance(found, Refused) and found.code == "outline-unsafe"


def test_entities_are_refused() -> None:
    data = b'<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "b">]>' + path("M0 0H9V9H0Z")
    found = read_outline(data)
    assert isinstance(found, Refused) and found.code == "outline-unsafe"


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda text: path(text.replace('"', "").replace("<", ""))))
def test_nothing_raises(data: bytes) -> None:
    assert isinstance(read_outline(data), Outline | Refused)


@settings(max_examples=200, deadline=None)
@given(st.lists(st.floats(5.0, 45.0), min_size=3, max_size=24))
def test_a_star_round_a_point_comes_back_as_it_was(arms: list[float]) -> None:
    turns = [2 * pi * at / len(arms) for at in range(len(arms))]
    spots = [(50 + arm * cos(turn), 50 + arm * sin(turn)) for arm, turn in zip(arms, turns, strict=True)]
    found = outline(path("M" + "L".join(f"{x:.6f} {y:.6f}" for x, y in spots) + "Z"))
    assert Polygon(found.points).area == pytest.approx(Polygon(spots).area, rel=1e-6)


RECIPE = """---
title: Front
measured in: millimetres
makes: 1
supplies:
  card: cardstock, sheet A4
tools:
  - scissors
pieces:
  front:
    from: card
{size}    outline: {outline}
---

## Cut the front

do: cut front
time: 1 min
"""


def codes(name: str, size: str = "    size: 60 x 40 mm\n", file: bytes | None = None) -> dict[str, Strength]:
    def read(path: str, at_most: int) -> object:
        return file

    checked = check_recipe(RECIPE.format(outline=name, size=size), "r.md", "r", read=read)
    return {one.code: one.strength for one in checked.findings if one.code.startswith("outline")}


def test_an_outline_keeps_its_proportions() -> None:
    assert codes("front.svg", file=path("M0 0H60V40H0Z")) == {}
    assert codes("front.svg", file=path("M0 0H60V50H0Z")) == {"outline-askew": Strength.MISFIT}
    assert codes("front.svg", file=None) == {"outline-missing": Strength.MISFIT}
    assert codes("front.svg", size="", file=path("M0 0H60V50H0Z")) == {}
    assert codes("heart") == {} and codes("house") == {}
    assert codes("banana") == {"outline-unknown": Strength.MISFIT}


def test_a_hole_beyond_the_outline_is_off_the_piece() -> None:
    """The roof slopes from the middle of the top: near a top corner there is no paper."""
    for place, off in (("edge 2 mm from the left, edge 2 mm from the top", True), ("centred", False)):
        text = RECIPE.format(outline="house", size=f"    size: 60 x 60 mm\n    holes: round 6 mm, {place}\n")
        found = {one.code for one in check_recipe(text, "r.md", "r").findings}
        assert ("hole-off-the-piece" in found) is off
