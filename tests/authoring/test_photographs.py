"""A photograph put into the text: at its step or at the top, with words to be typed over."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.authoring.photographs import PutIn, photo_put_in, photo_stem
from foldwright.finding.changes import changed
from foldwright.outputs.sources import slug_of
from foldwright.recipe.model import Photo, Recipe
from foldwright.recipe.reading import read_recipe
from workbench.compiled import DEMOS, RECIPES

SHOWS = "what can be seen here"
TEXT = """---
title: Heart box
makes: 1 box

supplies:
  card: cardstock, sheet A4
---

Some words.

## Cut the card

```step
do: cut
time: 2 min
tip: Mind your fingers.
```

Cut it.

## Fold
Fold it.

## Tips
Be quick.
"""


def recipe_of(text: str) -> Recipe:
    recipe = read_recipe(text, "r", "r").recipe
    assert recipe
    return recipe


def put_in(text: str, at: int | None, name: str = "new.jpg") -> tuple[str, PutIn]:
    put = photo_put_in(text, at, name, SHOWS)
    return changed(text, put.changes), put


def shown(photo: Photo | None) -> tuple[str, str]:
    assert photo and photo.shows
    return photo.path.value, photo.shows.value


def test_a_step_with_a_block_gets_its_lines_there_and_the_words_are_selected() -> None:
    text, put = put_in(TEXT, TEXT.index("Cut it"))
    lines = "time: 2 min\nphoto: new.jpg\nphoto shows: what can be seen here\ntip: Mind your fingers.\n"
    assert text == TEXT.replace("time: 2 min\ntip: Mind your fingers.\n", lines)
    assert text[slice(*put.select)] == SHOWS


def test_a_step_without_facts_gets_a_block_under_its_heading() -> None:
    text, put = put_in(TEXT, TEXT.index("## Fold"))
    assert text == TEXT.replace(
        "## Fold\n", "## Fold\n\n```step\nphoto: new.jpg\nphoto shows: what can be seen here\n```\n\n"
    )
    assert text[slice(*put.select)] == SHOWS


@pytest.mark.parametrize("at", [None, 0, TEXT.index("Some words"), TEXT.index("Be quick")])
def test_what_is_no_step_is_the_finished_thing(at: int | None) -> None:
    text, put = put_in(TEXT, at)
    assert text == TEXT.replace("makes: 1 box\n", "makes: 1 box\nphoto: new.jpg\nphoto shows: what can be seen here\n")
    assert text[slice(*put.select)] == SHOWS


def test_another_photograph_takes_the_place_of_the_name_and_the_words_can_be_typed_over() -> None:
    once, _ = put_in(TEXT, TEXT.index("Cut it"), "old.jpg")
    once = once.replace(SHOWS, "the card, cut out")
    twice, put = put_in(once, once.index("Cut it"))
    assert twice == once.replace("old.jpg", "new.jpg")
    assert twice[slice(*put.select)] == "the card, cut out"


def test_words_for_no_photograph_are_kept_for_the_new_one() -> None:
    text, put = put_in(TEXT.replace("time: 2 min", "photo shows: a heart"), TEXT.index("## Cut") + 3)
    assert shown(recipe_of(text).steps[0].photo) == ("new.jpg", "a heart")
    assert text[slice(*put.select)] == "a heart"


@pytest.mark.parametrize("text", ["", "\n", "Words.\n", "## Cut\n\nCut it.\n", "---\n---\n\n## Cut\n"])
def test_a_text_without_facts_gets_some(text: str) -> None:
    made, put = put_in(text, None)
    assert shown(recipe_of(made).photo) == ("new.jpg", SHOWS)
    assert made[slice(*put.select)] == SHOWS


@pytest.mark.parametrize("demo", DEMOS)
def test_in_every_demo_recipe_nothing_else_changes(demo: str) -> None:
    """Each step in turn, and the top: the recipe is read as before but for the photograph."""
    text = (RECIPES / demo / "recipe.md").read_text(encoding="utf-8")
    before = recipe_of(text)
    for number, step in enumerate(before.steps):
        made, put = put_in(text, step.heading.place.start)
        after = recipe_of(made)
        assert [one.heading.value for one in after.steps] == [one.heading.value for one in before.steps]
        assert [shown(one.photo) for one in after.steps if one.photo and one.photo.path.value == "new.jpg"] == [
            ("new.jpg", made[slice(*put.select)])
        ]
        same = [(one.do and one.do.value, one.time and one.time.value, len(one.words)) for one in before.steps]
        assert [(one.do and one.do.value, one.time and one.time.value, len(one.words)) for one in after.steps] == same
        assert after.steps[number].photo
    made, put = put_in(text, None)
    assert shown(recipe_of(made).photo) == ("new.jpg", made[slice(*put.select)])


@given(st.text(alphabet="#-:`~ \n\tabphoto steps", max_size=80), st.integers(0, 80))
def test_in_any_text_changes_and_selection_lie_inside(text: str, at: int) -> None:
    made, put = put_in(text, min(at, len(text)))
    assert "new.jpg" in made
    assert 0 <= put.select[0] <= put.select[1] <= len(made)


def test_names_are_made_of_headings_and_are_safe_everywhere() -> None:
    assert photo_stem(TEXT, TEXT.index("Cut it")) == "cut-the-card"
    assert photo_stem(TEXT, None) == "heart-box"
    assert photo_stem("## ../../etc/Pâté: *a|b*?", 0) == "etc-pate-a-b"
    assert photo_stem("## 折る\n", 0) == "step-1"
    assert photo_stem("", None) == "photo"
    assert len(photo_stem("## " + "long " * 100, 0)) <= 40


@given(st.text())
def test_whatever_the_heading_the_name_is_plain(heading: str) -> None:
    stem = photo_stem(f"## {heading}\n", 0)
    assert stem and slug_of(stem) == stem and stem.isascii()
