"""Labels and place cards read back: by measure, inside their edges, warnings whole. ISO 216: A4 is 210 x 297 mm."""

from __future__ import annotations

import io
from fractions import Fraction

import pdfplumber
import pytest

from foldwright.render.event.labels import Grid, grid_of, labels_pdf, least_size, place_cards_pdf
from foldwright.render.press.papers import paper_named
from foldwright.sheet.event.model import CardText, LabelText

POINTS = 72 / 25.4
LONG = LabelText(
    "A treat box with an exceptionally long and winding name",
    ("base, 12 × corner mount, 36 in of cotton twine, 4 × foam square and 3 × caramel, tissue paper, 2 × bell",),
    "Contains milk, soya, hazelnuts and gluten.",
    "Harbour Street Paper Studio",
)
SHORT = LabelText("Tag", ("tag",), "", "")


def grid(width: int, height: int) -> Grid:
    paper = paper_named("A4")
    assert paper is not None
    found = grid_of(paper, Fraction(width), Fraction(height))
    assert found is not None
    return found


@pytest.mark.parametrize(("width", "height"), [(95, 55), (60, 34), (40, 30)])
@pytest.mark.parametrize("label", [LONG, SHORT], ids=["long", "short"])
def test_every_label_keeps_inside_its_edges_and_its_warning_is_whole(width: int, height: int, label: LabelText) -> None:
    places = grid(width, height)
    data = labels_pdf([label] * (places.places + 1), places, "Labels", "en", "harbour")
    left, top = places.corner
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == 2
        page = pdf.pages[0]
        assert (round(page.width / POINTS), round(page.height / POINTS)) == (210, 297)
        for row in range(places.down):
            for column in range(places.across):
                x, y = (left + column * width) * POINTS, (top + row * height) * POINTS
                inner = page.within_bbox((x + 2, y + 2, x + width * POINTS - 2, y + height * POINTS - 2))
                assert label.warning in " ".join(inner.extract_text().split())
        whole = sum(not char["text"].isspace() for char in page.chars)
        inside = 0
        for row in range(places.down):
            for column in range(places.across):
                x, y = (left + column * width) * POINTS, (top + row * height) * POINTS
                box = page.within_bbox((x + 2, y + 2, x + width * POINTS - 2, y + height * POINTS - 2))
                inside += sum(not char["text"].isspace() for char in box.chars)
        assert inside == whole
        assert min(char["size"] for char in page.chars) >= 6.4


GRAVE = LabelText(
    "Lantern favour",
    ("wall, toffee and tea light",),
    "Contains milk and hazelnuts. Holds magnets: keep from children. If one is swallowed, get emergency help at once. "
    "Not for children under three: small parts and long cords.",
    "Harbour Street Paper Studio",
)


def test_a_label_that_does_not_hold_its_warning_is_not_made_and_the_least_size_holds_it():
    assert labels_pdf([SHORT, GRAVE], grid(30, 20), "Labels", "en", "harbour") == (GRAVE,)
    width, height = least_size(GRAVE, Fraction(30), Fraction(1))
    assert width == 30
    data = labels_pdf([GRAVE], grid(int(width), int(height)), "Labels", "en", "harbour")
    assert isinstance(data, bytes)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert GRAVE.warning in " ".join(pdf.pages[0].extract_text().split())
    assert labels_pdf([GRAVE], grid(int(width), int(height) - 1), "Labels", "en", "harbour") == (GRAVE,)


@pytest.mark.parametrize("theme", ["harbour", "almanac", "workbench"])
@pytest.mark.parametrize("width", [30, 40, 60, 95])
def test_no_theme_lets_a_warning_run_over_the_edge(theme: str, width: int):
    _, height = least_size(GRAVE, Fraction(width), Fraction(1))
    places = grid(width, int(height))
    data = labels_pdf([GRAVE], places, "Labels", "en", theme)
    assert isinstance(data, bytes)
    left, top = places.corner
    box = (left * POINTS, top * POINTS, (left + width) * POINTS, (top + int(height)) * POINTS)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        inner = pdf.pages[0].within_bbox(box).extract_text()
    assert GRAVE.warning in " ".join(inner.split())


def test_a_word_wider_than_the_label_asks_for_a_wider_one():
    wide = LabelText("Weihnachtsgeschenkpapierschachtel", (), "Contains milk.", "")
    assert labels_pdf([wide], grid(25, 40), "Labels", "en", "harbour") == (wide,)
    assert least_size(wide, Fraction(25), Fraction(1))[0] > 25


def test_names_stand_on_the_lower_half_of_their_cards() -> None:
    places = grid(90, 110)
    cards = [
        ("Zoë Ångström-Featherstonehaugh", "Table 1", ""),
        ("Bo", "", "Tag"),
        ("X", "Garden room", "Drawer box, large"),
    ]
    data = place_cards_pdf([CardText(*card) for card in cards], places, "Place cards", "en", "harbour")
    left, top = places.corner
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        (page,) = pdf.pages
        for number, card in enumerate(cards):
            row, column = divmod(number, places.across)
            x, y = (left + column * 90) * POINTS, (top + row * 110) * POINTS
            box = page.within_bbox((x, y + 55 * POINTS, x + 90 * POINTS, y + 110 * POINTS))
            text = "".join(box.extract_text().split())
            assert text == "".join("".join(card).split())
        assert sum(not char["text"].isspace() for char in page.chars) == sum(
            len("".join("".join(card).split())) for card in cards
        )


def test_a_label_larger_than_the_paper_has_no_place() -> None:
    paper = paper_named("A4")
    assert paper is not None
    assert grid_of(paper, Fraction(220), Fraction(50)) is None
