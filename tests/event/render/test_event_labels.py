"""Bag labels read back with pdfplumber, which had no part in setting them: every allergen whole, inside its label.

ISO 216: A4 is 210 x 297 mm.
"""

from __future__ import annotations

import io
import re
from fractions import Fraction

import pdfplumber
import pikepdf
import pytest
from msgspec.structs import replace
from PIL import Image

from foldwright.event.document.model import LabelText
from foldwright.event.render.grids import Across, LabelGrid, LabelSheet, Overhang, grid_of, plain_sheet
from foldwright.event.render.heroes import Hero
from foldwright.event.render.labels import labels_pdf, least_sizes
from foldwright.render.markup import plain_line
from foldwright.render.paper.papers import A4, A5
from printed.declared import declared_complaints
from printed.structure import structure_complaints

POINTS = 72 / 25.4
LONG = LabelText(
    "A treat box with an exceptionally long and winding name",
    ("base, 12 × corner mount, 36 1/2 in of cotton twine, 4 × foam square and 3 × caramel, tissue paper, 2 × bell",),
    "Contains milk, hazelnuts, eggs, soya, peanuts, sesame, sulphites and gluten.",
    "Harbour Street Paper Studio",
)
SHORT = LabelText("Tag", ("tag",), "", "")
GRAVE = LabelText(
    "Lantern favour",
    ("wall, toffee and tea light",),
    "Contains milk and hazelnuts. Holds magnets: keep away from children. If someone swallows one, get "
    "emergency help at once. Not for children under three: small parts and long cords.",
    "Harbour Street Paper Studio",
)


def grid(width: object, height: object) -> LabelGrid:
    found = grid_of(A4, plain_sheet(Fraction(str(width)), Fraction(str(height))))
    assert isinstance(found, LabelGrid)
    return found


def made(labels: list[LabelText], places: LabelGrid, theme: str = "harbour", **wishes: object) -> bytes:
    data = labels_pdf(labels, places, "Bag labels", "en", theme, **wishes)
    assert isinstance(data, bytes)
    return data


