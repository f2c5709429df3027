"""The tutorial page: well-formed, self-contained, safe whatever the author wrote, the same bytes every time."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET

import html5lib
import pytest
from msgspec.structs import replace

from foldwright.document.findings import Told
from foldwright.document.model import Document, Photograph, Readiness, SupplyLine
from foldwright.finding import Strength
from foldwright.measure.length import System
from foldwright.recipe.words import Code, Link, Paragraph, Strong, Text
from foldwright.render.web.images import Image
from foldwright.render.web.tutorial import tutorial
from workbench.compiled import demo
from workbench.handmade import birdhouse, no_photo, plain_drawing, run

THEMES = ("almanac", "harbour", "workbench")
HTML = "{http://www.w3.org/1999/xhtml}"


def page(document: Document | None = None, theme: str = "harbour", **kept: object) -> str:
    return tutorial(document or birdhouse(), theme, kept.pop("show", no_photo), draw=plain_drawing, **kept).decode(
        "utf-8"
    )  # type: ignore[arg-type]


def parsed(html: str) -> ET.Element:
    """The page as a browser reads it; raises on any parse error of the HTML standard."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=True).parse(html)


def words(element: ET.Element) -> str:
    return " ".join("".join(element.itertext()).split())


@pytest.mark.parametrize("theme", THEMES)
def test_it_parses_without_an_error(theme):
    root = parsed(page(theme=theme))
    assert root.get("lang") == "en"
    assert words(next(root.iter(f"{HTML}h1"))) == "Birdhouse favour box"


@pytest.mark.parametrize("theme", THEMES)
def test_ids_are_used_once_and_every_reference_leads_somewhere(theme):
    html = page(theme=theme)
    body = html.split("</style>")[1]
    ids = re.findall(r'\sid="([^"]+)"', body)
    assert len(ids) == len(set(ids))
    for name in re.findall(r'href="#([^"]+)"', body):
        assert name in ids
    for names in re.findall(r'aria-labelledby="([^"]+)"', body):
        assert set(names.split()) <= set(ids)


def test_headings_are_nested():
    levels = [
        int(element.tag[-1]) for element in parsed(page()).iter() if re.fullmatch(HTML + r"h[1-6]", str(element.tag))
    ]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


def test_nothing_comes_from_outside():
    html = page(show=lambda photo, _width=0: Image("data:image/png;base64,AAAA", 2, 2, photo.shows))
    root = parsed(html)
    for element in root.iter():
        for name in ("src", "srcset", "poster", "data"):
            assert element.get(name, "data:").startswith("data:")
        if str(element.tag).endswith("}link"):
            assert element.get("rel") == "canonical"
    assert not re.findall(r"url\((?!data:)", html)
    assert "@import" not in html


def test_numbers_are_figures_for_the_eye_and_words_for_the_ear():
    html = page()
    assert (
        '<span class="u-imperial"><span class="n" aria-hidden="true">5 × 4\u202f'
        '<span class="fr on">1⁄4</span>\u202fin</span>'
        '<span class="vh">5 by 4 and 1 quarter inches</span></span>'
        '<span class="u-metric"><span class="n" aria-hidden="true">127 × 107\u202fmm</span>'
        '<span class="vh">127 by 107 millimetres</span></span>'
    ) in html


@pytest.mark.parametrize("system", System)
def test_one_system_alone_needs_no_switch(system):
    html = page(systems=(system,)).split("</style>")[1]
    assert 'name="units"' not in html
    assert "u-imperial" not in html
    assert ("127 × 107\u202fmm" in html) == (system is System.METRIC)
    assert ("\u202fin<" in html) == (system is System.IMPERIAL)


def test_the_system_it_was_written_in_is_shown_first():
    assert re.search(r'value="imperial" id="imperial" checked', page())
    assert re.search(r'value="metric" id="metric" checked', page(replace(birdhouse(), system=System.METRIC)))


HOSTILE = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ 7*7 }}{% raw %}",
    "</style><style>*{display:none}",
    "'; alert(1); '",
    "<!-- --><svg onload=alert(1)>",
    "\u202e\u2066gnp.exe",
)


