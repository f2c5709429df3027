"""Times of day as people write them. 12 a.m. is midnight and 12 p.m. noon: common practice, no source."""

from __future__ import annotations

from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.recipe.facts.clocks import read_clock


@pytest.mark.parametrize(
    ("said", "hour", "minute"),
    [
        ("14:00", 14, 0),
        ("14.00", 14, 0),
        ("9:30", 9, 30),
        ("09:30", 9, 30),
        ("0:15", 0, 15),
        ("2pm", 14, 0),
        ("2 pm", 14, 0),
        ("2PM", 14, 0),
        ("2 p.m.", 14, 0),
        ("2\u00a0p. m.", 14, 0),
        ("2:30 p.m.", 14, 30),
        ("2.30pm", 14, 30),
        ("02:30 PM", 14, 30),
        ("10am", 10, 0),
        ("10.15 a.m.", 10, 15),
        ("12 pm", 12, 0),
        ("12:30 am", 0, 30),
        ("noon", 12, 0),
        ("Noon", 12, 0),
        ("midday", 12, 0),
        ("12 noon", 12, 0),
        ("midnight", 0, 0),
        ("14", 14, 0),
        ("1400", 14, 0),
        ("14h30", 14, 30),
        ("14 h", 14, 0),
        ("at 2 pm", 14, 0),
        ("2 o'clock in the afternoon", 14, 0),
        ("2 in the afternoon", 14, 0),
        ("10 in the morning", 10, 0),
        ("7 in the evening", 19, 0),
        ("9 at night", 21, 0),
    ],
)
def test_a_time_of_day(said, hour, minute):
    assert read_clock(said) == hour * 3600 + minute * 60


@pytest.mark.parametrize(
    "said",
    ["", "2", "12", "2 o'clock", "25:00", "24:00", "14:60", "13 pm", "0 am", "14:00 pm", "soon", "2:3", "-2pm", "2pmm"]
    + ["half two", "1:2:3", "14:00:00", "2 pm or 3 pm", "٢pm", "9" * 50],
)
def test_no_time_of_day_or_one_of_two(said):
    assert read_clock(said) is None


@given(st.times(), st.sampled_from(["%H:%M", "%H.%M", "%I:%M %p", "%I.%M%p", "%H%M", "%Hh%M"]))
def test_every_minute_as_the_standard_library_writes_it(moment: time, form: str):
    assert read_clock(moment.strftime(form)) == moment.hour * 3600 + moment.minute * 60
