"""Pictures for paper: nothing too small to read, nothing on top of anything, at the least width and above it."""

from __future__ import annotations

import io
import re
from itertools import combinations
from xml.etree import ElementTree

import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from foldwright.document.model import Picture
from foldwright.document.words import Both, plain
from foldwright.geometry.pictures.plan import flat_scene
from foldwright.geometry.scene import Scene, Stroke
from foldwright.measure.length import System
from foldwright.measure.writing import typographic, write_exact
from foldwright.recipe.words import Text
from foldwright.render.fonts import FACES, font_file
from foldwright.render.paper.prints import Drawing, PrintedPhoto, Unfit, drawn, photographed
from foldwright.render.photos import ReadyPhoto, prepare
from geometry.laid import laid, pieces
from workbench.compiled import DEMOS, demo
from workbench.long import tries

SVG = "{http://www.w3.org/2000/svg}"
POINT_MM = 25.4 / 72  # the point of PDF, 1/72 in (ISO 32000-1, 8.3.2.3)
WORDS_PT, FIGURES_PT = 8.0, 7.0


def picture_of(text: str) -> Picture:
    flat = laid(text)
    labels = {name: typographic(write_exact(length)) for name, length in flat.lengths.by_id.items()}
    return Picture(
        "flat-piece",
        flat_scene(flat.blanks[0]),
        Both(labels, labels),
        (Text("Blank of the piece"),),
        Both("It.", "It."),
    )


def print_of(text: str) -> Drawing | Unfit:
    return drawn(picture_of(text), System.IMPERIAL)


def demo_pictures() -> list[Picture]:
    return [piece.picture for name in DEMOS for piece in demo(name).pieces if piece.picture]


class Read:
    """A drawing read back from its SVG: viewBox, texts with their boxes by the face's own widths, and every size."""

    def __init__(self, svg: str) -> None:
        root = ElementTree.fromstring(svg)
        self.title = root.findtext(SVG + "title") or ""
        self.family = root.get("font-family")
        self.width, self.height = (float(number) for number in root.get("viewBox", "").split()[2:])
        self.shown = float(root.get("width", "").removesuffix("mm"))
        self.high = float(root.get("height", "").removesuffix("mm"))
        scale = self.shown / self.width
        self.sizes: list[tuple[str, float]] = []
        self.boxes: list[tuple[float, float, float, float]] = []
        for text in root.iter(SVG + "text"):
            sizes = [
                float(part.get("font-size", text.get("font-size", ""))) for part in (text, *text.iter(SVG + "tspan"))
            ]
            style = text.get("class", "")
            self.sizes += [(style, size * scale / POINT_MM) for size in sizes]
            self.boxes.append(_box(text))


def _box(text: ElementTree.Element) -> tuple[float, float, float, float]:
    """Where the ink of a text lies, measured with the face itself by Pillow (FreeType), not with our own widths."""
    from PIL import ImageFont

    x = y = 0.0
    if place := text.get("transform"):
        x, y = map(float, re.findall(r"translate\(([-\d.]+) ([-\d.]+)\)", place)[0])
    else:
        x, y = float(text.get("x", "")), float(text.get("y", ""))
    font = ImageFont.truetype(str(font_file(FACES["sans"])), 1000)
    own, at, low, high, rise = float(text.get("font-size", "")), 0.0, 0.0, 0.0, 0.0
    runs = [(text.text or "", own, 0.0, 0.0)]
    for part in text.iter(SVG + "tspan"):
        size, dx, dy = float(part.get("font-size", own)), float(part.get("dx", 0)), float(part.get("dy", 0))
        runs += [(part.text or "", size, dx, dy), (part.tail or "", own, 0.0, 0.0)]
    for letters, size, dx, dy in runs:
        at, rise = at + dx, rise + dy
        if letters.strip() and letters != "/":
            _, top, _, bottom = font.getbbox(letters, anchor="ls")
            low, high = min(low, rise + top * size / 1000), max(high, rise + bottom * size / 1000)
        at += font.getlength(letters) * size / 1000
    return (x + low, y - at / 2, x + high, y + at / 2) if place else (x - at / 2, y + low, x + at / 2, y + high)


