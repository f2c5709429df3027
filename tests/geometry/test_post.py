"""Envelopes and letters. Sizes: ISO 269; the trade's in inches. Limits: US Domestic Mail Manual 101.1 (2010), Ofcom."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.finding import Strength
from foldwright.measure.length import System
from foldwright.measure.paper import envelopes_in
from foldwright.pipeline import check_recipe

INCH = Fraction(254, 10)

CARD = """---
title: Card
measured in: {units}
makes: 1 card
supplies:
  card: cardstock, thickness 0.3 mm, sheet 12 x 12 in
{supplies}tools:
  - scissors
pieces:
  base:
    from: card
    size: {size}
    across: {row}
    fold: card
    slides in: {envelope}
{more}---

## Cut it

do: cut base
time: 1 min
"""


def codes(size: str, row: str, envelope: str, units: str = "inches", supplies: str = "", more: str = "") -> set[str]:
    text = CARD.format(size=size, row=row, envelope=envelope, units=units, supplies=supplies, more=more)
    known = ("goes-into", "square-letter", "too-large-for-a", "too-thick-for", "too-small", "place-names", "no-room")
    found = [one for one in check_recipe(text, "r.md", "r").findings if one.code.startswith(known)]
    assert all(one.strength is Strength.THOUGHT for one in found if "letter" in one.code or one.code.startswith("goes"))
    return {one.code for one in found}


def test_the_named_envelopes_are_the_published_ones() -> None:
    """ISO 269, and the announcement sizes of the trade."""
    metric = {name: (int(a.mm), int(b.mm)) for name, a, b in envelopes_in(System.METRIC)}
    assert metric == {
        "C6": (114, 162), "DL": (110, 220), "B6": (125, 176), "C6/C5": (114, 229), "C5": (162, 229), "C4": (229, 324)
    }  # fmt: skip
    inch = {name: (a.mm / INCH, b.mm / INCH) for name, a, b in envelopes_in(System.IMPERIAL)}
    eighth = Fraction(1, 8)
    assert inch == {
        "A1": (29 * eighth, 41 * eighth),
        "A2": (35 * eighth, 46 * eighth),
        "A6": (38 * eighth, 52 * eighth),
        "A7": (42 * eighth, 58 * eighth),
        "A9": (46 * eighth, 70 * eighth),
        "No. 10": (33 * eighth, 76 * eighth),
    }


def test_a_card_of_the_usual_size_goes_into_the_envelope_named_for_it() -> None:
    """4 1/4 x 5 1/2 in goes into A2, and a letter of that shape (1.314) is an ordinary one."""
    assert codes("8 1/2 x 5 1/2 in", "4 1/4 | 4 1/4", "A2 envelope") == set()


def test_a_card_too_large_for_its_envelope_is_told_of_one_it_goes_into() -> None:
    found = codes("10 x 7 in", "5 | 5", "A2 envelope")
    assert found == {"too-small-to-slide-into", "goes-into-envelope"}


@pytest.mark.parametrize(("side", "square"), [("5", True), ("6", True)])
def test_square_letters_are_a_thought(side: str, square: bool) -> None:
    """5 x 5 and 6 x 6 in are not sorted by machine: their length is less than 1.3 times their height."""
    supplies = f"  square: envelope, size {side} x {side} in, use 1\n"
    assert codes("8 x 4 in", "4 | 4", "square", supplies=supplies) == {"square-letter"}


def test_large_and_thick_letters_are_a_thought() -> None:
    large = "  big: envelope, size 9 x 12 in, use 1\n"
    assert codes("8 x 4 in", "4 | 4", "big", supplies=large) == {"too-large-for-a-letter"}
    mat = "  mat {number}:\n    from: board\n    size: 3 x 3 in\n    goes on: {under}\n"
    unders = ("base front", "mat 1", "mat 2")
    mats = "".join(mat.format(number=number, under=under) for number, under in enumerate(unders, 1))
    board = "  board: cardstock, thickness 2.5 mm, sheet 12 x 12 in\n  foam: foam square, use 4\n"
    found = codes("8 1/2 x 5 1/2 in", "4 1/4 back | 4 1/4 front", "A2 envelope", supplies=board, more=mats)
    assert found == {"too-thick-for-a-letter"}


def test_an_envelope_nobody_knows_is_still_a_name_that_names_nothing() -> None:
    assert codes("8 x 4 in", "4 | 4", "pink envelope") == {"place-names-nothing-at-all"}
