"""Templates measured back from the PDF with pdfplumber, which had no part in making them."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from itertools import pairwise
from math import hypot

import pdfplumber
import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place

from foldwright.document.model import Document
from foldwright.document.template_text import TemplateText
from foldwright.geometry.contours import Circle
from foldwright.geometry.scene import LineKind
from foldwright.measure.length import System
from foldwright.outputs.papers import designs_of
from foldwright.pipeline import Understood
from foldwright.render.drawing.label import width_of
from foldwright.render.drawing.pens import CUT, EDGE, FINE, SCORE
from foldwright.render.paper.arranging import PlacedArea
from foldwright.render.paper.papers import A4, A5, LETTER, Paper
from foldwright.render.paper.template.gauges import CARD_HIGH, CARD_WIDE
from foldwright.render.paper.template.naming import BAND, PlacedName, named
from foldwright.render.paper.template.piece import Design, laid_out
from foldwright.render.paper.template.template import EDGE_MM, Template, template
from foldwright.render.paper.template.tiling import OVERLAP, Want, marks_svg, pack, tiled
from foldwright.render.themes import built_in_themes
from foldwright.render.units import MM_PER_POINT
from printed.tokens import quick
from workbench.compiled import DEMOS, RECIPES, compiled
from workbench.long import LONG, every, tries

MM = 25.4 / 72
"""A point of PDF is 1/72 in."""
OFF = 0.05
"""Millimetres a line may be off."""

type Point = tuple[float, float]
type Segment = tuple[Point, Point]
PAPERS = [(LETTER, System.IMPERIAL), (A4, System.METRIC)]


@cache
def made(
    text: str, paper: Paper, system: System, mirrored: bool = False, theme: str = "harbour"
) -> tuple[Template, tuple[Design, ...]]:
    sheet, checked = compiled(text)
    assert checked.understood is not None
    return made_of(sheet, checked.understood, paper, system, mirrored, theme)


def made_of(
    document: Document, understood: Understood, paper: Paper, system: System, mirrored: bool, theme: str
) -> tuple[Template, tuple[Design, ...]]:
    words = TemplateText(document, system)
    designs = tuple(designs_of(document, understood, words))
    return template(document, designs, words, theme, paper, mirrored), designs


def segments(page: pdfplumber.page.Page) -> list[Segment]:
    """Every straight stroke of a page, in millimetres from its top left corner."""
    found: list[Segment] = []
    for one in (*page.lines, *page.curves, *page.rects):
        points = [(x * MM, y * MM) for x, y in one["pts"]]
        if one["object_type"] == "rect":
            points.append(points[0])
        found += pairwise(points)
    return found


class Drawn:
    """The strokes of a page, to be asked whether one is there: whole, or made of parts that follow each other."""

    def __init__(self, strokes: Sequence[Segment]) -> None:
        self.strokes = strokes

    def has(self, wanted: Segment) -> bool:
        (ax, ay), (bx, by) = wanted
        return any(
            (_near(one[0], (ax, ay)) and _near(one[1], (bx, by)))
            or (_near(one[1], (ax, ay)) and _near(one[0], (bx, by)))
            for one in self.strokes
        )

    def of_length(self, length: float) -> Iterator[Segment]:
        for one in self.strokes:
            if abs(hypot(one[1][0] - one[0][0], one[1][1] - one[0][1]) - length) <= OFF:
                yield one
                yield one[1], one[0]


def _near(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) <= OFF and abs(one[1] - other[1]) <= OFF


def wanted_of(design: Design) -> list[Segment]:
    """Outline, cuts and folds of a piece as straight strokes in its own millimetres."""
    found: list[Segment] = []
    for ring in (*design.contours.outlines, *design.contours.openings):
        if not isinstance(ring, Circle) and not ring.round_ends:
            points = (*ring.points, ring.points[0])
            found += pairwise(points)
    for run in design.contours.runs:
        found += pairwise(run.points)
    return found


def place_of(design: Design, drawn: Drawn, mirrored: bool = False) -> tuple[Point, bool] | None:
    """Where the piece lies on the page and whether it is turned, when every line of it is there."""
    for turned in (False, True):

        def put(point: Point, turned: bool = turned) -> Point:
            x, y = (design.width - point[0], point[1]) if mirrored else point
            return (design.height - y, x) if turned else (x, y)

        lines = [(put(start), put(end)) for start, end in wanted_of(design)]
        first = lines[0]
        long = hypot(first[1][0] - first[0][0], first[1][1] - first[0][1])
        for start, _ in drawn.of_length(long):
            dx, dy = start[0] - first[0][0], start[1] - first[0][1]
            if all(drawn.has(((a[0] + dx, a[1] + dy), (b[0] + dx, b[1] + dy))) for a, b in lines):
                return (dx, dy), turned
    return None


@contextmanager
def opened(one: Template) -> Iterator[pdfplumber.PDF]:
    with quick(), pdfplumber.open(io.BytesIO(one.pdf)) as pdf:
        yield pdf


@pytest.mark.parametrize(
    ("name", "paper", "system"),
    # One after the other on A4 and on letter; on a long run, all on both.
    [
        (name, *on)
        for number, name in enumerate(DEMOS, 1)
        for turn, on in enumerate(PAPERS)
        if LONG or number % 2 == turn
    ],
)
def test_every_line_of_every_demo_is_true_to_size(name: str, paper: Paper, system: System) -> None:
    text = (RECIPES / name / "recipe.md").read_text(encoding="utf-8")
    out, designs = made(text, paper, system)
    with opened(out) as pdf:
        pages = [Drawn(segments(page)) for page in pdf.pages]
        assert len(pages) == out.pages
        for page in pdf.pages:
            assert (page.width * MM, page.height * MM) == pytest.approx(
                (float(paper.width_mm), float(paper.height_mm)), abs=0.01
            )
    for design in designs:
        if design.name in out.tiled or any(isinstance(one, Circle) for one in design.contours.outlines):
            continue
        places = [place for page in pages if (place := place_of(design, page))]
        assert len(places) == 1, f"{design.name} is not on the template, or twice"
        (left, top), turned = places[0]
        wide, high = (design.height, design.width) if turned else (design.width, design.height)
        assert left >= EDGE_MM and top >= EDGE_MM
        assert left + wide <= float(paper.width_mm) - EDGE_MM + 0.5
        assert top + high <= float(paper.height_mm) - EDGE_MM


def test_a_template_is_exact_whatever_its_labels_say() -> None:
    """The tag is 2 x 4 in, 50.8 x 101.6 mm, on either paper; the metric labels say 51 x 102 mm."""
    text = (RECIPES / "twine-tag" / "recipe.md").read_text(encoding="utf-8")
    sizes = []
    for paper, system in PAPERS:
        _, designs = made(text, paper, system)
        sizes.append((designs[0].width, designs[0].height))
    assert sizes == [pytest.approx((50.8, 101.6))] * 2


@pytest.mark.parametrize(("paper", "system"), PAPERS)
def test_the_ruler_and_the_bank_card_are_true_to_size(paper: Paper, system: System) -> None:
    """An inch is 25.4 mm (international yard and pound agreement, 1959); ID-1 is 85.60 x 53.98 mm (ISO/IEC 7810)."""
    out, _ = made((RECIPES / "birdhouse" / "recipe.md").read_text(encoding="utf-8"), paper, system)
    with opened(out) as pdf:
        page = pdf.pages[0]
        upright = [one for one in segments(page) if abs(one[0][0] - one[1][0]) < 0.01]
        line = page.height * MM - EDGE_MM - 5.0 - 13.0 + 6.5
        above = sorted(one[0][0] for one in upright if abs(max(one[0][1], one[1][1]) - line) < OFF)
        below = sorted(one[0][0] for one in upright if abs(min(one[0][1], one[1][1]) - line) < OFF)
        sixteenths = [place - above[0] for place in above]
        assert len(sixteenths) == 7 * 16 + 1
        assert all(abs(place - number * 25.4 / 16) <= OFF for number, place in enumerate(sixteenths))
        assert all(abs(place - below[0] - number) <= OFF for number, place in enumerate(below))
        assert len(below) >= 171
        cards = [
            one
            for one in (*page.curves, *page.rects)
            if abs(one["width"] * MM - CARD_WIDE) <= OFF and abs(one["height"] * MM - CARD_HIGH) <= OFF
        ]
        assert (CARD_WIDE, CARD_HIGH) == (85.60, 53.98)
        assert len(cards) == 1


@pytest.mark.parametrize("name", every(DEMOS, 2))
def test_no_page_holds_but_a_bank_card_and_every_template_has_its_legend(name: str) -> None:
    out, _ = made((RECIPES / name / "recipe.md").read_text(encoding="utf-8"), A4, System.METRIC)
    with opened(out) as pdf:
        texts = [page.extract_text() for page in pdf.pages]
    assert sum(text.count("Lines\n") for text in texts) == 1
    for text in texts:
        assert "mm" in text.partition("differ, do not cut.")[2].partition("1 in")[0], "words stand under a piece"


def boxes_of(names: Sequence[PlacedName]) -> list[tuple[str, Polygon]]:
    """Where letters stand, reckoned from the font's own widths: within 1 em of height, as wide as Pango sets them."""
    found = []
    for name in names:
        wide, high = width_of(name.text) * name.size, name.size
        wide, high = (high, wide) if name.upright else (wide, high)
        x, y = name.middle
        found.append((name.text, box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)))
    return found


