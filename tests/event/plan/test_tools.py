"""How many of each tool, and of what sticks or colours, an event needs: one a table, one for two, or as a step shares.

One for two people, one large or hot tool a table and one machine in the room are common practice, no source: the counts
below were made by hand from them.
"""

from __future__ import annotations

import pytest

from event.plan.events import making_of, recipe_text
from foldwright.event.facts.stock import read_stock
from foldwright.event.plan.supplies import supplies_of
from foldwright.event.plan.tools import Needed, consumables_needed, is_meant, tables_of, tools_needed, with_owned

STEPS = """## Cut

do: cut p
time: 2 min
when: before class

Cut the card with the trimmer.

## Tie

do: fold p
time: 2 min
share: 2 heat guns

Fold with the bone folder, warm with the heat gun, snip with the scissors, stick with the tape and the glue stick.
"""
TOOLS = "paper trimmer\nsmall sharp scissors\nbone folder\nheat gun\n"
SUPPLIES = """tape: double-sided tape, use 10 cm, pack 10 m
glue stick: glue stick, a little
ink pad: ink, a little, colour red or blue
"""


def by_name(found: tuple[Needed, ...]) -> dict[str, Needed]:
    return {f"{one.name} {one.colour}".strip(): one for one in found}


def test_tools_of_a_hundred_people_at_thirteen_tables() -> None:
    making = making_of(recipe_text(SUPPLIES, TOOLS, steps=STEPS), 100)
    tables = tables_of([100], 8)
    found = by_name(tools_needed([making], tables, helpers=3))
    # 100 people at 13 tables: nine of eight, four of seven, at each of which four pairs.
    assert [len(tables), found["small sharp scissors"].in_class, found["bone folder"].in_class] == [13, 52, 52]
    assert (found["heat gun"].at_table, found["heat gun"].in_room, found["heat gun"].count) == ((0,) * 13, 2, 2)
    # The card is cut before class, with one trimmer as the preparation reckons, and none lies on a table.
    assert (found["paper trimmer"].in_class, found["paper trimmer"].count) == (0, 1)


def test_what_sticks_or_colours_lies_on_each_table() -> None:
    making = making_of(recipe_text(SUPPLIES, TOOLS, steps=STEPS), 100)
    found = by_name(consumables_needed([making], tables_of([100], 8), supplies_of([making])))
    assert {name: one.count for name, one in found.items()} == {
        "tape": 13, "glue stick": 52, "ink pad red": 13, "ink pad blue": 13,
    }  # fmt: skip
    assert [name for name, one in found.items() if one.roll] == ["tape"]


def test_each_recipe_has_its_own_tables_and_the_room_is_one() -> None:
    makings = [making_of(recipe_text(SUPPLIES, TOOLS, steps=STEPS), 10, slug) for slug in ("one", "two")]
    found = by_name(tools_needed(makings, tables_of([10, 10], 8)))
    assert found["small sharp scissors"].at_table == (3, 3, 3, 3)
    assert (found["heat gun"].count, found["heat gun"].recipes) == (2, (0, 1))


def test_what_steps_share_is_counted_whether_it_is_listed_or_not() -> None:
    """Two ink pads for all, and three lamps that no list names; tables of 7, 7 and 6 have 4, 4 and 3 pairs."""
    steps = STEPS.replace("2 heat guns", "2 ink pads") + "\n## Dry\n\ndo: fold p\nshare: 3 lamps\n\nDry the tape.\n"
    making = making_of(recipe_text(SUPPLIES, "bone folder", steps=steps), 20)
    tables = tables_of([20], 8)
    pads = by_name(consumables_needed([making], tables, supplies_of([making])))
    assert [(pads[name].count, sum(pads[name].at_table)) for name in ("ink pad red", "ink pad blue")] == [(2, 0)] * 2
    lamps = by_name(tools_needed([making], tables))
    assert {name: one.count for name, one in lamps.items()} == {"bone folder": 11, "lamps": 3}


def test_the_cutting_plan_needs_the_trimmer_and_the_tables_do_not() -> None:
    """Two helpers cut what the three at the table only fold, who have two folders."""
    steps = "## Fold\n\ndo: fold p\ntime: 2 min\n\nFold it with the bone folder.\n"
    making = making_of(recipe_text("", "paper trimmer\nbone folder", steps=steps), 3)
    found = tools_needed([making], tables_of([3], 8), helpers=2)
    assert [(one.name, one.in_class, one.before) for one in found] == [("paper trimmer", 0, 1), ("bone folder", 2, 0)]


def test_who_prepares_nothing_needs_no_tool_before_class() -> None:
    steps = "## Fold\n\ndo: fold p\ntime: 2 min\n\nFold it with the bone folder.\n"
    making = making_of(recipe_text("", "bone folder", steps=steps), 3)
    (folder,) = tools_needed([making], tables_of([3], 8), helpers=5)
    assert (folder.before, folder.count) == (0, 2)


def test_what_the_studio_has_comes_off_and_is_shared_out_once() -> None:
    makings = [
        making_of(recipe_text("", f"{tool}\nbone folder", steps=STEPS), 10, slug)
        for tool, slug in (("small sharp scissors", "one"), ("scissors", "two"))
    ]
    shelf = {
        line.name.value.casefold(): line for line in read_stock("scissors: 8\nbone folder: plenty\n", "s")[0].lines
    }
    found = by_name(with_owned(tools_needed(makings, tables_of([10, 10], 8)), shelf))
    assert [(name, one.count, one.have, one.lacking) for name, one in sorted(found.items())] == [
        ("bone folder", 12, 0, 0), ("heat guns", 2, 0, 2), ("scissors", 6, 6, 0), ("small sharp scissors", 6, 2, 4),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "tool", "meant"),
    [
        ("trimmer", "paper trimmer with scoring blade", True),
        ("heat guns", "heat gun", True),
        ("scissors", "small sharp scissors", True),
        ("scalpel", "craft knife", True),
        ("small sharp scissors", "scissors", True),
        ("fancy scissors", "scissors", True),
        ("heart die", "birdhouse die", False),
        ("die", "birdhouse die", False),
        ("corner punch", "hole punch", False),
        ("ruler", "bone folder", False),
        ("trimmers of ours", "paper trimmer", False),
        ("paper", "paper trimmer", False),
        ("scoring blade", "paper trimmer with scoring blade", False),
        ("guns", "heat gun", True),
        ("button makers", "button maker for 25 mm", True),
        ("", "paper trimmer", False),
    ],
)
def test_what_a_name_means(name: str, tool: str, meant: bool) -> None:
    assert is_meant(name, tool) is meant
