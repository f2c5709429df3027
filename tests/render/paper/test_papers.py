"""The papers of cards and handouts: sizes against standards and another library, names as people write them."""

from __future__ import annotations

from fractions import Fraction

import pytest
import weasyprint
from hypothesis import given
from hypothesis import strategies as st

from foldwright.measure.length import System
from foldwright.measure.paper import named_sheet
from foldwright.render.paper.papers import (
    A3,
    A4,
    A5,
    A6,
    FOUR_BY_SIX,
    HALF_LETTER,
    LEGAL,
    LETTER,
    PAPERS,
    SHEETS,
    TABLOID,
    Paper,
    default_paper,
    next_larger,
    paper_named,
    sheets_for,
)

INCH = Fraction("25.4")
BY_SLUG = {paper.slug: paper for paper in PAPERS + SHEETS}

# ISO 216:2007, series A, trimmed sizes, mm.
ISO_216 = {"a3": (297, 420), "a4": (210, 297), "a5": (148, 210), "a6": (105, 148)}
# ASME Y14.1 (letter is its A, tabloid its B); legal, half letter and 4 x 6 are common practice, no source. Inches.
INCH_SIZES = {
    "letter": ("8.5", "11"), "legal": ("8.5", "14"), "tabloid": ("11", "17"), "half-letter": ("5.5", "8.5"),
    "4x6": ("4", "6"),
}  # fmt: skip
# Printers at home cannot reach up to about 6 mm of an edge (common practice, no source).
OUT_OF_REACH = 6


@pytest.mark.parametrize(("slug", "size"), ISO_216.items())
def test_the_iso_papers(slug: str, size: tuple[int, int]) -> None:
    paper = BY_SLUG[slug]
    assert (paper.width_mm, paper.height_mm) == size
    assert paper.system is System.METRIC


def test_each_iso_paper_is_half_the_one_before_rounded_down() -> None:
    # ISO 216, 4.2 and 4.3: the longer side halved is the next shorter one, fractions of a millimetre dropped.
    for larger, smaller in [(A3, A4), (A4, A5), (A5, A6)]:
        assert smaller.height_mm == larger.width_mm
        assert smaller.width_mm == larger.height_mm // 2


@pytest.mark.parametrize(("slug", "size"), INCH_SIZES.items())
def test_the_inch_papers(slug: str, size: tuple[str, str]) -> None:
    paper = BY_SLUG[slug]
    assert (paper.width_mm / INCH, paper.height_mm / INCH) == tuple(map(Fraction, size))
    assert paper.system is System.IMPERIAL


def test_nothing_is_lost_of_a_sheet_known_elsewhere() -> None:
    for paper in BY_SLUG.values():
        known = named_sheet(paper.name)
        assert known is None or tuple(side.mm for side in known) == (paper.width_mm, paper.height_mm)
    assert [paper.name for paper in PAPERS if named_sheet(paper.name) is None] == ["4 x 6 in"]


# The names that CSS Paged Media Module Level 3, 7.1 ("size") gives to pages; the typesetter reads them on its own.
@pytest.mark.parametrize(
    ("name", "paper"), {"letter": LETTER, "legal": LEGAL, "ledger": TABLOID, "A5": A5, "A4": A4, "A3": A3}.items()
)
def test_a_typesetter_makes_pages_of_that_size(name: str, paper: Paper) -> None:
    (page,) = weasyprint.HTML(string=f"<style>@page {{ size: {name} }}</style>x").render().pages
    # Its px are 1/96 in (CSS Values 3).
    size = (page.width / 96 * 25.4, page.height / 96 * 25.4)
    assert size == pytest.approx((float(paper.width_mm), float(paper.height_mm)))


def test_what_a_card_can_be_made_for() -> None:
    assert [paper.name for paper in PAPERS] == ["letter", "half letter", "4 x 6 in", "A4", "A5", "A6"]
    assert [paper.slug for paper in PAPERS] == ["letter", "half-letter", "4x6", "a4", "a5", "a6"]
    assert [paper.slug for paper in PAPERS if paper.small] == ["4x6", "a6"]
    assert [paper.sizes_pt[0] for paper in PAPERS] == [9.5, 8.5, 8, 9.5, 8.5, 8]
    # Words on letter and A4 are 9.5 to 11 points, as letters and books are (common practice, no source).
    assert all(paper.sizes_pt[-1] == 11 for paper in (LETTER, A4))


def test_margins_are_within_reach_of_a_printer_and_grow_with_the_paper() -> None:
    for system in System:
        rising = sorted((paper for paper in PAPERS if paper.system is system), key=lambda paper: paper.area_mm2)
        margins = [paper.margin_mm for paper in rising]
        assert margins[0] > OUT_OF_REACH
        assert margins == sorted(set(margins))


