"""What two recipes say differently of one supply is told at its line, with the line of the other."""

from __future__ import annotations

import pytest

from event.plan.events import making_of, recipe_text
from foldwright.document.findings import tell
from foldwright.event.plan.apart import Planned, supplies_apart
from foldwright.event.plan.supplies import key_of, supplies_of
from foldwright.finding import LineTable, Strength


def told(one: str, other: str, third: str = "", hush: str = "") -> list[tuple[str, int, Strength, str]]:
    """Code, recipe, strength and sentence; the supply of interest stands in line 7, under the card."""
    texts = [
        recipe_text(supply, title=title).replace("supplies:", f"{hush and f'hush: {hush}'}\nsupplies:", 1)
        for supply, title in ((one, "Alpha"), (other, "Beta"), (third, "Gamma"))
        if supply
    ]
    makings = [making_of(text, 10, f"r{number}") for number, text in enumerate(texts)]
    planned = [Planned(making.understood.recipe, LineTable(text)) for making, text in zip(makings, texts, strict=True)]
    found = supplies_apart(makings, planned, {key_of("gem"): "bead"})
    for number, finding in found:
        place = finding.place
        assert place and place.start >= texts[number].index("supplies:")
    return [
        (finding.code, number, finding.strength, tell(finding, {"recipe.md": texts[number]}).says)
        for number, finding in found
    ]


@pytest.mark.parametrize(
    ("one", "other", "code", "says"),
    [
        (
            "bead: beads, use 3, pack 10 at 5.00",
            "bead: beads, use 3, pack 10 at 4.00",
            "supply-apart",
            "bead: pack is 10 at 4.00 here, but 10 at 5.00 in line 8 of “Alpha”.",
        ),
        (
            "bead: beads, use 3, size 4 mm",
            "gem: beads, use 3, size 5 mm",
            "supply-apart",
            "gem: size is 5 mm here, but 4 mm in line 8 of “Alpha”.",
        ),
        (
            "bead: use 3, colour rose",
            "bead: use 3, colour teal",
            "supply-colours-apart",
            "bead: the colour is teal here, but rose in line 8 of “Alpha”.",
        ),
        (
            "bead: use 3, colour rose",
            "bead: use 3",
            "supply-colours-unsaid",
            "bead: this does not say a colour, but line 8 of “Alpha” says rose.",
        ),
        (
            "fudge: use 3, contains milk",
            "fudge: use 3",
            "supply-contains-unsaid",
            "fudge: this does not say what it contains, but line 8 of “Alpha” says milk.",
        ),
    ],
)
def test_a_difference_is_told_at_its_line_with_the_line_of_the_other(
    one: str, other: str, code: str, says: str
) -> None:
    assert told(one, other) == [(code, 1, Strength.THOUGHT, says)]


def test_what_one_says_is_free_of_is_more_than_a_thought_when_the_other_names_it() -> None:
    found = told("fudge: use 3, contains nothing to declare", "fudge: use 3, contains milk")
    assert [one[:3] for one in found] == [("supply-contains-apart", 0, Strength.MISFIT)]


def test_optional_in_one_is_told_there() -> None:
    assert [one[:2] for one in told("bead: use 3", "bead: use 3, optional")] == [("supply-optional-apart", 1)]
    assert [one[:2] for one in told("bead: use 3, optional", "bead: use 3")] == [("supply-optional-apart", 0)]


def test_who_says_nothing_where_others_differ_is_told_too() -> None:
    found = told("tape: use 1 m, width 6 mm", "tape: use 1 m, width 12 mm", "tape: use 1 m")
    assert [one[:2] for one in found] == [("supply-apart", 1), ("supply-apart-unsaid", 2)]


def test_pieces_and_an_amount_are_two_uses() -> None:
    cut = recipe_text("bead: use 1", title="Alpha")
    used = recipe_text(
        "card: cardstock, sheet A4, use 2 sheets",
        title="Beta",
        pieces="",
        steps="## Lay\n\ntime: 1 min\n\nLay the card.\n",
    )
    makings = [making_of(text, 10, slug) for text, slug in ((cut, "a"), (used, "b"))]
    planned = [
        Planned(making.understood.recipe, LineTable(text)) for making, text in zip(makings, (cut, used), strict=True)
    ]
    assert [(number, one.code) for number, one in supplies_apart(makings, planned, {})] == [(1, "supply-used-apart")]
    assert [one.supply.name.value for one in supplies_of(makings)] == ["card (Alpha)", "card (Beta)", "bead"]


def test_what_agrees_is_not_spoken_of_and_what_is_hushed_neither() -> None:
    assert told("bead: beads, use 3, pack 10 at 5.00", "bead: use 4, pack 10 beads") == []
    assert told("bead: use 3, pack 10 at 5", "bead: use 3, pack 10 at 4", hush="supply-apart") == []
    assert [one[0] for one in told("bead: use 3", "bead: use 3, optional", hush="supply-apart")] == [
        "supply-optional-apart"
    ]