SLOTTED = """  tray:
    from: card
    size: 120 x 100 mm
    across: 20 left | 80 floor | 20 right
    down: 20 back | 60 floor | 20 front
    corners: cut away
    fold: tray
    holes: slot 6 x 30 mm, centred on left; round 12 mm, centred on floor; slot 60 x 3 mm, centred on front
  band:
    from: card
    size: 100 x 60 mm
    down: 3 spine | rest panel
"""


def test_names_keep_clear_of_cuts_folds_and_holes_and_are_eleven_points() -> None:
    text = AWKWARD.partition("pieces:\n")[0] + "pieces:\n" + SLOTTED + "---\n\n## Cut the tray\n\nCut it.\n"
    out, designs = made(text, A4, System.METRIC)
    for design in designs:
        shape = laid_out(design, False, False, {})
        names = named(shape, PlacedArea(0.0, -BAND, design.width, design.height + BAND))
        assert {one.text for one in design.captions if not one.role} <= {one.text for one in names}
        placed = boxes_of(names)
        lines = [LineString(points) for _, points in shape.lines]
        lines += [LineString(hole) for hole in shape.holes]
        for number, (word, room) in enumerate(placed):
            assert all(room.distance(line) > 0.3 for line in lines), word
            assert not any(room.intersects(other) for _, other in placed[:number]), word
        for one in names:
            on_it = Polygon(shape.rims[0]).contains(Place(one.middle))
            assert one.lead is not None or on_it
            assert one.size >= 8 * MM_PER_POINT and (one.size == 11 * MM_PER_POINT or one.lead is None)
    # Three millimetres hold no letters: the name of the spine stands above the piece, and a lead ends on the spine.
    (spine,) = [one for one in named(shape, PlacedArea(0.0, -BAND, 100.0, 60.0 + BAND)) if one.text == "spine"]
    assert spine.lead is not None and spine.middle[1] < 0 and 0 < spine.lead[1][1] < 3
    with opened(out) as pdf:
        sizes = {round(char["size"], 1) for char in pdf.pages[0].chars if char["text"] in "flor"}
        assert 11.0 in sizes and "spine" in pdf.pages[0].extract_text() + "".join(p.extract_text() for p in pdf.pages)


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_piece_that_fits_a_page_only_at_a_slant_is_printed_so_and_in_one_part(mirrored: bool) -> None:
    """A strip of 300 x 20 mm: by Pythagoras the diagonal of 194 x 236 mm is 305 mm. Its sides are measured back."""
    text = AWKWARD.format(wide=280, high=20).replace("    across: 30 left | rest middle | 30 right\n", "")
    text = text.replace("    holes: window 20 x 10 mm, centred\n", "")
    out, _ = made(text, A4, System.METRIC, mirrored)
    assert out.tiled == ()
    with opened(out) as pdf:
        strokes = [one for page in pdf.pages for one in segments(page)]
    aslant = [one for one in strokes if min(abs(one[0][0] - one[1][0]), abs(one[0][1] - one[1][1])) > 5]
    longs = sorted(round(hypot(one[0][0] - one[1][0], one[0][1] - one[1][1]), 1) for one in aslant)
    assert longs.count(280.0) == 2 and longs.count(20.0) == 2
    for spot in (end for one in aslant for end in one):
        assert EDGE_MM - OFF <= spot[0] <= float(A4.width_mm) - EDGE_MM + OFF


