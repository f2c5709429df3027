"""Booklets read back: numbers looked up on their pages, rulers measured, sheets held against the pages to read."""

from __future__ import annotations

import io
import itertools
import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path

import pdfplumber
import pikepdf
import pypdfium2
import pytest
from msgspec.structs import replace
from PIL import Image

from foldwright.booklet.facts import read_booklet
from foldwright.booklet.making import MadeBooklet, make_booklet
from foldwright.booklet.telling import tell_note, tell_unbound
from foldwright.booklet.wishes import BookletWish, booklet_wish
from foldwright.measure.length import System
from foldwright.outputs.compiling import compiled
from foldwright.outputs.model import BuildWish, OutputSource
from foldwright.outputs.paper_notes import Lacks
from foldwright.outputs.texts import texts_of
from foldwright.render.paper.papers import A3, A5
from foldwright.surroundings import Folder
from printed.bookmarks import bookmarks
from printed.colours import lost_in_grey, pale_words
from printed.declared import declared_complaints
from printed.inside import in_margins, off_page
from printed.legible import overlapping
from printed.reading import Page, paper_complaints, read
from printed.same import difference
from printed.structure import figure_boxes, structure_complaints
from printed.tokens import quick
from printed.validated import validator_complaints
from workbench.compiled import RECIPES
from workbench.long import tries

MM = 25.4 / 72
OFF_MM = 0.05
"""Millimetres a line may be off."""
EDGE_MM = 6.0
"""What printers at home leave blank of every edge at most (common practice, no source)."""
SMALL = """---
title: {title}
makes: 1 tag
supplies:
  kraft card: cardstock, sheet A4
  {thread}: twine, use 20 cm
pieces:
  tag:
    from: kraft card
    size: 50 x {high} mm
---

## Cut the tag

Cut the tag to 50 x {high} mm.

## Tie it

{words}
"""
_ASKED = "title: Spring 2027\nrecipes: twine-tag, one\nsaddle: yes\n"
KINDS = {
    "harbour A5": f"{_ASKED}paper: A5\ntheme: harbour\n",
    "workbench letter": f"{_ASKED}paper: letter\nas: cards\ntheme: workbench\n",
    "almanac half letter": f"{_ASKED}paper: half letter\ntheme: almanac\nforeword: Two small things.\n",
    "harbour A4": f"{_ASKED}paper: A4\nas: cards\ntheme: harbour\n",
}
"""Every paper, every look, pages and cards; sheets to fold of all. A usual run makes the first two."""
EVERY = pytest.mark.parametrize("kind", list(KINDS)[: tries(2, len(KINDS))])


def wished(text: str) -> BookletWish:
    facts, findings = read_booklet(text, "booklet.yaml")
    assert findings == ()
    assert facts is not None
    slugs = tuple(path.name for path in RECIPES.iterdir())
    known = (*slugs, "one", "two", *(f"r{number}" for number in range(40)))
    wish = booklet_wish(facts, known, BuildWish((), tuple(System)), None, False)
    assert isinstance(wish, BookletWish), wish
    return wish


@cache
def source(slug: str, system: System, theme: str) -> OutputSource:
    own = RECIPES / slug / "recipe.md"
    text = own.read_text(encoding="utf-8") if own.exists() else _small("One tag")
    studio = (RECIPES / "studio.yaml").read_text(encoding="utf-8")
    wish = BuildWish(("card", "handout", "template"), (system,), theme)
    made, _ = compiled(texts_of(slug, text, studio), wish, Folder(RECIPES / slug))
    assert made is not None
    return made


def _small(title: str, thread: str = "twine", words: str = "Tie the twine.", high: int = 80) -> str:
    return SMALL.format(title=title, thread=thread, words=words, high=high)


def small(slug: str, title: str, thread: str = "twine", words: str = "Tie the twine.", high: int = 80) -> OutputSource:
    text = _small(title, thread, words, high)
    wish = BuildWish(("card", "handout", "template"), (System.METRIC,), "harbour")
    made, _ = compiled(texts_of(slug, text), wish, Folder(Path("/nowhere")))
    assert made is not None
    return made


@cache
def booklet(kind: str) -> tuple[BookletWish, MadeBooklet, bytes, bytes]:
    """The wish, what came of it, the pages to read and the sheets to fold."""
    wish = wished(KINDS[kind])
    made = make_booklet([source(slug, wish.system, wish.theme) for slug in wish.slugs], wish)
    assert made.unbound == ()
    return wish, made, made.files[f"{wish.name}.pdf"], made.files[f"{wish.name}-saddle.pdf"]