def assert_legible(print_: Drawing, width: float) -> None:
    read = Read(print_.svg_at(width))
    assert read.family == "Foldwright Sans"
    assert read.shown <= width + 0.005
    assert abs(read.high - print_.height_at(width)) < 0.01
    for style, size in read.sizes:
        assert size >= (WORDS_PT if style in ("name", "role") else FIGURES_PT), style
    for left, top, right, bottom in read.boxes:
        assert left >= 0 and top >= 0 and right <= read.width and bottom <= read.height
    for one, other in combinations(read.boxes, 2):
        assert one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]


@settings(max_examples=tries(25, 100))
@given(pieces(), st.floats(0, 1))
def test_random_pieces_are_legible_from_the_least_width_on(text: str, part: float):
    print_ = print_of(text)
    if isinstance(print_, Unfit):
        return
    assert 15 < print_.least_mm <= print_.most_mm <= 200
    for width in (print_.least_mm, print_.least_mm + part * (print_.most_mm - print_.least_mm)):
        assert_legible(print_, width)


@settings(max_examples=tries(20, 60))
@given(pieces())
def test_nothing_narrower_than_the_least_width_can_be_had(text: str):
    print_ = print_of(text)
    if isinstance(print_, Unfit):
        return
    for less in (1.0, 2.0, 5.0):
        with pytest.raises(ValueError, match="cannot be read"):
            print_.svg_at(print_.least_mm - less)
    # Nor is it refused without need: no plan is laid out there either.
    if print_.least_mm > 17:
        assert print_._plans.at(print_.least_mm - 1) is None


@pytest.mark.parametrize("system", System)
def test_every_demo_plan_is_legible_at_every_width(system: System):
    for picture in demo_pictures():
        print_ = drawn(picture, system)
        assert isinstance(print_, Drawing), picture.title
        assert print_.least_mm <= 45, "two stand side by side on half a letter sheet"
        for width in (print_.least_mm, print_.least_mm + 2.5, 45, 60, 90, print_.most_mm):
            assert_legible(print_, width)


def test_a_plan_no_wider_than_a_column_leaves_no_length_out():
    """Rank and room: everything of the drawer, its slot and where the slot is, stands in the narrowest plan."""
    drawer = next(piece.picture for piece in demo("drawer-box").pieces if piece.name == "drawer")
    assert drawer is not None
    print_ = drawn(drawer, System.METRIC)
    assert isinstance(print_, Drawing)
    texts = {
        "".join(text.itertext()) for text in ElementTree.fromstring(print_.svg_at(print_.least_mm)).iter(SVG + "text")
    }
    assert {"100\u202fmm", "130\u202fmm", "60\u202fmm", "90\u202fmm", "8 × 2\u202fmm", "front"} <= texts


def test_the_title_says_what_it_shows_and_the_face_is_ours_alone():
    picture = demo_pictures()[0]
    print_ = drawn(picture, System.METRIC)
    assert isinstance(print_, Drawing)
    svg = print_.svg_at(60)
    assert Read(svg).title == print_.alt
    assert plain(picture.title, System.METRIC) in print_.alt and picture.describes.metric in print_.alt
    assert "<desc>" not in svg and "Source Sans" not in svg


def test_larger_type_wants_a_wider_plan():
    picture = demo_pictures()[0]
    widths = [
        one.least_mm for points in (8, 9, 11) if isinstance(one := drawn(picture, System.METRIC, points), Drawing)
    ]
    assert len(widths) == 3 and widths == sorted(widths) and widths[0] < widths[2]


def test_smaller_type_is_refused():
    with pytest.raises(ValueError, match="too small"):
        drawn(demo_pictures()[0], System.METRIC, 7.5)


def test_lines_no_scale_can_part_make_a_plan_unfit():
    scores = tuple(
        Stroke(next(iter(demo_pictures()[0].scene.strokes)).kind, ((x / 2, 0.0), (x / 2, 50.0))) for x in range(1, 400)
    )
    crowded = Scene(200.0, 50.0, strokes=scores)
    nothing: Both[dict[object, str]] = Both({}, {})
    assert drawn(Picture("p", crowded, nothing, (Text("P"),), Both("", "")), System.METRIC) is Unfit.CROWDED


