"""What may be typed at the caret: what the rooms below know, and nothing that is there already."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.authoring.completing import completions
from foldwright.authoring.whereabouts import whereabouts
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.supplies import SUPPLY_WORDS
from foldwright.recipe.pieces.piece import FORMS, PIECE_WORDS
from foldwright.recipe.prose.body import STEP_WORDS
from foldwright.recipe.reading import RECIPE_WORDS, read_recipe
from foldwright.vocabulary import ACTS, ALLERGENS, LEVELS, SUPPLY_KINDS
from workbench.compiled import RECIPES

TEXT = (RECIPES / "birdhouse" / "recipe.md").read_text(encoding="utf-8")
UNDERSTOOD = check_recipe(TEXT, "r", "s").understood
FRONT = "---\ntitle: x\nsupplies:\n  red card: cardstock\n  twine: twine\npieces:\n  base:\n    size: 5 x 4 in\n"


def offered(before: str, after: str = "\n") -> list[str]:
    """What is offered with the caret between two texts, as the words that would be typed."""
    return [option.text for option in completions(before + after, len(before)).options]


def typed(before: str) -> str:
    return before[completions(before, len(before)).start :]


@pytest.mark.parametrize(
    ("before", "room", "fact", "entry"),
    [
        ("ti", "top", "", ""),
        ("---\ntitle: x\nlevel: b", "top", "level", ""),
        ("---\nsupplies:\n  ca", "supplies", "", ""),
        ("---\nsupplies:\n  red card: ca", "supply", "kind", "red card"),
        ("---\nsupplies:\n  red card: cardstock, sheet A", "supply", "sheet", "red card"),
        ("---\nsupplies:\n  red card:\n    we", "supply", "", "red card"),
        ("---\ntools:\n  - kn", "tools", "", ""),
        (FRONT + "    fo", "piece", "", "base"),
        (FRONT + "    fold: tr", "piece", "fold", "base"),
        (FRONT + "    lines:\n      - cu", "piece", "lines", "base"),
        (FRONT + "  ", "pieces", "", ""),
        ("---\npieces:\n  - base:\n      fo", "piece", "", "base"),
        ("---\nsizes:\n  lar", "sizes", "", ""),
        ("---\nsizes:\n  large:\n    ba", "size", "", ""),
        ("---\nsizes:\n  large:\n    base:\n      ac", "piece", "", "base"),
        (FRONT + "---\nWords", "words", "", ""),
        (FRONT + "---\n## Cut\ndo: cu", "step", "do", ""),
        (FRONT + "---\n## Cut\n\n```step\ndo: cut\nti", "step", "", ""),
        (FRONT + "---\n## Cut\ndo: cut base\n\nti", "words", "", ""),
        (FRONT + "---\n## Tips\nti", "words", "", ""),
    ],
)
@pytest.mark.parametrize("end", ["", "\n---\n\n## More\n\nWords.\n"])
def test_where_the_caret_is(before: str, room: str, fact: str, entry: str, end: str) -> None:
    for text in (before, before.replace("\n", "\r\n")):
        here = whereabouts(text + end, len(text))
        assert (here.room, here.fact, here.entry) == (room, fact, entry)


def test_facts_that_are_not_there_yet() -> None:
    top = offered("---\ntitle: x\n")
    assert set(top) == {f"{word}: " for word in RECIPE_WORDS.words} - {"title: "}
    assert set(offered(FRONT + "    ")) == {f"{word}: " for word in PIECE_WORDS.words} - {"size: "}
    assert {"weight ", "sheet "} <= set(offered("---\nsupplies:\n  card: cardstock, "))
    assert "kind " not in offered("---\nsupplies:\n  card: cardstock, ")
    step = offered(FRONT + "---\n## Cut\n\n```step\ndo: cut base\n", "\n```\n")
    assert set(step) == {f"{word}: " for word in STEP_WORDS.words} - {"do: "}
    assert offered("---\nsupplies:\n  card:\n    w") == ["weight: ", "width: ", "this way up: "]
    assert set(offered("---\nsupplies:\n  card:\n    ")) == {f"{word}: " for word in SUPPLY_WORDS.words}


def test_each_fact_comes_with_a_line_of_the_manual() -> None:
    found = completions("---\ntitle: x\nlev", len("---\ntitle: x\nlev")).options
    assert [(option.label, option.kind) for option in found] == [("level", "fact")]
    assert found[0].line.startswith("`beginner`")


def test_lists_of_the_rooms_below() -> None:
    kinds = offered("---\nsupplies:\n  card: ")
    assert kinds[:60] == [kind.name for kind in SUPPLY_KINDS][:60]
    assert offered("---\nlevel: ") == [level.name for level in LEVELS]
    assert offered(FRONT + "    fold: ") == list(FORMS)
    assert offered(FRONT + "    fold: tuck box, sna") == ["snap-lock bottom"]
    assert set(offered("---\nsupplies:\n  x: sweet, contains ")) >= {one.name for one in ALLERGENS}
    assert offered(FRONT + "    size: 5 x 4 c") == ["cm"]
    assert offered(FRONT + "---\n## Cut\ndo: ")[:3] == [act.name for act in ACTS][:3]
    assert offered(FRONT + "    optional: ") == ["yes"]


def test_names_of_the_recipe() -> None:
    assert offered(FRONT + "    from: ") == ["red card", "twine"]
    assert offered(FRONT + "  lid:\n    goes on: outside of b") == ["base"]
    assert typed(FRONT + "  lid:\n    goes on: outside of b") == "b"
    assert offered(FRONT + "---\n## Cut\ndo: cut ba")[0] == "base"
    assert offered(FRONT + "---\nPut the ba") == ["base"]
    assert offered(FRONT + "---\nPut the b") == []
    assert offered(FRONT + "---\n## Cut\n\nCut.\n\n## Glue\nwait: 2 min, meanwhile ") == ["Cut"]


def test_panels_of_the_piece_that_is_meant() -> None:
    before = TEXT[: TEXT.index("  wrapper:\n")] + "  wrapper:\n    goes on: outside of base "
    options = completions(before, len(before), UNDERSTOOD).options
    assert {option.text for option in options} >= {"front", "back", "floor", "left end", "right end"}
    assert {option.kind for option in options} == {"panel"}


@pytest.mark.parametrize("fact", ["level", "measured in", "keep", "hand", "spelling", "papers", "theme"])
def test_what_is_offered_is_understood(fact: str) -> None:
    for value in offered(f"---\ntitle: x\n{fact}: "):
        findings = read_recipe(f"---\ntitle: x\n{fact}: {value}\n---\n\n## Cut\n\nCut it.\n", "r", "s").findings
        assert findings == (), value


PIECES = st.sampled_from(
    ["---\n", "supplies:\n", "  card: cardstock, ", "sheet A", "pieces:\n", "  base:\n", "    goes on: ", "outside of "]
    + [
        "base ",
        "fold: tray, ",
        "## Cut\n",
        "```step\n",
        "do: cut ",
        "wait: 2 min, meanwhile ",
        "\t",
        "- ",
        "{",
        '"',
        ",",
    ]
    + ["sizes:\n", "  large:\n", "holes: round 1 in, centred on ", "\r\n", "(", "size: 5 x 4 ", "flaps: joined to "]
)


@given(st.lists(PIECES, max_size=14).map("".join) | st.text(max_size=60), st.integers(-2, 200))
def test_no_text_and_no_offset_is_too_odd(text: str, offset: int) -> None:
    found = completions(text, offset, UNDERSTOOD)
    assert 0 <= found.start <= min(max(offset, 0), len(text))


@given(st.integers(0, len(TEXT)))
def test_a_whole_recipe_at_any_offset(offset: int) -> None:
    found = completions(TEXT, offset, UNDERSTOOD)
    before = TEXT[found.start : offset].casefold()
    assert all(before in option.label.casefold() for option in found.options)
