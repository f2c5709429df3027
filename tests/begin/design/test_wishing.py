"""Wishes in the words people use; whatever is typed is understood or complained of."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.begin.design.model import FORMS, DesignWish
from foldwright.begin.design.wishing import MOST_LETTERS, read_wish
from foldwright.begin.options import DesignOptions
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import System, Unit
from workbench.long import tries

SENTENCE = (
    "A tray for three treats of 1 1/8 x 3/4 x 1/2 in, card of 270 g/m2, easy numbers to 1/8 in, out of 8 1/2 x 11 or A4"
)


def wished(*things: str, **options: str) -> DesignWish:
    wish = read_wish(DesignOptions(things=things, **options))
    assert isinstance(wish, DesignWish), wish
    return wish


def test_a_sentence_says_all_of_it():
    wish = wished(SENTENCE)
    assert wish.forms == ("tray",)
    (treat,) = wish.things
    assert (treat.name, treat.count) == ("treat", 3)
    assert [length.value for length in treat.size] == [Fraction(9, 8), Fraction(3, 4), Fraction(1, 2)]
    assert (wish.card.name, wish.card.facts) == ("plain card", "270 g/m2")
    assert wish.rules.step.value == Fraction(1, 8)
    assert [sheet.name for sheet in wish.sheets] == ["8 1/2 x 11 in", "A4"]


@pytest.mark.parametrize(
    ("said", "name", "count", "sides"),
    [
        ("3 caramels of 1 x 5/8 x 1/2 in", "caramel", 3, 3),
        ("two bars of soap of 60 x 40 x 25 mm", "bars of soap", 2, 3),
        ("a photo of 4 x 6 in", "photo", 1, 2),
        ("60 x 40 x 25 mm", "treat", 1, 3),
        ("3 of 30 x 20 x 10 mm", "treat", 3, 3),
        ("3 x 30 x 20 x 10 mm", "treat", 3, 3),
        ("5 caramels 1 x 5/8 x 1/2 in", "caramel", 5, 3),
        ("1 in x 2 in x 3 in", "treat", 1, 3),
        ("a bar of soap, 3 5/8 x 2 1/2 x 1 1/4 in", "bar of soap", 1, 3),
        ("soap 9x6x3cm", "soap", 1, 3),
        ("soap: 90 by 60 by 30 mm", "soap", 1, 3),
        ("a bar of soap (90 x 60 x 30 mm)", "bar of soap", 1, 3),
        ("bar of soap - 90 x 60 x 30 mm", "bar of soap", 1, 3),
        ("6 caramels, each 1 1/8 x 3/4 x 1/2 in", "caramel", 6, 3),
        ("6 caramels, 1 1/8 x 3/4 x 1/2 in each", "caramel", 6, 3),
        ('soap 3 5/8" long, 2 1/2" wide and 1 1/4" high', "soap", 1, 3),
        ("a long candle of 20 x 20 x 200 mm", "long candle", 1, 3),
    ],
)
def test_things_in_the_words_people_use(said, name, count, sides):
    (thing,) = wished(said).things
    assert (thing.name, thing.count, len(thing.size)) == (name, count, sides)


def test_a_size_behind_a_comma_is_that_of_the_thing_before_it():
    one, other = wished("a soap, 90 x 60 x 30 mm, and 2 candles, 24 mm round x 60 mm").things
    assert (one.name, one.count, len(one.size), one.round) == ("soap", 1, 3, False)
    assert (other.name, other.count, len(other.size), other.round) == ("candle", 2, 2, True)


def test_what_has_no_size_is_asked_for_it():
    assert read_wish(DesignOptions(things=("3 gadgets",))) == Wrong.of("design.thing-without-size", said="3 gadgets")
    assert read_wish(DesignOptions(things=("3 mugs",))) == Wrong.of("design.measure.handle", said="3 mugs")
    assert read_wish(DesignOptions(things=("a mug 3 in",))) == Wrong.of("design.measure.handle", said="mug")
    page = "about that is " * 20_000
    too_long = Wrong.of("design.sentence-too-long", said="about that is about that is about that i", most=MOST_LETTERS)
    assert read_wish(DesignOptions(things=("a pen", page))) == too_long


def test_units_follow_the_things_unless_said():
    assert wished("60 x 40 x 25 mm").rules.system is System.METRIC
    assert wished("60 x 40 x 25 mm", units="inches").rules.unit is Unit.INCH
    assert wished("60 x 40 x 25 mm", numbers="1/16 in").rules.system is System.IMPERIAL


def test_forms_that_make_sense_unless_said():
    assert wished("1 x 2 x 3 in").forms == FORMS
    assert wished("4 x 6 in").forms == ("envelope", "card")
    assert wished("A2 envelope").forms == ("card",)
    assert wished("1 x 2 x 3 in", form="tray with a lid, drawer").forms == ("lid", "drawer")


WORDS = (
    "3 three a of x treats 1/2 in mm 0 -1 1/0 A2 envelope card tray for out easy numbers to , . : | # ½ and dozen pair "
    "half round ø across high tall square each ( ) + & ; - photo gift mug ring pencils ball cube about 12 175 7mm with "
    "box put or standing pcs 100 g \u00a0 \n"
).split(" ")


@settings(max_examples=tries(133, 400))
@given(
    st.one_of(st.text(max_size=60), st.lists(st.sampled_from(WORDS), max_size=12).map(" ".join)),
    st.sampled_from(["", "white card, 270 g/m2", "x: y, z", "card", "0.4 mm thick", ",", "#"]),
    st.sampled_from(["", "A4", "8 1/2 x 11", "or", "x"]),
)
def test_whatever_is_typed_gets_a_wish_or_a_message(things, card, sheet):
    wish = read_wish(DesignOptions(things=(things,), card=card, sheet=sheet))
    if isinstance(wish, Wrong):
        assert catalogue().say(f"command.{wish.message}", **dict(wish.facts))
    else:
        assert wish.rules.thickness > 0
        assert wish.things


@pytest.mark.parametrize(
    ("said", "name", "count", "sides"),
    [
        ("5 candles of 40 mm round x 110 mm", "candle", 5, (40, 110)),
        ("8 truffles of 24 mm round", "truffle", 8, (24,)),
        ("12 macarons 45 mm diameter 20 mm high", "macaron", 12, (45, 20)),
        ("a ball of diameter 60 mm", "ball", 1, (60,)),
        ("3 tins of 80 x 30 mm round", "tin", 3, (80, 30)),
    ],
)
def test_round_things_have_a_diameter(said: str, name: str, count: int, sides: tuple[int, ...]):
    (thing,) = wished(said).things
    assert (thing.name, thing.count, thing.round) == (name, count, True)
    assert tuple(length.mm for length in thing.size) == sides
