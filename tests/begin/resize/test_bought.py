"""What is bought, what is used by length, and the words that speak of it. Numbers are reckoned by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from begin.resize.made_up import Beside, entry_of, recipe, resized
from foldwright.begin.resize.bought import used
from foldwright.finding import Place
from foldwright.measure.amounts import Dimension
from foldwright.measure.length import Length, Unit
from foldwright.outputs.checking import check_texts
from foldwright.outputs.texts import texts_of
from foldwright.pipeline import compose_document
from foldwright.recipe.model import Amount, Said, Supply

TAG = "  tag:\n    from: card\n    size: 40 x 80 mm\n"
TWINE = "  twine: twine, use 300 mm\n"


def notes_of(size) -> dict[str, dict[str, object]]:
    return {note.code: dict(note.facts) for note in size.notes}


@pytest.mark.parametrize(
    ("number", "unit", "scale", "expected"),
    [
        # Taken up to whole inches, centimetres, quarters of a yard, half feet, tenths of a metre.
        ("36", Unit.INCH, "0.8", "29"),
        ("300", Unit.MILLIMETRE, "1.25", "380"),
        ("50", Unit.CENTIMETRE, "0.75", "38"),
        ("1", Unit.YARD, "1.3", "3/2"),
        ("2", Unit.FOOT, "1.3", "3"),
        ("2", Unit.METRE, "0.66", "7/5"),
        ("36", Unit.INCH, "1", "36"),
    ],
)
def test_what_is_used_by_length_is_taken_up_to_easy_lengths(number, unit, scale, expected):
    place = Place("r", 0, 1)
    amount = Amount(Dimension.LENGTH, Fraction(number), unit.symbol, length=Length.of(Fraction(number), unit))
    supply = used(Supply(Said("twine", place), use=Said(amount, place)), Fraction(scale))
    assert supply.use is not None
    assert supply.use.value.length == Length.of(Fraction(expected), unit)
    assert supply.use.value.number == Fraction(expected)


def test_what_is_used_in_proportion_is_said_with_what_it_was():
    made = resized(recipe(TAG, TWINE), "1.3")
    assert "twine:\n  use: 390 mm" in entry_of(made)
    assert notes_of(made)["used-in-proportion"] == {"things": ("twine 390 mm (300 mm)",)}


def test_words_follow_where_the_step_names_the_supply_and_are_asked_about_where_not():
    words = "Loop 300 mm of twine through."
    named = resized(recipe(TAG, TWINE, words, "with: twine\n"), "1.3")
    assert "words-left-behind" not in notes_of(named)
    forgotten = resized(recipe(TAG, TWINE, words), "1.3")
    facts = notes_of(forgotten)["words-left-behind"]
    assert (facts["said"], facts["where"], facts["thing"]) == ("300 mm", "Make it", "twine")
    assert facts["length"] == (Length.of(390, Unit.MILLIMETRE),)
    # It is asked once, and not as a number that is the same in every size too.
    assert [finding.code for finding in forgotten.checked.findings] == []


def test_on_the_page_the_words_say_what_the_size_uses():
    made = resized(recipe(TAG, TWINE, "Loop 300 mm of twine through.", "with: twine\n"), "1.3")
    checked = check_texts(texts_of("made-up", made.text), Beside(), "new")
    assert checked.understood is not None
    document = compose_document(checked.understood, (), {"made-up/recipe.md": made.text})
    printed = [run.phrases.metric.plain for run in document.steps[0].words[0].children if hasattr(run, "phrases")]
    assert printed == ["390 mm"]


CARD = (
    "  card:\n    from: card\n    size: 8 1/2 x 5 1/2 in\n    across: 4 1/4 | 4 1/4\n    fold: card\n"
    "    slides in: {into}\n"
)
A2 = "  envelope: envelope, size 5 3/4 x 4 3/8 in, use 1\n"


def test_a_card_gets_the_envelope_that_takes_it():
    # 5 1/2 and 4 1/4 x 1.1 = 6.05 and 4.675: 6 and 4 5/8 in. Envelopes as sold: A2 4 3/8 x 5 3/4, A6 4 3/4 x 6 1/2 in
    # (sizes of the trade, from memory); an eighth must be to spare: 4 3/4 and 6 1/8.
    made = resized(recipe(CARD.format(into="envelope"), A2, units="inches"), "1.1")
    assert "envelope:\n  size: 6 1/2 x 4 3/4 in" in entry_of(made)
    assert notes_of(made)["other-envelope"]["name"] == "A6"
    named = resized(recipe(CARD.format(into="A2 envelope"), units="inches"), "1.1")
    assert "slides in: A6 envelope" in entry_of(named)


def test_no_envelope_takes_a_card_that_is_too_large():
    # Four times as large: 17 x 22 in.
    made = resized(recipe(CARD.format(into="envelope"), A2, units="inches"), "4")
    assert notes_of(made)["no-envelope-takes-it"]["size"] == (
        Length.of(Fraction("17.125"), Unit.INCH),
        Length.of(Fraction("22.125"), Unit.INCH),
    )
    assert made.wrong


def test_a_bag_is_no_envelope_and_is_told_where_it_is_too_small():
    # 90 x 140 mm into 100 x 150 mm. At 1.06 95 and 148 mm go in (95.4, 148.4), at 1.3 117 mm do not.
    pieces = "  insert:\n    from: card\n    size: 90 x 140 mm\n    slides in: clear bag\n"
    supplies = "  clear bag: clear bag, size 100 x 150 mm, use 1\n"
    assert not resized(recipe(pieces, supplies), "1.06").wrong
    made = resized(recipe(pieces, supplies), "1.3")
    assert entry_of(made) == "insert:\n  size: 117 x 182 mm"
    assert "too-small-to-slide-into" in {finding.code for finding in made.checked.findings}


def test_a_piece_that_nothing_is_said_of_is_asked_about_where_contents_keep_their_size():
    tray = (
        "  base:\n    from: card\n    across: 30 mm | 80 mm | 30 mm\n    down: 30 mm | 60 mm | 30 mm\n"
        "    flaps: joined to left and right, trimmed 1 mm\n    fold: tray\n    holds: sweet\n"
    )
    wrapper = "  wrapper:\n    from: card\n    size: 30 x 60 mm\n"
    sweet = "  sweet: sweet, size 30 x 20 x 20 mm, use 2\n"
    made = resized(recipe(tray + wrapper, sweet), "1.5")
    assert notes_of(made)["alone"] == {"piece": "wrapper", "things": ("sweet",)}
    assert notes_of(made)["held-as-it-is"] == {"thing": "sweet"}
    assert "alone" not in notes_of(resized(recipe(tray, sweet), "1.5"))


def test_other_contents_are_asked_about_where_the_recipe_speaks_of_the_old_ones():
    tray = (
        "  base:\n    from: card\n    across: 30 mm | 80 mm | 30 mm\n    down: 30 mm | 60 mm | 30 mm\n"
        "    flaps: joined to left and right, trimmed 1 mm\n    fold: tray\n    holds: sweet\n"
    )
    wrapper = "  wrapper:\n    from: card\n    size: 30 x 60 mm\n"
    sweet = "  sweet: sweet, size 30 x 20 x 20 mm, use 2\n"
    more = notes_of(resized(recipe(tray + wrapper, sweet), holds="4 sweets of 30 x 20 x 20 mm"))
    assert "still-called" not in more
    other = notes_of(resized(recipe(tray + wrapper, sweet), holds="1 soap of 60 x 40 x 20 mm"))
    assert other["still-called"] == {"thing": "sweet"}
    assert other["alone-as-it-was"] == {"piece": "wrapper", "thing": "sweet"}