def test_a_tile_is_cut_along_no_dashed_line() -> None:
    tiling = tiled(400.0, 300.0, 190.0, 230.0)
    assert tiling is not None and "dasharray" not in "".join(marks_svg(tiling, one, 0.4) for one in tiling.tiles)


AWKWARD = """---
title: Awkward pieces
measured in: millimetres
makes: 1
supplies:
  card: cardstock, sheet A3
pieces:
  disc:
    from: card
    size: 60 x 60 mm
    outline: circle
    holes: round 8 mm, centred
  plate:
    from: card
    size: {wide} x {high} mm
    across: 30 left | rest middle | 30 right
    holes: window 20 x 10 mm, centred
---

## Cut the disc and the plate

Cut the disc and the plate.
"""


def test_round_pieces_and_holes_are_true_to_size() -> None:
    out, _ = made(AWKWARD.format(wide=150, high=90), A4, System.METRIC)
    with opened(out) as pdf:
        sizes = [(one["width"] * MM, one["height"] * MM) for one in pdf.pages[0].curves]
    for across in (60.0, 8.0):
        assert any(abs(wide - across) <= OFF and abs(high - across) <= OFF for wide, high in sizes)


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_mirrored_template_is_the_mirror_image(mirrored: bool) -> None:
    text = AWKWARD.format(wide=150, high=90).replace("30 left | rest middle", "20 left | rest middle")
    out, designs = made(text, A4, System.METRIC, mirrored)
    plate = designs[1]
    with opened(out) as pdf:
        drawn = Drawn(segments(pdf.pages[0]))
        said = pdf.pages[0].extract_text()
    assert place_of(plate, drawn, mirrored) is not None
    assert place_of(plate, drawn, not mirrored) is None
    assert ("Mirrored" in said) is mirrored


