"""Handouts read back from their PDFs with libraries that had no part in making them."""

from __future__ import annotations

from functools import cache
from itertools import cycle

import pytest
from msgspec.structs import replace

from foldwright.measure.length import System
from foldwright.recipe.model import When
from foldwright.recipe.words import Keep
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.handout import Handout, NoClass, handout
from foldwright.render.paper.papers import A4, A5, A6, LETTER
from foldwright.render.paper.pictures import Captioned, prints_of
from foldwright.render.paper.prints import Unfit
from printed.bookmarks import bookmarks
from printed.order import reading_order
from printed.reading import POINTS, read
from printed.tagged import tagged
from workbench.compiled import compiled, demo, small
from workbench.demo_pages import THEMES
from workbench.long import LONG, every, tries
from workbench.papers_of_demos import IN_ONE_SYSTEM, LOOKED_AT, PAPER_OF, photos
from workbench.papers_of_demos import handout as made
from workbench.printed_handouts import LARGE_PT, LEAST_PT, complaints, pictured_steps

# --- the demo recipes -------------------------------------------------------------------------------------------------


BIRDHOUSE = ("birdhouse", System.METRIC, "harbour", A4)
DRAWER_BOX = ("drawer-box", System.METRIC, "workbench", A4)
LARGE = [one for one in IN_ONE_SYSTEM if LONG or one[0] in ("birdhouse", "drawer-box")]
"""A usual run has two recipes in large print; see also `test_large_print_stays_large` for inches and the third look."""


@pytest.mark.parametrize(("name", "system", "theme"), LARGE)
def test_large_print_is_in_order(name: str, system: System, theme: str):
    found = made(name, system, theme, PAPER_OF[system], large_print=True)
    assert complaints(found, demo(name), PAPER_OF[system], True) == []


@pytest.mark.parametrize(("name", "system", "theme"), LOOKED_AT)
def test_every_look_has_one(name: str, system: System, theme: str):
    found = made(name, system, theme, PAPER_OF[system])
    assert complaints(found, demo(name), PAPER_OF[system], False) == []


@pytest.mark.parametrize(("name", "system", "theme"), LOOKED_AT)
def test_every_demo_is_one_sheet_with_all_that_is_said(name: str, system: System, theme: str):
    found = made(name, system, theme, PAPER_OF[system])
    assert found.pages <= 2 and LEAST_PT <= found.size_pt <= 12.0 and found.notes_mm >= 25.0
    version = found.version
    assert version.sections and version.tips and version.summary and not version.short


@pytest.mark.parametrize(("name", "system", "theme"), LOOKED_AT)
def test_every_step_of_a_demo_that_can_be_shown_is_shown(name: str, system: System, theme: str):
    """The finished thing stands in the head, and each step has its first picture that can be printed."""
    found = made(name, system, theme, PAPER_OF[system])
    own = found.document
    prints = prints_of(own, system, photos(name))
    wanted = {shown.step for shown, one in prints.items() if isinstance(one, Captioned)}
    assert {number for number, count in pictured_steps(found.pdf).items() if count} == wanted - {0}
    assert 0 in wanted


@pytest.mark.parametrize(("name", "system", "theme"), LOOKED_AT)
def test_the_finished_thing_is_about_a_fifth_of_the_first_page(name: str, system: System, theme: str):
    """A fifth of the paper's height; one long and low has four fifths of that, or all of the page's width."""
    paper = PAPER_OF[system]
    data = made(name, system, theme, paper).pdf
    hero = next(one for one in tagged(data).elements() if one.role == "Figure")
    assert hero.box
    wide, high = ((hero.box[end] - hero.box[end - 2]) / POINTS["mm"] for end in (2, 3))
    across = float(paper.width_mm - 2 * paper.margin_mm)
    assert high >= 0.8 * 0.2 * float(paper.height_mm) - 0.5 or wide > 0.95 * across


@pytest.mark.parametrize(("name", "system", "theme"), LARGE)
def test_large_print_leaves_nothing_out(name: str, system: System, theme: str):
    found = made(name, system, theme, PAPER_OF[system], large_print=True)
    assert found.size_pt == LARGE_PT
    # Only what cannot be printed at any size.
    prints = prints_of(found.document, system, photos(name))
    unfit = {(shown.piece, shown.drawing) for shown, one in prints.items() if isinstance(one, Unfit)}
    assert {(shown.piece, shown.drawing) for shown in found.left_out} == unfit
    version = found.version
    assert version.sections and version.full_cautions and version.tips and version.summary and not version.short


