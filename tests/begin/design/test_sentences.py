"""Sentences as crafters write them, each with what is understood; a number that may be two things is asked about."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.begin.design.drafting import words_of
from foldwright.begin.design.model import DesignWish
from foldwright.begin.design.telling import tell_taken
from foldwright.begin.design.wishing import read_wish
from foldwright.begin.options import DesignOptions
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.measure.length import Length, Unit
from foldwright.vocabulary.contents import CONTENTS, Posture, Shape, content_of

UNDERSTOOD = [
    # how many, of what, how large
    ("4 squares of fudge, 30 x 30 x 20 mm", "4 squares of fudge of 30 x 30 x 20 mm"),
    ("fudge 30x30x20mm", "1 fudge of 30 x 30 x 20 mm"),
    ("a dozen caramels, 1 x 3/4 x 1/2 in each", "12 caramels of 1 x 3/4 x 1/2 in"),
    ("half a dozen toffees 25 x 25 x 12 mm", "6 toffees of 25 x 25 x 12 mm"),
    ("two dozen mints, 2 x 2 x 1 cm", "24 mints of 2 x 2 x 1 cm"),
    ("twenty-four mints 20 x 20 x 10 mm", "24 mints of 20 x 20 x 10 mm"),
    ("a pair of dinner candles, 22 mm round x 250 mm", "2 dinner candles of 22 mm round x 250 mm"),
    ("a set of 4 coasters 95 x 95 x 6 mm", "4 coasters of 95 x 95 x 6 mm"),
    ("6 x brownies, 2 by 2 by 1 in", "6 brownies of 2 x 2 x 1 in"),
    ("brownies (6): 2 x 2 x 1 in", "6 brownies of 2 x 2 x 1 in"),
    ("brownies x 6, each 2 x 2 x 1 in", "6 brownies of 2 x 2 x 1 in"),
    ("two by two by one inches", "1 treat of 2 x 2 x 1 in"),
    ("3 x 40 x 30 x 20 mm", "3 treats of 40 x 30 x 20 mm"),
    ("a 100 g bar of soap, 80 x 55 x 25 mm", "1 bar of soap of 80 x 55 x 25 mm"),
    ("12 pcs tea lights 38 mm round x 15 mm", "12 tea lights of 38 mm round x 15 mm"),
    ("10 x 15 cm photos, 20 of them", "20 photos of 10 x 15 cm"),
    ("soap (3 x 2 x 1 in) x 4", "4 soap of 3 x 2 x 1 in"),
    ("80 x 60 x 20 mm (w x d x h) parcel", "1 parcel of 80 x 60 x 20 mm"),
    ("a pair of glasses 150 x 60 x 45 mm", "1 pair of glasses of 150 x 60 x 45 mm"),
    ("a long thin box for 10 pencils, 8 mm thick and 190 mm long", "10 pencils of 8 mm round x 190 mm"),
    ("journal, 4 by 6 inches, half an inch thick", "1 journal of 4 x 6 x 1/2 in"),
    ("fudge, 12 pieces, 1 in x 1 in x 3/4 in", "12 fudge of 1 x 1 x 3/4 in"),
    ("cookies, 12, 60 mm across, 10 mm thick", "12 cookies of 60 mm round x 10 mm"),
    ("one pair of earrings on a card, 60 x 40 x 10 mm", "1 pair of earrings on a card of 60 x 40 x 10 mm"),
    # the size first
    ("3 x 2 x 1 in bar of soap", "1 bar of soap of 3 x 2 x 1 in"),
    ("a 3 1/2 x 2 1/4 x 1 in bar of soap", "1 bar of soap of 3 1/2 x 2 1/4 x 1 in"),
    ("two 2 in square x 1/4 in coasters", "2 coasters of 2 x 2 x 1/4 in"),
    ("40 mm round x 110 mm candle", "1 candle of 40 mm round x 110 mm"),
    ("a 2 in cube", "1 cube of 2 x 2 x 2 in"),
    ("two 6-inch candles, 7/8 in thick", "2 candles of 7/8 in round x 6 in"),
    # round things
    ("tea light 38 mm diameter x 16 mm high", "1 tea light of 38 mm round x 16 mm"),
    ("4 tea lights: height 16 mm, diameter 38 mm", "4 tea lights of 38 mm round x 16 mm"),
    ("a tin, ø 80 mm x 30 mm", "1 tin of 80 mm round x 30 mm"),
    ("a bauble, 60 mm across", "1 bauble of 60 mm round"),
    ("A 60mm-diameter bath bomb", "1 bath bomb of 60 mm round"),
    ("a bath bomb, diameter of 60 mm", "1 bath bomb of 60 mm round"),
    ("a square tin 80 mm x 30 mm high", "1 square tin of 80 x 80 x 30 mm"),
    ("a ball of 2 1/2 in", "1 ball of 2 1/2 in round"),
    ("9 truffles of 28 mm dia.", "9 truffles of 28 mm round"),
    ("12 pencils 7 mm x 175 mm", "12 pencils of 7 mm round x 175 mm"),
    ('3 jam jars, each 2 1/2" in diameter and 3" tall', "3 jam jars of 2 1/2 in round x 3 in"),
    ("a round tin 3 in across and 1 1/4 in high", "1 round tin of 3 in round x 1 1/4 in"),
    ("5 eggs 44 x 57 mm", "5 eggs of 44 mm round x 57 mm"),
    # sides by name
    ('soap, 3 5/8" long, 2 1/2" wide and 1 1/4" thick', "1 soap of 3 5/8 x 2 1/2 x 1 1/4 in"),
    ("a figurine: height 95 mm, width 60 mm, depth 40 mm", "1 figurine of 60 x 40 x 95 mm"),
    ("a parcel, W 80 x D 60 x H 95 mm", "1 parcel of 80 x 60 x 95 mm"),
    ("A6 notebook, 12 mm thick", "1 A6 notebook of 105 x 148 x 12 mm"),
    # flat things
    ("gift card 85.6 x 54 mm", "1 gift card of 85.6 x 54 mm"),
    ("5 x 7 in photo", "1 photo of 5 x 7 in"),
    ("a 4x6 photo", "1 photo of 4 x 6 in"),
    ("a deck of 52 cards 63 x 88 mm", "52 cards of 63 x 88 mm"),
    ("a stack of 20 postcards, 100 x 150 mm each", "20 postcards of 100 x 150 mm"),
    # several
    (
        "a bar of soap 3 1/2 x 2 1/4 x 1 in and a candle 2 in round x 3 in",
        "1 bar of soap of 3 1/2 x 2 1/4 x 1 in; 1 candle of 2 in round x 3 in",
    ),
    (
        "2 macarons 45 mm round x 20 mm + 3 caramels 25 x 20 x 12 mm",
        "2 macarons of 45 mm round x 20 mm; 3 caramels of 25 x 20 x 12 mm",
    ),
    ("1 soap 9x6x3cm; 2 candles 24mm round x 60mm", "1 soap of 9 x 6 x 3 cm; 2 candles of 24 mm round x 60 mm"),
    ("ring 25 x 22 x 8 mm plus necklace 60 x 60 x 10 mm", "1 ring of 25 x 22 x 8 mm; 1 necklace of 60 x 60 x 10 mm"),
    (
        "soap, 90 x 60 x 30 mm\n3 tea lights, 38 mm round x 16 mm",
        "1 soap of 90 x 60 x 30 mm; 3 tea lights of 38 mm round x 16 mm",
    ),
    (
        "60 x 40 x 25 mm soap and 24 mm round x 50 mm candle",
        "1 soap of 60 x 40 x 25 mm; 1 candle of 24 mm round x 50 mm",
    ),
    # whole sentences
    ("I need a little box for six macarons that are 45 mm across and 20 mm high", "6 macarons of 45 mm round x 20 mm"),
    ("Please put 4 cupcakes 70 mm round x 75 mm in a box", "4 cupcakes of 70 mm round x 75 mm"),
    ("something to hold a brooch, 1 1/2 x 1 x 1/4 in, for my aunt", "1 brooch of 1 1/2 x 1 x 1/4 in"),
    ("We would like a gift bag for 3 bath bombs of 60 mm.", "3 bath bombs of 60 mm round"),
    ("1 jam jar 70 mm across and 90 mm high with its lid", "1 jam jar of 70 mm round x 90 mm"),
]  # fmt: skip


@pytest.mark.parametrize(("said", "understood"), UNDERSTOOD, ids=[said for said, _ in UNDERSTOOD])
def test_what_crafters_write_is_understood(said: str, understood: str) -> None:
    wish = read_wish(DesignOptions(things=(said,)))
    assert isinstance(wish, DesignWish), wish
    assert "; ".join(words_of(wish.things)) == understood


@pytest.mark.parametrize(("said", "form"), [
    ("A tray for 3 caramels of 1 x 1 x 1/2 in", "tray"),
    ("a small box that holds a soap 90 x 60 x 30 mm", "lid"),
    ("I'd like a drawer box for 6 tea lights 38 mm round x 16 mm", "drawer"),
    ("a necklace 90 x 90 x 15 mm in a gift box", "lid"),
    ("3 books 60 x 90 x 10 mm in a tuck box", "tuck box"),
    ("a band around a bar of soap of 90 x 60 x 30 mm", "band"),
])  # fmt: skip
def test_the_form_may_stand_before_or_behind(said: str, form: str) -> None:
    wish = read_wish(DesignOptions(things=(said,)))
    assert isinstance(wish, DesignWish), wish
    assert wish.forms == (form,)


@pytest.mark.parametrize(("said", "message"), [
    # A number that may be two things.
    ("12 x 7 mm pencils", "count-or-side"),
    ("a box of 6 soaps 180 x 120 x 30 mm", "of-each-or-of-all"),
    ("a candle 2 or 3 in round x 5 in", "thing-unreadable"),
    ("a bar 3-4 in x 2 in x 1 in", "thing-unreadable"),
    ("soap 90,60,30 mm", "thing-unreadable"),
    ("95 x 80 x 60 mm (h x w x d) figurine", "thing-unreadable"),
    ("2 candles: one 2 in round x 3 in, one 3 in round x 4 in", "how-many-things"),
    # Numbers that are missing.
    ("candles 1 in round x 3 in", "how-many"),
    ("soap 3 x 2 x 1", "which-unit"),
    ("2 macarons and 3 caramels", "measure.disc"),
    ("soap 90 x 60 x 30 mm and a ring", "measure.ring"),
    ("a soap 3 x 2 in", "measure.solid"),
    ("a 6 in candle", "measure.candle"),
    ("12 cookies 2 in round", "measure.disc"),
    ("a mug", "measure.handle"),
    ("a necklace", "measure.chain"),
    ("two scarves", "thing-without-size"),
    ("6 shells of 30 mm", "thing-without-size"),
    ("a parcel 40 mm wide x 60 mm tall", "thing-without-size"),
    # More than is there to be understood.
    ("a bar of soap 90 x 60 x 30 mm wrapped in tissue", "words-left"),
    ("a soap 0 x 2 x 1 in", "measure.solid"),
    ("0 soaps 3 x 2 x 1 in", "how-many-things"),
    ("300 mints 1 x 1 x 1 cm", "how-many-things"),
    ("a parcel 1 x 2 x 3 x 4 x 5 in", "thing-without-size"),
])  # fmt: skip
def test_what_may_mean_two_things_is_asked_about(said: str, message: str) -> None:
    wrong = read_wish(DesignOptions(things=(said,)))
    assert isinstance(wrong, Wrong), wrong
    assert wrong.message == f"design.{message}"
    assert catalogue().say(f"command.{wrong.message}", **dict(wrong.facts))


def taken(said: str) -> list[str]:
    wish = read_wish(DesignOptions(things=(said,)))
    assert isinstance(wish, DesignWish), wish
    return [*tell_taken(wish, catalogue())]


@pytest.mark.parametrize(("said", "told"), [
    ("a gift card 3 3/8 x 2 1/8 in", "taken to be 0.76 mm thick"),
    ("a leaf 40 x 60 mm", "as thin as paper"),
    ("12 pencils 7 mm x 175 mm", "taken to be round, 7 mm across and 175 mm long"),
    ("5 eggs 44 x 57 mm", "taken to be round, 44 mm across and 57 mm high"),
    ("a pebble 30 mm across", "taken to be a ball, 30 mm across"),
    ("a mug 120 x 85 x 95 mm", "the last number, 95 mm, is taken to be its height"),
    ("a mug 85 mm round x 95 mm", "taken to have no handle"),
    ("4 cupcakes 70 mm round x 75 mm", "kept upright"),
    ("a pair of earrings 30 x 20 x 8 mm", "that of the two together"),
    ("a 5x7 photo", "taken to be inches"),
    ("about 3 x 2 x 1 in", "Measure again before you cut"),
    ("a gift card", "85.6 x 53.98 x 0.76 mm"),
])  # fmt: skip
def test_what_is_taken_for_granted_is_said_back(said: str, told: str) -> None:
    assert any(told in one for one in taken(said)), taken(said)


def test_nothing_is_said_back_of_what_was_said_in_full() -> None:
    assert taken("3 caramels of 1 1/8 x 3/4 x 1/2 in") == []
    assert taken("a candle 2 in round x 3 in") == []


def test_a_gift_card_is_as_large_as_the_standard_says() -> None:
    """ID-1 of ISO/IEC 7810:2019, 5.1: 85.60 x 53.98 mm, 0.76 mm thick (values from memory)."""
    wish = read_wish(DesignOptions(things=("a gift card",)))
    assert isinstance(wish, DesignWish)
    (card,) = wish.things
    assert tuple(length.mm for length in card.size) == (Fraction("85.60"), Fraction("53.98"))
    assert card.thickness == Length(Fraction("0.76"), Unit.MILLIMETRE)


@pytest.mark.parametrize("content", [one for one in CONTENTS if not one.size], ids=lambda content: content.name)
def test_every_kind_of_thing_says_how_it_is_measured_with_an_example_that_is_read(content) -> None:
    """What is to be typed for a thing without a size is read when it is typed."""
    said = f"a pair of {content.name.removesuffix('s')}s" if content.pair else f"a {content.name}"
    wrong = read_wish(DesignOptions(things=(said,)))
    assert isinstance(wrong, Wrong)
    assert wrong.message == f"design.measure.{content.measures}"
    told = catalogue().say(f"command.{wrong.message}", **dict(wrong.facts))
    typed = told.rpartition("  ")[2]
    wish = read_wish(DesignOptions(things=(typed,)))
    assert isinstance(wish, DesignWish), (typed, wish)
    assert len(wish.things) == 1
    assert content_of(wish.things[0].name) == content


def test_kinds_are_whole() -> None:
    for content in CONTENTS:
        assert (content.shape is Shape.FLAT) == (content.thickness is not None), content
        assert not (content.posture is Posture.UPRIGHT and content.shape is Shape.LONG), content