@pytest.mark.parametrize("theme", built_in_themes())
def test_tiles_of_a_small_paper_have_room_for_their_words(theme: str) -> None:
    """A tile as narrow as a strip and as high as the page has more lines under it than the others."""
    out, _ = made(AWKWARD.format(wide=150, high=200), A5, System.METRIC, theme=theme)
    assert out.tiled == ("plate",)


def test_the_tiles_of_a_large_piece_come_to_the_whole_when_laid_on_one_another() -> None:
    """Every line of the plate, cut at the tiles' edges, is found on each tile where the plan of tiles says."""
    out, designs = made(AWKWARD.format(wide=400, high=300), A4, System.METRIC)
    plate = designs[1]
    assert out.tiled == ("plate",)
    room = float(A4.width_mm) - 2 * EDGE_MM, float(A4.height_mm) - 2 * EDGE_MM - 17 - 5 - 13
    tiling = tiled(plate.width, plate.height, room[0] - 0.8, room[1] - 0.8 - 11)
    assert tiling is not None
    with opened(out) as pdf:
        pages = {page.page_number: Drawn(segments(page)) for page in pdf.pages}
    for tile in tiling.tiles:
        window = tile.window
        right, bottom = window.left + window.width, window.top + window.height
        lines: list[Segment] = []
        for start, end in wanted_of(plate):
            if tiling.turned:
                start, end = (plate.height - start[1], start[0]), (plate.height - end[1], end[0])
            if cut := _cut_to(start, end, window.left, window.top, right, bottom):
                lines.append(cut)
        assert lines
        assert any(_are_there(lines, drawn) for drawn in pages.values()), f"{tile.name} is on no page"


def _are_there(lines: Sequence[Segment], drawn: Drawn) -> bool:
    """Whether the lines are on a page, wherever on it they lie."""
    (ax, ay), (bx, by) = max(lines, key=lambda line: hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]))
    for (x, y), _ in drawn.of_length(hypot(bx - ax, by - ay)):
        dx, dy = x - ax, y - ay
        if all(drawn.has(((a[0] + dx, a[1] + dy), (b[0] + dx, b[1] + dy))) for a, b in lines):
            return True
    return False


def _cut_to(a: Point, b: Point, left: float, top: float, right: float, bottom: float) -> Segment | None:
    """The part of an upright or level line inside a rectangle."""
    xs, ys = sorted((a[0], b[0])), sorted((a[1], b[1]))
    x1, x2, y1, y2 = max(xs[0], left), min(xs[1], right), max(ys[0], top), min(ys[1], bottom)
    return ((x1, y1), (x2, y2)) if x1 <= x2 and y1 <= y2 and (x2 - x1) + (y2 - y1) > 0.5 else None


sizes = st.floats(5.0, 190.0)


@settings(max_examples=tries(100, 300))
@given(st.lists(st.tuples(sizes, sizes), min_size=1, max_size=12))
def test_nothing_packed_lies_on_anything_else(wanted: list[Point]) -> None:
    places = pack([Want(size, (size[1], size[0])) for size in wanted], 200.0, 220.0, 4.0)
    boxes = []
    for (wide, high), place in zip(wanted, places, strict=True):
        assert place is not None
        across, down = (high, wide) if place.turned else (wide, high)
        assert place.left + across <= 200.0 + 1e-6 and place.top + down <= 220.0 + 1e-6
        boxes.append((place.page, place.left, place.top, place.left + across, place.top + down))
    for number, (page, left, top, right, bottom) in enumerate(boxes):
        for other, x1, y1, x2, y2 in boxes[:number]:
            apart = right + 3.999 <= x1 or x2 + 3.999 <= left or bottom + 3.999 <= y1 or y2 + 3.999 <= top
            assert other != page or apart


