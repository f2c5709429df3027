"""Which hazards a recipe brings, from lists, acts and words, and what is asked for the sake of those who get it."""

from __future__ import annotations

import pytest

from foldwright.recipe.coherence import check_names
from foldwright.recipe.hazards import Brought, hazards_of
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe


def read(
    step: str = "do: cut base\n\nCut it.", supplies: str = "", tools: str = "", facts: str = "", more: str = ""
) -> Recipe:
    block, _, words = step.partition("\n\n")
    listed = "".join(f"  {one}\n" for one in supplies.split("; ") if one)
    kept = "".join(f"  - {one}\n" for one in tools.split("; ") if one)
    text = (
        f"---\ntitle: Box\n{facts}supplies:\n  card: cardstock, sheet A4\n{listed}"
        + (f"tools:\n{kept}" if kept else "")
        + "pieces:\n  base:\n    from: card\n    size: 100 x 60 mm\n---\n\n"
        + f"## Make it\n\n```step\n{block}\ntime: 1 min\n```\n\n{words}\n\n{more}"
    )
    recipe = read_recipe(text, "recipe.md", "box").recipe
    assert recipe is not None
    return recipe


def brought(*said: str, **more: str) -> Brought:
    return hazards_of(read(*said, **more))


def anywhere(*said: str, **more: str) -> set[str]:
    found = brought(*said, **more)
    return {*found.whole, *(code for codes in found.by_step.values() for code in codes)}


@pytest.mark.parametrize(
    ("step", "supplies", "tools"),
    [
        ("do: glue base\n\nGlue it.", "hot glue: hot glue, use a little", ""),
        ("do: glue base\n\nGlue it.", "", "hot glue gun"),
        ("do: stick base\n\nStick it.", "glue sticks: hot melt", ""),
        ("do: attach base\n\nAttach it.", "glue gun sticks: adhesive, use 2", ""),
        ("do: hot glue base\n\nDo it.", "", ""),
        ("do: fold base\n\nFold it, and hold it with the glue-gun.", "", ""),
        ("do: fold base\n\nFold it.", "", "glue gun"),
        ("do: tape base\n\nTape it.", "tape: double-sided tape, use 10 cm, instead hot glue", ""),
        ("do: tape base\n\nTape it.", "", "tape dispenser, instead a glue gun"),
    ],
)
def test_hot_glue_is_told_however_it_is_glued(step, supplies, tools):
    assert "hot-glue" in anywhere(step, supplies=supplies, tools=tools)


@pytest.mark.parametrize("section", ["Variations", "Tips", "Notes"])
def test_what_tips_and_variations_speak_of_is_told_before_everything(section):
    found = brought(more=f"## {section}\n\nA tea light in it looks pretty, and hides two magnets.\n")
    assert {"flame", "magnet"} <= set(found.whole)


def test_a_listed_tool_no_step_uses_is_told_before_everything():
    assert brought(tools="paper trimmer; soldering iron").whole == ("solder",)


def test_what_lies_in_the_finished_thing_is_told_before_everything_the_gravest_first():
    found = brought(supplies="mint: wrapped sweet, use 2, contains: milk; tea light: tea light; bow: ribbon, use 1 m")
    assert found.whole == ("allergen", "flame", "small-parts", "cord", "wrapped-food")
    assert found.by_step == {1: ()}


@pytest.mark.parametrize(
    ("supplies", "told"),
    [
        ("toffee: use 2", "contents-unsaid"),
        ("goody: wrapped sweet, use 2", "contents-unsaid"),
        ("shortbread: use 1", "contents-unsaid"),
        ("toffee: wrapped sweet, use 2, contains: milk", "allergen"),
    ],
)
def test_food_is_told_with_what_it_contains_or_that_nobody_said(supplies, told):
    assert {"contents-unsaid", "allergen"} & set(brought(supplies=supplies).whole) == {told}


@pytest.mark.parametrize("said", ["nothing to declare", "Nothing to declare", "no allergens", "nothing"])
def test_nothing_to_declare_is_an_answer(said):
    recipe = read(supplies=f"toffee: wrapped sweet, use 2, contains: {said}")
    assert not {"contents-unsaid", "allergen"} & set(hazards_of(recipe).whole)
    assert "contains-unsaid" not in [finding.code for finding in check_names(recipe)]


