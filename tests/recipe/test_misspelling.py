"""A misspelt name of a piece gets the name that was meant; an ordinary word that merely resembles one gets none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.complaints import name_meant

PIECES = ["base", "lid", "wall mat", "front panel", "gift tag", "envelope", "drawer", "belly band"]


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("wal", "wall mat"),
        ("wal mat", "wall mat"),
        ("wall amt", "wall mat"),
        ("wlal mat", "wall mat"),
        ("wallmat", "wall mat"),
        ("walll mats", "wall mat"),
        ("bsae", "base"),
        ("basee", "base"),
        ("bas", "base"),
        ("ldi", "lid"),
        ("lidd", "lid"),
        ("frontpanel", "front panel"),
        ("frnot panel", "front panel"),
        ("front pannel", "front panel"),
        ("frunt panel", "front panel"),
        ("envolope", "envelope"),
        ("enevlpoe", "envelope"),
        ("drawrer", "drawer"),
        ("Darwer", "drawer"),
        ("belly bnad", "belly band"),
        ("gfit tag", "gift tag"),
    ],
)
def test_a_slip_of_the_keys_gets_the_name(said, meant):
    assert name_meant(said.split(), PIECES) == meant


@pytest.mark.parametrize(
    "word",
    """base lid drawer case vase bake bare bass best lip lad did lie rid ball call tall well will hall gate gilt lift
    sheet table glue paper other mate met map bag tip top tab hand land sand bend bond born front from drawing
    drawn cover ribbon over edge wide lead late label level develop tray box card ace ease abase gifted""".split(),
)
def test_another_word_is_another_word(word):
    assert name_meant([word], PIECES) == ""


@given(st.sampled_from([name for name in PIECES if len(name) > 4]), st.data())
def test_a_letter_too_few_too_many_or_two_changed_about(name, data):
    at = data.draw(st.integers(1, len(name) - 2).filter(lambda at: name[at] != " " != name[at + 1]))
    way = data.draw(st.sampled_from(["few", "many", "about"]))
    typed = {
        "few": name[:at] + name[at + 1 :],
        "many": name[: at + 1] + name[at:],
        "about": name[:at] + name[at + 1] + name[at] + name[at + 2 :],
    }[way]
    if all(len(word) > 2 for word in typed.split()) and typed != name:
        assert name_meant(typed.split(), PIECES) == name


RECIPE = """---
title: Box
measured in: inches
supplies:
  white card: cardstock, weight 100 lb cover, sheet 8 1/2 x 11 in
  strong tape: double-sided tape, width 1/4 in, use 12 in
tools: scissors, bone folder, trimmer
pieces:
  base:
    from: {from_}
    size: 5 x 5 in
  wall mat:
    from: white card
    size: 3 x 3 in
    goes on: {on}, centred
---

## Cut

do: {do}
time: 2 min

Do it.
"""


def _told(do="cut base, cut wall mat, glue wall mat to base", from_="white card", on="outside of base"):
    text = RECIPE.format(do=do, from_=from_, on=on)
    found = check_recipe(text, "recipe.md", "recipe").findings
    return [
        (one.code, text[one.place.start : one.place.end], dict(one.facts).get("nearest", ""))
        for one in found
        if one.place
    ]


def test_nothing_is_told_of_names_that_are_right():
    assert _told() == []


@pytest.mark.parametrize(
    ("do", "said", "meant"),
    [
        ("cut base and wall mat, glue wal to base", "wal", "wall mat"),
        ("cut base and wal mat", "wal mat", "wall mat"),
        ("cut bsae, cut wall mat", "bsae", "base"),
        ("cut base wallmat", "wallmat", "wall mat"),
        ("cut base and wall mat, glue wall mat onto the basee", "basee", "base"),
    ],
)
def test_one_slip_in_a_do_line_is_one_thought_at_its_place(do, said, meant):
    assert _told(do=do) == [("unknown-piece-in-do-near", said, meant)]


@pytest.mark.parametrize("do", ["cut base and wall mat by hand", "cut base, wall mat, fold flaps, press well together"])
def test_little_words_of_a_do_line_are_no_slips(do):
    assert [code for code, _, _ in _told(do=do) if code == "unknown-piece-in-do-near"] == []


@pytest.mark.parametrize(
    ("facts", "code", "meant"),
    [
        ({"from_": "whtie card"}, "from-names-nothing", "white card"),
        ({"from_": "white crad"}, "from-names-nothing", "white card"),
        ({"on": "outside of bsae"}, "place-names-nothing", "base"),
        ({"on": "outside of bas front"}, "place-names-nothing", "base"),
    ],
)
def test_a_misspelt_name_in_the_facts_gets_its_nearest(facts, code, meant):
    assert (code, meant) in [(told, near) for told, _, near in _told(**facts)]
