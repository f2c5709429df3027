"""Ordinary steps pass without a word and slips are told: ordinary-steps.md and wrong-numbers.toml in tests/cases."""

from __future__ import annotations

import tomllib
from fractions import Fraction

import pytest
from msgspec.structs import replace

from bind.recipes import CASES, bound, ordinary, read, with_words
from foldwright.bind.words import bind_words
from foldwright.finding import Strength
from foldwright.geometry.pieces import lay_flat
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.writing import write_exact
from foldwright.recipe.reading import read_recipe
from foldwright.recipe.words import Shape

SLIPS = tomllib.loads((CASES / "wrong-numbers.toml").read_text(encoding="utf-8"))["case"]


def test_there_are_more_than_a_hundred_ordinary_steps_in_both_systems():
    steps = {title: len(read(text)[0].steps) for title, text in ordinary().items()}
    metric = [title for title, text in ordinary().items() if read(text)[0].system is System.METRIC]
    assert sum(steps.values()) >= 140
    assert len(metric) >= 4
    assert len(steps) - len(metric) >= 4


@pytest.mark.parametrize("title", ordinary())
def test_an_ordinary_recipe_is_read_without_a_fault_and_bound_without_a_warning(title):
    text = ordinary()[title]
    reading = read_recipe(text, "recipe.md", "recipe")
    assert [finding for finding in reading.findings if finding.strength > Strength.THOUGHT] == []
    assert reading.recipe is not None
    flat = lay_flat(reading.recipe)
    assert [finding for finding in flat.findings if finding.strength > Strength.THOUGHT] == []
    told = bind_words(reading.recipe, flat).findings
    assert [(finding.code, text[finding.place.start : finding.place.end]) for finding in told if finding.place] == []


def _plain(value: object) -> object:
    return write_exact(value).plain if isinstance(value, Length) else value


@pytest.mark.parametrize("case", SLIPS, ids=lambda case: case["words"][:60])
def test_a_slip_is_told_with_the_nearest_true_number(case):
    text = with_words(case["recipe"], case["words"], case["do"])
    told = bound(text).findings
    assert told, "nothing was told"
    facts = {name: _plain(value) for name, value in told[0].facts}
    assert (told[0].code, facts["said"], facts.get("length", ""), facts["side"]) == (
        case["code"],
        case["said"],
        case["length"],
        case["side"],
    )
    assert told[0].place is not None
    assert text[told[0].place.start : told[0].place.end] in case["words"]


def test_a_slip_is_a_misfit_because_two_numbers_disagree():
    kinds = {finding.code: finding.strength for case in SLIPS for finding in _told(case)}
    assert kinds.pop("words-turned-wrong-way") is Strength.THOUGHT
    assert set(kinds.values()) == {Strength.MISFIT}


def _told(case):
    return bound(with_words(case["recipe"], case["words"], case["do"])).findings


def test_nearly_every_firm_number_of_the_ordinary_steps_is_told_when_it_is_changed():
    """Each firm number is moved an eighth of an inch or 2 mm either way; what hits another true length is no slip."""
    told = changed = 0
    for text in ordinary().values():
        for other in _with_one_number_changed(text):
            changed += 1
            told += bool(bound(other).findings)
    assert changed > 150
    assert told / changed > 0.97


def _with_one_number_changed(text):
    recipe, flat = read(text)
    true = {length.mm for length in flat.lengths.by_id.values()}
    for tie, _ in bind_words(recipe, flat).ties:
        measure = tie.heard.measure
        if not tie.heard.context.firm or not tie.complete or len(measure.lengths) > 2:
            continue
        for number, length in enumerate(measure.lengths):
            step = {System.IMPERIAL: Length.of(Fraction(1, 8), Unit.INCH), System.METRIC: Length.of(2, Unit.MILLIMETRE)}
            for sign in (1, -1):
                moved = length + step[length.unit.system] * sign
                if moved.mm not in true:
                    lengths = (*measure.lengths[:number], moved, *measure.lengths[number + 1 :])
                    joined = " x " if measure.shape is Shape.CROSS else " and "
                    said = joined.join(write_exact(one).plain for one in lengths)
                    yield text[: measure.place.start] + said + text[measure.place.end :]