def said(found: Handout) -> str:
    return " ".join(" ".join(text for _, text in reading_order(found.pdf)).split())


def test_it_says_what_is_on_the_table_and_the_steps_in_order():
    found = made(*BIRDHOUSE)
    text = said(found)
    wanted = ["Birdhouse favour box", "Name", "Date", "Already on the table", "base", "cut and scored", "gingham card"]
    wanted += ["paper trimmer", "Before you start", "Free the corner flaps", "Caution", "Fold and glue the ends"]
    wanted += ["Punch the doors", "Put the fronts on", "Wrap the caramels", "Tie it shut"]
    wanted += ["Your notes", "November 20, 2026"]
    places = [text.find(words) for words in wanted]
    assert -1 not in places and places == sorted(places)
    assert "Cut and score the base" not in text and "charcoal card" not in text
    assert "harbourstreet.example/birdhouse" in text


def test_headings_and_lists_are_tagged_as_such():
    roles = reading_order(made(*DRAWER_BOX).pdf)
    assert [text for role, text in roles if role == "H1"] == ["Drawer box with sleeve"]
    headings = [text for role, text in roles if role == "H2"]
    assert headings[0] == "Already on the table" and headings[-1] == "Your notes"
    # The ribbon is a cord, and what it can do to a small child is said before anything is begun.
    assert headings[1] == "Before you start"
    assert headings[2].startswith("Cut the drawer’s flaps") and headings[6].startswith("Glue the sleeve")
    assert [text for role, text in roles if role == "P" and text.isdigit()] == ["1", "2", "3", "4", "5"]
    lists = [one for one in tagged(made(*DRAWER_BOX).pdf).elements() if one.role == "L"]
    # What is ready, supplies, tools (which the typesetter tags line by line), and the steps.
    counts = [len(one.elements) for one in lists]
    assert counts[:2] == [2, 3] and sum(counts[2:]) == 5 + 5 and 5 in counts[2:]
    assert {entry.role for one in lists for entry in one.elements} == {"LI"}
    assert [text for role, text in roles if role == "H3"] == ["Ready for you", "Supplies", "Tools"]


def test_a_tip_is_said_with_its_word_once():
    words = "## Fold\n\n```step\ndo: fold base\ntip: Go slowly.\n```\n\nFold it.\n"
    found = handout(small(words=words), System.METRIC, "harbour", {}, A4)
    assert isinstance(found, Handout)
    assert said(found).count("Tip Go slowly.") == said(found).count("Tip") == 1


def test_one_page_has_no_bookmarks_and_several_have_one_for_every_heading():
    one_page = made(*DRAWER_BOX, most=1).pdf
    assert len(read(one_page)) == 1 and bookmarks(one_page) == []
    several = made(*DRAWER_BOX, large_print=True)
    (title,) = bookmarks(several.pdf)
    assert (title.title, title.page) == ("Drawer box with sleeve", 1)
    names = [bookmark.title for bookmark in title.under]
    assert names == [
        "Already on the table",
        "Before you start",
        "1 Cut the drawer’s flaps",
        "2 Cut the ribbon slot",
        "3 Fold and tape the drawer",
        "4 Thread the ribbon",
        "5 Glue the sleeve",
        "Tips",
        "Your notes",
    ]
    assert [bookmark.page for bookmark in title.under] == sorted(bookmark.page for bookmark in title.under)
    assert title.under[-1].page == several.pages


def test_pages_are_numbered_but_the_numbers_are_not_read_out():
    found = made(*DRAWER_BOX, large_print=True)
    for page in read(found.pdf):
        shown = "".join(glyph.text for glyph in page.glyphs if glyph.tag == "Artifact")
        assert "".join(shown.split()).endswith(f"{page.number}of{found.pages}")
    assert f"1 of {found.pages}" not in said(found)


def test_every_plan_and_photograph_has_its_words():
    figures = [text for role, text in reading_order(made(*BIRDHOUSE).pdf) if role == "Figure"]
    assert len(figures) >= 7
    assert figures[0].startswith("The finished box") and figures[1].startswith("Blank of the base.")


