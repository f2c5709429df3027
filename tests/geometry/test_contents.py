"""What a recipe's pieces hold."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.finding import Strength
from foldwright.measure.length import Length
from foldwright.pipeline import Checked, check_recipe

RECIPE = """---
title: Soap box
measured in: millimetres
makes: 1 box
supplies:
  card: cardstock, {card}, sheet A4
  soap: soap{size}, use {use}
tools:
  - scissors
pieces:
  box:
    from: card
    size: {across} x 161 mm
    across: {wall} left | 90 floor | {wall} right
    down: 20 back | 121 floor | 20 front
    flaps: joined to left and right, trimmed 1 mm
    fold: tray
    holds: soap
{more}---

## Cut it

do: cut box
time: 1 min
"""
SLEEVE = """\
  sleeve:
    from: card
    inside: 92 x 22 x 123 mm
    fold: sleeve
"""
LID = """\
  lid:
    from: card
    inside: 1 mm bigger on every side than box outside, 15 mm deep
    flaps: joined to left and right, trimmed 1 mm
    fold: lid
    fits over: box
"""


def checked(
    size: str = ", size 60 x 40 x 19 mm", use: int = 3, card: str = "thickness 0.4 mm", more: str = "", wall: int = 20
) -> Checked:
    across = 90 + 2 * wall
    return check_recipe(RECIPE.format(size=size, use=use, card=card, more=more, wall=wall, across=across), "r.md", "r")


def codes(one: Checked) -> dict[str, Strength]:
    known = ("does-not-go-in", "room-unknown", "how-large", "stands-above", "no-way-found")
    return {finding.code: finding.strength for finding in one.findings if finding.code.startswith(known)}


def test_what_fits_is_said_back_with_the_room_left() -> None:
    """Inside 89.6 x 119.8 x 19.8 mm: the floor less half a card at each fold, less two flap layers down; the walls less
    half a floor."""
    one = checked(use=2)
    assert codes(one) == {}
    assert one.understood is not None
    (held,) = one.understood.flat.held
    assert (held.what, held.count) == ("soap", 2)
    assert all(isinstance(length, Length) and length.mm >= 0 for length in held.left)


def test_what_does_not_fit_is_told_at_its_place_with_what_is_missing() -> None:
    """Four bars of 60 x 40 x 19 mm, two by two, need 120 mm; there are 119.8 (121 less 0.4 for folds, less 0.8 for two
    flaps). Three go in: two side by side, one across before them."""
    assert codes(checked(use=3, more=LID)) == {}
    one = checked(use=4, more=LID)
    (finding,) = [one for one in one.findings if one.code.startswith("does-not-go-in")]
    assert finding.code == "does-not-go-in-down" and finding.strength is Strength.MISFIT
    assert dict(finding.facts)["short"].mm == Fraction(1, 5)  # type: ignore[attr-defined]
    assert finding.place is not None


def test_a_guess_at_the_card_is_never_a_misfit() -> None:
    one = checked(use=4, card="weight 300 g/m2", more=LID)
    assert set(codes(one).values()) == {Strength.THOUGHT}


def test_things_may_stand_above_an_open_tray_but_not_under_a_lid() -> None:
    tall = ", size 60 x 40 x 50 mm, this way up"
    assert codes(checked(tall, 1)) == {"stands-above-the-wall": Strength.THOUGHT}
    assert codes(checked(tall, 1, more=LID)) == {"does-not-go-in-high": Strength.MISFIT}
    assert codes(checked(tall, 1, more=SLEEVE + "    slides in: box\n")) == {"does-not-go-in-high": Strength.MISFIT}
    assert codes(checked(tall, 1, more="    slides in: sleeve\n" + SLEEVE)) == {"does-not-go-in-high": Strength.MISFIT}


@pytest.mark.parametrize(("size", "code"), [("", "how-large"), (", size 60 x 40 mm", "how-large")])
def test_a_thing_without_a_size_is_asked_about(size: str, code: str) -> None:
    assert codes(checked(size, 1)) == {code: Strength.THOUGHT}