@lru_cache(maxsize=8)
def _lines(data: bytes, number: int) -> tuple[str, ...]:
    with quick(), pdfplumber.open(io.BytesIO(data)) as pdf:
        return tuple(pdf.pages[number - 1].extract_text(x_tolerance=1.5).splitlines())


def letters(text: str) -> str:
    return re.sub(r"\s", "", text)


def on(pages: tuple[Page, ...], number: int) -> str:
    """All that stands on a page, without spaces."""
    return letters("".join(word.text for word in pages[number - 1].words))


def entries(data: bytes, number: int) -> Iterator[tuple[str, list[int]]]:
    """Lines of a page that end in numbers of pages: what they say, and the numbers."""
    for line in _lines(data, number):
        if found := re.fullmatch(r"(\D.*?)\s*(\d+(?:, \d+)*)", line):
            yield found[1], [int(one) for one in found[2].split(", ")]


@EVERY
def test_what_the_contents_name_stands_on_the_page_they_say(kind: str) -> None:
    wish, _made, data, _ = booklet(kind)
    pages = read(data)
    titles = [source(slug, wish.system, wish.theme).document.head.title for slug in wish.slugs]
    found = [(text, at) for text, (at,) in entries(data, 2) if text in (*titles, "Supplies, and where to find them")]
    assert [text for text, _ in found] == [*titles, *titles, "Supplies, and where to find them"]
    assert all(letters(title) in on(pages, at) for title, at in found)
    recipes, templates = found[: len(titles)], found[len(titles) : -1]
    assert all(letters(f"Templates: {title}") in on(pages, at) for title, at in templates)
    assert all(letters(f"Templates: {title}") not in on(pages, at) for title, at in recipes)
    assert found[-1][1] == len(pages) - 1


@EVERY
def test_the_index_leads_to_pages_that_list_the_supply(kind: str) -> None:
    wish, _, data, _ = booklet(kind)
    pages = read(data)
    found = dict(entries(data, len(pages) - 1))
    found.pop("Spring 2027", None)
    found.pop("Supplies, and where to find them", None)
    # What a recipe lists, from its document; what a strip has no room to list is not in the index.
    supplies = {name for slug in wish.slugs for name in _supplies(slug, wish)}
    assert set(found) <= supplies
    assert found
    assert list(found) == sorted(found, key=str.casefold)
    for supply, numbers in found.items():
        assert all(letters(supply) in on(pages, number) for number in numbers)
    if not wish.as_cards:
        assert set(found) == supplies
        assert all(len(found[name]) == sum(name in _supplies(slug, wish) for slug in wish.slugs) for name in supplies)


def _supplies(slug: str, wish: BookletWish) -> list[str]:
    return [
        "".join(str(getattr(run, "text", run)) for run in one.name)
        for one in source(slug, wish.system, wish.theme).document.supplies
    ]


@EVERY
def test_every_page_but_the_covers_bears_its_own_number(kind: str) -> None:
    wish, _, data, _ = booklet(kind)
    pages = read(data)
    blocked = wish.theme == "workbench"
    for number, page in enumerate(pages, 1):
        foot = [word for word in page.words if word.box.top > page.height - 25 / MM]
        numbers = [word for word in foot if word.text == str(number) or word.text.endswith(f"Page {number}")]
        if number in (1, len(pages)):
            assert numbers == []
            continue
        assert numbers, f"page {number} of {kind} has no number"
        if not blocked:
            middle = page.width / 2
            assert (numbers[0].box.x0 < middle) == (number % 2 == 0)


@EVERY
def test_bookmarks_and_links_lead_where_they_say(kind: str) -> None:
    wish, _, data, _ = booklet(kind)
    pages = read(data)
    outline = bookmarks(data)
    titles = [source(slug, wish.system, wish.theme).document.head.title for slug in wish.slugs]
    assert [one.title for one in outline] == [
        wish.title,
        "Contents",
        *titles,
        "Templates, at true size",
        "Supplies, and where to find them",
        "Back cover",
    ]
    by_title = {one.title: one for one in outline}
    assert [one.title for one in by_title["Templates, at true size"].under] == titles
    assert all(letters(title) in on(pages, by_title[title].page) for title in titles)
    said = dict(entries(data, 2))
    assert all([by_title[title].page] == said[title] or title in titles for title in by_title if title in said)
    with pikepdf.open(io.BytesIO(data)) as file:
        numbers = {page.obj.objgen: number for number, page in enumerate(file.pages, 1)}
        names = dict(_named(file))
        links = [link for page in file.pages for link in page.obj.get("/Annots", [])]
        assert len(links) >= 2 * len(titles) + 1
        for link in links:
            at = numbers[names[str(link.Dest)].objgen]
            assert letters(str(link.Contents)) in on(pages, at)