def test_hot_glue_is_told_where_it_is_run_and_not_where_something_is_taped():
    """A step that says tape is done with tape, though the gun is on the list; one that says nothing, with either."""
    later = "## Set it in\n\n```step\ndo: glue base\ntime: 1 min\n```\n\nRun a thin line of hot glue round it."
    lists = {"supplies": "strong tape: double-sided tape; glue sticks: hot glue", "tools": "hot glue gun"}
    taped = brought("do: glue base\n\nPut tape round the window. Press the pane on it.", **lists, more=later)
    assert taped.by_step == {1: (), 2: ("hot-glue",)}
    unsaid = brought("do: glue base\n\nPress the pane on it.", **lists, more=later)
    assert unsaid.by_step == {1: ("hot-glue",), 2: ("hot-glue",)}


def test_of_two_that_say_the_same_the_fuller_is_told():
    """A glue gun's heat is told with the gun; an iron's by itself."""
    assert brought("do: glue base\n\nHeat up the glue gun.").by_step == {1: ("hot-glue",)}
    assert brought("do: heat base\n\nPress with an iron.", tools="iron").by_step == {1: ("heat",)}


# --- which tool is meant ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("step", "tools", "codes"),
    [
        ("do: snip base\n\nSnip the corners off.", "paper trimmer; small scissors", ("scissors",)),
        ("do: snip base\n\nSnip the corners off.", "paper trimmer", ("trimmer-blade",)),
        ("do: snip base\n\nSnip the corners off with the trimmer.", "paper trimmer; scissors", ("trimmer-blade",)),
        ("do: cut base\n\nCut it out. Snip the corners off.", "paper trimmer", ("trimmer-blade",)),
        ("do: cut base\n\nCut it. Snip the corners off.", "paper trimmer; scissors", ("trimmer-blade", "scissors")),
        ("do: slit base\n\nSlit it, then trim the flaps.", "paper trimmer; scissors", ("scissors",)),
        ("do: fold base\n\nFold the cut edge in.", "paper trimmer", ()),
        ("do: fold base\n\nFold it, then cut off what stands out.", "paper trimmer", ("trimmer-blade",)),
        ("do: cut base\n\nCut it on the cutting machine.", "cutting machine", ("cutting-machine",)),
    ],
)
def test_a_tool_is_told_where_it_is_used(step, tools, codes):
    assert brought(step, tools=tools).by_step[1] == codes


def test_an_authors_own_warning_brings_no_hazard():
    assert anywhere("do: fold base\ncaution: Keep candles away from it.\n\nFold it.") == set()


# --- what is asked ----------------------------------------------------------------------------------------------------


def asked(**more: str) -> list[tuple[str, str]]:
    recipe = read(tools="paper trimmer", **more)
    codes = ("contains-unsaid", "under-three", "under-three-in-words")
    return [(found.code, str(found.facts)) for found in check_names(recipe) if found.code in codes]


def test_food_of_which_nothing_is_said_is_asked_about():
    ((code, facts),) = asked(supplies="toffee: use 2")
    assert code == "contains-unsaid"
    assert "toffee" in facts


@pytest.mark.parametrize(
    "supplies", ["bow: ribbon, use 1 m", "pearl: bead, use 3", "light: battery light, use 1", "holder: magnet, use 1"]
)
@pytest.mark.parametrize(("audience", "is_asked"), [("children under three", True), ("grown-ups", False)])
def test_small_parts_and_cords_for_small_children_are_asked_about(supplies, audience, is_asked):
    found = asked(facts=f"for: {audience}\n", supplies=supplies)
    assert [code for code, _ in found] == ["under-three"] * is_asked
    assert all(supplies.split(":")[0] in facts for _, facts in found)


def test_so_is_what_only_the_words_speak_of():
    found = asked(facts="for: toddlers\n", step="do: fold base\n\nFold it and sew two buttons on.")
    assert [code for code, _ in found] == ["under-three-in-words"]
