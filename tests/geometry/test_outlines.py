"""Outlines from SVG files: read as an independent reader reads them, and refused where they should be."""

from __future__ import annotations

import io
from math import cos, pi, sin
from xml.etree.ElementTree import Element

import pytest
import resvg_py
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from shapely.geometry import Polygon

from foldwright.document.catalogue import catalogue
from foldwright.finding import Strength
from foldwright.geometry.folding.subdividing import net_of
from foldwright.geometry.outlines.curves import Ink, subpaths
from foldwright.geometry.outlines.gate import MOST_OPENINGS, MOST_POINTS, OutOfInkError
from foldwright.geometry.outlines.svg import MOST_BYTES, Outline, Refused, read_outline
from foldwright.pipeline import check_recipe
from workbench.long import tries

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


SHAPES = (
    '<rect x="5" y="6" width="40" height="30"/>',
    '<rect x="5" y="6" width="40" height="30" rx="8"/>',
    '<rect x="5" y="6" width="40" height="30" rx="80" ry="4"/>',
    '<circle cx="50" cy="50" r="20"/>',
    '<ellipse cx="50" cy="50" rx="30" ry="10"/>',
    '<polygon points="10,10 60,20 40,70"/>',
    '<g transform="translate(10 5) rotate(30)"><rect width="20" height="10"/></g>',
    '<g transform="scale(2)"><g transform="matrix(1 0.2 0 1 3 4)"><rect width="20" height="10"/></g></g>',
    '<g transform="translate(30)"><g transform="rotate(20), scale(2 1)"><circle cx="20" cy="20" r="9"/></g></g>',
    '<g transform="skewY(25)"><path d="M10 30 A30 12 40 1 1 60 30 A30 12 40 1 1 10 30 z" transform="scale(.8 1)"/></g>',
    '<rect transform="skewX(20) rotate(10 5 5)" width="20" height="10"/>',
)
FINE, SIDE = 12, 127
"""Pixels a millimetre is drawn with for comparison, and its side in mm: 5 in, which are whole pixels of CSS."""


@pytest.mark.parametrize("inner", [*(f'<path d="{d}"/>' for d in CURVED), *SHAPES])
def test_what_is_read_is_what_a_renderer_draws(inner: str) -> None:
    """resvg (written in Rust, on its own) draws the file; what is inked there has the box and area of what was read."""
    data = svg(inner, '<svg xmlns="http://www.w3.org/2000/svg" width="127mm" height="127mm" viewBox="-13 -13 127 127">')
    found = outline(data)
    drawn = resvg_py.svg_to_bytes(svg_string=data.decode(), width=SIDE * FINE, dpi=96)
    ink = Image.open(io.BytesIO(bytes(drawn))).getchannel("A")
    left, top, right, bottom = ink.getbbox() or (0, 0, 0, 0)
    assert min(left, top) > 0 and max(right, bottom) < SIDE * FINE, "all of it is on the picture"
    assert (found.width, found.height) == pytest.approx(((right - left) / FINE, (bottom - top) / FINE), abs=2 / FINE)
    wanted = sum(shade * count for shade, count in enumerate(ink.histogram())) / 255 / FINE**2
    assert Polygon(found.points).area == pytest.approx(wanted, rel=2e-3)


def test_a_file_in_whole_numbers_gives_whole_numbers() -> None:
    """The corners of a piece are fractions: none is a hair off because the file passed through floats."""
    data = path("M0 0h60v17l-13 23h-34l-13-23z")
    found = check_recipe(RECIPE.format(size="", outline="a.svg"), "r.md", "r", read=lambda name, most: data)
    assert found.understood is not None
    corners = {tuple(spot) for spot in found.understood.flat.blanks[0].outline}
    assert corners == {(0, 0), (60, 0), (60, 17), (47, 40), (13, 40), (0, 17)}


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