def _named(file: pikepdf.Pdf) -> Iterator[tuple[str, pikepdf.Object]]:
    row = list(file.Root.Names.Dests.Names)
    for name, place in zip(row[::2], row[1::2], strict=True):
        yield str(name), place[0]


@EVERY
def test_it_may_be_read_by_who_hears_it(kind: str) -> None:
    _, _, data, _ = booklet(kind)
    assert validator_complaints(data) == []
    assert declared_complaints(data) == []
    assert structure_complaints(data) == []
    assert figure_boxes(data, slack=2.0) == []
    assert pale_words(data) == []
    assert lost_in_grey(data) == []


@EVERY
def test_pages_are_of_their_paper_and_nothing_stands_in_their_margins(kind: str) -> None:
    wish, _, data, _ = booklet(kind)
    wide, high = float(wish.paper.width_mm), float(wish.paper.height_mm)
    assert paper_complaints(data, wide, high, "mm") == []
    pages = read(data)
    assert off_page(pages) == []
    for page in pages:
        for word in page.words:
            box = word.box
            assert min(box.x0, box.top, page.width - box.x1, page.height - box.bottom) * MM > EDGE_MM, word.text
    assert [
        one for page in pages for one in overlapping((page,)) if page.number in (1, 2, len(pages) - 1, len(pages))
    ] == []


@pytest.mark.parametrize("kind", list(KINDS)[: tries(1, len(KINDS))])
def test_what_is_no_template_keeps_the_margins_of_its_paper(kind: str) -> None:
    wish, made, data, _ = booklet(kind)
    found = in_margins(data, float(wish.paper.margin_mm) - 0.3)
    templates = {one.page + at for one in _templates(data) for at in range(30)}
    assert [one for one in found if int(re.search(r"page (\d+)", one)[1]) not in templates] == []
    assert made.note is not None


def _templates(data: bytes) -> list:
    return list(next(one for one in bookmarks(data) if one.title.startswith("Templates")).under)


# --- true size --------------------------------------------------------------------------------------------------------


def ticks(page: pdfplumber.page.Page) -> list[list[float]]:
    """Rows of upright strokes that begin at one height, as millimetres from the left, the longest rows first."""
    rows: dict[int, set[float]] = {}
    for one in (*page.lines, *page.curves):
        points = one["pts"]
        for (x, y), (other, down) in itertools.pairwise(points):
            if abs(x - other) < 0.01 and abs(y - down) > 1:
                for level in (y, down):
                    rows.setdefault(round(level * 20), set()).add(round(x * MM, 4))
    return sorted((sorted(row) for row in rows.values()), key=len, reverse=True)


def rulers(page: pdfplumber.page.Page) -> list[list[float]]:
    """Every row of a hundred ticks and more that lie a millimetre apart."""
    found = []
    for row in ticks(page):
        while len(row) > 100:
            start = next((at for at in row if _millimetres(row, at) >= 100), None)
            if start is None:
                break
            many = _millimetres(row, start)
            found.append([start + number for number in range(many)])
            row = [at for at in row if not start - 1 < at < start + many]
    return found


def _millimetres(row: list[float], start: float) -> int:
    """How many ticks follow on each other from one on, each within a twentieth of a millimetre of its place."""
    number = 0
    while any(abs(at - start - number) <= OFF_MM for at in row):
        number += 1
    return number


@EVERY
def test_every_template_has_a_true_ruler_on_its_page_and_on_its_sheet(kind: str) -> None:
    """As long as the page's width lets it: within a centimetre and what stays clear of 8 mm at each side."""
    wish, _, data, folded = booklet(kind)
    long = int((float(wish.paper.width_mm) - 16 - 4) / 10) * 10
    many = 0
    with quick(), pdfplumber.open(io.BytesIO(data)) as pdf:
        last = len(pdf.pages) - 2
        first = _templates(data)[0].page
        for number in range(first, last + 1):
            (ruler,) = rulers(pdf.pages[number - 1])
            assert len(ruler) == long + 1
            many += 1
    with quick(), pdfplumber.open(io.BytesIO(folded)) as pdf:
        found = [ruler for page in pdf.pages for ruler in rulers(page)]
    assert [len(ruler) for ruler in found] == [long + 1] * many


