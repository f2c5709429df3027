"""What a library knows of a recipe, held against the recipe's own text and sums by hand."""

from __future__ import annotations

from fractions import Fraction

import msgspec
import pytest

from foldwright.document.catalogue import catalogue
from foldwright.measure.unreadable import Unreadable
from foldwright.outputs.entry import Entry, Left, SheetOf
from foldwright.recipe.facts.amounts import read_sheet
from foldwright.recipe.pieces.piece import FORMS
from workbench.entries import demo_entries, entry

TEXT = """---
title: Ferry box
summary: A box for the ferry.
makes: 1 box
measured in: millimetres
level: easy
tags: gift, Boat trip
season: fall
published: 20 November 2026
revised: 2026-11-21
was: old ferry
for: children
supplies:
  blue card: cardstock, weight 220 g/m2, sheet 200 x 300 mm, grain long
  dotted paper: patterned paper, sheet 300 x 300 mm, pattern one way
  ribbon: ribbon, width 6 mm, use 40 cm, instead thin twine
  beads: bead, use 3, colour red or blue, optional
tools:
  - paper trimmer, instead scissors and a ruler
pieces:
  base:
    from: blue card
    count: 3
    size: 80 x 100 mm
    across: 20 left wall | 40 floor | 20 right wall
    down: 20 back | 60 floor | 20 front
    flaps: joined to left wall and right wall
    fold: tray
    grain: along the long side
  mat:
    from: dotted paper
    size: 50 x 30 mm
  frill: from dotted paper, size 10 x 10 mm, optional
---

## Cut the base

```step
do: cut and score base
time: 2 min
get ready: 3 min
```

Cut it.

## Tie it up

```step
time: 90 s
```

Tie it.
"""


@pytest.fixture(scope="module")
def ferry() -> Entry:
    return entry(TEXT, "ferry-box")


def test_it_says_what_the_recipe_says(ferry: Entry) -> None:
    assert (ferry.slug, ferry.title, ferry.summary) == ("ferry-box", "Ferry box", "A box for the ferry.")
    assert (ferry.level, ferry.rank, ferry.audience, ferry.makes) == ("easy", 2, "children", "1 box")
    assert (ferry.tags, ferry.seasons, ferry.forms) == (("gift", "Boat trip"), ("autumn",), ("tray",))
    assert (ferry.published, ferry.revised, ferry.was) == ("2026-11-20", "2026-11-21", ("old-ferry",))
    assert (ferry.listed, ferry.unlisted, ferry.size, ferry.written) == (True, "", "", "ferry-box")
    assert ferry.address == "https://harbourstreet.example/ferry-box/tutorial.html"


def test_its_places_are_where_the_words_stand(ferry: Entry) -> None:
    shown = {name: TEXT[place.start : place.end] for name, place in ferry.places.items()}
    assert shown == {
        "published": "20 November 2026",
        "tag gift": "gift",
        "tag Boat trip": "Boat trip",
        "was old-ferry": "old ferry",
    }


def test_its_time_is_hands_on_and_getting_ready_rounded_up(ferry: Entry) -> None:
    # 2 min and 90 s in hand, 3 min to get ready: 6 min 30 s.
    assert ferry.minutes == 7


def test_what_it_needs(ferry: Entry) -> None:
    card, paper, ribbon, beads = ferry.needs
    assert (card.name, card.key, card.kind, card.words.metric) == ("blue card", "blue card", "cardstock", "1 sheet")
    assert (paper.kind, paper.optional) == ("patterned paper", False)
    assert (ribbon.words.metric, ribbon.instead) == ("40 cm", ("thin twine",))
    assert ribbon.amount and (ribbon.amount.dimension, ribbon.amount.number, ribbon.amount.unit) == (
        "length",
        "400",
        "mm",
    )
    assert (beads.key, beads.optional, beads.colours) == ("bead", True, ("red", "blue"))
    assert beads.amount and (beads.amount.number, beads.amount.unit) == ("3", "")
    (trimmer,) = ferry.tools
    assert (trimmer.kind, trimmer.instead) == ("paper trimmer", ("scissors and a ruler",))


def test_what_it_is_cut_from_and_what_is_left(ferry: Entry) -> None:
    """Two bases lie side by side on 200 x 300 mm, three in a column: of each layout the sums are done by hand."""
    card, paper = ferry.cut_from
    assert (card.kind, card.grams) == ("cardstock", 220)
    assert card.sheets == (SheetOf("200 x 300 mm", "200", "300", "down"),)
    assert card.weight.metric.replace("\u202f", " ") == "220 g/m²"
    (base,) = card.cuts
    assert (base.across, base.down, base.count, base.grain, base.upright) == ("80", "100", 3, "down", False)
    # Two across in the first row, 200 - 160 = 40 mm beside them; one in the second, 120 mm beside it; 100 mm below.
    assert set(card.left) == {
        Left("200 x 300 mm", "40", "100", 1, "down"),
        Left("200 x 300 mm", "120", "100", 1, "down"),
        Left("200 x 300 mm", "200", "100", 1, "down"),
    }
    (mat,) = paper.cuts
    assert (mat.across, mat.down, mat.count, mat.upright) == ("50", "30", 1, True)


def test_it_is_found_by_its_words(ferry: Entry) -> None:
    assert {"cut", "base", "tie", "blue", "card", "cardstock", "ribbon", "trimmer", "tray"} <= set(ferry.words)
    assert not {"the", "it", "a", "up"} & set(ferry.words)
    assert len(ferry.words) == len(set(ferry.words))


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (("published: 20 November 2026\n", ""), "day"),
        (("published: 20 November 2026", "published: soon"), "day"),
        (("size: 80 x 100 mm", "size: 90 x 100 mm"), "draft"),
    ],
)
def test_what_is_not_to_be_listed_says_why(change: tuple[str, str], why: str) -> None:
    found = entry(TEXT.replace(*change), "ferry-box")
    assert (found.listed, found.unlisted) == (False, why)


def test_nothing_is_said_of_pieces_in_doubt() -> None:
    """A size that its panels do not come to could be either."""
    found = entry(TEXT.replace("size: 80 x 100 mm", "size: 90 x 100 mm"), "ferry-box")
    assert (found.cut_from[0].cuts, found.cut_from[0].left) == ((), ())


def test_entries_are_small_and_come_back_from_a_record_as_they_were() -> None:
    for one in demo_entries():
        for form in (msgspec.json, msgspec.msgpack):
            data = form.encode(one)
            assert form.decode(data, type=Entry) == one
            assert len(data) < 6000


def test_what_is_cut_of_every_demo_and_what_is_left_come_out_of_its_sheets() -> None:
    """By area, for every sheet a supply is sold in."""
    for one in demo_entries():
        needs = {need.name: need for need in one.needs}
        for paper in one.cut_from:
            # Of one that does not come out of all its sheets no number is said; of those it does, one is enough.
            number = int(amount.number) if (amount := needs[paper.supply].amount) else 1
            cut = sum((Fraction(cut.across) * Fraction(cut.down) * cut.count for cut in paper.cuts), Fraction(0))
            for sheet in {left.sheet for left in paper.left}:
                size = read_sheet(sheet)
                assert not isinstance(size, Unreadable)
                left = [one for one in paper.left if one.sheet == sheet]
                rest = sum(Fraction(one.across) * Fraction(one.down) * one.count for one in left)
                assert 0 < rest <= number * size.across.mm * size.down.mm - cut, (one.slug, sheet)


def test_every_form_has_words() -> None:
    assert set(catalogue("en").below("entry.form")) == {*FORMS, "flat"}
