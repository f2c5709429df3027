"""Guests in words: nobody is cleared, every bag of a guest has its label, everybody is found at the door."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

from foldwright.document.catalogue import catalogue
from foldwright.event.document.guests import diets_line, diets_paper, named_labels, place_cards_of, seating_paper
from foldwright.event.document.model import LabelText, PaperTable, PaperWords, Ticks
from foldwright.event.document.writing import EventSource
from foldwright.event.facts.guests import Guest
from foldwright.event.plan.model import Making, Wishes
from foldwright.event.plan.planning import Event
from foldwright.event.plan.tools import tables_of
from foldwright.measure.length import System
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe

WORDS = catalogue()


def recipe(title: str, *supplies: str) -> Recipe:
    lines = "".join(f"  {supply}\n" for supply in supplies)
    found = read_recipe(f"---\ntitle: {title}\nsupplies:\n{lines}---\n\n## Pack it\n\nPack it.\n", "r", title).recipe
    assert found is not None
    return found


SWEET = recipe("Treat box", "caramel: wrapped sweet, use 3, contains milk", "mint: wrapped sweet, use 1, contains none")
PLAIN = recipe("Gift tag", "blue card: cardstock, sheet A4")
UNSAID = recipe("Jelly box", "jelly: wrapped sweet, use 1")
ODD = recipe("Odd box", "turkish delight: use 1")


def event(recipes: list[Recipe], guests: list[Guest], kits: int = 2) -> Event:
    """Only what the guests' papers look at."""
    makings = [Making(cast(Any, SimpleNamespace(recipe=one)), cast(Any, None), kits) for one in recipes]
    tables = tables_of([kits] * len(recipes), 8, guests)
    rest: Any = cast(Any, ())
    return Event(
        makings=tuple(makings),
        wishes=Wishes(System.METRIC),
        sheets=rest,
        shopping=rest,
        costs=rest,
        jobs=rest,
        preparation=None,
        classes=rest,
        tables=tables,
        beforehand=rest,
        guests=tuple(guests),
    )


def rows_of(planned: Event) -> dict[str, tuple[str, tuple[str, ...]]]:
    """By the guest's name: the heading it stands under, and its row."""
    paper = diets_paper(EventSource(planned, (), WORDS))
    assert paper is not None
    return {row[0]: (part.heading, row) for part in paper.parts if isinstance(part, PaperTable) for row in part.rows}


def test_every_guest_with_a_diet_has_something_to_do_and_nobody_is_cleared() -> None:
    guests = [
        Guest("A", diet="dairy free", recipe=0),
        Guest("B", diet="coeliac", recipe=0),
        Guest("C", diet="vegan", recipe=1),
        Guest("D", diet="nuts", recipe=2),
        Guest("E", diet="lilies", recipe=1),
        Guest("F", diet="halal", recipe=1),
        Guest("G", diet="milk", recipe=None),
        Guest("H", diet="none", recipe=0),
        Guest("I", diet="milk", recipe=3),
    ]
    rows = rows_of(event([SWEET, PLAIN, UNSAID, ODD], guests))
    groups = {name: heading for name, (heading, _) in rows.items()}
    change, ask, read = (WORDS.say(f"event.guests.{group}") for group in ("change", "ask", "read"))
    assert groups == {"A": change, "B": read, "C": read, "D": ask, "E": ask, "F": ask, "G": change, "I": read}
    assert all(row[-1] for _, row in rows.values())
    assert "without caramel" in rows["A"][1][4]
    assert "Read the packet of caramel and mint" in rows["B"][1][4]
    assert rows["C"][1][3] == "no food is listed"
    assert rows["D"][1][3] == "the recipe does not say what is in jelly"
    assert "Ask the guest about lilies" in rows["E"][1][4]
    assert rows["G"][1][4].startswith("Ask which project it is")
    assert rows["I"][1][3] == "no known food; see the end of this list"
    said = " ".join(" ".join(row) for _, row in rows.values()).casefold()
    assert not any(word in said for word in ("safe", "suitable", "harmless", "all clear", " ok"))


