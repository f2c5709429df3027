"""Durations: every way to say them, and what is asked about."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.durations import (
    DAY,
    HOUR,
    LONGEST,
    MINUTE,
    read_duration,
    usual_time,
    write_duration,
)


@pytest.mark.parametrize(
    ("said", "seconds"),
    [
        ("2 min", 120), ("2min", 120), ("2 mins.", 120), ("2 minutes", 120), ("2 Minutes", 120), ("about 2 min", 120),
        ("90 sec", 90), ("90 s", 90), ("90 seconds", 90), ("1 h", HOUR), ("1 hour", HOUR), ("2 hrs", 2 * HOUR),
        ("1 1/2 h", 5400), ("1½ h", 5400), ("1.5 h", 5400), ("1,5 h", 5400), ("1-1/2 hours", 5400),
        ("2 1/2 min", 150), ("twenty-five minutes", 1500), ("twenty five minutes", 1500), ("forty sec", 40),
        ("a hundred minutes", 6000), ("thirty seconds", 30),
        ("1 h 30", 5400), ("1h30", 5400), ("1 h 30 min", 5400), ("1 hour and 30 minutes", 5400),
        ("1 h, 30 min", 5400),
        ("1 min 30", 90), ("1 min 30 s", 90), ("1 h 1 min 1 s", 3661), ("1 day", DAY), ("2 days", 2 * DAY),
        ("overnight", 12 * HOUR), ("Overnight", 12 * HOUR), ("half an hour", 1800), ("a minute", 60),
        ("an hour", HOUR),
        ("an hour and a half", 5400), ("a quarter of an hour", 900), ("three quarters of an hour", 2700),
        ("ten minutes", 600),
        ("two and a half minutes", 150), ("2 to 3 min", 180), ("2-3 min", 180), ("2–3 min", 180),
        ("1 min to 2 min", 120),
        ("2\u00a0min", 120), ("0 min", 0), ("up to 5 min", 300),
    ],
)  # fmt: skip
def test_ways_to_say_how_long(said: str, seconds: int) -> None:
    assert read_duration(said) == seconds


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("1:30", "hours-or-minutes"), ("0:05", "hours-or-minutes"), ("1:30:00", "hours-or-minutes"),
        ("2", "duration-without-unit"), ("1 1/2", "duration-without-unit"), ("", "no-duration"),
        ("a while", "duration-unreadable"),
        ("3 minuts", "duration-unreadable-near"), ("1 hur 5 min", "duration-unreadable-near"),
        ("until dry", "duration-unreadable"), ("5 m", "duration-unreadable"), ("2 min for 4", "duration-unreadable"),
        ("2 min 1 h", "duration-unreadable"), ("9999 h", "duration-absurd"), ("1/0 h", "fraction-over-nothing"),
        ("-2 min", "duration-unreadable"), ("1,000 min", "comma-of-thousands"), ("min", "duration-unreadable"),
    ],
)  # fmt: skip
def test_what_is_asked_about(said: str, code: str) -> None:
    read = read_duration(said)
    assert isinstance(read, Unreadable)
    assert read.code == code


def test_a_clock_time_offers_both_readings() -> None:
    read = read_duration("1:30")
    assert isinstance(read, Unreadable)
    assert dict(read.facts) == {"text": "1:30", "hours": "1 h 30 min", "minutes": "1 min 30 s"}
    assert (read_duration("1 h 30 min"), read_duration("1 min 30 s")) == (5400, 90)


@given(st.text(alphabet="0123456789 hmins:.,-–½/adyquertof", max_size=40))
def test_any_text_is_read_or_refused(said: str) -> None:
    read = read_duration(said)
    assert isinstance(read, Unreadable) or 0 <= read <= LONGEST
    assert MINUTE == 60


@pytest.mark.parametrize(
    ("readings", "usual"),
    [
        ([240], "4 min"), ([240, 220, 260], "4 min"), ([240, 300], "4 min 30 s"), ([250], "4 min"),
        ([255], "4 min 30 s"),
        ([594], "10 min"), ([600], "10 min"), ([629], "10 min"), ([630], "11 min"), ([5400], "1 h 30 min"),
        ([59], "1 min"), ([33], "35 s"), ([2], "5 s"), ([0, 0], "0 min"),
    ],
)  # fmt: skip
def test_what_was_measured_is_told_as_people_would(readings: list[int], usual: str) -> None:
    """Worked out by hand: half minutes below ten minutes, whole ones from there; halves up."""
    assert write_duration(usual_time(readings)) == usual


@given(st.integers(0, LONGEST))
def test_what_is_written_is_read_again(seconds: int) -> None:
    assert read_duration(write_duration(seconds)) == seconds