def test_a_number_farther_off_than_a_quarter_inch_is_silent_unless_strict():
    text = with_words("Treat tray", "Cut the kraft card to 6 x 4 3/4 in.", "cut base")
    assert bound(text).findings == ()
    assert {finding.code for finding in bound(text, strict=True).findings} == {"words-match-nothing"}


@pytest.mark.parametrize(("off", "told"), [("1/4", True), ("17/64", False)])
def test_a_quarter_inch_is_near_enough_and_a_hair_more_is_not(off, told):
    number = Fraction(21, 4) + Fraction(off)
    said = write_exact(Length.of(number, Unit.INCH)).plain
    text = with_words("Treat tray", f"Cut the base to {said}.", "cut base")
    assert bool(bound(text).findings) is told


@pytest.mark.parametrize(("said", "told"), [("116 mm", True), ("116.1 mm", False)])
def test_six_millimetres_are_near_enough_and_a_hair_more_is_not(said, told):
    text = with_words("Matchbox drawer", f"Cut the drawer to {said}.", "cut drawer")
    assert bool(bound(text).findings) is told


@pytest.mark.parametrize(
    "words",
    [
        "Cut the base to about 6 x 5 1/8 in.",
        "Trim the base to 5 1/8 in.",
        "Leave an offcut of 5 7/8 in.",
        "Put a strip of tape 1 1/8 in from the left edge.",
        "Score at 1 or 1 1/8 in, as you like.",
        "Score at 1 in, not 1 1/8 in.",
        "Score 1 1/8 in from the fold.",
        "Score 1 1/8 in from each edge of the flap.",
        "Draw a square 5 7/8 x 5 1/8 in on the back.",
        "Cut the base to 6 1/8 in first, then trim it.",
        "Fold the band over 1 1/8 in.",
        "Cut a lining 5 7/8 x 5 1/8 in.",
        "If your card is thick, score at 1 1/16 in.",
        "Closed, the box is 4 1/8 x 1 7/8 in.",
    ],
)
def test_soft_words_and_other_things_are_silent(words):
    assert bound(with_words("Treat tray", words, "cut and score base")).findings == ()


def test_words_outside_the_steps_are_never_told_of():
    text = with_words("Treat tray", "Cut the base to 6 x 5 1/8 in.", section="Variations")
    assert bound(text).findings == ()


def test_a_piece_that_does_not_add_up_is_not_told_of_again():
    text = with_words("Treat tray", "Score the base at 1 1/8 in.", "score base").replace("1 left end |", "2 left end |")
    recipe, flat = read(text)
    assert flat.findings
    assert all(blank.doubtful for blank in flat.blanks if blank.piece == "base")
    assert bind_words(recipe, flat).findings == ()


def test_every_measure_gets_an_id_for_every_length_and_free_ones_stand_by_themselves():
    for text in ordinary().values():
        recipe, flat = read(text)
        binding = bind_words(recipe, flat)
        assert len(binding.ids) == len(binding.explained)
        for explained in binding.explained:
            ids = binding.ids[explained.place]
            assert len(ids) == len(explained.lengths)
            for own, length in zip(ids, explained.lengths, strict=True):
                known = binding.free.get(own) or flat.lengths.by_id[own]
                assert own in binding.free or abs(known.mm - length.mm) <= Fraction(127, 160)
        assert not set(binding.free) & set(flat.lengths.by_id)


def test_words_say_nothing_of_a_recipe_that_has_no_pieces():
    recipe, _ = read(with_words("Treat tray", "Cut it to 6 x 5 1/8 in.", "cut base"))
    bare = replace(recipe, pieces=())
    assert bind_words(bare, lay_flat(bare)).findings == ()
