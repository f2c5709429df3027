"""Run sheets on paper: letters that can be read from two metres, no step over two pages, all looks."""

from __future__ import annotations

import math

import pytest

from foldwright.document.run_sheet import RunSheet, run_sheet
from foldwright.measure.length import System
from foldwright.render.paper.papers import A4, A5, HALF_LETTER, LETTER, Paper
from foldwright.render.paper.reading_distance import height_mm, points_for, read_from_mm
from foldwright.render.paper.run_sheet import RunMisfit, RunSheetPdf, run_sheet_pdf
from printed.inside import in_margins, off_page
from printed.laid import Laid, laid
from printed.legible import overlapping
from printed.reading import CAP_HEIGHT, POINTS, read
from printed.unbroken import broken_measures
from workbench.compiled import DEMOS, RECIPES, compiled
from workbench.demo_pages import THEMES
from workbench.long import LONG

# NUREG-0700, revision 2, 1.3.1-4: characters of at least 16 minutes of arc, 20 to 22 preferred; height = 6.283 D MA /
# 21600. At two metres that is 6.283 x 2000 x 16 / 21600 = 9.308 mm, and 11.635 mm for 20.
LEAST_MM, PREFERRED_MM = 9.308, 11.635
NAMES = DEMOS if LONG else ("birdhouse", "layered-card")


def test_letters_are_as_high_as_the_published_rule_has_them() -> None:
    assert height_mm(16, 2000) == pytest.approx(LEAST_MM, abs=0.001)
    assert height_mm(20, 2000) == pytest.approx(PREFERRED_MM, abs=0.001)
    # The same as an angle: an eye two metres away sees it under 16 sixtieths of a degree.
    seen = 2 * math.degrees(math.atan(height_mm(16, 2000) / 2 / 2000)) * 60
    assert seen == pytest.approx(16, abs=0.001)


@pytest.mark.parametrize("minutes", [10, 16, 20, 22])
def test_type_is_no_smaller_than_asked_and_half_a_point_larger_at_most(minutes: int) -> None:
    capitals = points_for(minutes, 2000) * CAP_HEIGHT / POINTS["mm"]
    assert 0 <= capitals - height_mm(minutes, 2000) < 0.5 * CAP_HEIGHT / POINTS["mm"] + 1e-9


def test_half_the_size_is_read_from_half_as_far() -> None:
    assert read_from_mm(20) == pytest.approx(read_from_mm(40) / 2)
    assert read_from_mm(points_for(16, 2000)) >= 2000


def sheet_of(name: str, system: System) -> RunSheet:
    document, checked = compiled((RECIPES / name / "recipe.md").read_text(encoding="utf-8"), name)
    assert checked.understood is not None
    sheet = run_sheet(document, checked.understood.times)
    assert sheet is not None
    return sheet


def made(name: str, theme: str, paper: Paper, system: System) -> RunSheetPdf:
    pdf = run_sheet_pdf(sheet_of(name, system), system, theme, paper)
    assert isinstance(pdf, RunSheetPdf)
    return pdf


ON_PAPER = [
    (name, theme, paper)
    for number, name in enumerate(NAMES)
    for theme in THEMES
    for paper in (A4, LETTER, A5, HALF_LETTER)
    if LONG or (paper is A4 and number == 0) or (paper is LETTER and number and theme == THEMES[0])
]


@pytest.mark.parametrize(("name", "theme", "paper"), ON_PAPER)
def test_a_run_sheet_is_legible_and_has_a_step_to_a_page(name: str, theme: str, paper: Paper) -> None:
    pdf = made(name, theme, paper, paper.system)
    check_letters(pdf)
    check_pages(pdf, len(sheet_of(name, paper.system).steps), paper)


def check_letters(pdf: RunSheetPdf) -> None:
    """What is not told otherwise can be read from two metres."""
    near = dict(pdf.near)
    for number, section in enumerate(_sections(pdf.pdf)):
        glyphs = [glyph for part in section.all() for glyph in part.glyphs if not glyph.text.isspace()]
        capitals = min(glyph.size for glyph in glyphs) * CAP_HEIGHT / POINTS["mm"]
        # The opening stands before the steps.
        if number in near:
            assert capitals < LEAST_MM
            # From as far as it is told: that many minutes of arc are 16.
            assert capitals / near[number] == pytest.approx(LEAST_MM / 2000, rel=0.01)
        else:
            assert capitals >= LEAST_MM - 0.001


def check_pages(pdf: RunSheetPdf, count: int, paper: Paper) -> None:
    """Every step is whole on a page of its own, in order."""
    pages = read(pdf.pdf)
    assert len(pages) == pdf.pages
    opening, *steps = [_pages(section) for section in _sections(pdf.pdf)]
    # The opening takes what pages it needs.
    assert steps == [{pdf.pages - count + number} for number in range(1, count + 1)]
    assert max(opening) <= pdf.pages - count
    for page in pages:
        assert page.width > page.height
    # What says which sheet and page it is stands in the margin at the foot.
    side = paper.page[2] - 0.2
    assert [*off_page(pages), *in_margins(pdf.pdf, (side, side, 0, side)), *overlapping(pages)] == []
    assert broken_measures(pdf.pdf) == []


def _sections(data: bytes) -> list[Laid]:
    """The opening and the steps: the parts of the document that have a heading."""
    tops = [one for top in laid(data) for one in top.all() if one.role == "Sect"]
    return [one for one in tops if any(part.role in ("H1", "H2") for part in one.all())]


def _pages(section: Laid) -> set[int]:
    return {page for page, _ in section.places}


def test_a_step_of_many_words_is_smaller_and_one_of_far_too_many_is_told() -> None:
    text = (RECIPES / "twine-tag" / "recipe.md").read_text(encoding="utf-8")
    head, words, rest = text.partition("\n## ")
    assert words
    long = "Now hold the tag against the light and look at its edge for a moment. "
    for times, near in ((8, True), (60, False)):
        step = f"\n## Look\n\ntime: 1 min\n\n{long * times}\n"
        document, checked = compiled(head + step + words + rest, "twine-tag")
        assert checked.understood is not None
        sheet = run_sheet(document, checked.understood.times)
        assert sheet is not None
        pdf = run_sheet_pdf(sheet, System.METRIC, THEMES[0], A4)
        if near:
            assert isinstance(pdf, RunSheetPdf)
            assert 1 in dict(pdf.near)
        else:
            assert pdf == RunMisfit(too_long=1)


def test_letters_no_face_has_are_told_and_nothing_is_made() -> None:
    text = (RECIPES / "twine-tag" / "recipe.md").read_text(encoding="utf-8")
    document, checked = compiled(text.replace("\n## ", "\n## 箱 ", 1), "twine-tag")
    assert checked.understood is not None
    sheet = run_sheet(document, checked.understood.times)
    assert sheet is not None
    pdf = run_sheet_pdf(sheet, System.METRIC, THEMES[0], A4)
    assert isinstance(pdf, RunMisfit)
    assert [(one.letter, one.block) for one in pdf.unprintable] == [("箱", "step-1")]