def test_who_wrote_nothing_is_told_of_too() -> None:
    assert diets_line(event([SWEET], [Guest("A", recipe=0)]), WORDS) == WORDS.say("event.guests.nobody")
    assert diets_line(event([PLAIN], [Guest("A", recipe=0)]), WORDS) == ""
    assert diets_line(event([SWEET], []), WORDS) == ""
    guests = [Guest("A", diet="nuts", recipe=0), Guest("B", recipe=0)]
    paper = diets_paper(EventSource(event([SWEET], guests, kits=5), (), WORDS))
    assert paper is not None
    last = paper.parts[-1]
    assert isinstance(last, PaperWords)
    assert last.paragraphs == (
        WORDS.say("event.guests.silent", count=1),
        WORDS.say("event.guests.nameless", count=3),
    )


def test_every_guest_has_a_label_and_the_rest_have_none_of_a_name() -> None:
    """Two kinds of bag, as colours make them: five kits for three guests, one of whom has a diet."""
    guests = [Guest("A", recipe=0), Guest("B", diet="nuts", recipe=0), Guest("C", recipe=0), Guest("D")]
    kinds = [(LabelText("Rose", (), "Contains milk.", ""), 2), (LabelText("Blue", (), "", ""), 3)]
    made = list(named_labels(event([SWEET], guests), 0, kinds, WORDS))
    assert [(one.title, one.name, count) for one, count in made] == [
        ("Rose", "A", 1), ("Rose", "B", 1), ("Blue", "C", 1), ("Blue", "", 2),
    ]  # fmt: skip
    sign = WORDS.say("event.guests.sign")
    assert [one.warning for one, _ in made] == ["Contains milk.", f"{sign} Contains milk.", "", ""]
    more = list(named_labels(event([SWEET], guests), 0, [(kinds[0][0], 1)], WORDS))
    assert [(one.name, count) for one, count in more] == [("A", 1), ("B", 1), ("C", 1)]


def test_cards_say_the_table_and_what_is_made_where_that_differs() -> None:
    guests = [Guest("A", table="4", recipe=0), Guest("B", recipe=1), Guest("C")]
    cards = place_cards_of(event([SWEET, PLAIN], guests), WORDS)
    assert [(one.name, one.table, one.aside) for one in cards] == [
        ("A", "Table 4", "Treat box"), ("B", "Table 1", "Gift tag"), ("C", "", ""),
    ]  # fmt: skip
    alone = place_cards_of(event([SWEET], [Guest("A", recipe=0)]), WORDS)
    assert [(one.table, one.aside) for one in alone] == [("", "")]


def test_everybody_is_found_at_the_door_however_many_there_are() -> None:
    few = [Guest("Zoë", table="4", recipe=0), Guest("Ångström", table="4", recipe=0), Guest("ada", recipe=0)]
    paper = seating_paper(EventSource(event([SWEET], few), (), WORDS))
    assert paper is not None
    ticks = [
        (part.heading, [(line.text, line.aside) for line in part.lines])
        for part in paper.parts
        if isinstance(part, Ticks)
    ]
    assert ticks == [("A", [("ada", "Table 4"), ("Ångström", "Table 4")]), ("Z", [("Zoë", "Table 4")])]
    many = [Guest(f"Guest {number}", table=str(number), recipe=0) for number in range(501)]
    paper = seating_paper(EventSource(event([SWEET], many), (), WORDS))
    assert paper is not None
    told = "; ".join(text for part in paper.parts if isinstance(part, PaperWords) for text in part.paragraphs).split(
        "; "
    )
    assert sorted(told) == sorted(f"Guest {number}: Table {number}" for number in range(501))
    assert seating_paper(EventSource(event([SWEET], [Guest("A", recipe=0)]), (), WORDS)) is None
