"""Amounts that cannot be added up are told with both places, in a recipe, between recipes and against the shelf."""

from __future__ import annotations

import pytest

from foldwright.event.facts.stock import read_stock
from foldwright.event.plan.apart import APART, Planned, recipes_apart, shelf_apart
from foldwright.finding import Finding, LineTable, Place, Strength
from foldwright.recipe.apart import amounts_apart
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe

FACTS = """---
title: Tag
makes: 1 tag
supplies:
  blue card: cardstock, sheet A4, {card}
  {supply}
pieces:
  tag:
    from: blue card
    size: 50 x 100 mm
---

## Cut it

do: cut tag
"""


def text_of(supply: str, card: str = "pack 10 sheets") -> str:
    return FACTS.format(supply=supply, card=card)


def recipe_of(text: str) -> Recipe:
    recipe = read_recipe(text, "recipe.md", "tag").recipe
    assert recipe is not None
    return recipe


def planned(supply: str) -> Planned:
    text = text_of(supply)
    return Planned(recipe_of(text), LineTable(text))


@pytest.mark.parametrize(
    ("supply", "code", "use", "pack"),
    [
        ("twine: twine, use 4 pieces, pack 20 yd", "counted-apart", "4 pieces", "20 yd"),
        ("twine: twine, use 4, pack 20 yd at 5.25", "counted-apart", "4", "20 yd"),
        ("glue: glue, use 2 oz, pack 1 cup", "ounces-apart", "2 oz", "1 cup"),
        ("glue: glue, use 5 cl, pack 4 oz", "ounces-apart", "5 cl", "4 oz"),
        ("glue: glue, use 5 g, pack 100 ml", "measured-apart", "5 g", "100 ml"),
        ("felt: felt, use 20 sq in, pack 2 yd", "measured-apart", "20 sq in", "2 yd"),
        ("felt: felt, use 20 sq in, pack 5 squares", "counted-apart", "20 sq in", "5 squares"),
    ],
)
def test_a_use_and_a_pack_that_do_not_go_together(supply: str, code: str, use: str, pack: str) -> None:
    text = text_of(supply)
    (finding,) = amounts_apart(recipe_of(text))
    facts = dict(finding.facts)
    assert (finding.code, finding.strength) == (code, Strength.MISFIT)
    assert (facts["use"], facts["pack"]) == (use, pack)
    place, there = finding.place, facts["there"]
    assert place and isinstance(there, Place)
    assert text[place.start : place.end] == use
    assert text[there.start : there.end].startswith(pack)
    assert code in APART


@pytest.mark.parametrize(
    "supply",
    [
        "glue: glue, use 5 cl, pack 100 ml", "glue: glue, use 2 fl oz, pack 1 cup", "glue: glue, use 2 oz, pack 500 g",
        "felt: felt, use 20 sq in, pack 1 sq m", "twine: twine, use 36 in, pack 20 m or 5 yd",
        "bead: bead, use 4, pack 20 beads",
        "glue: glue, use a little, pack 100 ml", "glue: glue, use 5 cl", "glue: glue, pack 100 ml or 4 oz",
    ],
)  # fmt: skip
def test_what_goes_together_is_well(supply: str) -> None:
    assert not list(amounts_apart(recipe_of(text_of(supply))))


def test_what_is_cut_from_sheets_is_bought_by_the_sheet() -> None:
    (finding,) = amounts_apart(recipe_of(text_of("glue: glue, use a little", card="pack 5 m")))
    assert finding.code == "sheets-apart"
    assert dict(finding.facts)["pack"] == "5 m"


def elsewhere(findings: list[Finding]) -> list[dict[str, object]]:
    assert {one.code for one in findings} <= {"elsewhere-apart"}
    return [dict(one.facts) for one in findings]


def test_two_recipes_that_say_it_differently() -> None:
    one = planned("glue: glue, use 5 cl, pack 100 ml")
    other = planned("Glue: glue, use 2 oz")
    ((number, finding),) = recipes_apart([one, other])
    assert number == 1
    assert elsewhere([finding]) == [{"name": "Glue", "here": "2 oz", "there": "5 cl", "title": "Tag", "line": 6}]
    assert not recipes_apart([one, planned("glue: glue, use 2 fl oz, pack 1 cup")])


@pytest.mark.parametrize(
    ("supply", "shelf", "here"),
    [
        ("twine: twine, use 36 in, pack 20 yd", "twine: 4 pieces", "4 pieces"),
        ("twine: twine, use 4, pack 20 pieces", "twine: 2 of 20 yd", "20 yd"),
        ("glue: glue, use 30 ml", "glue: 8 oz", "8 oz"),
        ("paint: paint, use 5 ml, colour red or blue", "paint red: 100 g", "100 g"),
    ],
)
def test_what_is_on_the_shelf_is_told_as_the_recipe_tells_it(supply: str, shelf: str, here: str) -> None:
    lines, findings = read_stock(shelf + "\n", "stock.yaml")
    assert not findings
    recipe = planned(supply)
    (facts,) = elsewhere(shelf_apart([(lines.lines[0], 0, recipe.recipe.supplies[1])], [recipe]))
    assert (facts["here"], facts["line"]) == (here, 6)


def test_a_shelf_that_goes_with_its_recipe_is_well() -> None:
    lines, _ = read_stock("glue: 8 fl oz\ntwine: 2 of 20 yd, 4 yd\n", "stock.yaml")
    recipes = [planned("glue: glue, use 30 ml"), planned("twine: twine, use 1 m")]
    met = [(line, number, recipes[number].recipe.supplies[1]) for number, line in enumerate(lines.lines)]
    assert not shelf_apart(met, recipes)


def test_other_names_for_one_supply_are_told_apart_too() -> None:
    recipes = [planned("glue: glue, use 5 cl"), planned("paste: glue, use 2 oz")]
    assert not recipes_apart(recipes)
    ((_, finding),) = recipes_apart(recipes, lambda name: name.replace("paste", "glue"))
    assert elsewhere([finding])[0]["there"] == "5 cl"
