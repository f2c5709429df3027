"""Run sheets as an output: their names, what is told of them, why one was not made."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace

from foldwright.finding import LineTable
from foldwright.measure.length import System
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.model import BuildWish, MadeFiles, OnPaper
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.paper_notes import RunSheetNote, tell_note
from foldwright.outputs.texts import texts_of
from foldwright.outputs.wishes import wish_of
from foldwright.surroundings import Folder

RECIPE = """---
title: Gift tag
measured in: millimetres
supplies:
  blue card: cardstock, sheet A4
tools:
  - craft knife
pieces:
  tag:
    from: blue card
    size: 50 x 90 mm
---

## Cut the tag

do: cut tag
time: 2 min
{when}

Cut the blue card to 50 x 90 mm.

## Hold it

time: 1 min
{more}

{words}
"""
USUAL = OnPaper()
WISH = BuildWish(("run-sheet",), (System.METRIC,))
BREATH = "Hold the tag against the light and look along its edge for a moment. "


def made(when: str = "", more: str = "", words: str = "Hold it.", how: OnPaper = USUAL) -> MadeFiles:
    text = RECIPE.format(when=when, more=more, words=words)
    return compile_recipe(texts_of("tag", text), replace(WISH, on_paper=how), Folder(Path()))


def test_a_sheet_for_a_class_has_another_name() -> None:
    assert [*made(when="when: before class").files] == ["run-sheet-metric-a4.pdf"]
    how = OnPaper(in_class=True)
    assert [*made(when="when: before class", how=how).files] == ["run-sheet-metric-a4-in-class.pdf"]


def test_a_step_in_smaller_letters_is_told_with_the_distance_it_is_read_from() -> None:
    files = made(words=BREATH * 8)
    told = tell_note(files.notes[0])
    # 14 minutes of arc where 16 are wanted from 2 m: 1.75 m, told as 1.7.
    assert told == "run-sheet-metric-a4.pdf: 3 pages, step 2 can be read from 1.7 m at most"
    assert "read from" not in tell_note(made().notes[0])


@pytest.mark.parametrize(
    ("more", "code"), [("", "run-step-too-long"), (f"short: {BREATH * 40}", "run-step-short-too-long")]
)
def test_a_step_no_page_holds_is_told_where_it_stands(more: str, code: str) -> None:
    files = made(more=more, words=BREATH * 40)
    assert not files.files
    (finding,) = (one for one in files.findings if one.code.startswith("run-step"))
    assert finding.code == code
    assert finding.place is not None
    text = RECIPE.format(when="", more=more, words=BREATH * 40)
    assert text[finding.place.start : finding.place.end] == "Hold it"
    # Thirteen lines of facts; the first step begins on line 15, the second seven lines further down.
    assert LineTable(text).line_and_column(finding.place.start)[0] == 22


def test_without_a_step_in_class_there_is_none_and_that_is_told() -> None:
    files = made("when: before class", "when: before class", how=OnPaper(in_class=True))
    assert not files.files
    assert [one.code for one in files.findings if one.code.startswith("run-sheet")] == ["run-sheet-without-steps"]


@pytest.mark.parametrize(("said", "seconds"), [("14:00", 50_400), ("2:30 pm", 52_200), ("noon", 43_200)])
def test_the_time_it_begins_is_read_as_people_write_it(said: str, seconds: int) -> None:
    wish = wish_of(BuildOptions(only="run-sheet", begins=said))
    assert isinstance(wish, BuildWish)
    assert wish.on_paper.begins == seconds


def test_steps_read_from_as_far_are_told_together() -> None:
    note = RunSheetNote("sheet.pdf", 9, ((2, 1500.8), (4, 1250.7), (5, 1500.8)))
    said = "sheet.pdf: 9 pages, step 4 can be read from 1.2 m at most, steps 2 and 5 can be read from 1.5 m at most"
    assert tell_note(note) == said
