"""Numbers without a unit in a step are measures when a piece of that step has them, and nothing else ever is."""

from __future__ import annotations

import re

import pytest

from bind.recipes import ordinary, read, with_words
from foldwright.bind.bare import bare_measures
from foldwright.measure.length import Shape, Unit
from foldwright.pipeline import check_recipe

# {braces} stand round what must be taken for a length of the piece; whatever else stands there must not be.
TRAY = [
    "Cut to {6 x 5 1/4} and score 1.",
    "Cut to {6 x 5 1/4} and score {1 3/4}.",
    "Cut to {6 x 5 1/4} and score {1 3/4} from the top.",
    "Cut the base to {5 1/4 x 6}, then score at {1 and 5}.",
    "Cut the base {6 x 5 1/4}. Score at {1 3/4 and 3 1/2}.",
    "Cut the base {6 × 5¼}. Score at {1¾ and 3½}.",
    "Cut the base {6  x\n5 1/4}. Score at {1.75, 3.5}.",
    "Score at {1 3/4}, turn the card and score at {1}.",
    "Score {1 3/4} from each end, turn and score {1} from the left edge.",
    "Score at {1} from the left edge.",
    "Score at {1 3/4 and 3 1/2}; turn; score at {1 and 5}.",
    "**Cut** the base to {6 x 5 1/4}.",
    "The base is {6 x 5 1/4}.",
    "Score every {1 3/4}.",
    "Trim to {6 by 5 1/4}.",
    "Mark the base at {1 3/4, 3 1/2} and fold.",
    "Cut the card to {6} (see step 5).",
    "Set the stop to {1 3/4} and score.",
    "Score at about {1 3/4}.",
    "Cut the base to {6 x 5 1/4}: 2 cuts, 1 turn.",
    "Score at {1}, at {5}, and once more at {1}.",
    "Score at 1 3/4 in and {3 1/2}.",
    "Score at 1 in, {5}.",
    "Score at 1 in, and 5 times more.",
    "Score at 1 in and 5 of the others.",
    "Cut to {6 x 5 1/4} (\\6 x 5 1/4 on the old sheet).",
    "Cut to {6 x 5 1/4}.\n\n- Score at {1}.\n- *Score* at {5}.",
]
DRAWER = [
    "Score at {18}, then turn.",
    "Cut to {90 x 110} and score at {18 and 72}.",
    "Score at {18, 92} and fold. 18 of them fit on a shelf.",
    "Score {18} from each end.",
]
NEITHER = [
    "Cut 2 of them.",
    "Cut 1, then another.",
    "Step 1: cut the base.",
    "Cut the base as in step 1.",
    "Score lines 1 and 5.",
    "Score 1 and 5.",
    "Cut 1 from the kraft card.",
    "Cut 1 from each sheet.",
    "Fold 1 end, then 5 others.",
    "Score at 1 o'clock.",
    "Fold at 5 pm.",
    "Cut at 1 1/2 times the width.",
    "Cut a 6 x 5 1/4 grid.",
    "Arrange them 6 x 5 on the table.",
    "Score at 5 different places.",
    "Fold it at least 5 times.",
    "Cut to size 6.",
    "Score at 1, 2 and 3.",
    "Cut with blade 5 at speed 1.",
    "Score at 5 of the marks.",
    "Mark 1 to 5 on the tabs.",
    "Measure twice, cut 1.",
    "Set the timer to 5 and cut.",
    "Stop at 5 and have tea.",
    "Cut at table 5.",
    "Score line 1, not line 5.",
    "Fold 5 in all.",
    "Cut 6 and 5 more.",
    "Cut your 5 pieces, 6 if you can.",
    "Fold the 1st and the 5th.",
    "Score on 6/5 or later.",
    "Lay out 5 x 6.",
    "Score from 1 to 5.",
    "Fold panels 1 to 5.",
    "Fold it in 4.",
    "Fold 1 or 5 times.",
    "Cut 6 layers at once.",
    "Cut 5 sheets to 6 strips.",
    "Meet at 5 and bring card.",
    "Wait till 5.",
    "Put 1 in each corner.",
    "Glue flap 1 to 5.",
    "Use 1 3/4 teaspoons of glue.",
    "Score 1/4 of the way.",
    "Cut to £6.",
    "Cut 6%.",
    "Cut to 7 x 5 1/4.",
    "Score at 1 1/8.",
    "Score at 1 and 1 1/8.",
    "Cut to \\6 x 5 1/4.",
    "Score `at 1`.",
    "Cut 6-ply board.",
    "Trim 1st, then 5th.",
    "Cut out 4.",
    "Cut page 4 along line 5.",
    "Score 4 times.",
    "Watch 1:45 of the film, then cut.",
    "Cut as on page 5.",
    "Cut the card into 4.",
    "Score number 5 first.",
    "Fold a third time, then a 4th.",
    "It takes 5 minutes to cut.",
    "Cut 2 x 6 strips of tape.",
]