def read_in(data: bytes, places: LabelGrid, number: int = 0) -> list[str]:
    """What stands on each label of a page, and nothing anywhere else; a letter over an edge belongs to none."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        page = pdf.pages[number]
        assert (round(page.width / POINTS), round(page.height / POINTS)) == (210, 297)
        texts, inside = [], 0
        for left, top in places.places:
            box = (left, top, left + float(places.width), top + float(places.height))
            inner = page.within_bbox([side * POINTS for side in box])
            texts.append(" ".join(inner.extract_text().split()))
            inside += len(inner.chars)
        assert inside == len(page.chars)
        return texts


SIZES = [(38, 21), ("63.5", "38.1"), (95, 55), (20, 44), (30, 25), (200, 20)]


@pytest.mark.parametrize(
    ("theme", "width", "height"),
    [*(("harbour", *size) for size in SIZES), *((theme, *SIZES[0]) for theme in ("almanac", "workbench"))],
)
def test_every_allergen_is_whole_and_inside_its_label_or_the_label_is_refused(
    theme: str, width: object, height: object
) -> None:
    places = grid(width, height)
    data = labels_pdf([LONG, SHORT, LONG], places, "Bag labels", "en", theme)
    if not isinstance(data, bytes):
        assert data == (LONG,)
        sizes = least_sizes([LONG], places, Fraction(1), theme)
        assert all(across > places.width or down > places.height for across, down in sizes)
        (across, down) = sizes[0]
        places = grid(across, down)
        data = made([LONG, SHORT, LONG], places, theme)
    texts = read_in(data, places)
    assert all(LONG.warning in texts[number] for number in (0, 2))
    assert all("A treat" in texts[number] for number in (0, 2))
    assert texts[1].startswith("Tag")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        bold = [char["size"] for char in pdf.pages[0].chars if "Semi" in char["fontname"]]
    # Titles and warnings are the bold ones.
    assert min(bold) > 6.99


def test_counts_and_measures_stay_on_a_line() -> None:
    bound = "12\u00a0×\u00a0mount, 36\u202f1\u20442\u00a0in, 2\u00a0×\u00a03, 2\u00a0yd, 4 inserts"
    assert plain_line("12 × mount, 36 1/2 in, 2 x 3, 2 yd, 4 inserts") == bound


def test_the_title_and_the_contents_give_way_in_order() -> None:
    whole, shorter, barest = (
        read_in(made([LONG], places), places)[0] for places in (grid(95, 55), grid(63, 30), grid(40, 21))
    )
    assert LONG.foot in whole and "36 ½" in whole.replace("1⁄2", "½").replace("\u202f", " ")
    assert LONG.title in whole and LONG.title in shorter
    assert "corner mount" not in barest and LONG.title not in barest and "…" in barest
    assert LONG.warning in barest


@pytest.mark.parametrize(
    ("label", "width", "height"),
    [(GRAVE, 30, 20), (LONG, 24, 20), (LONG, 25, 20), (replace(LONG, name="Bo Åkerström"), 30, 20)],
)
def test_a_refused_label_names_sizes_that_do_and_a_step_less_does_not(
    label: LabelText, width: int, height: int
) -> None:
    places = grid(width, height)
    assert labels_pdf([SHORT, label], places, "Bag labels", "en", "harbour") == (label,)
    sizes = least_sizes([SHORT, label], places, Fraction(1), "harbour")
    assert sizes
    for across, down in sizes:
        fitting = grid(across, down)
        assert label.warning in read_in(made([label], fitting), fitting)[0]
        less = grid(across, down - 1) if across == width else grid(across - 1, down)
        assert labels_pdf([label], less, "Bag labels", "en", "harbour") == (label,)


def test_a_warning_with_a_word_wider_than_the_label_asks_for_a_wider_one() -> None:
    wide = LabelText("Tag", (), "Contains Weihnachtsgeschenkpapierschachtelreste.", "")
    assert labels_pdf([wide], grid(25, 40), "Bag labels", "en", "harbour") == (wide,)
    ((across, down),) = least_sizes([wide], grid(25, 40), Fraction(1), "harbour")
    assert across > 25 and down == 40


def test_what_goes_on_no_label_of_the_paper_has_no_least_size() -> None:
    endless = LabelText("Tag", (), "milk " * 3000, "")
    places = grid_of(A5, plain_sheet(Fraction(60), Fraction(40)))
    assert isinstance(places, LabelGrid)
    assert least_sizes([endless], places, Fraction(20), "harbour") == ()


@pytest.mark.parametrize(("width", "height"), [(95, 55), ("63.5", "38.1"), (50, 40)])
def test_a_name_comes_first_and_whole_or_a_line_to_write_it_on(width: object, height: object) -> None:
    places = grid(width, height)
    names = ["Bo", "Zoë Ångström-Featherstonehaugh", "M" * 60]
    labels = [replace(LONG, name=name) for name in names]
    texts = read_in(made([*labels, LONG], places, name_line=True), places)
    for name, text in zip(names, texts, strict=False):
        assert "".join(text.split()).startswith("".join(name.split()))
    assert texts[3].startswith("A treat box")
    with pdfplumber.open(io.BytesIO(made([*labels, LONG], places, name_line=True))) as pdf:
        lined = [line for line in pdf.pages[0].lines if line["width"] < float(places.width) * POINTS - 1]
    assert len(lined) == 1
    with pdfplumber.open(io.BytesIO(made([*labels, LONG], places))) as pdf:
        assert not [line for line in pdf.pages[0].lines if line["width"] < float(places.width) * POINTS - 1]


def test_pages_alike_are_drawn_once_and_tagged_each() -> None:
    """ISO 32000-1, 14.7.4: every page has a key of its own in the parent tree, every text an element."""
    places = grid(95, 55)
    told: list[tuple[int, int]] = []
    data = made([SHORT] * 25 + [LONG] * 25, places, told=lambda done, every: told.append((done, every)))
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == 5
        words = " ".join(page.extract_text() for page in pdf.pages)
        contents = [page.page_obj.contents[0].objid for page in pdf.pages]
    assert (len(re.findall(r"\bTag\b", words)), words.count("sulphites and gluten.")) == (25, 25)
    assert contents[0] == contents[1] != contents[2] != contents[3] == contents[4]
    assert structure_complaints(data) == ["there are 0 headings of the first level, not one"]
    assert declared_complaints(data, title="Bag labels", language="en") == []
    assert told[-1][0] == told[-1][1]
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert made([SHORT] * 25 + [LONG] * 25, places) == data


def test_a_sheet_by_measure_lies_where_its_measures_say() -> None:
    """Labels of 63.5 x 38.1 mm, 21 on an A4 sheet: 7.2 + 3 x 63.5 + 2 x 2.5 mm end 7.3 mm before its right edge."""
    sheet = LabelSheet(
        Across(Fraction("63.5"), 3, Fraction("7.2"), Fraction("2.5")), Across(Fraction("38.1"), 7, Fraction("15.1"))
    )
    places = grid_of(A4, sheet)
    assert isinstance(places, LabelGrid)
    assert len(places.places) == 21
    first = [(7.2, 15.1), (73.2, 15.1), (139.2, 15.1), (7.2, 53.2)]
    assert all(at == pytest.approx(here) for at, here in zip(places.places, first, strict=False))
    data = made([SHORT] * 21, places)
    assert all(text.startswith("Tag") for text in read_in(data, places))
    # Labels that are cut already get no lines to cut along.
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert not pdf.pages[0].rects and not pdf.pages[0].lines
    with pdfplumber.open(io.BytesIO(made([SHORT], grid(95, 55)))) as pdf:
        assert pdf.pages[0].rects or pdf.pages[0].lines or pdf.pages[0].curves


@pytest.mark.parametrize(
    ("sheet", "across", "total"),
    [
        (plain_sheet(Fraction(220), Fraction(50)), True, 220),
        (LabelSheet(Across(Fraction(70), 3, Fraction(1)), Across(Fraction(30))), True, 211),
        (LabelSheet(Across(Fraction(70), 3), Across(Fraction(37), 8, None, Fraction(1))), False, 303),
    ],
)
def test_a_sheet_that_goes_over_the_edge_says_its_sum(sheet: LabelSheet, across: bool, total: int) -> None:
    over = grid_of(A4, sheet)
    assert isinstance(over, Overhang)
    assert (over.across, over.total) == (across, total)


def test_labels_without_margins_lie_in_the_middle() -> None:
    """Three of 70 mm fill A4's 210 mm exactly."""
    places = grid_of(A4, LabelSheet(Across(Fraction(70), 3), Across(Fraction(37), 8)))
    assert isinstance(places, LabelGrid)
    assert places.places[0] == (0.0, 0.5)
    assert len(grid_of(A4, plain_sheet(Fraction(95), Fraction(55))).places) == 10


