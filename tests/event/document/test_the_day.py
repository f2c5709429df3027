"""Packing paper, tables, day and handout of an event say the same: what is cut beforehand is not cut in class."""

from __future__ import annotations

from datetime import date
from functools import cache

import pytest
from msgspec.structs import replace

from foldwright.document.catalogue import catalogue
from foldwright.document.in_class import ClassDocument, class_document
from foldwright.document.model import Document
from foldwright.document.words import plain, plain_passage
from foldwright.event.document.beforehand import at_the_event
from foldwright.event.document.day import day_paper
from foldwright.event.document.model import (
    NO_OCCASION,
    EventDocument,
    EventPaper,
    Occasion,
    PaperTable,
    PaperWords,
    Ticks,
)
from foldwright.event.document.papers import Printout, compose_event, occasion_of, printing_paper
from foldwright.event.document.tables import tables_paper
from foldwright.event.document.writing import EventSource
from foldwright.event.plan.model import Making, Wishes, WorkedRecipe
from foldwright.event.plan.planning import Event, plan_event
from foldwright.event.render.papers import event_pdf
from foldwright.measure.length import System
from foldwright.pipeline import Understood
from foldwright.recipe.model import Said
from foldwright.render.paper.papers import paper_named
from workbench.compiled import compiled
from workbench.practice_event import one_by_one

WORDS = catalogue()
FRONT = """---
title: Lantern
makes: 1 lantern
measured in: millimetres
supplies:
  wrap card: cardstock, sheet A4, colour rose or teal, pack 50 sheets
  tag card: cardstock, sheet A4, pack 50 sheets
  ribbon: ribbon, use 300 mm, pack 10 m
  strong tape: double-sided tape, use 100 mm, pack 25 m
  bead: bead, use 2, pack 50, colour red or blue or green
tools:
  - paper trimmer with scoring blade
  - scissors
  - bone folder
pieces:
  wrap:
    from: wrap card
    count: 2
    size: 60 x 90 mm
    across: 30 left | 30 right
  tag:
    from: tag card
    size: 40 x 60 mm
    holes: round 5 mm, centred
---
"""
STEPS = {
    "Cut the wraps": ("cut wrap", "Cut two wraps, 60 x 90 mm."),
    "Score": ("score wrap", "Score each wrap at 30 mm."),
    "Fold": ("fold wrap, tape wrap", "Fold and tape the wraps."),
    "Make the tag": ("cut tag, stick tag to wrap", "Cut a tag, 40 x 60 mm. Stick it on."),
    "Tie": ("cut ribbon, tie ribbon", "Cut 300 mm of ribbon and tie it round."),
}


def text(steps: dict[str, tuple[str, str]] | None = None, more: str = "") -> str:
    said = "".join(
        f"\n## {heading}\n\n```step\ndo: {do}\ntime: 2 min\n```\n\n{words}\n"
        for heading, (do, words) in (steps or STEPS).items()
    )
    return FRONT + said + more


@cache
def at(recipe: str, people: int, spare: int = 0) -> tuple[Event, tuple[Document, ...]]:
    """The event of one recipe, and its sheet at it."""
    return event_of((recipe,), people, spare)


@cache
def understood(recipe: str) -> tuple[Document, Understood]:
    whole, checked = compiled(recipe, "lantern")
    assert checked.understood is not None
    return whole, checked.understood


@cache
def event_of(recipes: tuple[str, ...], people: int, spare: int = 0) -> tuple[Event, tuple[Document, ...]]:
    wholes, makings = [], []
    for recipe in recipes:
        whole, one = understood(recipe)
        wholes.append(whole)
        figures = one.figures[System.METRIC]
        makings.append(Making(WorkedRecipe(one.recipe, one.flat, one.times), figures, people, spare))
    event = plan_event(makings, Wishes(system=System.METRIC), {}, {})
    sheets = (
        at_the_event(whole, making.understood, done, "", WORDS)
        for whole, making, done in zip(wholes, makings, event.beforehand, strict=True)
    )
    return event, tuple(sheets)


def in_class(document: Document) -> ClassDocument:
    made = class_document(document)
    assert made is not None
    return made


def headings(document: Document) -> list[str]:
    return [plain(step.heading, System.METRIC) for step in in_class(document).document.steps]


def words_of(document: Document, heading: str) -> str:
    steps = {plain(step.heading, System.METRIC): step for step in in_class(document).document.steps}
    return plain_passage(steps[heading].words, System.METRIC)


def paper(said: EventDocument, slug: str) -> EventPaper:
    return next(one for one in said.papers if one.slug == slug)


def rows(one: EventPaper) -> dict[str, tuple[str, ...]]:
    return {row[0]: row[1:] for part in one.parts if isinstance(part, PaperTable) for row in part.rows}


def ticks(one: EventPaper) -> list[str]:
    return [line.text for part in one_by_one(one.parts) if isinstance(part, Ticks) for line in part.lines]


def said_in(one: EventPaper) -> str:
    return " ".join(
        words for part in one_by_one(one.parts) if isinstance(part, PaperWords) for words in part.paragraphs
    )


