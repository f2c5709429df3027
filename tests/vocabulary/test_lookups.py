"""Finding acts, tools, supplies, levels and allergens in the words people use for them."""

from __future__ import annotations

import pytest

from foldwright.vocabulary import (
    ACTS,
    ALLERGENS,
    HAZARDS,
    LEVELS,
    SUPPLY_KINDS,
    TOOLS,
    Phase,
    Signal,
    act_of,
    allergens_in,
    kind_of,
    leading_act,
    length_acts,
    level_of,
    tool_of,
    tools_in,
)


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("cut", "cut"),
        ("Cutting", "cut"),
        ("scores", "score"),
        ("die-cutting", "die cut"),
        ("Die cut", "die cut"),
        ("coloring", "colour"),
        ("taped", "tape"),
        ("threads", "thread"),
        ("slits", "slit"),
        ("burnishing", "burnish"),
    ],
)
def test_every_form_of_an_act_is_known(word, name):
    act = act_of(word)
    assert act is not None
    assert act.name == name


@pytest.mark.parametrize("word", ["cute", "scoreboard", "", "cut base", "folder"])
def test_what_only_looks_like_an_act_is_none(word):
    assert act_of(word) is None


def test_the_longest_act_leads():
    assert leading_act("die-cut the base") == (act_of("die cut"), 2)
    assert leading_act("cut out the doors") == (act_of("cut"), 2)
    assert leading_act("base") is None


def test_no_form_belongs_to_two_acts():
    for act in ACTS:
        for form in (act.name, *act.forms):
            assert act_of(form) is act, form


def test_work_goes_from_cutting_over_scoring_and_folding_to_gluing():
    """The order of hand work on one piece: common practice, no source."""
    phases = [act.phase for name in ("mark", "cut", "score", "slit", "fold", "glue", "tie") if (act := act_of(name))]
    assert phases == sorted(phases)
    assert len(set(phases)) == 7
    assert Phase.CUT < Phase.SCORE < Phase.FOLD < Phase.JOIN


def test_the_acts_of_the_length_rule_take_a_length():
    assert {"cut", "score", "fold", "trim", "cutting", "scored", "folds"} <= length_acts()
    assert length_acts().isdisjoint({"glue", "tie", "punch", "stamp", "wrap"})


@pytest.mark.parametrize(
    ("name", "tool"),
    [
        ("paper trimmer with scoring blade", "paper trimmer"),
        ("small sharp scissors", "scissors"),
        ("wire cutters", "wire cutters"),
        ("1 in circle punch", "hole punch"),
        ("birdhouse die", "die"),
        ("rubber stamp", "stamp"),
        ("embossing folder", "embossing folder"),
        ("Bone folders", "bone folder"),
        ("low-melt glue gun", "hot glue gun"),
        ("ruler with a metal edge", "ruler"),
        ("craft knives", "craft knife"),
    ],
)
def test_a_tool_is_known_by_its_longest_name_before_what_it_comes_with(name, tool):
    found = tool_of(name)
    assert found is not None
    assert found.name == tool


def test_a_line_may_name_several_tools():
    assert [tool.name for tool in tools_in("pencil and ruler")] == ["pencil", "ruler"]
    assert [tool.name for tool in tools_in("paper trimmer with scoring blade")] == ["paper trimmer", "scoring blade"]
    assert tool_of("unicorn") is None


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("cardstock", "cardstock"),
        ("charcoal card", "cardstock"),
        ("patterned cards", "patterned card"),
        ("Double-Sided Tape", "double-sided tape"),
        ("foam squares", "foam adhesive"),
        ("wrapped sweets", "wrapped sweet"),
        ("glue stick", "glue stick"),
        ("satin ribbon", "ribbon"),
        ("baker’s twine", "twine"),
        ("A2 envelope", "envelope"),
    ],
)
def test_a_supply_is_known_by_the_longest_name_in_it(name, kind):
    found = kind_of(name)
    assert found is not None
    assert found.name == kind


def test_what_kinds_of_supply_are():
    kinds = {kind.name: kind for kind in SUPPLY_KINDS}
    assert all(kinds[name].sheet for name in ("cardstock", "patterned card", "paper", "vellum"))
    assert all(kinds[name].adhesive for name in ("adhesive", "foam adhesive", "double-sided tape", "wet glue"))
    assert kinds["wrapped sweet"].food
    assert not kinds["twine"].sheet
    assert kinds["brad"].small
    assert kind_of("moonbeam") is None


@pytest.mark.parametrize(("word", "rank"), [("easy", 2), ("Beginner", 1), ("intermediate", 3), ("for experts", 4)])
def test_levels_are_ranked(word, rank):
    level = level_of(word)
    assert level is not None
    assert level.rank == rank


def test_a_new_level_is_none():
    assert level_of("wobbly") is None
    assert [level.rank for level in LEVELS] == [1, 2, 3, 4]


def test_allergens_are_the_fourteen_of_the_european_annex_in_its_order():
    """Regulation (EU) No 1169/2011, Annex II, as read in three stored copies of the list."""
    assert [allergen.name for allergen in ALLERGENS] == [
        "gluten",
        "crustaceans",
        "eggs",
        "fish",
        "peanuts",
        "soybeans",
        "milk",
        "nuts",
        "celery",
        "mustard",
        "sesame",
        "sulphites",
        "lupin",
        "molluscs",
    ]
    assert [allergen.number for allergen in ALLERGENS] == list(range(1, 15))


def test_nine_of_them_are_the_major_allergens_of_the_united_states():
    """FASTER Act of 2021: milk, eggs, fish, crustacean shellfish, tree nuts, peanuts, wheat, soybeans, sesame."""
    nine = ["milk", "eggs", "fish", "crustacean shellfish", "tree nuts", "peanuts", "wheat", "soybeans", "sesame"]
    found = [allergens_in(name) for name in nine]
    assert [len(one) for one in found] == [1] * 9
    ours = "gluten crustaceans eggs fish peanuts soybeans milk nuts sesame"
    assert {one[0].name for one in found} == set(ours.split())
    assert len({one[0] for one in found}) == 9


def test_several_allergens_are_found_in_a_line():
    names = [allergen.name for allergen in allergens_in("milk, soya lecithin and hazelnuts; may contain peanuts")]
    assert names == ["milk", "soybeans", "nuts", "peanuts"]


def test_every_name_used_in_the_tables_is_in_the_tables():
    tools = {tool.name for tool in TOOLS}
    assert {name for act in ACTS for name in act.tools} <= tools
    used = {code for thing in (*ACTS, *TOOLS, *SUPPLY_KINDS) for code in thing.hazards}
    assert used <= set(HAZARDS)
    # Small parts and allergens follow from what a supply is and contains.
    assert set(HAZARDS) - used == {"small-parts", "allergen", "contents-unsaid"}


def test_what_children_could_swallow_or_be_strangled_by_is_a_warning():
    assert HAZARDS["small-parts"].signal is HAZARDS["cord"].signal is HAZARDS["magnet"].signal is Signal.WARNING
    assert HAZARDS["blade"].signal is HAZARDS["hot-glue"].signal is Signal.CAUTION
