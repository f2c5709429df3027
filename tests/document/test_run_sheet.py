"""The run sheet: its clock by hand, what lies on the table, what is said, what to show from near."""

from __future__ import annotations

from functools import cache

import pytest

from foldwright.document.model import Document
from foldwright.document.run_sheet import RunSheet, run_sheet
from foldwright.document.words import plain, plain_passage
from foldwright.measure.length import System
from foldwright.plan.times import Times
from workbench.compiled import DEMOS, RECIPES, compiled
from workbench.long import LONG

NAMES = DEMOS if LONG else ("birdhouse", "layered-card")

RECIPE = """---
title: Gift tag
makes: 1 tag
measured in: millimetres

supplies:
  blue card: cardstock, sheet A4
  wet glue: wet glue, use a little
  ribbon: ribbon, width 6 mm, use 40 cm
  caramel: wrapped sweet, use 1, size 20 x 10 x 10 mm, contains: milk

tools:
  - paper trimmer with scoring blade
  - hole punch
  - bone folder

pieces:
  base:
    from: blue card
    size: 100 x 80 mm
    across: 50 back | 50 front
    fold: card
---

## Cut the base

do: cut and score base
time: 2 min
get ready: 3 min
when: before class

Cut the blue card and score it.

## Glue the base

do: glue base
time: 4 min
wait: 10 min, meanwhile Punch the base
short: Glue the base.

Put some of the wet glue on the base, all over its inside.

## Punch the base

do: punch base
time: 3 min
get ready: 1 min

Punch a hole in the base with the hole punch.

## Fold the base

do: fold base
time: 90 s

Fold the base.

## Write a name

do: write base
time: 5 min
optional: yes

Write a name on the base.

## Tie the ribbon

do: tie ribbon
time: 1 min
caution: Keep the ribbon away from little ones.

Tie the ribbon on, and the caramel in it.
"""


@cache
def parts(text: str = RECIPE) -> tuple[Document, Times]:
    document, checked = compiled(text)
    assert checked.understood is not None
    return document, checked.understood.times


@cache
def demo_parts(name: str) -> tuple[Document, Times]:
    document, checked = compiled((RECIPES / name / "recipe.md").read_text(encoding="utf-8"), name)
    assert checked.understood is not None
    return document, checked.understood.times


def sheet_of(begins: int | None = None, in_class: bool = False) -> RunSheet:
    sheet = run_sheet(*parts(), begins, in_class)
    assert sheet is not None
    return sheet


def clocks(sheet: RunSheet) -> list[tuple[int, str]]:
    return [(step.number, step.clock) for step in sheet.steps]


def texts(runs: tuple[tuple, ...]) -> list[str]:
    return [plain(one, System.METRIC) for one in runs]


# By hand, everything got ready before: step 1 takes 2 min. Step 2 begins at 2 and ends at 6; it rests for 10 min, until
# 16. Step 3 may go on meanwhile: 6 to 9. Step 4 has to wait, and takes 16:00 to 17:30. Step 5 is optional and in no
# plan. Step 6 takes 17:30 to 18:30.
WHOLE = [(1, "0:00"), (2, "2:00"), (3, "6:00"), (4, "16:00"), (5, ""), (6, "17:30")]


def test_the_clock_begins_at_nought_and_waits_where_the_plan_waits() -> None:
    sheet = sheet_of()
    assert clocks(sheet) == WHOLE
    assert sheet.whole.startswith("0:00 to 18:30, ")
    assert {step.number: step.resting for step in sheet.steps if step.resting} == {
        2: "It rests until 16:00. Meanwhile, do step 3."
    }


def test_the_time_of_day_is_as_a_clock_on_the_wall_shows_it() -> None:
    sheet = sheet_of(begins=23 * 3600 + 50 * 60)
    # 23:50 and 2, 6, 16 and 17 1/2 minutes.
    assert [clock for _, clock in clocks(sheet)] == ["23:50", "23:52", "23:56", "00:06", "", "00:07"]
    assert sheet.whole.startswith("23:50 to 00:08, ")