# --- what is cut beforehand -------------------------------------------------------------------------------------------


def test_a_step_that_only_cuts_is_not_in_class_and_takes_no_time():
    event, (document,) = at(text(), 6)
    assert headings(document) == ["Score", "Fold", "Make the tag", "Tie"]
    length = event.classes[0]
    assert length is not None
    assert length.usual == 4 * 120 == document.class_totals.hands_on.seconds


def test_of_a_step_that_goes_on_the_rest_is_left_and_says_so():
    _, (document,) = at(text(), 6)
    assert "Already cut to size: tag, 40 x 60 mm." in words_of(document, "Make the tag")
    assert "Already cut: ribbon, 300 mm; skip the cutting." in words_of(document, "Tie")
    assert "Already" not in words_of(document, "Fold")


def test_what_was_cut_is_made_ready_and_what_only_cutting_needs_is_away():
    _, (document,) = at(text(), 6)
    made = in_class(document)
    # Of the tag the hole is left, which nobody is told to punch: it is only cut to size.
    assert [(one.name, one.done) for one in made.prepared] == [("wrap\u00a0×\u00a02", "cut"), ("tag", "cut to size")]
    supplies = [one.said for one in made.document.supplies]
    assert "wrap card" not in supplies and "tag card" not in supplies and "strong tape" in supplies
    assert "paper trimmer with scoring blade" in [one.said for one in made.document.tools]
    without = {heading: step for heading, step in STEPS.items() if heading not in ("Score", "Make the tag")}
    _, (document,) = at(text(without), 6)
    tools = [one.said for one in in_class(document).document.tools]
    assert "paper trimmer with scoring blade" not in tools and "bone folder" in tools
    codes = {caution.code for step in in_class(document).document.steps for caution in step.cautions}
    assert "trimmer-blade" not in codes


def test_what_is_no_straight_cut_out_of_the_sheet_is_left():
    steps = {
        "Die-cut the wraps": ("die cut wrap", "Die-cut two wraps."),
        "Cut the tag": ("cut tag", "Cut the tag."),
        "Punch the tag": ("punch tag", "Punch it."),
        "Cut it again": ("cut tag", "Cut the corners of the tag."),
    }
    _, (document,) = at(text(steps), 6)
    # The hole of the tag is punched later, so that cutting it out is all that its first step does.
    assert headings(document) == ["Die-cut the wraps", "Punch the tag", "Cut it again"]


def test_a_piece_that_fits_no_sheet_is_still_to_be_cut():
    _, (document,) = at(text().replace("size: 60 x 90 mm\n    across: 30 left | 30 right", "size: 600 x 900 mm"), 6)
    assert "Cut the wraps" in headings(document)
    assert "wrap\u00a0×\u00a02" not in [one.name for one in in_class(document).prepared]


# --- papers ---------------------------------------------------------------------------------------------------------


def test_the_bags_of_each_colour_are_those_that_are_planned():
    """Seven bags, reckoned by hand: 4 rose and 3 teal; 3 red, 2 blue and 2 green."""
    event, sheets = at(text(), 6, 1)
    said = compose_event(event, sheets, NO_OCCASION)
    packed = {name.replace("\u00a0", " "): rest for name, rest in rows(paper(said, "packing")).items()}
    assert packed["wrap card, rose and bead, red"] == ("3",)
    assert packed["wrap card, rose and bead, blue"] == ("1",)
    assert packed["wrap card, teal and bead, blue"] == ("1",)
    assert packed["wrap card, teal and bead, green"] == ("2",)
    assert packed["wrap, cut (wrap card, rose, 60 x 90 mm)"] == ("2", "8", "0 + 8")
    assert packed["bead, green"] == ("2", "4", "0 + 4")
    assert packed["300 mm of ribbon"] == ("1", "7", "0 + 7")
    counts = [count for _, count in said.labels]
    assert sum(counts) == 7 and sorted(counts) == [1, 1, 2, 3]
    assert "rose" in said.labels[0][0].lines[0] and "red" in said.labels[0][0].lines[0]
    planned = {(plan.supply, plan.colour): plan.wanted[0].count for plan in event.sheets}
    assert planned["wrap card", "rose"] == 8


def test_the_handout_is_in_the_bag_and_nowhere_else():
    event, sheets = at(text(), 6)
    said = compose_event(event, sheets, NO_OCCASION)
    assert rows(paper(said, "packing"))["handout"] == ("1", "6", "0 + 6")
    day = paper(said, "the-day")
    assert not any("handouts are on the tables" in " ".join(row) for row in rows(day).items() for row in row[1:])
    assert ticks(paper(said, "tables")).count("handout") == 0