@pytest.mark.parametrize("code", REFUSED)
def test_what_is_no_outline_is_told_where_it_is_named(code: str) -> None:
    text = RECIPE.format(size="", outline="a.svg")
    told = check_recipe(text, "r.md", "r", read=lambda name, most: REFUSED[code]).findings
    (finding,) = [one for one in told if one.code == code]
    assert finding.place is not None and text[finding.place.start :].startswith("a.svg")
    assert "{" not in catalogue().say(f"{code}.says", **dict(finding.facts))


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


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_entities_are_refused_in_every_encoding(encoding: str) -> None:
    text = f'<?xml version="1.0" encoding="{encoding}"?><!DOCTYPE svg [<!ENTITY a "b">]>' + path("M0 0H9V9H0Z").decode()
    found = read_outline(text.encode(encoding))
    assert isinstance(found, Refused) and found.code == "outline-unsafe"


NO_NUMBERS = ("nan", "NaN", "inf", "-inf", "Infinity", "1e400", "1e308", "-1e308", "abc", "1e", "5%", "2em", "9" * 500)
ODD = {
    **{f"x {said}": svg(f'<rect width="50" height="40" x="{said}"/>') for said in NO_NUMBERS},
    **{f"rx {said}": svg(f'<rect width="50" height="40" rx="{said}"/>') for said in (*NO_NUMBERS, "-5")},
    **{f"r {said}": svg(f'<circle cx="50" cy="50" r="{said}"/>') for said in (*NO_NUMBERS, "-5")},
    **{f"height {said}": svg(f'<rect width="50" height="{said}"/>') for said in (*NO_NUMBERS, "-5")},
    **{f"corner {said}": svg(f'<polygon points="1,1 50,{said} 50,50"/>') for said in NO_NUMBERS},
    **{
        f"path {command} {said}": path(f"M1 1 {command} {said} L30 50z")
        for command in ("L50", "C1 1 2 2 50", "S1 1 50", "Q2 2 50", "T50", "A5 5 0 1 1 50", "A", "M", "H", "V")
        for said in NO_NUMBERS
    },
    **{
        f"{turn} {said}": svg(f'<g transform="{turn}({said})"><rect width="20" height="10"/></g>')
        for turn in ("rotate", "skewX", "skewY", "matrix", "nothing")
        for said in NO_NUMBERS
    },
    "a bracket left open": svg(f'<rect width="20" height="10" transform="{"rotate(" * 60_000}"/>'),
    "one long word": svg(f'<rect width="20" height="10" transform="{"a" * 400_000}"/>'),
    "one long number": path("M" + "1" * 400_000 + " 5L3 4z"),
    "no command": path("5 5 L 6 6z"),
    "a line before there is a place": path("L 6 6 7 8z"),
    "closed without end": path("M5 5" + "z" * 500_000),
    "closed and begun again without end": path("M5 5" + "zL6 6" * 90_000),
    "points without end": path("M5 5" + "h1" * 240_000),
    "transforms without end": svg(f'<rect width="20" height="10" transform="{"scale(1)" * 50_000}x"/>'),
    "a corner alone": svg('<polyline points="1,1"/>'),
    "nothing drawn": svg("<line/><circle/><ellipse/><rect/><path/>"),
    "as small as numbers go": svg('<rect width="1e-320" height="40"/>'),
    "no box": svg('<rect width="5" height="4"/>', '<svg width="5mm" viewBox="0 0 0 0">'),
    "a box of no number": svg('<rect width="5" height="4"/>', '<svg width="5mm" viewBox="0 0 nan nan">'),
    "groups in groups": svg("<g>" * 5_000 + '<rect width="5" height="4"/>' + "</g>" * 5_000),
    "enlarged past all measure": svg('<g transform="scale(1e6)">' * 9 + '<rect width="5" height="4"/>' + "</g>" * 9),
}


@pytest.mark.parametrize("name", ODD)
def test_odd_numbers_and_sizes_are_refused_not_raised(name: str) -> None:
    found = read_outline(ODD[name])
    assert isinstance(found, Refused), found
    assert found.code in ("outline-path", "outline-absurd", "outline-none", "outline-too-large", "outline-open")


