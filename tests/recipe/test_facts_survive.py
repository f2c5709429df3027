"""Whatever is typed, reading never raises, every place lies inside the text, and every finding can be told."""

from __future__ import annotations

import warnings
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.document.findings import tell
from foldwright.finding import Finding
from foldwright.recipe.facts.source import decode
from foldwright.recipe.facts.studio import read_studio
from foldwright.recipe.reading import read_recipe
from workbench.long import tries

RECIPES = [
    path.read_text(encoding="utf-8") for path in sorted((Path(__file__).parents[2] / "recipes").glob("*/recipe.md"))
]
ODD = [
    *"\t\n\r#:,;|/\\{}[]()\"'`*&!@%~<>=+-–—…½⅛″×²\u00a0\u2009\u2028\x00\x0b\x85\ud7ff\U0001f382",
    "---\n", "  ", ": ", ", ", " | ", "  # ", "- ", "1e999 in", "1/0", "-3", "1,000", "01", "rest", "6 of ",
    "supplies:\n", "pieces:\n", "tools:\n", "size: ", "across: ", "holes: ", "lines: ", "fold: ", "goes on: ",
    "```step\n", "## ",
]  # fmt: skip


def told(text: str, findings: tuple[Finding, ...], file: str) -> None:
    """Every finding has its words, and stands where there is text (the file's own faults stand at its beginning)."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for finding in findings:
            assert tell(finding, {file: text}).says
            assert finding.place is not None
            assert finding.place.file == file
            assert 0 <= finding.place.start <= finding.place.end <= len(text)


def survives(text: str) -> None:
    told(text, read_recipe(text, "r", "slug").findings, "r")
    told(text, read_studio(text, "s")[1], "s")


@given(st.text())
def test_any_text_can_be_read(text: str) -> None:
    survives(text)


@given(st.lists(st.one_of(st.sampled_from(ODD), st.text(max_size=4)), max_size=60).map("".join))
def test_any_heap_of_marks_can_be_read(text: str) -> None:
    survives("---\n" + text)


@settings(max_examples=tries(100, 300))
@given(
    st.sampled_from(RECIPES),
    st.lists(st.tuples(st.floats(0, 1), st.integers(0, 12), st.sampled_from(ODD)), min_size=1, max_size=6),
)
def test_a_recipe_with_slips_of_the_hand_can_be_read(recipe: str, slips: list[tuple[float, int, str]]) -> None:
    for where, dropped, typed in slips:
        at = int(where * len(recipe))
        recipe = recipe[:at] + typed + recipe[at + dropped :]
    survives(recipe)


FLOW = [
    *"ab,:{}[]()?'-|>%@`=~\\", "b c", "'d'", '"e"', '"f', "(g, h)", ", ", ": ", "\n  ", "\n", "  # r", "1,5",
    "x" * 1100, "'" * 300, "&a ", "*b", "!t ", "<<",
]  # fmt: skip
STARTS = ["", "- ", "\t", "a: ", "- a: ", "b:", "'c d': ", '"e": ', "f ", "'g\" : ", "<<: "]
VALUES = [
    "", "x", "'y'", '"z  # q"', "|", ">-", "{k: v}", "[p, q]", "{p", "[", "'r", '"s\\n"', "&n", "*n", "!t u",
    "x" * 1500,
]  # fmt: skip
LINES = st.tuples(st.integers(0, 6).map(" ".__mul__), st.sampled_from(STARTS), st.sampled_from(VALUES)).map("".join)


@settings(max_examples=tries(100, 300))
@given(
    st.lists(LINES, max_size=9).map("\n".join)
    | st.lists(st.sampled_from(FLOW), max_size=14).map("".join).map("a: [{}]".format)
    | st.lists(st.sampled_from(FLOW), max_size=14).map(lambda parts: "a: {" + "".join(parts) + "}\n")
)
def test_whatever_looks_like_yaml_can_be_read(text: str) -> None:
    survives(text)
    survives(f"---\n{text}\n---\n")


@given(st.binary())
def test_any_bytes_are_text_or_say_why_not(data: bytes) -> None:
    text, findings = decode(data, "r")
    assert (text is None) == bool(findings)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for finding in findings:
            assert tell(finding, {}).says
