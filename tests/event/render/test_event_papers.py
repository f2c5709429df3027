"""Papers of an event read back with pdfplumber: sizes of letters, what stands on which page, each look's own head."""

from __future__ import annotations

import io
from functools import cache

import pdfplumber
import pytest
from msgspec.structs import replace

from foldwright.document.catalogue import catalogue
from foldwright.document.model import Document
from foldwright.event.document.cutting import cutting_paper
from foldwright.event.document.kits import kits_paper
from foldwright.event.document.model import EventDocument, EventPaper, PaperTable, PaperWords
from foldwright.event.document.papers import compose_event, occasion_of
from foldwright.event.document.tables import tables_paper
from foldwright.event.document.writing import EventSource
from foldwright.event.plan.model import Making, Wishes, WorkedRecipe
from foldwright.event.plan.planning import Event, plan_event
from foldwright.event.render.heroes import Hero, heroes_of
from foldwright.event.render.papers import event_pdf
from foldwright.measure.length import System
from foldwright.render.paper.papers import A4
from foldwright.render.themes import built_in_themes
from printed.structure import structure_complaints
from printed.tokens import quick
from workbench.compiled import compiled, compiled_demo, demo
from workbench.long import every

POINTS = 72 / 25.4
DEMO = ("birdhouse", "twine-tag", "keepsake-box")


@cache
def planned() -> tuple[Event, EventDocument, tuple[Hero, ...]]:
    """Three of the demo recipes, for four helpers."""
    documents, makings = [], []
    for name in DEMO:
        document, checked = compiled_demo(name)
        one = checked.understood
        assert one is not None
        documents.append(document)
        figures = one.figures[System.METRIC]
        makings.append(Making(WorkedRecipe(one.recipe, one.flat, one.times), figures, 20))
    event = plan_event(makings, Wishes(system=System.METRIC, helpers=4), {}, {})
    said = compose_event(event, documents, occasion_of("Spring Saturday", None, "", catalogue()))
    return event, said, heroes_of(documents, System.METRIC, [{} for _ in documents])


def paper(slug: str) -> EventPaper:
    return next(one for one in planned()[1].papers if one.slug == slug)


@cache
def printed(slug: str, theme: str) -> bytes:
    _, said, heroes = planned()
    return event_pdf(said, paper(slug), A4, theme, heroes).pdf


@pytest.mark.parametrize("theme", built_in_themes())
def test_the_day_is_one_page_in_ten_points(theme: str) -> None:
    """What is smaller stands at the foot: the title block, the number of the page."""
    with quick(), pdfplumber.open(io.BytesIO(printed("the-day", theme))) as pdf:
        (page,) = pdf.pages
        sizes = [char["size"] for char in page.chars if char["bottom"] < (297 - 27) * POINTS and char["text"].isalpha()]
        assert min(sizes) > 9.99
        assert "Run of the day" in page.extract_text()


@pytest.mark.parametrize("theme", every(built_in_themes(), 3))
def test_no_heading_of_a_cutting_plan_is_alone_at_a_foot_and_each_table_is_with_its_layout(theme: str) -> None:
    supplies = {f"{plan.supply}" for plan in planned()[0].sheets}
    found = set()
    with quick(), pdfplumber.open(io.BytesIO(printed("cutting-plan", theme))) as pdf:
        for page in pdf.pages:
            upright = page.filter(lambda mark: mark.get("upright", True)).extract_text_lines()
            shown = sorted(upright, key=lambda line: float(line["top"]))
            lines = [line["text"] for line in shown if line["bottom"] < (297 - 27) * POINTS]
            for number, text in enumerate(lines):
                if text in supplies:
                    found.add(text)
                    after = lines[number + 1 :]
                    assert any(one.startswith("piece ") for one in after)
                    assert any(one.startswith("Layout 1:") for one in after)
            assert not lines[-1].startswith("Layout") and lines[-1] not in supplies
    assert found == supplies


@pytest.mark.parametrize("theme", built_in_themes())
def test_every_look_has_its_own_head_and_the_picture_of_what_is_made(theme: str) -> None:
    with quick(), pdfplumber.open(io.BytesIO(printed("packing", theme))) as pdf:
        page = pdf.pages[0]
        words = {word["text"]: word for word in page.extract_words()}
        title = words["Packing"]
        low = page.within_bbox((page.width / 5, page.height - 30 * POINTS, page.width, page.height)).extract_text()
        if theme == "workbench":
            # A title block: event, paper and sheet, each under its name.
            assert all(part in low for part in ("event", "Spring Saturday", "paper 5", "Packing the kits", "1 of 1"))
        else:
            assert "Packing" not in low and "1 of 1" in low
        centred = abs((title["x0"] + words["kits"]["x1"]) / 2 - page.width / 2) < 3
        assert centred == (theme == "almanac")
        head = [curve for curve in page.curves if curve["top"] < 60 * POINTS]
        assert len(head) > 20
    assert structure_complaints(printed("packing", theme)) == []


def test_what_goes_into_every_bag_is_counted_once() -> None:
    """Three recipes for twenty people each: 60 labels, 60 handouts."""
    event, _, _ = planned()
    documents = [demo(name) for name in DEMO]
    parts = kits_paper(EventSource(event, documents, catalogue())).parts
    rows = [row for part in parts if isinstance(part, PaperTable) for row in part.rows]
    assert [row for row in rows if row[0] in ("bag label", "handout")] == [
        ("bag label", "1", "60", "6"),
        ("handout", "1", "60", "6"),
    ]
    assert all(len(set(part.rows)) == len(part.rows) for part in parts if isinstance(part, PaperTable))


def bag_of_beads() -> tuple[Event, list[Document]]:
    text = "---\ntitle: Bag\nmakes: 1 bag\nsupplies:\n  bead: bead, use 2, pack 50\n---\n\n## Fill\n\ndo: fill bag\n"
    document, checked = compiled(text, "bag")
    one = checked.understood
    assert one is not None
    making = Making(WorkedRecipe(one.recipe, one.flat, one.times), one.figures[System.METRIC], 3)
    return plan_event([making], Wishes(system=System.METRIC), {}, {}), [document]


def test_where_nothing_is_cut_there_is_no_plan_of_it() -> None:
    event, documents = bag_of_beads()
    assert cutting_paper(EventSource(event, documents, catalogue())) is None


def test_a_long_name_of_an_event_stays_in_its_title_block() -> None:
    _, said, heroes = planned()
    called = replace(said, occasion=replace(said.occasion, called="A Saturday of boxes for everybody " * 6))
    with quick(), pdfplumber.open(io.BytesIO(event_pdf(called, paper("tables"), A4, "workbench", heroes).pdf)) as pdf:
        page = pdf.pages[0]
        block = page.crop((0, page.height - 30 * POINTS, page.width, page.height)).extract_words()
        assert any(word["text"].endswith("…") for word in block)
        assert max(word["bottom"] for word in block) < page.height - 5 * POINTS


def test_no_list_of_the_tables_is_empty() -> None:
    event, documents = bag_of_beads()
    first, *_ = tables_paper(EventSource(event, documents, catalogue())).parts
    assert first == PaperWords("Table 1: Bag, for 3", ("Put out nothing but the bags.",))