def test_papers_are_upright() -> None:
    assert all(paper.width_mm < paper.height_mm for paper in BY_SLUG.values())


@pytest.mark.parametrize(
    ("text", "paper"),
    [
        ("letter", LETTER), ("Letter", LETTER), ("US Letter", LETTER), ("letter paper", LETTER), (" LETTER ", LETTER),
        ("8.5x11", LETTER), ("8 1/2 x 11 in", LETTER), ('8½" × 11"', LETTER),
        ("half letter", HALF_LETTER), ("half-letter", HALF_LETTER), ("Half_Letter", HALF_LETTER),
        ("halfletter", HALF_LETTER), ("half letter paper", HALF_LETTER), ("5 1/2 x 8 1/2", HALF_LETTER),
        ("4x6", FOUR_BY_SIX), ("4 x 6", FOUR_BY_SIX), ("4 x 6 in", FOUR_BY_SIX), ("4×6", FOUR_BY_SIX),
        ("6x4", FOUR_BY_SIX), ("6 × 4 in", FOUR_BY_SIX), ("4X6 paper", FOUR_BY_SIX), ("4 in x 6 in", FOUR_BY_SIX),
        ("4 by 6 inches", FOUR_BY_SIX), ("4x6 cards", FOUR_BY_SIX), ("4-x-6", FOUR_BY_SIX),
        ("a4", A4), ("A4", A4), ("A 4", A4), ("A-4", A4), ("ISO A4", A4), ("A4 paper", A4), ("210 x 297", A4),
        ("A5", A5), ("a5 sheet", A5), ("14.8 x 21 cm", A5), ("a 6", A6), ("148 x 105 mm", A6),
    ],
)  # fmt: skip
def test_papers_as_people_name_them(text: str, paper: Paper) -> None:
    assert paper_named(text) == paper


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "paper", "letters", "A", "4", "A7", "A44", "A6 envelope", "A2 envelope", "legal", "tabloid", "A3",
        "4 x 6 mm", "4 x 6 cm", "4 x 6 ft", "4 x 6 x 1", "4 x 7", "8 x 10", "half", "half A4", "x", "4x", "x" * 10_000,
    ],
)  # fmt: skip
def test_what_is_no_paper_for_a_card(text: str) -> None:
    assert paper_named(text) is None


@given(st.text(max_size=40))
def test_any_text_is_a_paper_or_none(text: str) -> None:
    assert paper_named(text) in (None, *PAPERS)


@given(st.sampled_from(PAPERS), st.sampled_from(["{}", " {} ", "{} paper", "{} Sheet"]), st.booleans())
def test_each_paper_answers_to_its_name_and_slug(paper: Paper, pattern: str, loud: bool) -> None:
    for name in (paper.name, paper.slug):
        text = pattern.format(name)
        assert paper_named(text.upper() if loud else text) == paper


def test_the_next_size_up() -> None:
    assert {paper.slug: (next_larger(paper) or paper).slug for paper in PAPERS} == {
        "4x6": "half-letter", "half-letter": "letter", "letter": "letter", "a6": "a5", "a5": "a4", "a4": "a4",
    }  # fmt: skip
    assert next_larger(LETTER) is None and next_larger(A4) is None


@pytest.mark.parametrize(
    ("listed", "imperial", "metric"),
    [
        ([], LETTER, A4),
        (["letter", "A4"], LETTER, A4),
        (["A5", "A4"], A5, A5),
        (["4x6", "letter", "A6"], FOUR_BY_SIX, A6),
        (["A4", "half-letter"], HALF_LETTER, A4),
        (["tabloid", "12 x 12 in", "A5"], A5, A5),
        (["tabloid"], LETTER, A4),
    ],
)
def test_the_paper_a_card_is_for_when_nobody_asks(listed: list[str], imperial: Paper, metric: Paper) -> None:
    assert default_paper(System.IMPERIAL, listed) == imperial
    assert default_paper(System.METRIC, listed) == metric


@pytest.mark.parametrize(
    ("card", "listed", "order"),
    [
        (FOUR_BY_SIX, [], [LETTER, LEGAL, TABLOID, A4, A3]),
        (A6, [], [A4, A3, LETTER, LEGAL, TABLOID]),
        (A6, ["letter", "A4"], [A4, LETTER, A3, LEGAL, TABLOID]),
        (FOUR_BY_SIX, ["A3 paper", "a4", "A5"], [A4, A3, LETTER, LEGAL, TABLOID]),
        (FOUR_BY_SIX, ["11 x 17 in"], [TABLOID, LETTER, LEGAL, A4, A3]),
    ],
)
def test_the_sheets_several_cards_are_printed_on(card: Paper, listed: list[str], order: list[Paper]) -> None:
    assert list(sheets_for(card, listed)) == order
