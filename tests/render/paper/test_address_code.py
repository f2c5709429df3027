"""The QR code of a tutorial's address on cards and handouts, read back by zxing-cpp from pictures of the pages."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache

import pikepdf
import pypdfium2
import pytest
import zxingcpp
from msgspec.structs import replace
from PIL import Image

from foldwright.document.model import Document
from foldwright.measure.length import System
from foldwright.outputs.paper_notes import lacks_of
from foldwright.render.paper.address_code import MODULE_MM, QUIET, SMALL_MODULE_MM, address_code
from foldwright.render.paper.card import Card, Proof
from foldwright.render.paper.imposing import impose
from foldwright.render.paper.papers import Paper, paper_named, sheets_for
from foldwright.render.themes import built_in_themes
from printed.order import reading_order
from workbench.compiled import demo
from workbench.long import every
from workbench.papers_of_demos import LOOKED_AT, PAPER_OF, handout

DPI = 150
"""What an office printer does in draft; half of what it usually does."""
LEAST_MODULE_MM = 0.396
"""GS1 General Specifications, 5.12.3.1, for codes read in shops, as GS1 UK tells it."""
ADDRESS = "https://harbourstreet.example/twine-tag/"
CASES = [
    *((theme, "letter", 1) for theme in built_in_themes()),
    *((theme, "half letter", 2) for theme in every(built_in_themes(), 3)),
    *((theme, "A4", 1) for theme in every(built_in_themes()[1:], 2)),
]


def paper(name: str) -> Paper:
    found = paper_named(name)
    assert found
    return found


def pages(pdf: bytes, grey: bool = False) -> Iterator[Image.Image]:
    for page in pypdfium2.PdfDocument(pdf):
        yield page.render(scale=DPI / 72, grayscale=grey).to_pil()


def read(picture: Image.Image) -> list[str]:
    return [one.text for one in zxingcpp.read_barcodes(picture) if one.format == zxingcpp.BarcodeFormat.QRCode]


def figures(pdf: bytes) -> list[str]:
    return [text for role, text in reading_order(pdf) if role == "Figure"]


def at(address: str, name: str = "twine-tag") -> Document:
    sheet = demo(name)
    return replace(sheet, head=replace(sheet.head, address=address))


@cache
def proof(address: str, theme: str, name: str = "twine-tag") -> Proof:
    return Proof(at(address, name), System.IMPERIAL, theme, {})


@cache
def card_of(address: str, theme: str, on: Paper, up: int = 1, name: str = "twine-tag") -> Card:
    placed = impose(on, up, sheets_for(on, demo(name).papers)) if up > 1 else None
    made = proof(address, theme, name).card(on, imposition=placed)
    assert isinstance(made, Card)
    return made


@pytest.mark.parametrize(("theme", "name", "up"), CASES)
def test_a_camera_reads_the_address_off_a_card(theme: str, name: str, up: int) -> None:
    card = card_of(ADDRESS, theme, paper(name), up)
    assert card.version.code
    for grey in (False, True):
        (picture,) = pages(card.pdf, grey)
        assert read(picture) == [ADDRESS] * up
    told = [alt for alt in figures(card.pdf) if "QR" in alt]
    assert told == ["QR code of this page on the web: harbourstreet.example/twine-tag"] * up


@pytest.mark.parametrize(("name", "system", "theme"), [one for one in LOOKED_AT if one[0] == "twine-tag"])
def test_a_camera_reads_the_address_off_a_handout(name: str, system: System, theme: str) -> None:
    made = handout(name, system, theme, PAPER_OF[system])
    assert made.version.code is bool([alt for alt in figures(made.pdf) if "QR" in alt])
    *others, last = pages(made.pdf)
    assert read(last) == ([ADDRESS] if made.version.code else [])
    assert not any(map(read, others))


def test_a_handout_with_room_for_notes_has_the_code() -> None:
    made = handout("twine-tag", System.METRIC, "almanac", paper("A4"))
    assert made.version.code
    assert made.notes_mm >= 25


@pytest.mark.parametrize("theme", built_in_themes())
def test_nothing_else_is_left_out_for_it(theme: str) -> None:
    """The same card without an address: no version, picture or column less, and half a point of type at most."""
    with_code, without = (card_of(address, theme, paper("letter")) for address in (ADDRESS, ""))
    assert replace(with_code.version, code=False) == without.version
    assert with_code.left_out == without.left_out
    assert with_code.size_pt >= without.size_pt - 0.5


def test_a_card_without_room_for_it_says_so() -> None:
    sheet = demo("birdhouse")
    card = card_of(sheet.head.address, "harbour", paper("4 x 6 in"), name="birdhouse")
    assert not card.version.code
    (picture,) = pages(card.pdf)
    assert not read(picture)
    assert "code" in lacks_of(sheet, System.IMPERIAL, card.version, card.left_out).missing
    assert "code" not in lacks_of(at("", "birdhouse"), System.IMPERIAL, card.version, card.left_out).missing


def test_it_is_drawn_and_no_picture_of_dots() -> None:
    card = card_of(ADDRESS, "workbench", paper("letter"))
    with pikepdf.open(io.BytesIO(card.pdf)) as file:
        images = [one for page in file.pages for one in page.get_images()]
    assert not images


@pytest.mark.parametrize("small", [False, True])
def test_squares_are_large_enough_and_white_stays_round_it(small: bool) -> None:
    code = address_code(ADDRESS, "Code", small)
    assert code and code.module_mm == (SMALL_MODULE_MM if small else MODULE_MM) >= LEAST_MODULE_MM
    assert code.least_mm == (len(code.rows) + 8) * code.module_mm
    rows = [tuple(map(int, spot)) for spot in re.findall(r"M(\d+) (\d+)L", code.svg_at(code.least_mm))]
    # The first is the ground.
    assert min(x for x, _ in rows[1:]) == min(y for _, y in rows[1:]) == QUIET == 4


def test_every_address_that_fits_reads_back() -> None:
    for address, uri in (
        ("https://münchen.example/größe & maß/", "https://xn--mnchen-3ya.example/gr%C3%B6%C3%9Fe%20&%20ma%C3%9F/"),
        ("https://harbourstreet.example/" + "a" * 122, "https://harbourstreet.example/" + "a" * 122),
    ):
        code = address_code(address, "Code", False)
        assert code
        side = len(code.rows) + 8
        picture = Image.new("L", (side, side), 255)
        picture.putdata([255] * side * side)
        for y, row in enumerate(code.rows, 4):
            for x, dark in enumerate(row, 4):
                picture.putpixel((x, y), 0 if dark == "1" else 255)
        assert read(picture.resize((side * 4, side * 4), Image.Resampling.NEAREST)) == [uri]


@pytest.mark.parametrize("address", ["", "harbourstreet.example", "https://harbourstreet.example/" + "a" * 123])
def test_no_address_or_too_long_a_one_has_no_code(address: str) -> None:
    assert address_code(address, "Code", False) is None
