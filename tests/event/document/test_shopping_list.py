"""The shopping list as it reads: what identifies a thing on its line, what is taken of the shelf, what tables need."""

from __future__ import annotations

import csv
import io
import json

import pytest

from event.plan.events import making_of, recipe_text
from foldwright.document.catalogue import catalogue
from foldwright.event.document.cutting import cutting_paper
from foldwright.event.document.data import event_json
from foldwright.event.document.model import PaperWords, Ticks
from foldwright.event.document.shopping import csv_rows, shopping_paper
from foldwright.event.document.writing import EventSource
from foldwright.event.facts.stock import read_stock
from foldwright.event.plan.model import Wishes
from foldwright.event.plan.planning import Event, plan_event
from foldwright.event.setting import safe_csv
from foldwright.measure.length import System

SUPPLIES = """\
card: patterned card, weight 80 lb cover, sheet 8 1/2 x 11 in or A4, pattern one way, colour rose, pack 10 at 200.00
tape: double-sided tape, width 1/4 in, use 30 cm, pack 10 m at 3.00
ink pad: ink, a little
twine: use 1 m, thickness 2 mm, pack 20 m
bead: use 3, size 4 x 4 x 5 mm, pack 100 at 4.00
"""
STOCK = "card: 2 sheets, scraps 3 of 148 x 210 mm\ntwine: 25 m\nscissors: 2\nink pad: 1\nheat gun: 1\n"
STEPS = """## Cut

do: cut p
when: before class

Cut it with the trimmer.

## Stick

do: tape p
share: 2 heat guns

Snip with the scissors, stick with the tape, stamp with the ink pad and warm with the heat gun.
"""


@pytest.fixture(scope="module")
def event() -> Event:
    text = recipe_text(SUPPLIES, "paper trimmer\nscissors\nheat gun", steps=STEPS)
    other = recipe_text(SUPPLIES.replace("bead: use 3", "bead: optional, use 2"), "scissors", steps=STEPS, title="Box")
    owned = {line.name.value.casefold(): line for line in read_stock(STOCK, "s")[0].lines}
    owned["card rose"] = owned["card"]
    makings = [making_of(text, 12, "tray"), making_of(other, 7, "box")]
    return plan_event(makings, Wishes(System.METRIC, per_table=6), owned, {})


def ticks(event: Event) -> dict[str, list[str]]:
    words = catalogue()
    parts = shopping_paper(EventSource(event, (), words)).parts
    return {
        part.heading: [f"{line.text} | {line.aside}" for line in part.lines]
        for part in parts
        if isinstance(part, Ticks)
    }


def test_everything_that_identifies_a_thing_stands_on_its_line(event: Event) -> None:
    """80 lb cover weighs 216 g/m2, and a quarter of an inch is 6.35 mm."""
    said = [line.partition(" | ")[0] for lines in ticks(event).values() for line in lines]
    assert said[:4] == [
        "card, rose, patterned card, 216\u202fg/m², sheets of A4, pattern one way: 1 pack of 10",
        "tape, double-sided tape, 1/4 in (6.35 mm) wide: 1 pack of 10 m",
        "bead, 4 x 4 x 5 mm: 1 pack of 100",
        "twine, 2 mm thick",
    ]


def test_what_is_taken_of_the_shelf_is_told(event: Event) -> None:
    """Upright, a scrap of 148 x 210 mm holds one piece of 100 x 140 mm, and A4 (210 x 297 mm) four.

    Of nineteen, two sheets give eight and the scraps three; eight are left for two sheets more, which are dear.
    """
    asides = {line.partition(",")[0]: line.partition(" | ")[2] for lines in ticks(event).values() for line in lines}
    assert "take from stock: all 3 scraps of 148 x 210 mm and all 2 sheets of A4" in asides["card"]
    assert asides["twine"].endswith("take from stock: the 25 m that are left")
    assert asides["bead"].startswith("optional in Box; needed: 50")


def test_the_room_has_tools_and_what_sticks_for_its_tables(event: Event) -> None:
    """Twelve people at two tables of six and seven at two: three pairs at each of those, two at each of these."""
    found = ticks(event)
    assert found["On the tables: glue, tape and colours"] == [
        "tape: 4 rolls | one for each table; 1 with those on this list; get 3 more, or let tables share",
        "ink pad: 4 | one for each table; 1 with those on this list; get 3 more, or let tables share",
    ]
    assert found["Tools to have, borrow or buy"] == [
        "paper trimmer: 1 | one before class",
        "scissors: 10 | one for two people; you have 2; borrow or buy 8",
        "heat gun: 2 | in the room, for all tables; you have 1; borrow or buy 1",
    ]
    assert "Check you have" not in found


def test_the_cutting_plan_calls_things_as_they_are_bought() -> None:
    """Cards of two weights and cords of two widths are two things each; neither recipe calls them so."""
    texts = [
        recipe_text(
            f"card: cardstock, sheet A4, weight {weight} g/m2\ncord: twine, use 1 m, width {width} mm, pack 10 m",
            title=title,
        )
        for weight, width, title in ((160, 2, "Tray"), (220, 3, "Box"))
    ]
    makings = [making_of(text, 4, slug) for text, slug in zip(texts, ("tray", "box"), strict=True)]
    words = catalogue()
    parts = cutting_paper(EventSource(plan_event(makings, Wishes(System.METRIC), {}, {}), (), words)).parts
    told = " ".join(part.heading for part in parts if isinstance(part, PaperWords | Ticks))
    assert all(name in told for name in ("card (Tray)", "card (Box)", "cord (Tray)", "cord (Box)"))


def test_the_csv_has_the_same_facts_in_columns(event: Event) -> None:
    words = catalogue()
    data = safe_csv(csv_rows(EventSource(event, (), words)))
    # Every record ends with CR LF and has as many fields as the heading (RFC 4180, section 2, rules 1 and 4).
    assert data.endswith(b"\r\n") and data.count(b"\n") == data.count(b"\r\n")
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert {len(row) for row in rows} == {19}
    card = dict(zip(rows[0], rows[1], strict=True))
    assert (card["supply"], card["weight"], card["sheet"], card["pattern"]) == (
        "card, rose",
        "216 g/m²",
        "A4",
        "one way",
    )
    assert card["for"] == "Tray; Box"
    tools = {row[0]: row for row in rows[1:] if row[1].startswith("Tools")}
    assert tools["scissors"][2:5] == ["10", "2", "8"]


def test_the_data_has_them_too(event: Event) -> None:
    data = json.loads(event_json(event))
    card, _, _, twine, bead = data["shopping"]
    assert (card["pattern"], card["sheets"][0]["name"], card["recipes"]) == ("one way", "A4", ["tray", "box"])
    assert [one["optional"] for one in bead["needs"]] == [True, False]
    assert twine["from_shelf"] == [{"taken": 1, "there_are": 1, "sides": ["25000"], "scrap": False}]
    room = data["room"]
    assert [table["people"] for table in room["tables"]] == [6, 6, 4, 3]
    assert [(one["name"], one["count"], one["have"], one["lacking"]) for one in room["tools"]] == [
        ("paper trimmer", 1, 0, 1), ("scissors", 10, 2, 8), ("heat gun", 2, 1, 1),
    ]  # fmt: skip
