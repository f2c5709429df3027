"""The insert list: whatever is put in, wherever the caret stands, the text is still understood."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.authoring.empty_page import empty_page
from foldwright.authoring.inserting import GROUPS, insert, insert_list
from foldwright.authoring.pieces_to_put import form_of
from foldwright.authoring.placing import Insertion
from foldwright.document.catalogue import catalogue
from foldwright.finding import Strength
from foldwright.finding.changes import changed
from foldwright.measure.length import System
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.source import decode
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.reading import read_recipe
from workbench.compiled import DEMOS, RECIPES
from workbench.long import every

CODES = [entry.code for entry in insert_list()]
STUDIO, _ = read_studio((RECIPES / "studio.yaml").read_text(encoding="utf-8"), "studio.yaml")
TEXTS = {name: (RECIPES / name / "recipe.md").read_text(encoding="utf-8") for name in DEMOS}
TEXTS |= {f"empty {system.value}": empty_page(catalogue(), STUDIO, system) for system in System}
TEXTS |= {"other line ends": TEXTS["keepsake-box"].replace("\n", "\r\n")}
TEXTS |= {"plain facts": TEXTS["twine-tag"].replace("```step\n", "").replace("\n```\n", "\n")}


def read(text: str) -> str:
    decoded, findings = decode(text.encode(), "r")
    assert decoded is not None
    assert not findings
    return decoded


@cache
def faults(text: str) -> Counter[str]:
    found = read_recipe(read(text), "r", "s", STUDIO).findings
    return Counter(one.code for one in found if one.strength is Strength.FAULT)


def weak(text: str) -> Counter[str]:
    """What is wrong with the pieces."""
    found = check_recipe(read(text), "r", "s", STUDIO).findings
    return Counter(one.code for one in found if one.strength > Strength.THOUGHT)


def after(text: str, insertion: Insertion) -> str:
    new = changed(text, insertion.changes)
    start, end = insertion.select
    assert 0 <= start <= end <= len(new)
    assert "\x02" not in new
    assert "\x03" not in new
    return new


@pytest.mark.parametrize("name", every([*TEXTS], 3))
def test_every_entry_at_every_line(name: str) -> None:
    """The recipe has no fault, and has none with anything put in while the caret is on any line."""
    text = TEXTS[name]
    assert not faults(text)
    starts = [0, *(at + 1 for at, letter in enumerate(text) if letter == "\n")]
    for code in CODES:
        for offset in every(starts, 5):
            insertion = insert(code, text, offset)
            if insertion is not None:
                assert not faults(after(text, insertion)), (code, offset)


@pytest.mark.parametrize("name", every([*TEXTS], 5))
def test_pieces_that_are_put_in_fit(name: str) -> None:
    """Nothing is wrong with a new piece, or with a hole or flap in one there is: not as folded, not on its sheet."""
    text = TEXTS[name]
    known = weak(text)
    of_pieces = {
        entry.code for entry in insert_list() if entry.group in ("pieces", "piece", "supplies", "tools", "top")
    }
    for code in CODES:
        insertion = insert(code, text, len(text))
        if insertion is not None and code in of_pieces:
            assert weak(after(text, insertion)) <= known, code


def test_what_finds_no_place_is_told_by_nothing() -> None:
    missing = {code for code in CODES if insert(code, TEXTS["empty metric"], 0) is None}
    assert missing == {"flaps", "corners", "piece-over"}
    braces = "---\ntitle: x\npieces: {base: {size: 5 x 4 in}}\n---\n\n## Cut\n\nCut.\n"
    assert insert("piece-box", braces, 0) is None


def line_of(text: str, insertion: Insertion | None) -> str:
    """The line that what is selected stands in."""
    assert insertion is not None
    new = changed(text, insertion.changes)
    start = insertion.select[0]
    return new[new.rfind("\n", 0, start) + 1 :].partition("\n")[0]


def test_a_step_is_about_the_piece_that_it_is_wanted_for() -> None:
    """What was put on a card is stuck to the card, wherever the caret is; and once only."""
    text = TEXTS["empty metric"]
    text = after(text, insert("piece-mat", text, 0))
    for step in ("stick mat to panel", "stick panel to mat"):
        text = after(text, insert("act-stick-on", text, text.index("do: cut")))
        assert f"do: {step}\n" in text


def test_a_supply_goes_under_the_others_and_its_name_is_new() -> None:
    text = TEXTS["keepsake-box"]
    insertion = insert("supply-tape", text, 0)
    assert insertion is not None
    new = after(text, insertion)
    assert new[slice(*insertion.select)] == "strong tape 2"
    recipe = read_recipe(new, "r", "s").recipe
    assert recipe is not None
    assert [supply.name.value for supply in recipe.supplies][-2:] == ["label card", "strong tape 2"]
    assert line_of(text, insertion) == "  strong tape 2: double-sided tape, width 1/4 in, use 12 in"
    metric = insert("supply-tape", TEXTS["concertina"], 0)
    assert line_of(TEXTS["concertina"], metric).endswith("width 6 mm, use 300 mm")


def test_a_section_that_is_missing_is_made_where_it_belongs() -> None:
    text = "---\ntitle: x\n\npieces:\n  tag:\n    size: 2 x 4 in\n---\n\n## Cut\n\nCut it.\n"
    for code in ("tool-ruler", "supply-card", "size"):
        insertion = insert(code, text, 0)
        assert insertion is not None
        text = after(text, insertion)
    order = [text.index(f"\n{word}:\n") for word in ("supplies", "tools", "pieces", "sizes")]
    assert order == sorted(order)


def test_dashes_are_kept_to() -> None:
    text = (
        "---\ntitle: x\nsupplies:\n- card: cardstock\npieces:\n- tag:\n    size: 2 x 4 in\n---\n\n## Cut\n\nCut it.\n"
    )
    for code in ("supply-twine", "piece-box", "hole-round"):
        insertion = insert(code, text, 0)
        assert insertion is not None
        text = after(text, insertion)
        assert not faults(text)
    recipe = read_recipe(text, "r", "s").recipe
    assert recipe is not None
    assert [supply.name.value for supply in recipe.supplies] == ["card", "cotton twine"]
    assert [(piece.name.value, len(piece.holes)) for piece in recipe.pieces] == [("tag", 0), ("box", 1)]


def test_a_hole_goes_into_the_piece_of_the_caret_beside_those_it_has() -> None:
    text = TEXTS["drawer-box"]
    insertion = insert("hole-round", text, text.index("  drawer:"))
    assert insertion is not None
    recipe = read_recipe(after(text, insertion), "r", "s").recipe
    assert recipe is not None
    assert [[hole.value.shape for hole in piece.holes] for piece in recipe.pieces] == [["slot", "round"], []]
    last = insert("hole-round", text, len(text))
    assert last is not None
    recipe = read_recipe(after(text, last), "r", "s").recipe
    assert recipe is not None
    assert [len(piece.holes) for piece in recipe.pieces] == [1, 1]


def test_a_glue_flap_makes_its_piece_wider() -> None:
    text = TEXTS["concertina"]
    insertion = insert("glue-flap", text, text.index("  strip:"))
    assert insertion is not None
    recipe = read_recipe(after(text, insertion), "r", "s").recipe
    assert recipe is not None
    assert recipe.pieces[0].size is not None
    assert recipe.pieces[0].size.value.lengths[0].mm == 264 + 12
    assert recipe.pieces[0].across[-1].name == "glue flap"
    assert after(text, insertion)[slice(*insertion.select)] == "12 mm"


def test_a_step_goes_behind_the_one_of_the_caret() -> None:
    text = TEXTS["twine-tag"]
    insertion = insert("act-punch", text, text.index("Mark 1/2 in"))
    assert insertion is not None
    recipe = read_recipe(after(text, insertion), "r", "s").recipe
    assert recipe is not None
    assert [step.heading.value for step in recipe.steps][:2] == ["Cut the tag", "Punch the tag"]
    assert recipe.steps[1].doings[0].subjects == ("tag",)
    assert recipe.steps[1].time is not None


def test_a_fact_of_a_step_goes_into_its_block() -> None:
    text = TEXTS["twine-tag"]
    insertion = insert("step-wait", text, text.index("Punch a hole"))
    assert insertion is not None
    assert "do: punch tag\ntime: 1 min\nwait: 10 min\n```" in after(text, insertion)
    bare = text.replace("```step\ndo: punch tag\ntime: 1 min\n```\n\n", "")
    insertion = insert("step-wait", bare, bare.index("Punch a hole"))
    assert insertion is not None
    assert "## Punch the hole\n\n```step\nwait: 10 min\n```\n\nPunch a hole" in after(bare, insertion)


@pytest.mark.parametrize(("code", "shown"), [("step-time", "1 min"), ("top-level", "beginner"), ("chapter-tips", "")])
def test_what_is_there_is_selected_and_nothing_changed(code: str, shown: str) -> None:
    text = TEXTS["twine-tag"] + "\n## Tips\n\nNone.\n"
    insertion = insert(code, text, text.index("Cut a piece"))
    assert insertion is not None
    assert not insertion.changes
    assert text[slice(*insertion.select)] == shown


def test_a_tool_that_is_there_is_shown_though_it_shares_its_line() -> None:
    text = TEXTS["drawer-box"]
    insertion = insert("tool-knife", text, 0)
    assert insertion is not None
    assert not insertion.changes
    assert text[slice(*insertion.select)] == "craft knife"


def test_a_text_that_is_only_begun() -> None:
    """Lines of dashes and sections are made as they are needed."""
    text = ""
    for code in ("top-makes", "supply-card", "tool-trimmer", "piece-box", "act-cut-and-score", "chapter-tips"):
        insertion = insert(code, text, len(text))
        assert insertion is not None
        text = after(text, insertion)
    assert set(faults(text)) == {"no-title"}
    recipe = read_recipe(text, "r", "s").recipe
    assert recipe is not None
    assert [piece.name.value for piece in recipe.pieces] == ["box"]
    assert recipe.steps[0].doings[0].subjects == ("box",)


def test_line_ends_are_those_of_the_text() -> None:
    text = TEXTS["other line ends"]
    for code in ("piece-box", "act-cut", "step-photo", "chapter-notes", "glue-flap"):
        insertion = insert(code, text, 0)
        assert insertion is not None
        assert "\n" not in after(text, insertion).replace("\r\n", "")


@pytest.mark.parametrize("system", System)
def test_an_empty_page_is_sound(system: System) -> None:
    text = TEXTS[f"empty {system.value}"]
    checked = check_recipe(text, "r", "s", STUDIO)
    assert checked.findings == ()
    assert checked.recipe is not None
    assert checked.recipe.system is system


def test_the_list_says_of_each_what_it_is_and_the_same_of_no_two() -> None:
    assert {entry.group for entry in insert_list()} == set(GROUPS)
    lines = [entry.line for entry in insert_list()]
    assert [line for line in lines if lines.count(line) > 1] == []
    assert [line for line in lines if len(line) > 70] == [], "a line that is read in passing is short"


def test_every_text_to_put_in_belongs_to_an_entry() -> None:
    words = catalogue()
    for table in ("authoring.insert", "authoring.told"):
        assert set(words.below(table)) == {code for code in CODES if not form_of(code)}
    assert set(words.below("authoring.group")) == set(GROUPS)
    put = {key.removeprefix("authoring.put.") for key in words.names() if key.startswith("authoring.put.")}
    assert put <= set(CODES)


PARTS = [
    "supplies:",
    "  card: cardstock",
    "pieces:",
    "  - tag: size 2 x 4 in",
    "\t",
    "tools: none",
    "```step",
    "## Cut",
]
PARTS += ["---", "    across: 1 | 2", "do: cut", "Words.", "", "title: x", "pieces: {", "  holes: round 1 in, centred"]


@given(st.lists(st.sampled_from(PARTS), max_size=12), st.sampled_from(CODES), st.integers(0, 300))
def test_no_text_is_too_broken(lines: list[str], code: str, offset: int) -> None:
    text = "\n".join(lines)
    insertion = insert(code, text, min(offset, len(text)))
    if insertion is not None:
        after(text, insertion)


@pytest.mark.parametrize("system", [*System])
def test_a_pop_up_stands_up_and_shuts_in_both_systems(system: System) -> None:
    text = empty_page(catalogue(), None, system)
    insertion = insert("piece-pop-up", text, 0)
    assert insertion
    new = after(text, insertion)
    assert new[slice(*insertion.select)] == "pop-up"
    assert weak(new) == Counter()
    # Its own fold a little out of place is noticed: the lines are understood as a pop-up.
    moved = new.replace("across 2 down", "across 2 1/4 down").replace("across 55 down", "across 60 down")
    assert weak(moved) == Counter({"pop-up-fold-misplaced": 1})


def test_another_size_is_worked_out_half_as_large_again() -> None:
    text = TEXTS["empty metric"].replace(
        "size: 80 x 100 mm", "size: 80 x 100 mm\n    across: 40 back | 40 front\n    fold: card"
    )
    insertion = insert("size", text, 0)
    assert insertion
    new = after(text, insertion)
    assert new[slice(*insertion.select)] == "large"
    assert "sizes:\n  large:\n    title: " in new
    assert "    panel:\n      size: 120 x 150 mm\n      across: 60 back | 60 front\n---" in new
    assert not faults(new)
    # Nothing can be worked out of what nobody understands: its name is put in all the same.
    broken = text.replace("size: 80 x 100 mm", "size: wide")
    insertion = insert("size", broken, 0)
    assert insertion and after(broken, insertion).count("large") == 2
