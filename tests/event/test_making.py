"""An event made without the command line: texts in, files out, its papers those of the one table."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable

import pdfplumber
import pytest

from foldwright.event.document import papers
from foldwright.event.document.model import PaperText, PaperWords
from foldwright.event.document.papers import PAPERS, PaperRow
from foldwright.event.making import MadeEvent, make_event
from foldwright.event.options import KitOptions
from foldwright.event.reading import EventReading, FoundInText, GivenRecipe, ListFile, read_event, read_recipes
from foldwright.event.wishes import KitWish, read_wish
from foldwright.outputs.texts import texts_of
from foldwright.surroundings import Refusal

RECIPE = """---
title: Treat box
makes: 1 box
supplies:
  blue card: cardstock, sheet A4, pack 10 sheets at 2.00
  caramel: wrapped sweet, use 2, pack 40 at 4.20, contains milk
pieces:
  square:
    from: blue card
    size: 100 x 100 mm
---

## Cut it

do: cut square

## Fill it

do: fill square
"""


class NoFiles:
    """The world of a recipe beside which there is nothing."""

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        return Refusal.MISSING

    def theme(self, name: str) -> str | None:
        return None


class OneHand:
    """Sets a paper when it is waited for."""

    def ask[**P, T](self, work: Callable[P, T], *facts: P.args, **more: P.kwargs) -> Callable[[], T]:
        return lambda: work(*facts, **more)


def wish(**options: str) -> KitWish:
    read = read_wish(KitOptions(**{"kits": "4", "units": "metric", **options}), 1)
    assert isinstance(read, KitWish)
    return read


def reading(asked: KitWish, text: str = RECIPE, stock: str = "", guests: str = "") -> EventReading:
    given = GivenRecipe(texts_of("treat", text), NoFiles(), "treat", "treat")
    recipes, _ = read_recipes([given])
    lists = [ListFile(name, said.encode()) if said else None for name, said in (("stock", stock), ("guests", guests))]
    return read_event(recipes, lists[0], lists[1], asked)


def made(asked: KitWish, guests: str = "") -> MadeEvent:
    read = reading(asked, guests=guests)
    assert read.event is not None
    return make_event(read.event, asked, None, OneHand())


def words_of(pdf: bytes) -> str:
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return " ".join(" ".join(page.extract_text() for page in document.pages).split())


def test_texts_become_a_folder_whose_papers_are_those_of_the_table(monkeypatch: pytest.MonkeyPatch) -> None:
    """One row more is one paper more: in the folder, on the page, in the list of what to print."""

    def compose(_source: object) -> PaperText:
        return PaperText("Said by the test.", (PaperWords("A heading of the test", ("And its words.",)),))

    row = PaperRow("of-the-test", "room-of-the-test", compose, each_helper=True)
    words = {"event.room-of-the-test.title": "Paper of the test", "event.room-of-the-test.whom": "the tester"}
    say = papers.Catalogue.say
    monkeypatch.setattr(papers.Catalogue, "say", lambda self, key, **facts: words.get(key) or say(self, key, **facts))
    monkeypatch.setattr(papers, "PAPERS", (*PAPERS, row))
    event = made(wish(helpers="3"), "name,table,diet\nZoë,4,nuts\nBo,5,\n")
    assert not event.complaints and not event.wrong and not event.lacking
    slugs = [one.slug for one in papers.PAPERS]
    assert {f"{slug}-a4.pdf" for slug in (*slugs, "what-to-print")} <= event.files.keys()
    listed = words_of(event.files["what-to-print-a4.pdf"])
    assert all(f"{slug}-a4.pdf" in listed for slug in slugs)
    assert "of-the-test-a4.pdf 1 3 plain paper, A4 the tester" in listed
    # Coordinates of what is drawn are no prices.
    page = re.sub(r' d="[^"]*"', "", event.files["event.html"].decode())
    assert "Paper of the test" in page and "And its words." in page
    assert "4.20" not in page and "4.20" in words_of(event.files["costs-a4.pdf"])
    data = json.loads(event.files["kit.json"])
    assert (data["people"], [one["name"] for one in data["guests"]]) == (4, ["Zoë", "Bo"])
    assert any("2" in one and "4" in one for one in event.remarks)


def test_what_is_wrong_comes_back_as_values_and_nothing_is_planned() -> None:
    found = reading(wish(), stock="blue card: -6 sheets\n")
    assert found.event is None
    (told, not_planned) = found.told
    assert isinstance(told, FoundInText) and isinstance(not_planned, str)
    assert [one.place.file for one in told.findings if one.place] == ["stock"]
    assert told.texts == {"stock": "blue card: -6 sheets\n"}
    found = reading(wish(fee="$12"), RECIPE.replace("makes:", "money: EUR\nmakes:"))
    assert [one.message for one in found.wrong] == ["kit-other-money"]
    given = GivenRecipe(texts_of("treat", RECIPE.replace("100 x 100 mm", "no size at all")), NoFiles(), "t", "t")
    recipes, notes = read_recipes([given])
    assert recipes == () and isinstance(notes[0], FoundInText)


def test_words_of_every_row_are_in_the_catalogue() -> None:
    words = papers.catalogue()
    assert all(words.has(f"event.{row.section}.{word}") for row in PAPERS for word in ("title", "whom"))
    assert len({row.slug for row in PAPERS}) == len(PAPERS)