def test_curves_by_the_thousand_are_drawn_no_further_than_points_may_go() -> None:
    """Nine thousand curves of hundreds of chords each: the drawing stops at the first point too many."""
    d = "M0 50" + "".join(f"C{at} 90050 {at} -90000 {at + 1} 50" for at in range(9000)) + "z"
    ink = Ink(MOST_POINTS)
    with pytest.raises(OutOfInkError):
        subpaths("path", Element("path", d=d), 0.01, ink)
    assert -400 <= ink.left < 0, "not one curve more"
    found = read_outline(path(d))
    assert isinstance(found, Refused) and found.code == "outline-too-large"


def circle(points: int) -> str:
    spots = [(50 + 45 * cos(2 * pi * at / points), 50 + 45 * sin(2 * pi * at / points)) for at in range(points)]
    return " ".join(f"{x:.5f},{y:.5f}" for x, y in spots)


def openings(count: int) -> bytes:
    places = ((2 + at % 60 * 1.5, 2 + at // 60 * 1.5) for at in range(count))
    inner = "".join(f'<rect x="{x}" y="{y}" width="1" height="1"/>' for x, y in places)
    return svg(f'<rect width="98" height="98"/>{inner}')


def test_the_limits_are_where_the_message_says() -> None:
    # The last point lies so near the first that it counts for the same.
    assert len(outline(svg(f'<polygon points="{circle(MOST_POINTS)}"/>')).points) == MOST_POINTS - 1
    assert len(outline(openings(MOST_OPENINGS)).inner) == MOST_OPENINGS
    for data in (svg(f'<polygon points="{circle(MOST_POINTS + 1)}"/>'), openings(MOST_OPENINGS + 1)):
        found = read_outline(data)
        assert isinstance(found, Refused) and found.code == "outline-too-large"


def test_a_line_drawn_twice_is_one_and_doubled_points_do_no_harm() -> None:
    square = '<rect x="5" y="5" width="40" height="30"/>'
    assert outline(svg(square * 3)) == outline(svg(square))
    assert len(outline(svg(f'<polygon points="{"1,1 " * 500}50,1 50,1 50,50 1,1"/>')).points) == 3


@pytest.mark.parametrize(
    ("inner", "code"),
    [
        ("M20 20H60V60H20Z M30 30H50V50H30Z", "outline-several"),
        ("M20 20H60V60H20Z M40 40H70V70H40Z", "outline-crosses-itself"),
    ],
)
def test_openings_in_one_another_or_across_one_another_are_told(inner: str, code: str) -> None:
    found = read_outline(path("M0 0H80V80H0Z" + inner))
    assert isinstance(found, Refused) and found.code == code


@settings(max_examples=tries(66, 200))
@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda text: path(text.replace('"', "").replace("<", ""))))
def test_nothing_raises(data: bytes) -> None:
    assert isinstance(read_outline(data), Outline | Refused)


@settings(max_examples=tries(66, 200))
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


def test_a_thousand_openings_are_cut_out_of_a_panel_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The work, counted: not a subtraction for each of them."""
    data = openings(MOST_OPENINGS)
    asked: list[object] = []
    difference = Polygon.difference
    monkeypatch.setattr(Polygon, "difference", lambda one, other: asked.append(one) or difference(one, other))
    found = check_recipe(RECIPE.format(size="", outline="a.svg"), "r.md", "r", read=lambda name, most: data)
    assert found.understood is not None
    net = net_of(found.understood.flat.blanks[0], {})
    assert len(net.panels[0].openings) == MOST_OPENINGS
    assert 0 < len(asked) <= 4


def test_details_that_run_into_one_another_at_the_size_of_the_piece_are_told() -> None:
    """Teeth 1/50 mm wide on 98 mm are a fifth of a thousandth wide on 1 mm; places are kept to thousandths."""
    teeth = "".join(f"L{at / 50:.2f} {0 if at % 2 else 20}" for at in range(1, 4900))
    data = path(f"M0 0{teeth}L98 98L0 98Z")
    sizes = {"    size: 98 x 98 mm\n": False, "    size: 1 x 1 mm\n": True}
    for size, fine in sizes.items():
        text = RECIPE.format(size=size, outline="a.svg")
        found = check_recipe(text, "r.md", "r", read=lambda name, most: data)
        assert ("outline-too-fine" in [one.code for one in found.findings]) == fine
