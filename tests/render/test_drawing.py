"""Drawings as SVG: well-formed, the same every time, exact to the pixel, and fit for any page."""

from __future__ import annotations

import io
import re
from xml.etree import ElementTree

import pytest
from PIL import Image

from foldwright.geometry.pictures.plan import flat_scene
from foldwright.geometry.scene import LineKind
from foldwright.measure.writing import typographic, write_exact
from foldwright.render.drawing.label import label_of
from foldwright.render.drawing.layout import lay_out
from foldwright.render.drawing.pens import STYLES
from foldwright.render.drawing.svg import draw, draw_legend, kinds_in
from foldwright.render.web.blog_pictures import png
from geometry.laid import laid

SVG = "{http://www.w3.org/2000/svg}"
FAVOUR_BOX = """\
  base:
    from: card
    size: 5 x 4 1/4 in
    across: 3/4 left end | 3 1/2 floor | 3/4 right end
    down: 1 3/4 front | 3/4 floor | 1 3/4 back
    flaps: joined to front and back
    fold: tray
    holes: round 1/2 in, centred, middle 1 in from the top
"""


def drawn(text: str, width: float = 90, points: float = 8, **more: str) -> str:
    flat = laid(text)
    labels = {name: typographic(write_exact(length)) for name, length in flat.lengths.by_id.items()}
    return draw(flat_scene(flat.blanks[0]), labels, width, points, **more)


def test_it_is_well_formed_and_says_what_it_shows():
    root = ElementTree.fromstring(drawn(FAVOUR_BOX, title="The <base> & all", describes='Flat, "good" side up'))
    assert root.tag == SVG + "svg"
    assert root.get("role") == "img"
    assert root.get("width") == "90.00mm"
    assert root.get("viewBox", "").startswith("0 0 90.00 ")
    assert root.findtext(SVG + "title") == "The <base> & all"
    assert root.findtext(SVG + "desc") == 'Flat, "good" side up'


def test_names_of_the_authors_cannot_break_out():
    svg = drawn('  p:\n    from: card\n    size: 100 x 50 mm\n    across: 50 <b>x</b> & "y" | 50 </svg>\n')
    texts = ["".join(element.itertext()) for element in ElementTree.fromstring(svg).iter(SVG + "text")]
    assert any("<b>x</b>" in text for text in texts)


def test_no_ids_so_that_many_drawings_may_stand_in_one_page():
    assert " id=" not in drawn(FAVOUR_BOX)
    assert "style=" not in drawn(FAVOUR_BOX)


def test_the_same_scene_gives_the_same_bytes():
    assert drawn(FAVOUR_BOX) == drawn(FAVOUR_BOX)


def test_fractions_are_the_types_own_signs_one_gap_behind_the_whole():
    root = ElementTree.fromstring(drawn(FAVOUR_BOX))
    texts = ["".join(element.itertext()) for element in root.iter(SVG + "text")]
    assert texts.count("1\u202f¾\u202fin") == 2
    label = next(element for element in root.iter(SVG + "text") if "".join(element.itertext()) == "1\u202f¾\u202fin")
    (sign,) = label.iter(SVG + "tspan")
    assert sign.text == "¾"
    assert sign.get("dy") is None
    assert float(sign.get("font-size", "0")) > float(label.get("font-size", "0"))


@pytest.mark.parametrize(
    ("label", "set_as"),
    [
        ("4 1\u20448 in", "4\u202f⅛ in"),
        ("9\u204416 in", "⁹\u2044₁₆ in"),
        ("1\u20442 × 3\u20444 in", "½ × ¾ in"),
        ("10 × 1 1\u20442 in", "10 × 1\u202f½ in"),
        ("5 11\u204432", "5\u202f¹¹\u2044₃₂"),
    ],
)
def test_every_fraction_has_its_sign(label: str, set_as: str):
    assert "".join(label_of(label).parts) == set_as


def test_lines_are_where_they_should_be_to_the_pixel():
    """Rasterised by an independent renderer: dark on cut edges, dashed on scores, white outside."""
    flat = laid(FAVOUR_BOX)
    scene = flat_scene(flat.blanks[0])
    labels = {name: typographic(write_exact(length)) for name, length in flat.lengths.by_id.items()}
    layout = lay_out(scene, labels, 90, 8)
    picture = Image.open(io.BytesIO(png(draw(scene, labels, 90, 8), 1800))).convert("L")
    scale = 1800 / 90

    def darkness(x: float, y: float) -> int:
        px, py = (layout.left + x * layout.scale) * scale, (layout.top + y * layout.scale) * scale
        return int(picture.getpixel((round(px), round(py))))  # type: ignore[arg-type]

    inch = 25.4
    assert darkness(0, 1 * inch) < 60
    assert darkness(0.4 * inch, 1.75 * inch) < 60, "the cut that frees a flap"
    along = [darkness(2.0 * inch + step * 0.2, 1.75 * inch) for step in range(100)]
    assert min(along) < 60, "the score between floor and front"
    assert max(along) > 200, "it is dashed"
    assert darkness(0.4 * inch, 1.0 * inch) > 200, "nothing in the middle of a flap but its tone"


def test_what_kinds_of_line_there_are_and_their_legend():
    flat = laid("  strip:\n    from: card\n    across: 4 of 1 1/2 in\n    down: 4 in\n    fold: accordion\n")
    kinds = kinds_in(flat_scene(flat.blanks[0]))
    assert kinds == (LineKind.CUT, LineKind.VALLEY, LineKind.MOUNTAIN)
    legend = dict(draw_legend(kinds))
    assert list(legend) == list(kinds)
    dashes = {kind: re.findall(r'stroke-dasharray="([^"]*)"', svg) for kind, svg in legend.items()}
    assert dashes[LineKind.CUT] == []
    assert len(dashes[LineKind.VALLEY][0].split()) == 2
    assert len(dashes[LineKind.MOUNTAIN][0].split()) == 4
    for svg in legend.values():
        ElementTree.fromstring(svg)


def test_wide_lines_are_twice_as_wide_as_narrow_ones():
    """Line widths go two to one (ISO 128)."""
    svg = drawn(FAVOUR_BOX)
    widths = {
        name: float(re.search(rf'class="line {name}"[^>]*stroke-width="([0-9.]+)"', svg)[1])  # type: ignore[index]
        for name in ("cut", "score")
    }
    assert widths["cut"] == 2 * widths["score"]


def test_every_class_a_drawing_uses_can_be_restyled():
    svg = drawn(FAVOUR_BOX) + drawn("  t:\n    from: card\n    size: 100 x 50 mm\n    across: 20 | 60 | 18\n")
    classes = {name for names in re.findall(r'class="([^"]*)"', svg) for name in names.split()}
    plain = {"name", "tick", "cut"}  # the rules for text and lines at large are theirs
    assert classes - plain <= set(re.findall(r"\.([a-z-]+)", STYLES))
