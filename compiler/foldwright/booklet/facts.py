"""What is asked of a booklet: `booklet.yaml` beside the recipes, or a few words on the command line.

title: Spring 2027
recipes: birdhouse, twine-tag
as: cards
paper: A5
units: metric
templates: no
saddle: yes
sheet: A4
paper thickness: 0.1 mm
theme: harbour
foreword: Two small things for a spring table.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from msgspec import Struct

from foldwright.finding import Finding, Place, Said
from foldwright.measure.length import Length, System, system_named
from foldwright.recipe.facts.amounts import read_thickness
from foldwright.recipe.facts.complaints import Complaints, nearest
from foldwright.recipe.facts.known import Fact, Known, gather, spellings_in
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.source import split
from foldwright.recipe.facts.structure import Node, read_structure
from foldwright.recipe.facts.unprintable import gated
from foldwright.recipe.facts.values import read_with, said_row, said_value, text_of, yes_of
from foldwright.render.paper.papers import PAPERS, SHEETS, Paper, paper_named, sheet_named

ON_THE_CALL = "--booklet"
"""What the words of a call are called where something is wrong with them."""
BOOKLET_WORDS = Known(
    spellings_in(
        """title: name; recipes: recipe, projects; as: recipes as; paper: papers, page; units; templates: template;
        saddle: stapled, imposed; sheet: sheets; paper thickness: thickness of paper, thickness; theme; foreword"""
    )
)
_AS = spellings_in("tutorial pages: pages, tutorial, tutorials, tutorial page; cards: card, recipe cards, recipe card")
_PAGES = tuple(paper for paper in PAPERS if not paper.small)
"""A page of a book has room for words beside pictures."""
_TITLE_AND_RECIPES = re.compile(r"(?P<title>.*\S)\s*:\s*(?P<recipes>[^:]*)", re.DOTALL)
THICKEST_MM = 1
"""Paper thicker than that is board, which nobody folds into a booklet (a reasoned guess)."""


class BookletFacts(Struct, frozen=True):
    """A booklet as it was asked for; None is what nobody said."""

    title: Said[str]
    recipes: tuple[Said[str], ...]
    as_cards: bool = False
    paper: Paper | None = None
    system: System | None = None
    templates: bool = True
    saddle: bool = False
    sheet: Said[Paper] | None = None
    thickness: Said[Length] | None = None
    theme: Said[str] | None = None
    foreword: Said[str] | None = None


def text_of_call(said: str) -> str | None:
    """`Spring 2027: birdhouse, twine-tag` as the lines of a file; None where no recipe is named."""
    match = _TITLE_AND_RECIPES.fullmatch(said.strip())
    if not match or not match["recipes"].strip():
        return None
    title = " ".join(match["title"].split())
    return f"title: {title}\nrecipes: {' '.join(match['recipes'].split())}\n"


def read_booklet(text: str, file: str) -> tuple[BookletFacts | None, tuple[Finding, ...]]:
    """What a file asks for, with or without lines of dashes round it; None where anything is wrong with it."""
    complaints = Complaints()
    text = gated(text, file, complaints)
    parts = split(text)
    start = parts.front_offset
    lines = read_structure(parts.front if start else text, file, start, complaints)
    facts = gather(Node(None, None, lines), BOOKLET_WORDS, complaints)
    found = _booklet_of(facts, file, complaints)
    findings = sorted(complaints.findings, key=lambda finding: finding.place.start if finding.place else 0)
    return (None if complaints.findings else found), tuple(findings)


def _booklet_of(facts: Mapping[str, Fact], file: str, complaints: Complaints) -> BookletFacts | None:
    title = text_of(facts.get("title"), complaints)
    recipes = said_row(said_value(facts.get("recipes"), complaints))
    for word, said in (("title", title), ("recipes", recipes)):
        if not said and (word not in facts or facts[word].value.text):
            complaints.fault("booklet-lacks", facts[word].key if word in facts else Place(file, 0, 0), word=word)
    if title is None or not recipes:
        return None
    return BookletFacts(
        title=title,
        recipes=recipes,
        as_cards=_as(said_value(facts.get("as"), complaints), complaints),
        paper=_paper(said_value(facts.get("paper"), complaints), complaints),
        system=_system(said_value(facts.get("units"), complaints), complaints),
        templates="templates" not in facts or yes_of(facts["templates"], complaints),
        saddle=yes_of(facts.get("saddle"), complaints),
        sheet=_sheet(said_value(facts.get("sheet"), complaints), complaints),
        thickness=_thickness(said_value(facts.get("paper thickness"), complaints), complaints),
        theme=text_of(facts.get("theme"), complaints),
        foreword=text_of(facts.get("foreword"), complaints),
    )


def _as(value: Phrase | None, complaints: Complaints) -> bool:
    if value is None:
        return False
    word = _AS.get(value.plain.casefold().rstrip("."))
    if word is None:
        known = tuple(dict.fromkeys(_AS.values()))
        complaints.fault("booklet-as", value, nearest=_AS.get(nearest(value.plain, _AS), known[0]), known=known)
    return word == "cards"


def _paper(value: Phrase | None, complaints: Complaints) -> Paper | None:
    paper = paper_named(value.plain) if value else None
    if value is not None and paper not in _PAGES:
        names = tuple(one.name for one in _PAGES)
        near = nearest(value.plain, names) or names[0]
        complaints.fault("booklet-paper", value, nearest=near, known=names)
    return paper


def _sheet(value: Phrase | None, complaints: Complaints) -> Said[Paper] | None:
    sheet = sheet_named(value.plain) if value else None
    if value is not None and sheet is None:
        names = tuple(one.name for one in SHEETS)
        near = nearest(value.plain, names) or names[0]
        complaints.fault("booklet-sheet", value, nearest=near, known=names)
    return Said(sheet, value.place) if value and sheet else None


def _system(value: Phrase | None, complaints: Complaints) -> System | None:
    system = system_named(value.plain) if value else None
    if value is not None and system is None:
        names = tuple(one.value for one in System)
        complaints.fault("booklet-units", value, nearest=nearest(value.plain, names) or names[0], known=names)
    return system


def _thickness(value: Phrase | None, complaints: Complaints) -> Said[Length] | None:
    said = read_with(value, "paper thickness", read_thickness, complaints)
    if value is not None and said is not None and said.value.mm > THICKEST_MM:
        complaints.fault("booklet-thickness", value)
        return None
    return said
