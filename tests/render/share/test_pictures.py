"""Pictures for sharing: their sizes, their words in their places, and what can be read of them."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from msgspec.structs import replace
from PIL import Image, ImageChops, ImageColor

from foldwright.document.model import Document
from foldwright.document.share_text import PREVIEW, share_text, share_words
from foldwright.measure.length import System
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.model import BuildWish
from foldwright.outputs.texts import texts_of
from foldwright.render.photos import ReadyPhoto, prepare
from foldwright.render.share.composing import Composed, Faces, compose_pictures
from foldwright.render.share.formats import MARGIN, Area
from foldwright.render.share.images import MOST_BYTES, jpeg, mount, pixels
from foldwright.render.share.lettering import broken, fitted, lacking, width_of
from foldwright.render.themes import built_in_themes, load_look
from foldwright.surroundings import Folder
from printed.colours import contrast
from workbench.compiled import RECIPES, demo

SIZES = {"share-1200x630.jpg": (1200, 630), "share-1000x1500.jpg": (1000, 1500), "share-1080x1080.jpg": (1080, 1080)}
HOSTILE = (
    "A box",
    " ".join(["Unabridged instructions for a favour box"] * 8),
    "Donaudampfschifffahrtsgesellschaftskapitänsmützenschachtel" * 2,
    "<b>Łódź & “Ångström”</b> ½ × ⅛ ]]> {{ title }}",
    "W" * 90,
)
LEAST_CONTRAST = 4.5
"""WCAG 2.2, 1.4.3, for text that is not large; of the larger title no less is asked."""


@cache
def photos() -> Mapping[str, ReadyPhoto]:
    ready = prepare((RECIPES / "birdhouse" / "finished.png").read_bytes())
    assert isinstance(ready, ReadyPhoto)
    return {"finished.png": ready}


@cache
def composed(theme: str, title: str = "") -> tuple[Composed, ...]:
    sheet = demo("birdhouse")
    if title:
        sheet = titled(sheet, title)
    return tuple(compose_pictures(sheet, photos(), load_look(theme)))


def titled(sheet: Document, title: str) -> Document:
    steps = tuple(replace(step, heading=(replace(step.heading[0], text=title),)) for step in sheet.steps)
    return replace(sheet, head=replace(sheet.head, title=title, studio=title, level=title), steps=steps)


def wordless(svg: str) -> str:
    return re.sub(r"<text .*?</text>", "", svg)


@pytest.mark.parametrize("theme", built_in_themes())
def test_every_picture_has_its_size_to_the_pixel_and_moderate_bytes(theme: str) -> None:
    found = {one.file: jpeg(one.svg, one.photographs) for one in composed(theme)}
    opened = {name: Image.open(io.BytesIO(data)) for name, data in found.items()}
    assert {name: image.size for name, image in opened.items()} == SIZES
    assert {(image.format, image.mode) for image in opened.values()} == {("JPEG", "RGB")}
    assert all(len(data) <= MOST_BYTES for data in found.values())
    assert not any(image.getexif() for image in opened.values())


def test_the_name_of_the_preview_is_that_of_the_picture_for_links() -> None:
    assert SIZES[PREVIEW] == (1200, 630)


def test_the_same_recipe_gives_the_same_bytes() -> None:
    again = tuple(compose_pictures(demo("birdhouse"), photos(), load_look("almanac")))
    assert [one.svg for one in again] == [one.svg for one in composed("almanac")]
    assert jpeg(again[2].svg, again[2].photographs) == jpeg(again[2].svg, again[2].photographs)


@pytest.mark.parametrize("theme", built_in_themes())
@pytest.mark.parametrize("title", HOSTILE)
def test_words_however_long_stay_within_the_margin(theme: str, title: str) -> None:
    for one in composed(theme, title):
        wide, high = SIZES[one.file]
        for line in one.lines:
            left, top, right, bottom = line.box
            assert left >= MARGIN and right <= wide - MARGIN + 0.01, line
            assert top >= MARGIN and bottom <= high - MARGIN + 0.01, line


@pytest.mark.parametrize(("theme", "title"), list(zip(built_in_themes(), ["", *HOSTILE[1:3]], strict=True)))
def test_what_is_drawn_of_words_lies_in_their_boxes(theme: str, title: str) -> None:
    """Reckoned from widths of letters; seen by drawing the picture with its words and without."""
    for one in composed(theme, title):
        seen = ImageChops.difference(*(pixels(svg, one.photographs) for svg in (one.svg, wordless(one.svg)))).convert(
            "L"
        )
        for line in one.lines:
            left, top, right, bottom = line.box
            seen.paste(0, (int(left) - 2, int(top), int(right) + 3, int(bottom) + 1))
        assert seen.point(lambda value: 255 if value > 24 else 0).getbbox() is None


@pytest.mark.parametrize("theme", built_in_themes())
def test_words_stand_out_from_the_ground_they_stand_on(theme: str) -> None:
    """By the formula of WCAG 2.2 for relative luminance, against every pixel under the line."""
    for one in composed(theme):
        ground = pixels(wordless(one.svg), one.photographs)
        for line in one.lines:
            under = ground.crop(tuple(map(round, line.box))).getcolors(1 << 20)
            assert under
            ink = ImageColor.getrgb(line.fill)[:3]
            # Squared paper has lines of a pixel or two, which are no ground.
            most = sum(count for count, _ in under)
            grounds = [rgb for count, rgb in under if count > most / 20]
            assert grounds
            for rgb in grounds:
                assert contrast(ink, rgb) >= LEAST_CONTRAST, (one.file, line.text)


def test_the_strip_has_every_step_with_its_number_and_heading() -> None:
    strip = next(one for one in composed("harbour") if one.file.endswith("1080x1080.jpg"))
    said = " ".join(line.text for line in strip.lines)
    steps = share_text(demo("birdhouse")).steps
    assert len(steps) == 8
    for step in steps:
        assert str(step.number) in {line.text for line in strip.lines}
        assert step.heading in said
    assert len(strip.photographs) == 1, "the photograph of the finished thing stands after the last step"


def test_title_time_level_and_studio_stand_on_every_picture() -> None:
    head = demo("birdhouse").head
    for one in composed("workbench"):
        said = " ".join(line.text for line in one.lines)
        for words in (head.title, head.studio, head.level, "20 min"):
            assert words in said.replace("\u00a0", " "), (one.file, words)


@pytest.mark.parametrize("theme", built_in_themes())
def test_a_title_of_two_hundred_letters_is_whole_on_every_picture(theme: str) -> None:
    title = " ".join(["gingham birdhouse"] * 11)
    assert len(title) == 197
    sheet = demo("birdhouse")
    for one in compose_pictures(replace(sheet, head=replace(sheet.head, title=title)), {}, load_look(theme)):
        assert title in " ".join(line.text for line in one.lines), one.file


def test_of_many_steps_the_strip_has_as_many_as_it_can_hold_in_their_order() -> None:
    sheet = demo("birdhouse")
    many = tuple(replace(sheet.steps[number % 8], number=number + 1) for number in range(30))
    strip = list(compose_pictures(replace(sheet, steps=many), photos(), load_look("workbench")))[2]
    numbers = [int(line.text) for line in strip.lines if line.text.isdigit()]
    assert numbers == sorted(numbers) and len(numbers) == 11


def test_a_recipe_with_nothing_to_show_has_pictures_all_the_same() -> None:
    bare = replace(demo("birdhouse"), photo=None, finished=None, steps=())
    assert {one.file for one in compose_pictures(bare, {}, load_look("harbour"))} == SIZES.keys()
    assert all(len(jpeg(one.svg, one.photographs)) > 1000 for one in compose_pictures(bare, {}, load_look("harbour")))


def test_a_page_names_no_picture_that_letters_keep_from_being_drawn() -> None:
    """Read as ogp.me has it; the letters are Thai, which none of our faces has."""
    studio = "studio: Harbour Street\naddress: https://harbourstreet.example\n"
    for title, drawn in (("A tag", True), ("A tag, ป้าย", False)):
        text = f"---\ntitle: {title}\nmakes: 1 tag\n---\n\n## Cut it\n\nCut it out.\n"
        wish = BuildWish(("tutorial", "share"), tuple(System), "harbour", in_library=True)
        files = compile_recipe(texts_of("tag", text, studio), wish, Folder(Path())).files
        names = etree.HTML(files["tutorial.html"]).xpath("//meta[@property='og:image']/@content")
        assert ("share-1200x630.jpg" in files) == drawn
        assert names == (["https://harbourstreet.example/tag/share-1200x630.jpg"] if drawn else [])


def test_letters_that_no_face_has_are_named() -> None:
    faces = Faces.of(load_look("almanac")).all
    assert lacking(["Birdhouse ½", "Łódź"], faces) == ()
    assert lacking(["שלום", "🏠 box", "Ж"], faces) == tuple("שלום🏠Ж")


def test_a_photograph_keeps_most_of_itself() -> None:
    """A landscape of 4 to 3 in a square: an eighth of its width may go, and then it stands 3/4 x 8/7 of it high."""
    place = mount(ReadyPhoto(b"", "jpeg", 1200, 900), Area(0, 0, 700, 700)).area
    assert place.width == 700
    assert place.height == round(700 * 3 / 4 * 8 / 7)


def test_what_goes_beside_the_pictures_is_plain_and_says_what_they_show() -> None:
    words = share_words(demo("birdhouse"), "https://harbourstreet.example/birdhouse/")
    title, told, shown, address = words.strip().split("\n\n")
    assert title == "Birdhouse favour box"
    assert told.startswith("A pocket-sized box") and "8 steps, 20" in told
    assert shown.endswith(demo("birdhouse").photo.shows)  # type: ignore[union-attr]
    assert address == "https://harbourstreet.example/birdhouse/"


@given(st.text(st.sampled_from("abcdefgW ij-"), max_size=120), st.floats(0.6, 30.0))
def test_lines_hold_all_words_and_are_no_wider_than_their_room(text: str, ems: float) -> None:
    lines = broken(text, "sans", ems)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(width_of(line, "sans") <= ems + 1e-9 or len(line) == 1 for line in lines)


def test_a_title_too_long_for_any_size_ends_with_an_ellipsis() -> None:
    fit = fitted("word " * 200, "sans", (40.0, 30.0), 300.0, 3)
    assert len(fit.lines) == 3 and fit.lines[-1].endswith("…") and fit.size == 30.0
    assert all(width_of(line, "sans") * fit.size <= 300.0 for line in fit.lines)