def _marked(sentence: str) -> tuple[str, list[str]]:
    return sentence.replace("{", "").replace("}", ""), re.findall(r"\{([^}]*)\}", sentence)


def _taken(title: str, words: str, do: str) -> list[str]:
    text = with_words(title, words, do)
    recipe, flat = read(text)
    return [text[place.start : place.end] for place in sorted(bare_measures(recipe, flat))]


@pytest.mark.parametrize("sentence", [*TRAY, *NEITHER])
def test_numbers_that_the_base_has_are_measures(sentence):
    words, wanted = _marked(sentence)
    assert _taken("Treat tray", words, "cut and score base") == wanted


@pytest.mark.parametrize("sentence", DRAWER)
def test_numbers_that_the_drawer_has_are_measures(sentence):
    words, wanted = _marked(sentence)
    assert _taken("Matchbox drawer", words, "cut and score drawer") == wanted


@pytest.mark.parametrize("sentence", ["Cut to {6 x 5 1/4}.", "Score at {1 and 5}."])
def test_a_step_that_names_no_piece_has_no_such_numbers(sentence):
    words, _ = _marked(sentence)
    assert _taken("Treat tray", words, "") == []
    assert _taken("Treat tray", words, "cut band") == []


def test_the_words_may_name_the_piece():
    assert _taken("Treat tray", "Cut the base to 6 x 5 1/4.", "") == ["6 x 5 1/4"]


def test_other_words_than_steps_are_left_alone():
    text = with_words("Treat tray", "Cut the base to 6 x 5 1/4.", "cut base", section="Tips")
    recipe, flat = read(text)
    assert bare_measures(recipe, flat) == {}


def test_they_are_in_the_piece_s_unit_and_bound_and_nobody_asks_for_a_unit():
    text = with_words("Treat tray", "Cut to 6 x 5 1/4 and score at 1 3/4 and 3 1/2.", "cut and score base")
    checked = check_recipe(text, "recipe.md", "recipe")
    assert checked.understood is not None
    assert "unit-forgotten" not in {finding.code for finding in checked.findings}
    assert checked.understood.recipe.not_measured == ()
    size, scores = (measure for measure in checked.understood.binding.bare.values())
    assert (size.shape, scores.shape) == (Shape.CROSS, Shape.LIST)
    assert {length.unit for length in (*size.lengths, *scores.lengths)} == {Unit.INCH}
    names = [(name.place, name.number) for name in checked.understood.binding.ids[scores.place]]
    assert names == [("score", 1), ("score", 2)]


def test_a_number_that_differs_is_still_asked_about():
    text = with_words("Treat tray", "Cut to 6 x 5 1/8 and score at 1 3/4.", "cut and score base")
    told = check_recipe(text, "recipe.md", "recipe").findings
    assert [text[one.place.start : one.place.end] for one in told if one.place and one.code == "unit-forgotten"] == [
        "6 x 5 1/8"
    ]


@pytest.mark.parametrize("title", ordinary())
def test_ordinary_steps_say_their_units(title):
    recipe, flat = read(ordinary()[title])
    assert bare_measures(recipe, flat) == {}