def everywhere(text: str) -> Document:
    """The sheet with a text in every place an author can write in."""
    sheet = birdhouse()
    texts = ("title", "credit", "licence", "makes", "level", "audience", "studio", "author", "revised_words")
    head = replace(sheet.head, **dict.fromkeys(texts, text), summary=run(text))
    supply = SupplyLine(run(text), text, run(text), run(text), colours=text, contains=text, note=run(text))
    inline = (Text(text), Strong(run(text)), Code(text), Link(f"https://a.example/{text}", run(text)))
    step = replace(
        sheet.steps[0], heading=run(text), wordings=((Paragraph(inline),),), tip=(Paragraph(run(text)),), video=text
    )
    piece = replace(sheet.pieces[0], name=text, supply=text, note=run(text))
    told = Told("recipe.md", 1, 1, Strength.FAULT, "code", text, text, text, text, text, text)
    return replace(
        sheet,
        head=head,
        supplies=(supply,),
        pieces=(piece,),
        steps=(replace(step, pieces=(text,), shows=(text,)),),
        photo=Photograph("a.jpg", text),
        findings=(told,),
        standing=Readiness.DRAFT,
    )


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_an_author_writes_is_only_text(text):
    def show(photo: Photograph, width: int = 0) -> Image:
        return Image("data:image/png;base64,AAAA", 2, 2, photo.shows)

    tame = parsed(page(everywhere("word"), show=show))
    root = parsed(page(everywhere(text), show=show))
    assert [element.tag for element in root.iter()] == [element.tag for element in tame.iter()]
    assert [sorted(element.keys()) for element in root.iter()] == [sorted(element.keys()) for element in tame.iter()]
    assert words(next(root.iter(f"{HTML}h1"))) == " ".join(text.split())


@pytest.mark.parametrize(
    "address",
    ["javascript:alert(1)", "JaVaScRiPt:alert(1)", "data:text/html,x", "vbscript:x", " javascript:x", "//evil.example"],
)
def test_addresses_of_other_kinds_are_words_not_links(address):
    sheet = birdhouse()
    step = replace(sheet.steps[0], wordings=((Paragraph((Link(address, run("press here")),)),),), video=address)
    html = page(replace(sheet, steps=(step,), head=replace(sheet.head, video=address)))
    assert address not in re.findall(r'href="([^"]*)"', html)
    assert "press here" in html


def test_a_draft_says_so_and_lists_what_is_wrong():
    told = Told(
        "recipe.md", 27, 3, Strength.FAULT, "x", "2 mm are missing", remedy="Type 62.", where="recipe.md, line 27"
    )
    thought = Told("recipe.md", 5, 1, Strength.THOUGHT, "y", "only a thought")
    html = page(replace(birdhouse(), findings=(told, thought), standing=Readiness.DRAFT))
    draft = next(element for element in parsed(html).iter(f"{HTML}section") if element.get("class") == "draft")
    assert "recipe.md, line 27: 2 mm are missing. Type 62." in words(draft)
    assert "only a thought" not in html
    assert 'class="draft"' not in page()


def test_a_plan_is_drawn_once_and_shown_again_by_reference():
    html = page()
    body = html.split("</style>")[1]
    assert body.count('id="plan-1-imperial"') == 1
    assert body.count('<use href="#plan-1-imperial"') == 2


def test_every_step_has_a_box_to_tick_with_a_name():
    root = parsed(page())
    boxes = [element for element in root.iter(f"{HTML}label") if element.get("class") == "done"]
    assert [words(box) for box in boxes] == ["Done 1", "Done 2", "Done 3"]


def test_cautions_stand_before_the_words_of_their_step():
    html = page().split("</style>")[1]
    step = html[html.index('id="step-1"') : html.index('id="step-2"')]
    assert step.index('role="note"') < step.index("Cut the charcoal card")
    assert "The rules of your school, studio or country and the makers’ instructions come first." in html


def test_the_pictures_of_a_household_book_are_numbered_plates_and_those_of_others_are_not():
    """Every picture of a step has the next number, and so has a photograph."""
    document = demo("keepsake-box")
    count = sum(len(step.pictures) for step in document.steps)
    assert count > len(document.steps) > 1
    for theme, wanted in (("almanac", [*range(1, count + 1)]), ("harbour", []), ("workbench", [])):
        html = page(document, theme)
        assert [int(one) for one in re.findall(r'<b class="plate">Plate (\d+)</b>', html)] == wanted


def test_a_photograph_of_a_step_is_a_plate_too():
    document = birdhouse()
    shown = Photograph("fold.png", "Hands fold the base.")
    steps = (replace(document.steps[0], photo=shown), *document.steps[1:])

    def show(photo: Photograph, width: int = 0) -> Image:
        return Image("data:image/png;base64,AA", 4, 3, photo.shows)

    html = page(replace(document, steps=steps), "almanac", show=show)
    step = html[html.index('id="step-1"') : html.index('id="step-2"')]
    assert step.index("Hands fold the base.") < step.index("Plate 1</b>")