@EVERY
def test_pages_on_sheets_are_those_to_read_moved_by_the_creep_alone(kind: str) -> None:
    """Where each page lies is worked out here from the fold, the paper and the sum of the sheets around it."""
    wish, made, data, folded = booklet(kind)
    assert wish.saddle is not None
    assert made.note is not None
    sheet_wide, sheet_high = float(wish.saddle.sheet.height_mm), float(wish.saddle.sheet.width_mm)
    assert paper_complaints(folded, sheet_wide, sheet_high, "mm") == []
    pages, sides = read(data), read(folded)
    whole = -(-len(pages) // 4) * 4
    assert len(sides) == whole // 2
    places = {**{number: number for number in range(1, len(pages))}, whole: len(pages)}
    seen = 0
    for at, side in enumerate(sides):
        depth = at // 2
        outer, inner = whole - at, at + 1
        left, right = (outer, inner) if at % 2 == 0 else (inner, outer)
        creep = depth * float(wish.thickness_mm)
        fold, top = sheet_wide / 2, (sheet_high - float(wish.paper.height_mm)) / 2
        moved = {left: fold - float(wish.paper.width_mm) + creep, right: fold - creep}
        expected = sorted(
            (one.text, round(one.size, 2), *_tenths(one.start[0] * MM + across, one.start[1] * MM + top))
            for number, across in moved.items()
            if number in places
            for one in pages[places[number] - 1].glyphs
        )
        found = [(one.text, round(one.size, 2), *_tenths(one.start[0] * MM, one.start[1] * MM)) for one in side.glyphs]
        assert sorted(found) == expected
        seen += len(found)
    assert seen == sum(len(page.glyphs) for page in pages)


def _tenths(x: float, y: float) -> tuple[float, float]:
    """A place to a tenth of a millimetre; where rounding parts what is the same, by a twentieth further on."""
    return round(x + 0.0231, 1), round(y + 0.0231, 1)


# --- the whole --------------------------------------------------------------------------------------------------------


def test_the_same_recipes_and_wish_give_the_same_bytes() -> None:
    wish = wished("title: Spring\nrecipes: one\npaper: A5\nunits: metric\nsaddle: yes\n")
    recipes = [small("one", "One tag")]
    first, second = make_booklet(recipes, wish), make_booklet(recipes, wish)
    assert first.files.keys() == second.files.keys()
    assert [difference(first.files[name], second.files[name]) for name in first.files] == ["", ""]


def test_supplies_of_one_name_share_a_line() -> None:
    wish = wished("title: Spring\nrecipes: one, two\npaper: A5\nunits: metric\ntemplates: no\n")
    made = make_booklet([small("one", "One tag"), small("two", "Two tags", "Twine")], wish)
    data = made.files["booklet-spring.pdf"]
    found = dict(entries(data, len(read(data)) - 1))
    assert found == {"kraft card": [3, 4], "twine": [3, 4], "Supplies, and where to find them": [5]}
    assert [one.title for one in bookmarks(data)][:4] == [
        "Spring",
        "Contents",
        "One tag",
        "Two tags",
    ]


def test_contents_that_go_over_pages_push_all_numbers_on() -> None:
    foreword = " ".join(["Small things for a spring table, and how to make them in an afternoon."] * 60)
    wish = wished(f"title: All\nrecipes: one, two\npaper: A5\nunits: metric\nforeword: {foreword}\n")
    data = make_booklet([small("one", "One tag"), small("two", "Two tags")], wish).files["booklet-all.pdf"]
    pages = read(data)
    outline = {one.title: one.page for one in bookmarks(data)}
    behind = outline["One tag"] - 2
    assert behind > 1
    said = [entry for number in range(2, 2 + behind) for entry in entries(data, number)]
    numbers = {title: [at for text, (at,) in said if text == title] for title in ("One tag", "Two tags")}
    for title, (own, template) in numbers.items():
        assert own == outline[title]
        assert letters(title) in on(pages, own)
        assert letters(f"Templates: {title}") in on(pages, template)


def test_a_piece_larger_than_the_page_goes_over_several_and_is_told() -> None:
    wish = wished("title: Spring\nrecipes: one\npaper: A5\nunits: metric\n")
    made = make_booklet([small("one", "Tall tag", high=250)], wish)
    assert made.note is not None
    assert made.note.tiled == ("tag",)
    assert any("larger than A5" in line and "tag" in line for line in tell_note(made.note, "out"))


def test_a_word_wider_than_the_page_leaves_no_half_a_booklet() -> None:
    wish = wished("title: Spring\nrecipes: one, two\npaper: A5\nunits: metric\n")
    made = make_booklet([small("one", "One"), small("two", "Two", words="Tie " + "x" * 120 + " twice.")], wish)
    assert made.files == {}
    (one,) = made.unbound
    told = tell_unbound(one, wish)
    assert "x" * 120 in told
    assert "Two" in told


def test_a_card_too_long_for_its_page_is_told_by_how_much() -> None:
    wish = wished("title: Spring\nrecipes: one\nas: cards\npaper: A5\nunits: metric\n")
    made = make_booklet([small("one", "Long", words="Tie the twine about the neck of it and go on. " * 150)], wish)
    assert made.files == {}
    (one,) = made.unbound
    assert one.misfit.too_long is not None
    assert re.search(r"by about \d+ words", tell_unbound(one, wish))


def test_how_it_is_printed_and_folded_is_said_in_words() -> None:
    _wish, made, data, _ = booklet("harbour A5")
    assert made.note is not None
    told = "\n".join(tell_note(made.note, "out"))
    pages = len(read(data))
    sheets = -(-pages // 4)
    assert f"{pages} pages of A5, in millimetres" in told
    assert f"{sheets} sheets of A4" in told
    assert "flipped on the short edge" in told
    assert "actual size (100 %)" in told
    # By hand: so many sheets lie in the outermost, each of 0.1 mm.
    assert f"by 0.1 mm from sheet to sheet: {(sheets - 1) / 10:.1f} mm on the innermost" in told
    assert "I took your paper to be 0.1 mm thick" in told
    assert ("blank page" in told) == (pages % 4 != 0)
    assert "no room for marks" in told


def test_marks_are_drawn_where_the_sheet_is_larger() -> None:
    wish = wished("title: Spring\nrecipes: one\npaper: A5\nsheet: A3\nunits: metric\npaper thickness: 0.2 mm\n")
    made = make_booklet([small("one", "One tag")], wish)
    with quick(), pdfplumber.open(io.BytesIO(made.files["booklet-spring-saddle.pdf"])) as pdf:
        page = pdf.pages[0]
        assert abs(page.width * MM - float(A3.height_mm)) < OFF_MM
        top = (float(A3.width_mm) - float(A5.height_mm)) / 2
        marks = {(round(one["x0"] * MM, 1), round(one["x1"] * MM, 1)) for one in page.lines if one["bottom"] * MM < top}
    fold = float(A3.height_mm) / 2
    assert marks == {(fold + side * 148, fold + side * 148) for side in (-1, 0, 1)}
    assert made.note is not None
    assert wish.thickness_mm == Fraction(1, 5)
    assert "Marks outside the pages" in "\n".join(tell_note(made.note, "out"))
    assert "I took your paper" not in "\n".join(tell_note(made.note, "out"))


def test_what_pages_go_without_is_told_with_their_title() -> None:
    wish, made, _, _ = booklet("workbench letter")
    assert made.note is not None
    lacks = replace(made.note, lacks=(("One tag", Lacks(missing=("summary",))),))
    assert "  One tag: " in "\n".join(tell_note(lacks, "out"))
    assert all(title in ("One tag", "Gift tag with twine") for title, _ in made.note.lacks)
    assert wish.as_cards


def test_every_recipe_shows_its_own_photograph(tmp_path: Path) -> None:
    recipes, red, blue = [], (200, 30, 30), (30, 30, 200)
    for slug, colour in (("one", red), ("two", blue)):
        (tmp_path / slug).mkdir()
        Image.new("RGB", (900, 600), colour).save(tmp_path / slug / "made.png")
        photo = "photo: made.png\nphoto shows: A tag of one colour\nmakes:"
        text = _small(f"Tag {slug}").replace("makes:", photo, 1)
        wish = BuildWish(("card", "handout", "template"), (System.METRIC,), "harbour")
        made, _ = compiled(texts_of(slug, text), wish, Folder(tmp_path / slug))
        assert made is not None
        recipes.append(made)
    for kind in ("tutorial pages", "cards"):
        wish = wished(f"title: Tags\nrecipes: one, two\nas: {kind}\npaper: A5\nunits: metric\ntemplates: no\n")
        data = make_booklet(recipes, wish).files["booklet-tags.pdf"]
        pages = pypdfium2.PdfDocument(data)
        for number, own, other in ((3, red, blue), (4, blue, red)):
            drawn = pages[number - 1].render(scale=0.5).to_pil().convert("RGB")
            known = {red: 0, blue: 0}
            for count, pixel in drawn.getcolors(drawn.width * drawn.height):
                for colour in known:
                    # A photograph is made ready as JPEG, which may shift a colour by a few of its 256 steps.
                    near = all(abs(one - two) <= 8 for one, two in zip(pixel, colour, strict=True))
                    known[colour] += count if near else 0
            assert known[own] > 1000 and not known[other], (kind, number)
