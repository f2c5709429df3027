"""Place cards read back with pdfplumber: names whole, on the lower half, in whatever script there is a font for."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pdfplumber
import pytest

from foldwright.event.document.model import CardText
from foldwright.event.render import labels
from foldwright.event.render.grids import LabelGrid, grid_of, plain_sheet
from foldwright.event.render.labels import borrowed_fonts, missing_letters, place_cards_pdf, specimen
from foldwright.render.paper.papers import A4
from foldwright.render.paper.shaping import Shaped, broken, from_right, shaped, width_mm
from foldwright.render.themes import ThemeError

POINTS = 72 / 25.4
CARDS = grid_of(A4, plain_sheet(Fraction(90), Fraction(110)))
assert isinstance(CARDS, LabelGrid)


def squeezed(text: str) -> str:
    return "".join(text.split())


def halves(data: bytes) -> list[tuple[str, float]]:
    """What stands on the lower half of each card, and how large its largest letters are; nothing stands elsewhere."""
    found = []
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            inside = 0
            for left, top in CARDS.places:
                box = [side * POINTS for side in (left, top + 55, left + 90, top + 110)]
                inner = page.within_bbox(box)
                inside += len(inner.chars)
                found.append((squeezed(inner.extract_text()), max((char["size"] for char in inner.chars), default=0)))
            assert inside == len(page.chars)
    return found


def test_names_are_whole_on_the_lower_half_and_smaller_the_longer() -> None:
    cards = [
        CardText("Bo"),
        CardText("Zoë Ångström-Featherstonehaugh", "Table 1", "no nuts"),
        CardText("X" * 80, "Garden room"),
        CardText("Anna Maria Luisa Theresia Josefa Karoline von und zu Hohenfelde-Sonnenberg", "Table 12"),
        CardText("Ὀδυσσεύς Жанна", "Table 3"),
    ]
    found = halves(place_cards_pdf(cards, CARDS, "Place cards", "en", "harbour"))
    for card, (text, _) in zip(cards, found, strict=False):
        assert text == squeezed(card.name + card.table + card.aside)
    sizes = [size for _, size in found[:4]]
    assert sizes[0] > sizes[1] > sizes[3] > sizes[2] >= 8


def test_the_aside_stands_small_at_the_foot() -> None:
    data = place_cards_pdf([CardText("Bo", "Table 1", "vegetarian")], CARDS, "Place cards", "en", "harbour")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        words = {word["text"]: word for word in pdf.pages[0].extract_words()}
        small = {char["size"] for char in pdf.pages[0].chars if char["text"] == "v"}
    assert words["Bo"]["bottom"] < words["Table"]["top"] < words["vegetarian"]["top"]
    assert max(small) == pytest.approx(8, abs=0.01)
    top = CARDS.places[0][1]
    assert words["vegetarian"]["bottom"] > (top + 110 - 6) * POINTS


def test_widths_hold_what_was_reckoned() -> None:
    """What is reckoned from one shaping is what the typesetter sets: every line within its room."""
    lettering = specimen("harbour", "en").letterings["guest"]
    for name in (
        "Zoë Ångström-Featherstonehaugh",
        "Vyvyan AVATAR Tofte",
        "Жанна Ёлкина",
        "fi ffi fl AVAVAV",
        "1⁄2 1⁄4 kg",
    ):
        for size in (8.0, 13.0, 22.0, 38.0):
            parts = shaped(name, lettering).parts
            whole = sum(wide + blank for _, wide, blank in parts) * size / POINTS
            assert width_mm(name, lettering, size) == pytest.approx(whole, abs=0.03)
            lines = broken(name, lettering, size, 40.0)
            if lines is not None:
                assert "".join(lines).replace(" ", "") == name.replace(" ", "")
                assert all(width_mm(line, lettering, size) <= 40.05 for line in lines)


def test_names_from_the_right_are_set_from_the_right() -> None:
    """UAX 9, P2 and P3: the first strong letter says. In a PDF the glyphs of such a line lie from right to left."""
    assert from_right("נועה כהן") and from_right("نورة") and from_right("12 נועה")
    assert not from_right("Noa נועה") and not from_right("Νίκη") and not from_right("12")
    name = "נועה כהן"
    if missing_letters([name], "en", "harbour"):
        pytest.skip("no font on this machine has Hebrew letters")
    data = place_cards_pdf([CardText(name)], CARDS, "Place cards", "en", "harbour")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        letters = [char for char in pdf.pages[0].chars if char["text"].strip()]
    at = {char["text"]: char["x0"] for char in letters}
    assert at["נ"] > at["ו"] > at["ע"] > at["כ"] > at["ן"]


def test_letters_no_font_has_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    def lacking(text: str, lettering: object, by_letter: bool = False) -> Shaped:
        return Shaped(((text, 1.0, 0.0),), tuple(letter for letter in text if "\u0900" <= letter <= "\u097f"))

    monkeypatch.setattr(labels, "shaped", lacking)
    assert missing_letters(["Bo", "Zoë", "नेहा"], "en", "harbour") == {"नेहा": "नेहा"}


def test_fonts_of_the_machine_are_told() -> None:
    assert borrowed_fonts(["Bo", "Zoë", "Жанна"], "en", "harbour") == ()
    if not missing_letters(["נועה"], "en", "harbour"):
        (family,) = borrowed_fonts(["Bo", "נועה"], "en", "harbour")
        assert family and not family.startswith("Foldwright")


def test_what_the_bundled_faces_have_is_never_missing() -> None:
    assert missing_letters(["Zoë Ångström", "Νίκη Παππά", "Жанна Ёлкина", "Đặng", "½ ✓"], "en", "harbour") == {}


_WITHOUT_FONTS = """
from foldwright.event.render.labels import missing_letters
print(ascii(missing_letters(["Bo", "Νίκη", "Жанна", "נועה"], "en", "harbour")))
"""


def test_on_a_machine_without_fonts_the_bundled_faces_do_and_the_rest_is_told(tmp_path: Path) -> None:
    """fontconfig's own way to say where fonts are: a configuration that names an empty folder (fonts-conf(5))."""
    (tmp_path / "none").mkdir()
    config = (
        f'<?xml version="1.0"?><fontconfig><dir>{tmp_path}/none</dir><cachedir>{tmp_path}/cache</cachedir></fontconfig>'
    )
    (tmp_path / "fonts.conf").write_text(config)
    done = subprocess.run(
        [sys.executable, "-c", _WITHOUT_FONTS],
        env={**os.environ, "FONTCONFIG_FILE": str(tmp_path / "fonts.conf"), "PYTHONUTF8": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == ascii({"נועה": "נועה"})


def test_a_theme_that_leaves_a_text_out_is_told(tmp_path: Path) -> None:
    (tmp_path / "labels.html").write_text('<div class="label"><p class="name">A</p></div>')
    with pytest.raises(ThemeError) as trouble:
        specimen(str(tmp_path), "en")
    assert trouble.value.code == "unreadable-theme"
    assert trouble.value.facts["why"] == 'labels.html: class="aside"'


def test_a_theme_says_how_names_are_written(tmp_path: Path) -> None:
    (tmp_path / "labels.css").write_text('.guest{font-family:"Foldwright Sans";font-weight:400}')
    data = place_cards_pdf([CardText("Bo")], CARDS, "Place cards", "en", str(tmp_path))
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert {char["fontname"].partition("+")[2] for char in pdf.pages[0].chars} == {"Foldwright-Sans"}
        assert pdf.metadata["Title"] == "Place cards"
