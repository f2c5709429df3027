"""How paper and lines look: contrast by the formula of WCAG written here again, widths and dashes read from the SVG."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise, product
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import ImageColor

from foldwright.document.model import Document, Picture
from foldwright.document.papers import told_apart
from foldwright.geometry.scene import LineKind, PaperLook
from foldwright.measure.length import System
from foldwright.render.drawing.pens import (
    CUT,
    EDGE,
    FINE,
    FINE_INK,
    INK,
    LIGHT_INK,
    SCORE,
    dash_scale,
    is_dark,
    paper_tone,
    pen_of,
    wash_of,
)
from foldwright.render.drawing.printing import printed
from foldwright.render.paper.prints import Drawing
from foldwright.render.paper.prints import drawn as printed_picture
from foldwright.render.web.tutorial import draw_plan
from foldwright.vocabulary.colours import COLOURS, lightness
from workbench.compiled import DEMOS, demo, small

SVG = "{http://www.w3.org/2000/svg}"
THEMES = Path(__file__).resolve().parents[2] / "themes"
DARK = re.compile(r"@media \(prefers-color-scheme:dark\)\{:root\{(.*?)\}\}", re.DOTALL)


def luminance(rgb: tuple[float, ...]) -> float:
    """WCAG 2.2, relative luminance."""
    parts = [one / 255 for one in rgb]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def rgb(tone: str) -> tuple[float, ...]:
    return ImageColor.getrgb(tone)[:3]


def laid_on(tone: str, opacity: float, ground: str) -> tuple[float, ...]:
    """A colour that lets some of the ground through."""
    return tuple(one * opacity + two * (1 - opacity) for one, two in zip(rgb(tone), rgb(ground), strict=True))


@pytest.mark.parametrize("colour", COLOURS, ids=[one.name for one in COLOURS])
def test_an_edge_shows_on_every_paper_in_every_light(colour: object) -> None:
    tone = colour.tone  # type: ignore[attr-defined]
    paper = PaperLook(tone, "#ffffff")
    for shade in (1, 2, 3):
        front = paper_tone(paper, True, shade)
        assert contrast(rgb(LIGHT_INK if is_dark(front) else INK), rgb(front)) >= 3


def test_black_and_charcoal_have_light_lines_and_cream_dark_ones() -> None:
    tones = {one.name: one.tone for one in COLOURS}
    assert is_dark(tones["black"])
    assert is_dark(tones["charcoal"])
    assert not is_dark(tones["cream"])


def _theme(name: str, dark: bool) -> dict[str, str]:
    style = (THEMES / name / "page.css").read_text(encoding="utf-8")
    found = DARK.search(style)
    assert found is not None
    light = dict(re.findall(r"--plan-(\w+):(#\w+)", style[: found.start()]))
    shown = light | dict(re.findall(r"--plan-(\w+):(#\w+)", found[1])) if dark else light
    ink = shown["ink"]
    return {"figures": ink, "fold": ink, **shown}


@pytest.mark.parametrize(("theme", "dark"), list(product(("almanac", "harbour", "workbench"), (False, True))))
def test_words_and_lines_of_a_plan_are_read_on_every_paper(theme: str, dark: bool) -> None:
    """Words at 4.5 to 1, lines at 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11)."""
    looks = _theme(theme, dark)
    opacity = re.search(r"--plan-wash,([.\d]+)", _drawing_css())
    assert opacity is not None
    for one in COLOURS:
        face = laid_on(one.tone, float(opacity[1]) if dark else wash_of(one.tone), looks["paper"])
        for line in ("fold", "ink", "fine"):
            assert contrast(rgb(looks[line]), face) >= 3, (one.name, line)
        for words in ("figures", "ink"):
            assert contrast(rgb(looks[words]), face) >= 4.5, (one.name, words)


def test_fine_lines_on_white_paper_show_on_every_washed_plan() -> None:
    for one in COLOURS:
        assert contrast(rgb(FINE_INK), laid_on(one.tone, wash_of(one.tone), "#ffffff")) >= 4.5, one.name


def test_washed_plans_keep_the_order_of_their_papers() -> None:
    for one, other in product(COLOURS, COLOURS):
        if lightness(one.tone) > lightness(other.tone) + 8:
            faces = (laid_on(tone, wash_of(tone), "#ffffff") for tone in (one.tone, other.tone))
            lighter, darker = map(luminance, faces)
            assert lighter > darker, (one.name, other.name)


def _drawing_css() -> str:
    from foldwright.render.drawing.pens import STYLES

    return STYLES


def test_papers_alike_are_told_apart_and_keep_their_order() -> None:
    tones = ["#eeece7", "#f0ebd8", "#efe3c6", "#333335", "#34496f", "#3a4f73"]
    moved = told_apart(tones)
    order = sorted(range(6), key=lambda number: lightness(tones[number]))
    levels = [lightness(moved[number]) for number in order]
    assert all(high - low > 3.5 for low, high in pairwise(levels))
    assert moved[3] == tones[3]


def pictures(document: Document) -> Iterator[Picture]:
    yield from (piece.picture for piece in document.pieces if piece.picture)
    yield from (picture for step in document.steps for picture in step.pictures)
    if document.finished:
        yield document.finished


def widths(svg: str) -> set[float]:
    """Of all lines; a halo is a gap round a line, in the colour of the page."""
    found = set()
    for one in ElementTree.fromstring(svg).iter():
        if "halo" not in one.get("class", "") and (width := one.get("stroke-width")):
            found.add(float(width))
    return found


@pytest.mark.parametrize("name", DEMOS)
def test_four_widths_of_line_on_pages_and_on_paper(name: str) -> None:
    found = set()
    for picture in pictures(demo(name)):
        found |= widths(draw_plan(picture, System.METRIC))
        on_paper = printed_picture(picture, System.METRIC)
        if isinstance(on_paper, Drawing):
            found |= widths(on_paper.svg_at(on_paper.least_mm))
    assert found <= {CUT, EDGE, SCORE, FINE}
    assert {CUT, FINE} < found, "all that is cut and measured"


def test_cream_is_drawn_lighter_than_navy() -> None:
    (finished,) = [demo("layered-card").finished]
    assert finished is not None
    root = ElementTree.fromstring(draw_plan(finished, System.METRIC))
    tones = {one.get("fill", "") for one in root.iter(SVG + "path") if one.get("class") == "sheet"}
    levels = sorted(lightness(tone) for tone in tones)
    assert levels[0] < 40, "navy"
    assert levels[1] > 70, "cream, the dotted paper and the inside"
    assert any(one.get("class") == "print" for one in root.iter(SVG + "path"))


def test_by_its_colour_before_its_name() -> None:
    one = small(supplies="  card: cardstock, sheet A4, colour navy or plum\n  plum card: cardstock, sheet A4")
    looks = one.pieces[0].picture.scene.papers  # type: ignore[union-attr]
    navy = next(colour.tone for colour in COLOURS if colour.name == "navy")
    assert looks[0].front == navy
    assert lightness(looks[0].back) > lightness(navy), "coloured through, the back a little lighter"


# --- dashes -----------------------------------------------------------------------------------------------------------


def pattern(kind: LineKind, scale: float) -> list[float]:
    found = re.search(r'stroke-dasharray="([^"]*)"', pen_of(kind, dashes=scale))
    return [float(part) for part in found[1].split()] if found else []


FOLDS = (LineKind.VALLEY, LineKind.MOUNTAIN, LineKind.SCORE, LineKind.PERFORATION)


@pytest.mark.parametrize("long", [6.0, 9.0, 14.0, 40.0, 200.0])
def test_the_shortest_line_shows_three_of_its_dashes(long: float) -> None:
    for kind in FOLDS:
        scale = dash_scale([(kind, ((0.0, 0.0), (long, 0.0))), (kind, ((0.0, 0.0), (500.0, 0.0)))], 1.0)
        assert 3 * sum(pattern(kind, scale)) <= long + 0.1, kind


@pytest.mark.parametrize("scale", [0.36, 0.6, 1.0])
def test_folds_differ_at_every_size(scale: float) -> None:
    valley, mountain, score, dots = (pattern(kind, scale) for kind in FOLDS)
    assert len(valley) == 2
    assert len(mountain) == 4
    assert mountain[2] < mountain[0] / 4, "a dot after a dash"
    assert score[0] < valley[0] / 2, "short dashes and long ones"
    assert dots[0] == 0.01, "as round as its ends"
    assert not pattern(LineKind.CUT, scale)
    assert not pattern(LineKind.EDGE, scale)
    assert pattern(LineKind.GUIDE, scale)[0] == 0.01, "the way of a part is dotted: dashes are folds"


def test_what_is_printed_on_paper_stays_on_it() -> None:
    """Every corner of every mark lies in the face, foreshortened or not, and none in its window."""
    from shapely.geometry import Point, Polygon

    ring = [(0.0, 0.0), (40.0, 8.0), (40.0, 38.0), (0.0, 30.0)]
    hole = [(10.0, 10.0), (20.0, 12.0), (20.0, 22.0), (10.0, 20.0)]
    face = Polygon(ring, [hole]).buffer(0.02)
    for name in ("dots", "stars", "floral", "leaf", "map"):
        (way,) = printed(name, [ring, hole], (0.8, 0.16), (0.0, 0.9))
        spots = re.findall(r"([-\d.]+) ([-\d.]+)", way)
        assert len(spots) > 50
        assert all(face.covers(Point(float(x), float(y))) for x, y in spots), name
    for name, layers in (("stripes", 1), ("gingham", 2)):
        ways = printed(name, [ring, hole], (0.8, 0.16), (0.0, 0.9))
        assert len(ways) == layers
        outside = Polygon(ring).buffer(0.02)
        for x, y in re.findall(r"([-\d.]+) ([-\d.]+)", "".join(ways)):
            assert outside.covers(Point(float(x), float(y))), name


def test_patterns_and_colours_arrive_on_paper() -> None:
    """The typesetter draws them: read back from the PDF by pdfplumber."""
    import io

    import pdfplumber
    from weasyprint import HTML

    finished = demo("layered-card").finished
    assert finished is not None
    on_paper = printed_picture(finished, System.METRIC)
    assert isinstance(on_paper, Drawing)
    page = HTML(string=f"<p>{on_paper.svg_at(on_paper.most_mm)}</p>").write_pdf()
    with pdfplumber.open(io.BytesIO(page)) as pdf:
        shapes = [one for page in pdf.pages for one in (*page.curves, *page.rects) if one["fill"]]
    fills = {tuple(round(255 * part) for part in one["non_stroking_color"]) for one in shapes}
    drawn = ElementTree.fromstring(draw_plan(finished, System.METRIC))
    wanted = {rgb(one.get("fill", "")) for one in drawn.iter(SVG + "path") if one.get("class") in ("sheet", "print")}
    assert len(wanted) > 3
    assert wanted <= fills


def test_the_head_of_an_arrow_shows_on_paper_as_light_as_itself() -> None:
    """Dark pages have light arrows, and cream paper stays cream: what shows is the edge round shaft and head."""
    picture = next(one for step in demo("layered-card").steps for one in step.pictures if one.kind == "fold")
    root = ElementTree.fromstring(draw_plan(picture, System.METRIC))
    paths = list(root.iter(SVG + "path"))
    (head,) = (one for one in paths if one.get("class") == "head")
    before = paths[: paths.index(head)]
    halo = next(one for one in reversed(before) if one.get("class") == "halo")
    assert (halo.get("d") or "").endswith(head.get("d") or "?")
    assert float(halo.get("stroke-width", "0")) > 2 * EDGE
    assert ".halo{stroke:var(--plan-paper" in _drawing_css()


@pytest.mark.parametrize("name", DEMOS)
def test_an_arrow_and_the_edge_round_it_stay_in_the_picture(name: str) -> None:
    """At the smallest size, where they are widest beside what they point at."""
    arrows = 0
    for picture in pictures(demo(name)):
        on_paper = printed_picture(picture, System.METRIC, quiet=True)
        if not picture.scene.arrows or not isinstance(on_paper, Drawing):
            continue
        root = ElementTree.fromstring(on_paper.svg_at(on_paper.least_mm))
        _, _, wide, high = map(float, root.get("viewBox", "").split())
        for halo in (one for one in root.iter(SVG + "path") if one.get("class") == "halo"):
            half = float(halo.get("stroke-width", "0")) / 2
            spots = [tuple(map(float, spot)) for spot in re.findall(r"([-\d.]+) ([-\d.]+)", halo.get("d", ""))]
            assert all(half <= x <= wide - half and half <= y <= high - half for x, y in spots), picture.name
            arrows += 1
    assert arrows
