"""What can be made with what there is: shelves as a studio writes them, each answer worked out by hand."""

from __future__ import annotations

import pytest

from foldwright.event.facts.stock import Shelf, read_stock
from foldwright.library.matching import Match, Standing, names_there, what_can_be_made
from foldwright.outputs.entry import Entry
from workbench.entries import entry

TEXT = """---
title: Ferry box
makes: 1 box
measured in: millimetres
supplies:
  blue card: cardstock, weight 220 g/m2, sheet 200 x 300 mm, grain long, pack 10
  ribbon: ribbon, width 6 mm, use 40 cm, pack 10 m, instead thin twine
  bead: bead, use 3, colour red or blue, pack 20
  varnish: varnish, use 30 ml
  wet glue: wet glue, use a little
  sequins: sequin, use 5, optional
tools:
  - paper trimmer
  - bone folder
pieces:
  base: from blue card, count 2, size 100 x 150 mm
---

## Cut the base

```step
do: cut base
time: 2 min
```

Cut it.
"""
ALL = """blue card: 1 sheet
ribbon: 1 of 40 cm
red bead: 3
varnish: 30 ml
wet glue: plenty
"""


@pytest.fixture(scope="module")
def ferry() -> Entry:
    return entry(TEXT, "ferry-box")


def shelf(text: str) -> Shelf:
    read, findings = read_stock(text, "stock.yaml")
    assert findings == ()
    return read


def match(one: Entry, text: str) -> Match:
    (found,) = what_can_be_made([one], shelf(text))
    return found


def lacking(one: Entry, text: str) -> dict[str, Standing]:
    return {held.need.name: held.standing for held in match(one, text).lacking}


def test_with_all_of_it_nothing_lacks_and_tools_are_taken_for_granted(ferry: Entry) -> None:
    found = match(ferry, ALL)
    assert (found.lacking, found.standing_in) == ((), ())
    assert [held.need.name for held in found.held] == ["blue card", "ribbon", "bead", "varnish", "wet glue"]


def test_with_nothing_all_of_it_lacks(ferry: Entry) -> None:
    assert set(lacking(ferry, "gold leaf: plenty\n")) == {"blue card", "ribbon", "bead", "varnish", "wet glue"}


@pytest.mark.parametrize(
    ("line", "instead", "short"),
    [
        # Two pieces of 100 x 150 mm lie side by side on 200 x 300 mm; a scrap of 100 x 150 mm has one of them.
        ("blue card: 1 sheet", "blue card: 1 sheet", False),
        ("blue card: 1 sheet", "blue card: scraps 2 of 100 x 150 mm", False),
        ("blue card: 1 sheet", "blue card: scraps 1 of 100 x 150 mm", True),
        ("blue card: 1 sheet", "blue card: scraps 1 of 100 x 300 mm", False),
        # 3 mm off every side leave 194 x 294 mm: one across, one turned below it (150 x 100) beside nothing: 294 - 150.
        ("blue card: 1 sheet", "blue card: 1 sheet, trim 3 mm", False),
        ("blue card: 1 sheet", "blue card: scraps 2 of 101 x 151 mm, trim 1 mm", True),
        ("blue card: 1 sheet", "blue card: 1 pack", False),
        ("blue card: 1 sheet", "blue card: plenty", False),
        # A length has to be long enough in one.
        ("ribbon: 1 of 40 cm", "ribbon: 3 of 20 cm", True),
        ("ribbon: 1 of 40 cm", "ribbon: 16 in", False),  # 406.4 mm
        ("ribbon: 1 of 40 cm", "ribbon: 15 3/4 in", False),  # 400.05 mm
        ("ribbon: 1 of 40 cm", "ribbon: 15 5/8 in", True),  # 396.875 mm
        ("ribbon: 1 of 40 cm", "ribbon: 1 pack", False),
        ("red bead: 3", "red bead: 2", True),
        ("red bead: 3", "blue beads: 4", False),
        ("red bead: 3", "bead: 4", False),
        ("red bead: 3", "red bead: 1/2 pack", False),
        # A US fluid ounce is 29.57 ml (NIST Handbook 44, appendix C): one falls short of 30 ml.
        ("varnish: 30 ml", "varnish: 1 fl oz", True),
        ("varnish: 30 ml", "varnish: 2 fl oz", False),
        ("varnish: 30 ml", "varnish: 3 cl", False),
    ],
)
def test_amounts_are_counted(ferry: Entry, line: str, instead: str, short: bool) -> None:
    assert line in ALL
    assert bool(lacking(ferry, ALL.replace(line, instead))) == short, instead