def _hero(wide: int, high: int) -> Hero:
    """A photograph of plain grey."""
    data = io.BytesIO()
    Image.new("RGB", (wide, high), "#888888").save(data, "JPEG")
    return Hero("box", data.getvalue(), "image/jpeg", high / wide, "A box")


@pytest.mark.parametrize("theme", ["harbour", "workbench", "almanac"])
@pytest.mark.parametrize(("width", "height"), [(95, 55), ("63.5", "38.1"), (50, 80)])
def test_the_finished_thing_stands_beside_the_words_and_covers_none(theme: str, width: object, height: object) -> None:
    places = grid(width, height)
    labels = [replace(SHORT, slug="box", warning="Contains milk."), replace(SHORT, slug="other")]
    for hero in (_hero(90, 60), _hero(60, 90)):
        data = made(labels, places, theme, heroes=(hero,))
        assert [text.startswith("Tag") for text in read_in(data, places)[:2]] == [True, True]
        with pdfplumber.open(io.BytesIO(data)) as pdf:
            page = pdf.pages[0]
            (image,) = page.images
            left, top = (side * POINTS for side in places.places[0])
            assert left <= image["x0"] and image["x1"] <= left + float(places.width) * POINTS
            assert top <= image["top"] and image["bottom"] <= top + float(places.height) * POINTS
            shown = (image["x1"] - image["x0"]) / (image["bottom"] - image["top"])
            assert shown == pytest.approx(1 / hero.ratio, rel=0.01)
            for char in page.chars:
                assert (
                    char["x1"] <= image["x0"]
                    or char["x0"] >= image["x1"]
                    or char["bottom"] <= image["top"]
                    or char["top"] >= image["bottom"]
                )


def test_a_picture_gives_way_before_letters_are_hard_to_read() -> None:
    places = grid(40, 21)
    data = made([replace(LONG, slug="box")], places, heroes=(_hero(60, 60),))
    assert LONG.warning in read_in(data, places)[0]
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert not pdf.pages[0].images


def test_a_picture_that_comes_many_times_is_in_the_file_once() -> None:
    places = grid(95, 55)
    labels = [replace(SHORT, slug="box", name=f"Guest {number}") for number in range(50)]
    data = made(labels, places, heroes=(_hero(60, 60),))
    with pikepdf.open(io.BytesIO(data)) as pdf:
        pictures = [one for one in pdf.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image"]
    assert len(pictures) == 1
    assert structure_complaints(data) == ["there are 0 headings of the first level, not one"]