def test_figures_in_drawings_of_large_print_are_large():
    sizes = [
        glyph.size
        for page in read(made(*BIRDHOUSE, large_print=True).pdf)
        for word in page.words
        if word.tag == "Figure"
        for glyph in word.glyphs
    ]
    assert min(sizes) >= 14.0 - 0.01


# --- how it is fitted -------------------------------------------------------------------------------------------------


def steps(count: int, words: int = 25) -> str:
    return "".join(
        f"## Fold number {number}\n\n```step\ndo: fold base\n```\n\n{'Fold the edge. ' * (words // 3)}\n\n"
        for number in range(1, count + 1)
    )


@cache
def of_steps(count: int, theme: str = "harbour") -> Handout:
    """So many steps on A4."""
    found = handout(small(words=steps(count)), System.METRIC, theme, {}, A4)
    assert isinstance(found, Handout)
    return found


def test_what_is_too_much_for_one_sheet_goes_on_several_in_comfortable_type_with_nothing_left_out():
    found = of_steps(40)
    assert found.pages > 2 and found.size_pt == 11.0 and found.left_out == ()
    headings = [text for role, text in reading_order(found.pdf) if role == "H2"]
    assert sum("Fold number" in heading for heading in headings) == 40


def test_more_to_say_takes_as_many_pages_or_more_never_smaller_type_than_ten_points():
    found = [of_steps(count) for count in (2, 12, *((20, 30) if LONG else ()), 40)]
    pages = [one.pages for one in found]
    assert pages == sorted(pages) and pages[0] == 1 and pages[-1] > 2
    assert all(LEAST_PT <= one.size_pt <= 12.0 for one in found)


PLACE_CARD = """---
title: Tent place card
makes: 1 card
measured in: inches
supplies:
  cream card: cardstock, sheet 8 1/2 x 11 in or A4
  leaf paper: patterned paper, sheet 12 x 12 in
  glue stick: glue stick
tools:
  - paper trimmer with scoring blade
  - bone folder
pieces:
  card:
    from: cream card
    size: 3 1/2 x 4 in
    down: 2 front | 2 back
  band:
    from: leaf paper
    size: 3 1/2 x 1/2 in
    goes on: outside of card front, lined up at the bottom
---

## Score and fold the card

```step
do: cut card, score card, fold card
```

Score the card at 2 in and fold it.

## Cut the band

```step
do: cut band
```

Cut a band 3 1/2 x 1/2 in.

## Glue on the band

```step
do: glue band to card
```

Glue the band along the lower edge of the front.
"""


@pytest.mark.parametrize(("system", "theme"), list(zip(cycle(PAPER_OF), 2 * THEMES, strict=False))[: tries(3, 6)])
def test_a_short_recipe_is_one_page_with_every_step_shown_large(system: System, theme: str):
    sheet, _ = compiled(PLACE_CARD, "place-card")
    paper = PAPER_OF[system]
    found = handout(sheet, system, theme, {}, paper)
    assert isinstance(found, Handout) and found.pages == 1
    assert complaints(found, sheet, paper, False) == []
    version = found.version
    assert version.full_cautions and version.summary and not version.short
    assert min(pictured_steps(found.pdf).values()) >= 1
    # A picture fills a box some fifth of the page wide, and its height at most: either it is so wide or so high.
    boxes = [one.box for one in tagged(found.pdf).elements() if one.role == "Figure" and one.box]
    across = float(paper.width_mm) * POINTS["mm"]
    assert all(max(box[2] - box[0], box[3] - box[1]) >= 0.17 * across for box in boxes)


@pytest.mark.parametrize("theme", THEMES)
def test_two_figures_of_a_step_number_stand_beside_its_heading(theme: str):
    assert complaints(of_steps(12, theme), small(words=steps(12)), A4, False) == []


# --- so many pages and no more ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "system", "theme"), IN_ONE_SYSTEM if LONG else IN_ONE_SYSTEM[2::3])
def test_one_page_means_one_page_that_keeps_the_finished_thing(name: str, system: System, theme: str):
    found = made(name, system, theme, PAPER_OF[system], most=1)
    assert found.pages == 1 and complaints(found, demo(name), PAPER_OF[system], False) == []
    assert not any(not shown.step and not shown.piece for shown in found.left_out)


