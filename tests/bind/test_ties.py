"""What a measure of the words is tied to."""

from __future__ import annotations

from pathlib import Path

import pytest

from bind.recipes import bound, ids_said, with_words
from foldwright.document.catalogue import catalogue
from foldwright.geometry.lengths import Equal, LengthId
from foldwright.pipeline import check_recipe

TRAY, DRAWER = "Treat tray", "Matchbox drawer"


@pytest.mark.parametrize(
    ("words", "do", "tied"),
    [
        ("Cut the card to 5 1/4 x 6 in.", "cut base", ["base down size", "base across size"]),
        ("Score at 1 and 5 in.", "score base", ["base across score 1", "base across score 2"]),
        ("Score at 1 3/4 and 3 1/2 in.", "score base", ["base down score 1", "base down score 2"]),
        ("Score 1 in in from the right edge.", "score base", ["base across score back 2"]),
        ("The floor is 4 in long.", "check base", ["base across panel 2"]),
        ("Cut 30 in of twine.", "tie", ["free"]),
        ("Stick it 1/2 in from the edge.", "stick front to base", ["free"]),
        (
            "Cut the base to 6 in and the band to 1 1/2 in.",
            "cut base and band",
            ["base across size", "band across size"],
        ),
        ("Lay down a 12 x 12 in sheet.", "cut base", ["free", "free"]),
    ],
)
def test_a_measure_is_tied_to_the_length_its_words_speak_of(words, do, tied):
    assert [own for _, own in ids_said(with_words(TRAY, words, do))] == tied


def test_a_short_edge_against_the_fence_has_the_numbers_of_the_ruler_along_it():
    """90 x 110 mm with an 18 mm score on both sides: the short edge is the one across, the long one the one down."""
    short = with_words(DRAWER, "With a short edge against the fence, score at 18 mm.", "score drawer")
    long = with_words(DRAWER, "With a long edge against the fence, score at 18 mm.", "score drawer")
    assert ids_said(short) == [("18", "drawer across score 1")]
    assert ids_said(long) == [("18", "drawer down score 1")]


def test_turning_the_card_changes_the_side():
    words = "With a short edge against the fence, score at 18 mm. Turn the card and score at 18 mm."
    assert [own for _, own in ids_said(with_words(DRAWER, words, "score drawer"))] == [
        "drawer across score 1",
        "drawer down score 1",
    ]


@pytest.mark.parametrize("turn", ["Turn the card end for end", "Turn it over", "Turn it round"])
def test_turning_it_otherwise_does_not(turn):
    words = f"With a short edge against the fence, score at 18 mm. {turn} and score at 18 mm."
    ids = [own for _, own in ids_said(with_words(DRAWER, words, "score drawer"))]
    assert ids == ["drawer across score 1"] * 2


def test_a_number_in_the_other_units_is_the_same_length():
    """105 mm is 4.134 in; a ruler shows 4 1/8 in (104.775 mm), less than a thirty-second of an inch away."""
    words = "Score at 105 mm (4 1/8 in)."
    ids = [own for _, own in ids_said(with_words("Round-window card", words, "score card"))]
    assert ids == ["card across score 1", "card across score 1"]


def test_a_hole_is_tied_by_its_size_and_by_its_place():
    """Both are 60 mm: how wide the window is, and how far its middle lies from the top."""
    words = "Cut a round window of 60 mm, its middle 60 mm from the top."
    ids = [own for _, own in ids_said(with_words("Round-window card", words, "cut card"))]
    assert ids == ["card hole across 1", "card hole top 1 middle"]


def test_from_every_edge_one_figure_stands_for_all_the_scores_it_speaks_of():
    binding = bound(with_words(DRAWER, "Score 18 mm in from all four edges.", "score drawer"))
    first = LengthId("drawer", "across", "score", 1)
    others = [
        LengthId("drawer", "across", "score back", 2),
        LengthId("drawer", "down", "score", 1),
        LengthId("drawer", "down", "score back", 2),
    ]
    assert binding.relations == tuple(Equal(first, other) for other in others)


@pytest.mark.parametrize(
    ("words", "do", "says"),
    [
        ("Cut the card to 6 x 5 1/4 in.", "cut base", ["the size of base, across", "the size of base, down"]),
        ("Score at 1 3/4 in.", "score base", ["score 1 of base, from the top edge"]),
        ("Its floor is 4 in long.", "check base", ["the panel floor of base, across"]),
        ("Cut it from a 12 x 12 in sheet.", "cut band", ["the size star paper is sold in"] * 2),
        ("Leave 3/8 in.", "cut base", ["a length that belongs to no piece"]),
        ("Score at 1 7/8 in.", "score base", ["1 7/8 in: not certain, see the message about it"]),
    ],
)
def test_every_measure_is_explained_in_words(words, do, says):
    explained = bound(with_words(TRAY, words, do)).explained
    told = [catalogue().say(f"{one.code}.says", **dict(one.facts)) for every in explained for one in every.understood]
    assert told == says


@pytest.mark.parametrize(
    ("words", "edges", "told"),
    [
        ("Score at 1 7/8 in.", ("top", "bottom"), "1 3/4 in from the top and bottom edges"),
        ("Score 7/8 in from the right edge.", ("left", "right"), "1 in from the left and right edges"),
    ],
)
def test_a_slip_names_the_edges_the_score_is_counted_from(words, edges, told):
    (finding,) = bound(with_words(TRAY, words, "score base")).findings
    facts = dict(finding.facts)
    assert (finding.code, facts["edges"]) == ("words-score-differs", edges)
    says = catalogue().say("words-score-differs.says", **facts)
    assert f"the nearest score of the base is {told}. They differ by " in says


def test_a_small_number_is_no_hole_because_one_happens_to_be_as_wide():
    """The drawer box says its sleeve is two millimetres wider than the drawer, whose ribbon slot is 2 mm high."""
    text = (Path(__file__).parents[2] / "recipes" / "drawer-box" / "recipe.md").read_text(encoding="utf-8")
    checked = check_recipe(text, "recipe.md", "drawer-box")
    assert checked.understood
    start = text.index("two millimetres")
    ids = next(ids for place, ids in checked.understood.binding.ids.items() if place.start == start)
    assert [one.piece for one in ids] == ["words"]