@settings(max_examples=tries(100, 300))
@given(st.floats(20.0, 900.0), st.floats(20.0, 900.0))
def test_tiles_cover_the_piece_and_overlap(wide: float, high: float) -> None:
    tiling = tiled(wide, high, 190.0, 210.0)
    assert tiling is not None or wide * high > 190 * 210
    if tiling is None:
        return
    across, down = (high, wide) if tiling.turned else (wide, high)
    for tile in tiling.tiles:
        window = tile.window
        assert 0 < window.width <= 190.0 and 0 < window.height <= 210.0
        if tile.column == tiling.columns - 1:
            assert window.left + window.width == pytest.approx(across)
        else:
            following = next(one for one in tiling.tiles if (one.row, one.column) == (tile.row, tile.column + 1))
            assert window.left + window.width - following.window.left == pytest.approx(OVERLAP)
        if tile.row == tiling.rows - 1:
            assert window.top + window.height == pytest.approx(down)


@pytest.mark.parametrize("theme", ["harbour", "workbench", "almanac"])
def test_a_template_is_tagged_and_says_what_it_shows(theme: str) -> None:
    text = (RECIPES / "keepsake-box" / "recipe.md").read_text(encoding="utf-8")
    out, _ = made(text, LETTER, System.IMPERIAL, theme=theme)
    with pikepdf.open(io.BytesIO(out.pdf)) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.docinfo["/Title"]) == "Templates: Two-piece keepsake box"
        alts = list(_alts(pdf.Root.StructTreeRoot))
    assert any(alt.startswith("base at true size.") for alt in alts)
    assert any("85.60" in alt for alt in alts)
    with opened(out) as pages:
        said = pages.pages[0].extract_text()
    assert "actual size" in said and "Page 1 of" in said


def _alts(node: pikepdf.Object) -> Iterator[str]:
    if isinstance(node, pikepdf.Dictionary):
        if "/Alt" in node:
            yield str(node["/Alt"])
        if "/K" in node:
            yield from _alts(node["/K"])
    elif isinstance(node, pikepdf.Array):
        for one in node:
            yield from _alts(one)


def test_only_fractions_are_set_as_fractions() -> None:
    """Of `4 1/8 × 4 1/8 in` under a piece the fours are ordinary figures, wider than those of a fraction."""
    text = AWKWARD.format(wide=100, high=100).replace("60 x 60 mm", "4 1/8 x 4 1/8 in")
    with quick(), pdfplumber.open(io.BytesIO(made(text, LETTER, System.IMPERIAL)[0].pdf)) as pdf:
        chars = [char for char in pdf.pages[0].chars if char["size"] == pytest.approx(11, abs=0.01)]
    wide = {
        figure: {round(one["width"] / one["size"], 2) for one in chars if one["text"] == figure} for figure in "418"
    }
    assert min(wide["4"]) > 0.45
    assert max(wide["1"] | wide["8"]) < 0.45


def test_on_the_back_what_came_towards_you_goes_away() -> None:
    """A mirrored template is drawn on the back, from where a valley of the good side is a mountain."""
    text = (RECIPES / "concertina" / "recipe.md").read_text(encoding="utf-8")
    _, designs = made(text, A4, System.METRIC)
    strip = next(design for design in designs if any(run.kind == "valley" for run in design.contours.runs))
    folds = {LineKind.VALLEY, LineKind.MOUNTAIN}
    front, behind = (
        [kind for kind, _ in laid_out(strip, False, mirrored, {}).lines if kind in folds] for mirrored in (False, True)
    )
    assert len(front) == 3
    assert all({one, other} == folds for one, other in zip(front, behind, strict=True))


def test_four_widths_of_line_on_a_template():
    """Read back from the PDF: no stroke is of another width than those of pages and cards."""
    text = (RECIPES / "keepsake-box" / "recipe.md").read_text(encoding="utf-8")
    printed, _ = made(text, LETTER, System.IMPERIAL)
    with quick(), pdfplumber.open(io.BytesIO(printed.pdf)) as pdf:
        strokes = [one for page in pdf.pages for one in (*page.lines, *page.curves, *page.rects) if one["stroke"]]
    found = {round(one["linewidth"] * MM, 2) for one in strokes}
    assert found <= {CUT, EDGE, SCORE, FINE}
    assert {CUT, SCORE, FINE} <= found