def test_each_table_has_its_own_tools_and_no_bag_things():
    event, sheets = event_of((text(), text({"Fold": STEPS["Fold"]})), 6)
    one, other = (part for part in tables_paper(EventSource(event, sheets, WORDS)).parts if isinstance(part, Ticks))
    assert one.heading.startswith("Table 1: ") and other.heading.startswith("Table 2: ")
    first, second = ([line.text for line in part.lines] for part in (one, other))
    assert "paper trimmer with scoring blade: 1" in first
    assert not any("trimmer" in line for line in second)
    assert "bone folder: 3" in second and "strong tape: 1" in second and not any("ribbon" in line for line in second)


def test_what_a_step_shares_is_for_all_tables():
    recipe = text().replace("do: score wrap\n", "do: score wrap\nshare: 2 heat guns\n")
    listed = recipe.replace("  - scissors\n", "  - scissors\n  - heat gun\n")
    for one, name in ((recipe, "heat guns"), (listed, "heat gun")):
        event, sheets = at(one, 40)
        assert len(event.tables) == 5
        told = [line for line in ticks(tables_paper(EventSource(event, sheets, WORDS))) if line.startswith("heat gun")]
        assert told == [f"{name}: 2"]


def test_recipes_run_side_by_side_in_the_order_of_the_clock():
    event, sheets = event_of((text(), text({"Fold": STEPS["Fold"]})), 6)
    table = next(part for part in day_paper(EventSource(event, sheets, WORDS)).parts if isinstance(part, PaperTable))
    times = [row[0] for row in table.rows]
    assert times == sorted(set(times)) == ["13:45", "14:00", "14:10", "14:12", "14:14", "14:16", "14:18"]
    assert [len(row) for row in table.rows] == [3] * 7
    assert table.rows[2][1:] == ("1. Score", "1. Fold")
    assert table.rows[3][1] == "2. Fold" and table.rows[3][2].startswith("Finished")


@pytest.mark.parametrize(("recipes", "alike"), [(1, True), (4, False), (4, True), (5, False), (7, True)])
def test_every_step_of_every_recipe_stands_once_in_the_run(recipes: int, alike: bool):
    some = {f"Fold it {number}": ("fold wrap", "Fold.") for number in range(3)}
    texts = tuple(text(some if alike or not number else {"Fold": STEPS["Fold"]}) for number in range(recipes))
    event, sheets = event_of(texts, 3)
    table = next(part for part in day_paper(EventSource(event, sheets, WORDS)).parts if isinstance(part, PaperTable))
    told = " ".join(cell for row in table.rows for cell in row)
    assert told.count("Fold it 0") == (recipes if alike else 1)
    assert told.count("Finished") == recipes


def test_the_day_is_one_page_and_leaves_the_steps_out_before_it_is_two():
    letter = paper_named("letter")
    assert letter is not None
    many = {f"Fold it {number}": ("fold wrap", "Fold.") for number in range(20)}
    event, sheets = event_of(tuple(text(many) for _ in range(6)), 3)
    said = compose_event(event, sheets, NO_OCCASION)
    made = event_pdf(said, paper(said, "the-day"), letter, "harbour", ())
    assert (made.pages, made.shortened) == (1, True)
    event, sheets = event_of((text(), text()), 3)
    said = compose_event(event, sheets, NO_OCCASION)
    made = event_pdf(said, paper(said, "the-day"), letter, "harbour", ())
    assert (made.pages, made.shortened) == (1, False)


def test_what_to_print_adds_up_and_names_the_templates():
    """Sheets of paper, by hand: 3 x 2 and 1 x 7."""
    printouts = [Printout("the-day-a4.pdf", 3, 2, "helpers"), Printout("handout-lantern-a4.pdf", 7, 1, "bags")]
    outlined = replace(at(text(), 6)[0].makings[0].understood.recipe.pieces[0], outline=Said("wrap.svg", None))
    making = at(text(), 6)[0].makings[0]
    recipe = replace(making.understood.recipe, pieces=(outlined,))
    shaped = replace(making, understood=replace(making.understood, recipe=recipe))
    made = printing_paper(printouts, "A4", WORDS, (shaped,))
    assert made.summary.startswith("13 sheets of paper")
    assert rows(made)["handout-lantern-a4.pdf"][:2] == ("1", "7")
    assert "Lantern: there is a template for wrap." in said_in(made)
    assert "template" not in said_in(printing_paper(printouts, "A4", WORDS, (making,)))


def test_who_is_early_or_late_is_told_what_to_do():
    event, sheets = at(text(more="\n## Variations\n\nTie it with twine instead.\n"), 6)
    said = said_in(day_paper(EventSource(event, sheets, WORDS)))
    assert "Tie it with twine instead." in said
    assert "strong tape" in said and "take it home" in said


def test_the_day_of_the_event_is_written_out():
    """6 March 2027 is a Saturday (the calendar of the standard library says the same)."""
    day = date(2027, 3, 6)
    assert day.strftime("%A") == "Saturday"
    occasion = occasion_of("Spring Saturday", day, "back room", WORDS)
    assert occasion == Occasion(
        "Spring Saturday",
        "2027-03-06",
        "Saturday, 6 March 2027",
        "back room",
        "Spring Saturday · Saturday, 6 March 2027 · back room",
    )
    assert occasion_of("", None, "", WORDS).line == ""
