"""What stands where: sections, entries, facts and steps, in sound texts and in broken ones."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.authoring.places import places_of, step_at, steps_of
from foldwright.recipe.reading import read_recipe
from workbench.compiled import DEMOS, RECIPES

TEXTS = {name: (RECIPES / name / "recipe.md").read_text(encoding="utf-8") for name in DEMOS}
LIST = """supplies:
- card:
    kind: cardstock
- twine, twine, use 10 in
tools: knife, ruler
pieces: {base: {size: 5 x 4 in}}
"""


@pytest.mark.parametrize("name", DEMOS)
def test_a_recipe_has_the_places_the_reader_finds(name: str) -> None:
    recipe = read_recipe(TEXTS[name], "r", name).recipe
    assert recipe is not None
    places = places_of(TEXTS[name])
    for section, things in (("supplies", recipe.supplies), ("pieces", recipe.pieces)):
        assert [entry.name for entry in places.sections[section].entries] == [one.name.value for one in things]
    for piece, entry in zip(recipe.pieces, places.sections["pieces"].entries, strict=True):
        if piece.size:
            size = entry.fact("size")
            assert size is not None
            assert size.value == (piece.size.place.start, piece.size.place.end)
    assert [step.heading for step in places.steps] == [step.heading.value for step in recipe.steps]
    for step, place in zip(recipe.steps, places.steps, strict=True):
        assert step.do is not None
        found = place.fact("do")
        assert found is not None
        assert found.value == (step.do.place.start, step.do.place.end)


@pytest.mark.parametrize("name", DEMOS)
def test_other_line_ends_move_nothing_else(name: str) -> None:
    text = TEXTS[name].replace("\n", "\r\n")
    plain, dos = places_of(TEXTS[name]), places_of(text)
    assert [step.heading for step in dos.steps] == [step.heading for step in plain.steps]
    for one, other in zip(plain.steps, dos.steps, strict=True):
        assert one.block is not None
        assert other.block is not None
        assert text[slice(*other.block)].replace("\r\n", "\n") == TEXTS[name][slice(*one.block)]


def test_whole_lines_end_where_the_next_line_begins() -> None:
    text = TEXTS["keepsake-box"]
    pieces = places_of(text).sections["pieces"]
    assert [text[slice(*entry.whole)].split(":")[0].strip() for entry in pieces.entries] == ["base", "lid", "label"]
    assert all(text[entry.whole[1] - 1] == "\n" for entry in pieces.entries)


def test_lists_and_braces() -> None:
    sections = places_of(f"---\ntitle: x\n{LIST}---\n").sections
    assert [entry.name for entry in sections["supplies"].entries] == ["card", "twine, twine, use 10 in"]
    assert sections["supplies"].inset == "- "
    assert sections["tools"].inset == "  - "
    assert sections["pieces"].closed


def test_entries_that_were_not_pushed_in() -> None:
    section = places_of("title: x\nsupplies:\ncard: cardstock\ntwine: twine\nmakes: 1 box\n").sections["supplies"]
    assert [entry.name for entry in section.entries] == ["card", "twine"]
    assert section.inset == ""


STEPS = """---
title: x
---
Words.

## Cut
do: cut tag
time: 1 min

Cut it.

## Fold

```step
```

## Wait

Wait.

## Tips

None.
"""


def test_where_the_facts_of_a_step_stand() -> None:
    steps = steps_of(STEPS)
    blocks = [STEPS[slice(*step.block)] if step.block else None for step in steps]
    assert blocks == ["do: cut tag\ntime: 1 min\n", "", None]
    assert steps[1].block is not None
    assert STEPS[steps[1].block[0] :].startswith("```\n")
    assert [step.number for step in steps] == [1, 2, 3]


def test_which_step_an_offset_stands_in() -> None:
    assert step_at(STEPS, STEPS.index("Words")) is None
    for words, number in (("## Cut", 1), ("Cut it", 1), ("```step", 2), ("Wait.", 3)):
        step = step_at(STEPS, STEPS.index(words))
        assert step is not None
        assert step.number == number
    assert step_at(STEPS, len(STEPS)) is None
    cut = STEPS[: STEPS.index("## Tips")]
    last = step_at(cut, len(cut))
    assert last is not None
    assert last.number == 3


LINES = st.sampled_from(
    [*TEXTS["birdhouse"].split("\n"), "supplies:", "  - ", "pieces: {", "```step", "~~~", "## ", "#", "\t", "---"]
)


@given(st.lists(LINES, max_size=30).map("\n".join) | st.text(max_size=80), st.sampled_from(["\n", "\r\n", "\r"]))
def test_nothing_is_too_broken(text: str, end: str) -> None:
    text = text.replace("\n", end)
    places = places_of(text)
    spans = [*places.steps, *places.chapters]
    assert all(0 <= one.start <= one.end <= len(text) for one in spans)
    for section in places.sections.values():
        wholes = [section.whole, *(entry.whole for entry in section.entries)]
        assert all(0 <= start <= end <= len(text) for start, end in wholes)