def test_in_class_the_clock_begins_with_the_first_step_there() -> None:
    sheet = sheet_of(in_class=True)
    # Step 2: 0 to 4, rests until 14; step 3: 4 to 7; step 4: 14:00 to 15:30; step 6: 15:30 to 16:30.
    assert clocks(sheet) == [(2, "0:00"), (3, "4:00"), (4, "14:00"), (5, ""), (6, "15:30")]
    assert sheet.whole.startswith("0:00 to 16:30, ")
    assert texts(sheet.ready) == ["base: cut and scored", "For step 3, Punch the base: 1\u202fmin"]


def test_what_is_got_ready_stands_apart_from_the_clock() -> None:
    sheet = sheet_of()
    assert texts(sheet.ready) == ["For step 1, Cut the base: 3\u202fmin", "For step 3, Punch the base: 1\u202fmin"]
    assert sheet.ready_lasts == "4\u202fmin"


def test_what_lies_on_the_table_comes_and_goes() -> None:
    lists = {step.number: (texts(step.on_the_table), texts(step.cleared)) for step in sheet_of().steps}
    assert lists[1] == (["blue card", "paper trimmer with scoring blade"], [])
    # The card is a base by now; with the trimmer it is of no more use.
    assert lists[2] == (["base", "wet glue"], ["blue card", "paper trimmer with scoring blade"])
    assert lists[3] == (["base", "hole punch"], ["wet glue"])
    assert lists[4] == (["base", "bone folder"], ["hole punch"])
    assert lists[5][1] == ["bone folder"]
    assert lists[6] == (["ribbon", "caramel"], [])


def test_nothing_is_cleared_away_twice_or_before_its_last_use() -> None:
    for name in NAMES:
        sheet = run_sheet(*demo_parts(name))
        assert sheet is not None
        for at, step in enumerate(sheet.steps):
            later = {one for after in sheet.steps[at:] for one in texts(after.on_the_table)}
            assert not later & {*texts(step.cleared)}, (name, step.number)
        cleared = [one for step in sheet.steps for one in texts(step.cleared)]
        assert len(cleared) == len({*cleared}), name


def test_who_speaks_says_the_short_words() -> None:
    said = {step.number: plain_passage(step.say, System.METRIC) for step in sheet_of().steps}
    assert said[2] == "Glue the base."
    assert said[4] == "Fold the base."


def test_from_near_is_shown_what_is_small() -> None:
    close = {step.number: texts(step.close_ups) for step in sheet_of().steps}
    # A score is read off a rule, a hole is small; cutting out and folding the whole are seen from afar.
    assert close[1] == ["Score the base at 50 mm"]
    assert close[3] == ["Punch the base"]
    assert close[4] == []


@pytest.mark.parametrize(("shorter", "shown"), [("61", []), ("60", ["Cut out the base", "Score the base at 50 mm"])])
def test_a_piece_smaller_than_a_hand_is_shown_from_near_whatever_is_done_to_it(shorter: str, shown: list[str]) -> None:
    sheet = run_sheet(*parts(RECIPE.replace("size: 100 x 80 mm", f"size: 100 x {shorter} mm")))
    assert sheet is not None
    assert texts(sheet.steps[0].close_ups) == (shown or ["Score the base at 50 mm"])


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("in_class", [False, True])
def test_every_caution_is_said_once_at_its_step_or_before_all(name: str, in_class: bool) -> None:
    sheet = run_sheet(*demo_parts(name), None, in_class)
    assert sheet is not None
    reminded = {
        caution.code for step in sheet.document.steps if step.reminder for caution in step.cautions if caution.reminder
    }
    before = {caution.code for caution in sheet.cautions}
    assert before.isdisjoint(reminded)
    assert before | reminded >= {caution.code for caution in sheet.document.cautions}
    assert [step.reminder for step in sheet.steps] == [step.reminder for step in sheet.document.steps]


def test_without_a_step_in_class_there_is_none_for_class() -> None:
    text = RECIPE.replace("time: 4 min\n", "time: 4 min\nwhen: before class\n").replace(
        "time: 3 min\n", "when: before class\n"
    )
    for time in ("90 s", "5 min", "1 min"):
        assert f"time: {time}" in text
        text = text.replace(f"time: {time}", f"when: before class\ntime: {time}")
    assert run_sheet(*parts(text), None, True) is None
    assert run_sheet(*parts(text)) is not None
