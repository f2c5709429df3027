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
    assert held.things == (("soap", 2),)
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


TWO_KINDS = RECIPE.replace("tools:", "  candle: candle, size {candle}, use {candles}\ntools:", 1).replace(
    "holds: soap", "holds: soap, candle"
)


def with_candles(candle: str, candles: int, use: int = 2, more: str = LID) -> Checked:
    facts = {"size": ", size 60 x 40 x 19 mm", "card": "thickness 0.4 mm", "wall": 20, "across": 130}
    text = TWO_KINDS.format(candle=candle, candles=candles, use=use, more=more, **facts)
    return check_recipe(text, "r.md", "r")


def test_several_kinds_are_packed_together() -> None:
    """On a floor of 89.6 x 119.8 mm: two soaps of 60 x 40 one behind the other leave 39.8 there, where two candles
    of 39 x 29 go. One soap leaves no room for four of 44 x 44, which go in two by two when they are by themselves."""
    together = with_candles("39 x 29 x 19 mm", 2)
    assert codes(together) == {}
    assert together.understood is not None
    (held,) = together.understood.flat.held
    assert held.things == (("soap", 2), ("candle", 2))
    apart = with_candles("44 x 44 x 19 mm", 4, 1)
    assert codes(apart) == {"does-not-go-in-together": Strength.MISFIT}
    assert codes(with_candles("44 x 44 x 19 mm", 4, 1, more="")) == {"stands-above-the-wall": Strength.THOUGHT}


def test_what_does_not_go_in_by_itself_is_told_by_itself() -> None:
    assert codes(with_candles("150 x 10 x 10 mm", 1)) == {"does-not-go-in-down": Strength.MISFIT}
    (finding,) = [one for one in with_candles("150 x 10 x 10 mm", 1).findings if one.code.startswith("does-not")]
    assert dict(finding.facts)["what"] == "candle"


def test_numbers_nobody_would_pack_are_only_added_up() -> None:
    assert codes(checked(use=20_000, more=LID)) == {"does-not-go-in": Strength.MISFIT}


GABLE = """---
title: Carton
measured in: millimetres
makes: 1 carton
supplies:
  card: cardstock, thickness 0.4 mm, sheet A3
  soap: soap, size 50 x 30 x {high} mm, this way up
tools:
  - scissors
pieces:
  carton:
    from: card
    finished: 80 x 60 x 70 mm
    fold: gable-top
    holds: soap
---

## Cut it

do: cut carton
time: 1 min
"""


@pytest.mark.parametrize(
    ("high", "told"),
    [
        (60, {}),
        (90, {"stands-above-the-wall": Strength.THOUGHT}),
        (120, {"does-not-go-in-high": Strength.MISFIT}),
    ],
)
def test_under_a_roof_things_stand_no_higher_than_it_rises(high: int, told: dict[str, Strength]) -> None:
    """A roof of 45 degrees over 60 mm rises by 30."""
    assert codes(check_recipe(GABLE.format(high=high), "r.md", "r")) == told


@pytest.mark.parametrize(("size", "code"), [("", "how-large"), (", size 60 x 40 mm", "how-large")])
def test_a_thing_without_a_size_is_asked_about(size: str, code: str) -> None:
    assert codes(checked(size, 1)) == {code: Strength.THOUGHT}