def test_a_long_strip_lies_and_stands_within_reason():
    for across, down in (("20 in", "1 in"), ("1 in", "20 in")):
        print_ = print_of(f"  strip:\n    from: card\n    size: {across} x {down}\n")
        assert isinstance(print_, Drawing)
        for width in (print_.least_mm, 60.0):
            assert print_.height_at(width) <= 1.4 * width
            assert_legible(print_, max(width, print_.least_mm))


@pytest.mark.parametrize("variant", [None, "pdf/ua-1"])
def test_sizes_read_back_from_a_pdf(variant: str | None, tmp_path):
    """pdfplumber (pdfminer) reads the size of every letter of every demo plan from a page WeasyPrint has set."""
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    from foldwright.render.fonts import face_rule

    prints = [one for picture in demo_pictures() if isinstance(one := drawn(picture, System.IMPERIAL), Drawing)]
    svgs = "".join(f"<p>{one.svg_at(one.least_mm)}</p>" for one in prints)
    fonts = FontConfiguration()
    style = CSS(string=face_rule("sans") + "@page { size: 250mm }", font_config=fonts)
    page = HTML(string=f'<html lang="en"><title>P</title>{svgs}</html>')
    data = page.write_pdf(stylesheets=[style], font_config=fonts, pdf_variant=variant)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        letters = [letter for page in pdf.pages for letter in page.chars]
    assert len(letters) > 300
    assert {letter["fontname"].split("+")[-1].replace("-", " ") for letter in letters} == {"Foldwright Sans"}
    # Of a turned letter, the em lies across.
    sizes = [(one["text"], one["height"] if one["upright"] else one["width"]) for one in letters]
    assert min(size for _, size in sizes) >= FIGURES_PT
    assert min(size for text, size in sizes if text.isalpha()) >= WORDS_PT
    assert max(size for text, size in sizes if text.isalpha() or text.isdecimal()) < 9, "measured, not a box round more"
    fractions = [size for text, size in sizes if text in set("½¼¾⅛⅜⅝⅞¹³⁵⁷⁹₁₆")]
    assert len(fractions) > 20
    assert 8.5 < min(fractions) <= max(fractions) < 10.1, "the figures of a fraction are not smaller than they must be"


# --- photographs ------------------------------------------------------------------------------------------------------


def photo_of(width: int, height: int) -> PrintedPhoto | Unfit:
    return photographed(ReadyPhoto(b"", "jpeg", width, height), "A box on a table")


def test_a_photograph_keeps_its_shape_and_stands_in_its_room():
    for width, height in ((1200, 800), (800, 1200), (600, 1600), (1000, 1000), (1600, 500)):
        photo = photo_of(width, height)
        assert isinstance(photo, PrintedPhoto)
        for room in (photo.least_mm, 60.0, photo.most_mm):
            wide, high = photo.size_at(room)
            assert wide <= room + 1e-9
            assert high <= room * 4 / 3 + 1e-9
            assert wide / high == pytest.approx(width / height)
            assert high == photo.height_at(room)
            assert abs(wide - room) < 1e-6 or abs(high - room * 4 / 3) < 1e-6, "it fills the room one way"


@given(st.integers(1, 1200), st.integers(1, 1600))
def test_no_photograph_is_printed_coarse_or_as_a_line(width: int, height: int):
    photo = photo_of(width, height)
    if isinstance(photo, Unfit):
        assert min(width, height) < 180 or max(width, height) / min(width, height) > 15
        return
    wide, high = photo.size_at(photo.least_mm)
    assert min(wide, high) >= 8 - 1e-9 and max(wide, high) >= 25 - 1e-9
    assert width / (wide / 25.4) >= 75 - 1e-6
    most, _ = photo.size_at(photo.most_mm)
    assert photo.most_mm == photo.least_mm or width / (most / 25.4) >= 150 - 1e-6


def test_a_photograph_of_1_by_9000_pixels_and_one_of_few_are_unfit():
    out = io.BytesIO()
    Image.new("RGB", (1, 9000)).save(out, "PNG")
    made = prepare(out.getvalue())
    assert isinstance(made, ReadyPhoto)
    assert photographed(made, "A line") is Unfit.SLENDER
    assert photo_of(40, 30) is Unfit.COARSE
