"""Times measured: written into the text, read again, averaged as a person would."""

from __future__ import annotations

import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.authoring.timing import measured_words, time_measured
from foldwright.document.catalogue import catalogue
from foldwright.finding.changes import changed
from foldwright.recipe.model import Step
from foldwright.recipe.reading import read_recipe

TOP = "---\ntitle: Box\n---\n\n"


def step_of(text: str, number: int = 1) -> Step:
    reading = read_recipe(text, "r", "r")
    assert reading.recipe
    assert {one.code for one in reading.findings} <= {"no-steps"}
    return reading.recipe.steps[number - 1]


def after(text: str, *seconds: float, number: int = 1) -> str:
    for one in seconds:
        text = changed(text, time_measured(text, number, one))
    return text


BLOCK = "```step\ntime: 4 min\nmeasured: 4 min\n```\n"
BODIES = {
    "bare": ("## Cut\n\nCut it.\n", f"## Cut\n\n{BLOCK}\nCut it.\n"),
    "close words": ("## Cut\nCut it.\n", f"## Cut\n\n{BLOCK}\nCut it.\n"),
    "end": ("## Cut", f"## Cut\n\n{BLOCK}"),
    "block": (
        "## Cut\n\n```step\ndo: cut\nwait: 5 min\n```\n\nCut it.\n",
        "## Cut\n\n```step\ndo: cut\ntime: 4 min\nmeasured: 4 min\nwait: 5 min\n```\n\nCut it.\n",
    ),
    "empty block": ("## Cut\n```step\n```\nCut it.\n", "## Cut\n```step\ntime: 4 min\nmeasured: 4 min\n```\nCut it.\n"),
    "by hand": (
        "## Cut\ntime: 90 sec  # a guess\nCut it.\n",
        "## Cut\ntime: 4 min  # a guess\nmeasured: 4 min\nCut it.\n",
    ),
    "quoted": ('## Cut\ntime: "90 sec"\n\nCut it.\n', "## Cut\ntime: 4 min\nmeasured: 4 min\n\nCut it.\n"),
    "nothing said": (
        "## Cut\ndo: cut\ntime:\n\nCut it.\n",
        "## Cut\ndo: cut\ntime: 4 min\nmeasured: 4 min\n\nCut it.\n",
    ),
}


@pytest.mark.parametrize("name", BODIES)
def test_a_first_time_stands_where_the_reference_lists_it(name: str) -> None:
    before, wanted = BODIES[name]
    text = after(TOP + before, 240)
    assert text == TOP + wanted
    step = step_of(text)
    assert step.time and (step.time.value, [one.value for one in step.measured]) == (240, [240])


@pytest.mark.parametrize(
    "said",
    [
        "measured: 4 min, 3 min 40 s",
        "measured: 4 min and 3 min 40 s",
        "measured: [4 min, 3 min 40 s]",
        'measured: "4 min, 3 min 40 s"',
        "measured:\n  - 4 min\n  - 3 min 40 s",
        "measured:\n  4 min, 3 min 40 s",
    ],
)
def test_another_time_is_added_however_the_others_were_written(said: str) -> None:
    text = after(f"{TOP}## Cut\n\n```step\ntime: 2 min\n{said}\nwait: 1 min\n```\n\nCut it.\n", 260)
    facts = "time: 4 min\nmeasured: 4 min, 3 min 40 s, 4 min 20 s\nwait: 1 min\n"
    assert text == f"{TOP}## Cut\n\n```step\n{facts}```\n\nCut it.\n"
    assert measured_words(catalogue(), [one.value for one in step_of(text).measured]) == "measured 3 times: 4\u202fmin"


def test_one_that_cannot_be_read_is_complained_of_kept_and_not_counted() -> None:
    text = f"{TOP}## Cut\nmeasured: 4 min, a while\n\nCut it.\n"
    reading = read_recipe(text, "r", "r")
    (finding,) = reading.findings
    assert finding.code == "duration-unreadable" and finding.place
    assert text[finding.place.start : finding.place.end] == "a while"
    assert "measured: 4 min, a while, 6 min\n" in after(text, 360)
    assert "time: 5 min\n" in after(text, 360)


def test_only_the_step_that_is_meant_is_changed() -> None:
    text = TOP + "## Cut\ntime: 1 min\n\nCut it.\n\n## Tips\nBe quick.\n\n## Fold\ntime: 2 min\n\nFold it.\n"
    assert after(text, 30, number=2) == text.replace("time: 2 min\n", "time: 30 s\nmeasured: 30 s\n")
    assert time_measured(text, 3, 60) == ()
    assert time_measured("", 1, 60) == ()


TIMES = st.lists(st.integers(1, 20_000), min_size=1, max_size=8)


@given(TIMES)
def test_what_was_measured_is_read_again_and_averaged(seconds: list[int]) -> None:
    """The mean is the standard library's; a person tells a time to half of the step that is usual for its length."""
    step = step_of(after(TOP + "## Cut\n\nCut it.\n", *seconds))
    assert [one.value for one in step.measured] == seconds
    assert step.time
    mean = statistics.mean(seconds)
    usual = step.time.value
    coarse = 5 if mean < 60 else 30 if mean < 600 else 60
    assert usual % coarse == 0 and usual > 0
    assert abs(usual - mean) <= max(coarse / 2, 5 - mean)


def test_half_a_second_is_a_second() -> None:
    assert "measured: 1 s\n" in after(TOP + "## Cut\n", 0.2)