def test_a_short_amount_is_told_from_none_at_all(ferry: Entry) -> None:
    assert lacking(ferry, ALL.replace("ribbon: 1 of 40 cm", "ribbon: 30 cm")) == {"ribbon": Standing.SHORT}
    assert lacking(ferry, ALL.replace("ribbon: 1 of 40 cm\n", "")) == {"ribbon": Standing.LACKING}


def test_what_the_author_lets_stand_in_does_and_is_named(ferry: Entry) -> None:
    found = match(ferry, ALL.replace("ribbon: 1 of 40 cm", "thin twine: plenty"))
    assert found.lacking == ()
    assert [(held.need.name, held.by) for held in found.standing_in] == [("ribbon", "thin twine")]


def test_another_colour_may_stand_in_if_there_is_enough_of_it(ferry: Entry) -> None:
    found = match(ferry, ALL.replace("red bead: 3", "green bead: 9"))
    assert [(held.need.name, held.by) for held in found.standing_in] == [("bead", "green bead")]
    assert lacking(ferry, ALL.replace("red bead: 3", "green bead: 2")) == {"bead": Standing.LACKING}


def test_another_of_its_kind_stands_in_for_one_thing_only(ferry: Entry) -> None:
    two = TEXT.replace("  ribbon:", "  rose card: cardstock, weight 220 g/m2, sheet 200 x 300 mm\n  ribbon:")
    two = two.replace("---\n\n## Cut", "  mat: from rose card, size 90 x 90 mm\n---\n\n## Cut")
    both = [entry(two, "two-cards"), entry(TEXT.replace("blue card", "sand card"), "sand-box")]
    held = what_can_be_made(both, shelf(ALL.replace("blue card: 1 sheet", "sand card: 9 sheets")))
    (cards,) = (one for one in held if one.entry.slug == "two-cards")
    assert [one.need.name for one in cards.standing_in] == ["blue card"]
    assert [one.need.name for one in cards.lacking] == ["rose card"]


def test_names_that_go_by_others_are_one(ferry: Entry) -> None:
    named = ALL.replace("blue card: 1 sheet", "sea card: 1 sheet\nblue card: same as sea card")
    assert lacking(ferry, named) == {}
    other = ALL.replace("blue card: 1 sheet", "sea card: 1 sheet, same as blue card")
    assert match(ferry, other).standing_in == ()


def test_tools_count_once_the_shelf_lists_any(ferry: Entry) -> None:
    assert lacking(ferry, f"{ALL}bone folder: 4\n") == {"paper trimmer": Standing.LACKING}
    assert lacking(ferry, f"{ALL}bone folder: 4\ntrimmer: 1\n") == {}


def test_most_complete_come_first(ferry: Entry) -> None:
    plain = entry(TEXT.replace("title: Ferry box", "title: A box").replace("use 30 ml", "use 90 ml"), "a-box")
    other = entry(TEXT.replace("title: Ferry box", "title: B box").replace("use 40 cm", "use 90 cm"), "b-box")
    held = what_can_be_made(
        [plain, other, ferry], shelf(ALL.replace("ribbon: 1 of 40 cm", "ribbon: 40 cm\nthin twine: 9 m"))
    )
    # Nothing lacks in the ferry box; in B the twine stands in; A is short of varnish.
    assert [one.entry.slug for one in held] == ["ferry-box", "b-box", "a-box"]
    assert [(len(one.lacking), len(one.standing_in)) for one in held] == [(0, 0), (0, 1), (1, 0)]


def test_what_a_page_may_tick_by_itself_goes_by_the_names_of_recipes(ferry: Entry) -> None:
    there = names_there([ferry], shelf("sea card: 1 sheet, same as blue card\nthin twine: plenty\nred bead: 2\n"))
    assert there == ("blue card", "thin twine")