@pytest.mark.parametrize("theme", every(THEMES, 3))
def test_large_print_stays_large_when_it_may_have_only_so_many_pages(theme: str):
    sheet = demo("layered-card")
    found = made("layered-card", System.IMPERIAL, theme, LETTER, large_print=True, most=2)
    assert found.size_pt == LARGE_PT and found.pages <= 2
    assert complaints(found, sheet, LETTER, True) == []
    too_long = handout(sheet, System.IMPERIAL, theme, {}, LETTER, True, 1)
    assert isinstance(too_long, Misfit) and too_long.too_long and too_long.too_long.over > 0


def test_the_author_says_what_is_left_out_last():
    """A recipe whose tips and pictures do not both go on one page."""
    kept: dict[Keep, Handout] = {}
    for keep in Keep:
        sheet = replace(demo("birdhouse"), keep=(keep,))
        found = handout(sheet, System.METRIC, "harbour", photos("birdhouse"), A4, most=1)
        assert isinstance(found, Handout) and found.pages == 1
        kept[keep] = found
    tips = {keep: (found.version.tips, found.version.sections) for keep, found in kept.items()}
    assert tips == {Keep.PICTURES: (False, False), Keep.TIPS: (True, True)}
    assert len(kept[Keep.PICTURES].left_out) < len(kept[Keep.TIPS].left_out)


def test_what_does_not_go_on_one_page_is_told_with_the_longest_steps():
    found = handout(small(words=steps(40)), System.METRIC, "harbour", {}, A4, most=1)
    assert isinstance(found, Misfit) and found.too_long
    # 25 words and a heading of three, forty times; some 400 words go on a page beside head and notes.
    assert 400 < found.too_long.over < 40 * 28
    assert len(found.too_long.longest) == 3 and all(name.startswith("step-") for name, _ in found.too_long.longest)


def test_a_step_stays_whole_on_its_page():
    for page in read(of_steps(40).pdf):
        words = [word.text for word in page.words]
        assert words.count("edge.") == 25 // 3 * words.count("number") > 0


def test_a_step_longer_than_a_page_is_broken_and_loses_nothing():
    sheet = small(words=steps(1) + steps(1, words=2500).replace("number 1", "number 2") + steps(1))
    found = handout(sheet, System.METRIC, "harbour", {}, A4)
    assert isinstance(found, Handout) and found.pages > 3
    assert complaints(found, sheet, A4, False) == []
    assert said(found).count("Fold the edge.") == (25 // 3) * 2 + 2500 // 3


def test_a_recipe_without_a_step_in_class_has_no_handout():
    sheet = demo("birdhouse")
    before = tuple(replace(step, when=When.BEFORE_CLASS) for step in sheet.steps)
    assert isinstance(handout(replace(sheet, steps=before), System.METRIC, "harbour", {}, A4), NoClass)


def test_letters_that_no_face_has_are_told_with_the_step_of_the_whole_recipe():
    words = "## Cut\n\n```step\ndo: cut base\nwhen: before class\n```\n\nCut it.\n\n## Fold\n\nFold 折り紙 now.\n"
    found = handout(small(words=words), System.METRIC, "harbour", {}, A4)
    assert isinstance(found, Misfit)
    assert {one.letter for one in found.unprintable} == set("折り紙")
    assert {one.block for one in found.unprintable} == {"step-2"}


def test_a_word_wider_than_the_page_is_told():
    found = handout(small(words=steps(1) + f"## Glue\n\n{'x' * 300}\n"), System.METRIC, "harbour", {}, A4)
    assert isinstance(found, Misfit) and found.too_long
    assert (found.too_long.too_wide, found.too_long.wide_word) == ("step-2", "x" * 300)


def test_a_title_of_three_hundred_letters_fits():
    document = demo("concertina")
    document = replace(document, head=replace(document.head, title=("A booklet of eight small pages " * 10).strip()))
    for large_print in (True, False)[: tries(1, 2)]:
        found = handout(document, System.METRIC, "harbour", {}, A4, large_print)
        assert isinstance(found, Handout)
        assert complaints(found, document, A4, large_print) == []


def test_small_papers_take_more_pages():
    pages = [made("concertina", System.METRIC, "harbour", paper).pages for paper in every((A4, A5, A6), 2)]
    assert pages[0] == 2 and pages == sorted(pages) and pages[-1] > 2
    assert complaints(made("concertina", System.METRIC, "harbour", A6), demo("concertina"), A6, False) == []
