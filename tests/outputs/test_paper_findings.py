"""Why a card was not made: said with the right place and the right words for each part of a card."""

from __future__ import annotations

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.document.findings import tell
from foldwright.document.model import Photograph, PlacedPicture
from foldwright.finding import Finding, Strength
from foldwright.outputs.paper_findings import handout_findings, misfit_findings, unfit_findings
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe
from foldwright.render.paper.card import Misfit
from foldwright.render.paper.fitting import TooLong
from foldwright.render.paper.galley import Unprintable
from foldwright.render.paper.papers import A4, A5, A6
from foldwright.render.paper.prints import Unfit
from workbench.command_line import GOOD

FILE = "card/recipe.md"
TEXT = (
    GOOD.replace("time: 1 min\n", "time: 1 min\nphoto: fold.png\nphoto shows: It\nshort: Fold.\n")
    + "\n## Tips\n\nUse a \u05d0 ruler.\n"
)


def recipe() -> Recipe:
    found = read_recipe(TEXT, FILE, "card").recipe
    assert found is not None
    return found


def found(misfit: Misfit, larger: bool = True, with_back: bool = False) -> list[Finding]:
    paper, next_one = (A6, A5) if larger else (A4, None)
    file = f"card-metric-{paper.slug}.pdf"
    return list(misfit_findings(misfit, file, paper, next_one, with_back, recipe(), {FILE: TEXT}))


def at(finding: Finding) -> str:
    assert finding.place is not None
    return TEXT[finding.place.start : finding.place.end]


def says(finding: Finding) -> str:
    return tell(finding, {FILE: TEXT}).says


@pytest.mark.parametrize(
    ("longest", "place", "parts"),
    [
        ([("step-2", 80), ("step-1", 60), ("tools", 10)], "Fold the card",
         "step 2 in its short words (80 words) and step 1 (60 words)"),
        ([("supplies", 90), ("step-1", 40)], "Cut and score the card",
         "the supplies (90 words) and step 1 (40 words)"),
        ([("supplies", 90)], "white card", "the supplies (90 words)"),
        ([("section-0", 90), ("cautions", 80)], "Tips", '“Tips” (90 words) and the cautions (80 words)'),
        ([("pieces", 1)], "card", "the pieces (1 word)"),
        ([("head", 300)], "Practice card", "the title (300 words)"),
        ([], "Practice card", "all of it"),
    ],
)  # fmt: skip
def test_the_longest_parts_are_named_and_the_longest_step_is_shown(
    longest: list[tuple[str, int]], place: str, parts: str
) -> None:
    (finding,) = found(Misfit(too_long=TooLong(12, tuple(longest))))
    assert (finding.code, finding.strength, at(finding)) == ("card-too-long", Strength.MISFIT, place)
    assert says(finding).endswith(f"about 12 words are too many for A6. Longest: {parts}.")


def test_the_remedy_names_the_next_paper_unless_there_is_none() -> None:
    misfit = Misfit(too_long=TooLong(1, (("step-1", 60),)))
    (small,), (large,) = found(misfit), found(misfit, larger=False)
    assert "--larger-paper the recipe card goes on A5" in tell(small, {FILE: TEXT}).remedy
    assert "--larger-paper" not in tell(large, {FILE: TEXT}).remedy
    assert "one word is too many for A4" in says(large)
    (front,) = found(misfit, with_back=True)
    assert tell(front, {FILE: TEXT}).remedy.startswith("Add --back: ")


def test_a_word_too_wide_is_shown_where_it_stands_or_else_its_part() -> None:
    (finding,) = found(Misfit(too_long=TooLong(0, (), "step-1", "score")))
    assert (finding.code, at(finding)) == ("card-word-too-wide", "score")
    (finding,) = found(Misfit(too_long=TooLong(0, (), "step-1", "SET IN CAPITALS")), larger=False)
    assert (finding.code, at(finding)) == ("card-word-too-wide-for-any", "Cut and score the card")


def test_letters_of_one_script_are_told_together_at_the_first() -> None:
    # Names and categories from the Unicode Character Database.
    letters = [
        ("\u05d1", "step-1"),
        ("\u05d0", "section-0"),
        ("\u0e01", "step-2"),
        ("\u2704", "step-2"),
        ("\ue000", "head"),
    ]
    findings = found(Misfit(unprintable=tuple(Unprintable(*one) for one in letters)))
    told = [(finding.code, at(finding), says(finding)) for finding in findings]
    nowhere = "not in the fonts for paper, so no recipe card, handout or picture for sharing with"
    assert told == [
        ("letter-missing", "Cut and score the card",
         f"2 Hebrew letters are {nowhere} them is made. The first is “\u05d1” (hebrew letter bet, U+05D1)."),
        ("letter-missing", "Fold the card", f"“\u0e01” (thai character ko kai, U+0E01) is {nowhere} it is made."),
        ("letter-missing", "Practice card",
         f"2 signs are {nowhere} them is made. The first is “\ue000” (without a name, U+E000)."),
    ]  # fmt: skip


def test_pictures_that_cannot_be_printed_are_thoughts_where_they_are_named() -> None:
    unfit = {
        PlacedPicture(1, piece="card"): Unfit.CROWDED,
        PlacedPicture(2, photo=Photograph("fold.png", "It")): Unfit.COARSE,
    }
    findings = list(unfit_findings(unfit, recipe()))
    assert [(one.code, one.strength, at(one)) for one in findings] == [
        ("print-crowded", Strength.THOUGHT, "card"),
        ("print-coarse", Strength.THOUGHT, "fold.png"),
    ]
    assert "The drawing of the card" in says(findings[0])


def test_every_reason_why_a_picture_cannot_be_printed_has_its_words() -> None:
    assert all(catalogue().has(f"print-{why.value}.says") for why in Unfit)


def test_a_handout_tells_of_steps_by_their_number_in_the_whole_recipe() -> None:
    """Its own are numbered anew; `handout` gives them back the numbers they have in the recipe."""
    text = GOOD.replace("time: 2 min\n", "time: 2 min\nwhen: before class\n")
    own = read_recipe(text, FILE, "card").recipe
    assert own is not None
    misfit = Misfit(too_long=TooLong(0, (), "step-2", "NOWHERE"), unprintable=(Unprintable("\u05d0", "step-2"),))
    findings = list(handout_findings(misfit, "handout-metric-a4.pdf", A4, 0, own, {FILE: text}))
    assert [(one.code, one.strength) for one in findings] == [
        ("letter-missing", Strength.MISFIT),
        ("handout-word-too-wide", Strength.MISFIT),
    ]
    places = [one.place for one in findings]
    assert [text[place.start : place.end] for place in places if place] == ["Fold the card", "Fold the card"]
