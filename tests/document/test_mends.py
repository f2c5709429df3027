"""A mend in words: what a button says."""

from __future__ import annotations

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.document.mends import label
from foldwright.finding import Mend, Place
from foldwright.finding.changes import Change

TEXT = "size: 5 x 4 in\nacross: 2 | 3\n    fold: trya\nCut it to 4 x 5.\n"


@pytest.mark.parametrize(
    ("at", "said", "new", "expected"),
    [
        ("trya", "trya", "tray", "Type “tray”"),
        ("4 x 5.", " x 5", "", "Delete “x 5”"),
        ("2 | 3", "| ", "", "Delete “|”"),
        (".\n", "", " in", "Add “in”"),
        (".\n", "", ", centred", "Add “centred”"),
        (".\n", "", ")", "Add “)”"),
        ("\nCut", "", "\n    grain: down", "Add the line  grain: down"),
        ("across", "across: 2 | 3\n", "", "Delete the line  across: 2 | 3"),
        ("across", "across: 2 | 3\n    fold: trya\n", "", "Delete  across: 2 | 3  and what is below it"),
        ("    fold", "    ", "  ", "Begin this line 2 spaces in"),
        ("    fold", "    ", "", "Begin this line at the left"),
        ("trya", "trya", "x" * 90, f"Type “{'x' * 47}…”"),
        ("trya", "trya", "a\x07b", "Type “a\N{REPLACEMENT CHARACTER}b”"),
    ],
)
def test_a_mend_is_said_in_a_few_words(at: str, said: str, new: str, expected: str) -> None:
    start = TEXT.index(at) + (TEXT[TEXT.index(at) :].index(said) if said else 0)
    mend = Mend((Change(start, start + len(said), new),))
    assert label(mend, Place("r", start, start + len(said)), TEXT, catalogue()) == expected


def test_what_is_typed_elsewhere_is_shown_as_the_line_it_stands_in() -> None:
    row = TEXT.index("2 | 3")
    mend = Mend((Change(6, 7, "5 1/4"),))
    assert label(mend, Place("r", row, row + 5), TEXT, catalogue()) == "Type  size: 5 1/4 x 4 in"


def test_several_changes_are_one_text_and_several_lines_are_counted() -> None:
    place = Place("r", 6, 14)
    assert label(Mend((Change(6, 7, "4"), Change(10, 11, "5"))), place, TEXT, catalogue()) == "Type “4 x 5”"
    starts = (0, TEXT.index("across"))
    pushed = Mend(tuple(Change(start, start, "  ") for start in starts))
    assert label(pushed, place, TEXT, catalogue()) == "Push 2 lines in"


def test_what_hides_a_suggestion_says_so() -> None:
    mend = Mend((Change(0, 0, "hush: no-time\n"),), hides=True)
    assert label(mend, Place("r", 6, 14), TEXT, catalogue()) == "Hide this suggestion"
