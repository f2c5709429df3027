"""Every line of the shelf meets a supply in its colour, or a tool; what meets nothing is told where it stands."""

from __future__ import annotations

import pytest

from event.plan.events import making_of, recipe_text
from foldwright.event.facts.stock import read_stock
from foldwright.event.plan.model import Wishes
from foldwright.event.plan.planning import plan_event
from foldwright.event.plan.shelf import ShelfMatches, met_by, sheets_unfit
from foldwright.event.plan.supplies import same_names, supplies_of
from foldwright.event.plan.tools import tables_of, tools_needed, with_owned
from foldwright.measure.length import System

WRAP = "  p:\n    from: wrap card\n    size: 100 x 140 mm\n"
ALPHA = making_of(
    recipe_text(
        """wrap card: cardstock, sheet A4, colour rose or teal, pack 10 sheets at 2.00
ribbon: ribbon, colour gold, use 1 m
cord: twine, use 1 m, pack 5 m or 20 m
caramel: wrapped sweet, use 2, pack 40 at 4.00, contains milk, instead fudge
tape: tape, width 6 mm, a little
""",
        tools="paper trimmer\nsmall sharp scissors",
        title="Alpha",
        pieces=WRAP,
    ),
    10,
    "alpha",
)
BETA = making_of(
    recipe_text(
        """pink card: cardstock, sheet A4
felt: felt, use 2 sheets
bell: bells, use 1
tape: tape, width 12 mm, a little
""",
        title="Beta",
        pieces=WRAP.replace("wrap", "pink"),
    ),
    8,
    "beta",
)


def met(text: str) -> ShelfMatches:
    shelf, findings = read_stock(text + "\n", "stock.yaml")
    assert not findings
    same = same_names(shelf.lines)
    tools = [tool.name.value for tool in ALPHA.understood.recipe.tools]
    return met_by(shelf, supplies_of([ALPHA, BETA], same), tools, same)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("wrap card, rose: 4 sheets", "wrap card rose"), ("Wrap card rose: 4", "wrap card rose"),
        ("rose wrap card: 4 sheets", "wrap card rose"), ("ribbon: 3 m", "ribbon gold"),
        ("gold ribbon: 3 m", "ribbon gold"), ("ribbon, gold: 3 m", "ribbon gold"),
        ("caramels: 1 pack", "caramel"), ("felt: 6 sheets", "felt"),
        ("tape (Beta): 4 m", "tape (beta)"), ("Tape, Beta: plenty", "tape (beta)"),
        ("blush: 3 sheets, same as wrap card, teal", "wrap card teal"),
    ],
)  # fmt: skip
def test_a_line_meets_a_supply_as_the_list_spells_it_and_in_other_words(text: str, name: str) -> None:
    found = met(text)
    assert ([one.spelled for _, one in found.supplies], found.findings) == ([name], ())
    assert name in found.lines


def test_a_tool_may_go_by_another_name() -> None:
    found = met("our blade: 3, same as paper trimmer")
    assert found.findings == ()
    (trimmer, scissors) = with_owned(tools_needed([ALPHA], tables_of([10], 8), helpers=4), found.lines)
    assert (trimmer.count, trimmer.have, scissors.have) == (1, 1, 0)


@pytest.mark.parametrize("text", ["trimmer: 6", "scissors: 20", "paper cutter: plenty", "fudge: 12"])
def test_tools_and_stand_ins_are_no_supplies_and_are_not_asked_about(text: str) -> None:
    found = met(text)
    assert (found.supplies, found.findings) == ((), ())
    assert text.partition(":")[0] in found.lines


@pytest.mark.parametrize(
    ("text", "code", "facts"),
    [
        ("glitter: 3", "stock-unmet", {"said": "glitter"}),
        ("wrap card, green: 4 sheets", "stock-colour-unmet", {"name": "wrap card", "colours": ("rose", "teal")}),
        ("green wrap card: 4 sheets", "stock-colour-unmet", {"said": "green wrap card"}),
        ("wrap card: 4 sheets", "stock-which", {"names": ("wrap card, rose", "wrap card, teal")}),
        ("tape: 4 m", "stock-which", {"names": ("tape (Alpha)", "tape (Beta)")}),
        ("bell: 2 packs", "stock-pack-unknown", {"name": "bell"}),
        ("caramel: scraps 3 of 5 x 5 cm", "stock-only-sheets", {"name": "caramel"}),
        ("pink card: 500 g", "stock-not-sheets", {"name": "pink card"}),
        ("pink card: 4 m", "stock-not-sheets", {"name": "pink card"}),
        ("cord: 2 packs", "stock-which-pack", {"packs": ("5 m", "20 m"), "first": "5 m"}),
        ("paper: 4", "stock-unmet", {"said": "paper"}),
        ("scissors: 2 packs", "stock-tool-uncounted", {"said": "scissors"}),
        ("carmel: 12", "stock-name-near", {"nearest": "caramel"}),
        ("old card: same as pink card", "stock-unmet", {"said": "old card"}),
    ],
)
def test_what_meets_nothing_is_told_at_its_line(text: str, code: str, facts: dict[str, object]) -> None:
    (finding,) = met("felt: 2 sheets\n" + text).findings
    assert (finding.code, {**dict(finding.facts), **facts}) == (code, dict(finding.facts))
    assert finding.place and finding.place.start >= len("felt: 2 sheets\n")


def test_what_one_of_several_is_called_in_its_own_recipe_is_that_one() -> None:
    """The pink card of one recipe is the rose wrap card of the other, but for its pack, so that they stay two."""
    found = met("pink card: 3 sheets, same as wrap card, rose")
    assert [one.spelled for _, one in found.supplies] == ["wrap card rose"]
    apart = making_of(
        recipe_text("pink card: cardstock, sheet A4, pack 5 sheets", title="Beta", pieces=WRAP.replace("wrap", "pink")),
        8,
        "beta",
    )
    shelf, _ = read_stock("pink card: 3 sheets, same as wrap card, rose\n", "s")
    same = same_names(shelf.lines)
    others = met_by(shelf, supplies_of([ALPHA, apart], same), [], same)
    assert [one.spelled for _, one in others.supplies] == ["wrap card (beta) rose"]


def test_two_lines_of_one_thing_are_not_both_counted() -> None:
    found = met("pink card: 4 sheets\ncard pink: 2 sheets")
    assert [one.code for one in found.findings] == ["stock-met-twice"]
    assert [said.value.count for said in found.lines["pink card"].sheets] == [4]


def test_a_whole_studio_s_shelf_is_not_told_line_by_line() -> None:
    found = met("\n".join(f"thing {letter * 3}: 3" for letter in "abcdefgh"))
    assert [one.code for one in found.findings] == ["stock-unmet"] * 4 + ["stock-unmet-more"]
    assert dict(found.findings[-1].facts)["names"] == tuple(f"thing {letter * 3}" for letter in "efgh")


def test_sheets_out_of_which_no_piece_comes_are_told() -> None:
    text = "pink card: 2 sheets, scraps 3 of 90 x 200 mm or 100 x 140 mm\n"
    event = plan_event([BETA], Wishes(System.METRIC), met(text).lines, {})
    (finding,) = sheets_unfit(event.sheets)
    place = finding.place
    assert place and text[place.start : place.end].endswith("3 of 90 x 200 mm")
