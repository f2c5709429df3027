"""Finished cards read back by libraries that had no part in making them (see `printed`): random ones and our own."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from random import Random

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from foldwright.document.model import Document
from foldwright.measure.length import System
from foldwright.recipe.words import Paragraph, Text
from foldwright.render.fonts import FACES, font_file
from foldwright.render.paper.card import Card, Misfit, Proof
from foldwright.render.paper.imposing import Imposition, impose
from foldwright.render.paper.papers import A4, A6, FOUR_BY_SIX, LETTER, PAPERS, Paper, sheets_for
from foldwright.render.photos import ReadyPhoto
from printed.order import reading_order
from printed.unbroken import broken_measures
from workbench.compiled import DEMOS, compiled, demo, small
from workbench.demo_pages import THEMES
from workbench.long import LONG, every, tries
from workbench.papers_of_demos import IN_ONE_SYSTEM, card, proof
from workbench.printed_cards import LEAST_FILL, Made, complaints, filled
from workbench.printed_handouts import lost_allergens
from workbench.printed_recipes import Written, photograph, recipe_of


def card_of(
    proof: Proof, document: Document, system: System, paper: Paper, back: bool = False, up: int = 1
) -> Made | Misfit:
    imposition: Imposition | None = impose(paper, up, sheets_for(paper, document.papers)) if up > 1 else None
    made = proof.card(paper, back, imposition)
    return made if isinstance(made, Misfit) else Made(made, document, proof, system, paper, back, imposition)


def the_card(text: str, paper: Paper = LETTER, photos: Mapping[str, ReadyPhoto] | None = None) -> Card | Misfit:
    sheet, _ = compiled(text)
    return Proof(sheet, System.IMPERIAL, "harbour", photos or {}).card(paper)


# --- random recipes ---------------------------------------------------------------------------------------------------


@settings(
    max_examples=tries(4, 80),
    # A smaller seed makes no smaller recipe.
    phases=[Phase.explicit, Phase.generate],
)
@given(
    st.integers(0, 10**9),
    st.sampled_from(System),
    st.sampled_from(THEMES),
    st.sampled_from(PAPERS),
    st.booleans(),
    st.sampled_from((1, 1, 1, 2, 4)),
)
def test_every_card_that_comes_out_is_well(
    seed: int, system: System, theme: str, paper: Paper, back: bool, up: int
) -> None:
    written = recipe_of(Random(seed), most_steps=tries(12, 40))
    sheet, _, photos = written.compiled()
    proof = Proof(sheet, system, theme, photos)
    made = card_of(proof, sheet, system, paper, back, up)
    if isinstance(made, Misfit):
        assert_truthful(made, sheet)
        return
    assert complaints(made) == []
    assert lost_allergens(sheet, made.card.pdf) == []


def test_what_to_measure_and_a_tip_stand_in_one_step() -> None:
    """Both are set, neither is read out as the markup it is made of."""
    facts = "do: cut and score base, slit base, fold base, glue base\ntip: Let it dry."
    sheet = small(words=f"## Make it\n\n```step\n{facts}\n```\n\nFold it along its scores and glue the flaps.")
    assert sheet.steps[0].trials and sheet.steps[0].tip
    proof = Proof(sheet, System.METRIC, "harbour", {})
    made = card_of(proof, sheet, System.METRIC, A4)
    assert isinstance(made, Made) and complaints(made) == []
    assert not [text for _, text in reading_order(made.card.pdf) if "<" in text]


def assert_truthful(misfit: Misfit, document: Document) -> None:
    """It names blocks that there are, and says of each how many words it has or which letter is missing."""
    assert not misfit.unprintable
    assert misfit.too_long is not None
    assert misfit.too_long.longest
    known = {
        "head",
        "supplies",
        "tools",
        "cautions",
        "minded",
        "pieces",
        "sizes",
        *(f"step-{step.number}" for step in document.steps),
    }
    known |= {f"section-{number}" for number, _ in enumerate(document.sections)}
    assert {name for name, _ in misfit.too_long.longest} <= known
    assert (misfit.too_long.over > 0) is not bool(misfit.too_long.too_wide)


@pytest.mark.parametrize(("count", "paper"), every([(2, A4), (9, A4), (2, A6), (9, A6)], 3))
def test_so_many_words_less_and_it_fits(paper: Paper, count: int) -> None:
    """A quarter more than is said, and a line a step, is enough: lines and steps stay whole."""
    words = next(
        words for words in (20, 40, 70, 110, 180, 300, 600, 1200) if isinstance(wordy(count, words, paper), Misfit)
    )
    misfit = wordy(count, words, paper)
    assert isinstance(misfit, Misfit) and misfit.too_long is not None
    less = round(misfit.too_long.over * 1.25 / count) + 8
    assert isinstance(wordy(count, words - less, paper), Card)


@cache
def wordy(count: int, words: int, paper: Paper) -> Card | Misfit:
    """A card of so many steps of so many words each; only the last few have to do with what is asked."""
    sheet = small(words="\n\n".join(f"## Fold {number}\n\nFold." for number in range(1, count + 1)))
    said = (Paragraph((Text("fold and glue the card " * (words // 5) + "so " * (words % 5)),)),)
    steps = tuple(replace(step, wordings=(said,), heading=(Text("Fold"),)) for step in sheet.steps)
    plain = replace(sheet, steps=steps, cautions=(), pieces=(), supplies=(), tools=(), shown=())
    return Proof(plain, System.METRIC, "harbour", {}).card(paper)


# --- our own recipes --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "system", "theme"), IN_ONE_SYSTEM)
def test_our_own_recipes_make_cards_that_are_well(name: str, system: System, theme: str) -> None:
    """A usual run has each recipe on one paper, each paper for one recipe; a long one all on all."""
    for paper in PAPERS if LONG else (PAPERS[DEMOS.index(name)],):
        found = card(name, system, theme, paper)
        if isinstance(found, Misfit):
            # A postcard does not hold every recipe, and what it does not hold is told.
            assert paper.small, paper.name
            assert_truthful(found, demo(name))
            continue
        made = Made(found, demo(name), proof(name, system, theme), system, paper)
        assert complaints(made) == [], paper.name
        assert broken_measures(found.pdf) == [], paper.name
        (front,) = filled(made)
        # What is short enough for the largest type need not fill the page.
        assert front >= LEAST_FILL or found.size_pt == paper.sizes_pt[-1], paper.name


UP = (1, 2, 2, 1, 4, 4)
"""So many of the papers, in their order, on a sheet."""


@pytest.mark.parametrize(
    ("name", "system", "theme"), IN_ONE_SYSTEM if LONG else [IN_ONE_SYSTEM[turn] for turn in (0, 1, 5)]
)
def test_cards_with_backs_and_several_to_a_sheet(name: str, system: System, theme: str) -> None:
    turn = DEMOS.index(name)
    paper, up = PAPERS[turn], UP[turn]
    found = card(name, system, theme, paper, back=True, up=up)
    if isinstance(found, Misfit):
        assert paper.small, paper.name
        return
    assert found.back is not None
    placed = impose(paper, up, sheets_for(paper, demo(name).papers)) if up > 1 else None
    assert complaints(Made(found, demo(name), proof(name, system, theme), system, paper, True, placed)) == []


# --- bad input --------------------------------------------------------------------------------------------------------

FRONT = "---\ntitle: {title}\nmakes: 1 card\nmeasured in: inches\n{more}---\n\n"


def test_a_step_of_two_thousand_words_is_told() -> None:
    made = the_card(FRONT.format(title="Card", more="") + "## Fold\n\n" + "fold the card and " * 500)
    assert isinstance(made, Misfit) and made.too_long is not None
    name, words = made.too_long.longest[0]
    # The heading and its number are words of the step as well.
    assert name == "step-1" and 2000 <= words <= 2010
    assert 150 < made.too_long.over < 2000


def test_a_word_wider_than_the_column_is_told() -> None:
    long = "Donau" * 40
    made = the_card(FRONT.format(title="Card", more="") + f"## Fold\n\nFold the {long} over.")
    assert isinstance(made, Misfit) and made.too_long is not None
    assert (made.too_long.too_wide, made.too_long.wide_word, made.too_long.over) == ("step-1", long, 0)


@pytest.mark.parametrize("paper", [LETTER, FOUR_BY_SIX], ids=lambda paper: paper.slug)
def test_a_title_of_three_hundred_letters_stands_in_its_head(paper: Paper) -> None:
    title = ("A box with a lid and a window for the sweets of the spring fair " * 6)[:300].strip()
    sheet, _ = compiled(FRONT.format(title=title, more="") + "## Fold\n\nFold it.")
    proof = Proof(sheet, System.IMPERIAL, "harbour", {})
    made = card_of(proof, sheet, System.IMPERIAL, paper)
    assert isinstance(made, Made)
    assert complaints(made) == []


def test_letters_of_other_scripts_are_named_with_their_block() -> None:
    from fontTools.ttLib import TTFont

    said = "Fold 折り紙 gently → so."
    made = the_card(FRONT.format(title="Card", more="") + f"## Fold\n\n{said}\n")
    assert isinstance(made, Misfit)
    have = TTFont(font_file(FACES["sans"])).getBestCmap()
    missing = [letter for letter in said if ord(letter) not in have]
    assert missing
    assert [(one.letter, one.block) for one in made.unprintable] == [(letter, "step-1") for letter in missing]


@pytest.mark.parametrize("shape", [(1, 9000), (9000, 1), (20, 20), (3, 700)])
def test_a_photograph_that_would_show_nothing_is_left_out_and_told(shape: tuple[int, int]) -> None:
    text = FRONT.format(title="Card", more="photo: thin.png\nphoto shows: A thread\n") + "## Fold\n\nFold it."
    written = Written(text, {"thin.png": photograph(*shape)})
    sheet, _, photos = written.compiled()
    proof = Proof(sheet, System.IMPERIAL, "harbour", photos)
    made = card_of(proof, sheet, System.IMPERIAL, LETTER)
    assert isinstance(made, Made)
    assert [shown.photo.path for shown in proof.unfit if shown.photo] == ["thin.png"]
    assert complaints(made) == []
