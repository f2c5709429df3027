"""The diary of an event: read back by icalendar, and its lines held against RFC 5545 by hand."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from functools import cache
from itertools import pairwise

import icalendar
import pytest

from foldwright.document.catalogue import catalogue
from foldwright.event.document.diary import DiaryEntry, diary_of
from foldwright.event.document.model import Occasion
from foldwright.event.document.papers import occasion_of
from foldwright.event.document.writing import EventSource
from foldwright.event.making import plan_read
from foldwright.event.options import KitOptions
from foldwright.event.plan.planning import Event
from foldwright.event.reading import GivenRecipe, read_event, read_recipes
from foldwright.event.render.diary import diary_file
from foldwright.event.wishes import KitWish, read_wish
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import find_sources
from workbench.compiled import RECIPES, demo

NAMES = ("birdhouse", "twine-tag")
DAY, BEGINS = date(2027, 3, 6), datetime.fromisoformat("2027-03-06T14:30")
WORDS = catalogue()
CALLED = "Frühling; Schachteln, Anhänger \\ " + "ä" * 40


@cache
def planned(kits: str = "30,20", helpers: str = "3") -> Event:
    sources, _ = find_sources([RECIPES / name for name in NAMES])
    wish = read_wish(KitOptions(kits=kits, helpers=helpers, begins="2:30 pm"), len(NAMES))
    assert isinstance(wish, KitWish)
    recipes, _ = read_recipes(GivenRecipe(read_texts(one), one.surroundings, one.path, one.slug) for one in sources)
    reading = read_event(recipes, None, None, wish)
    assert reading.event is not None
    return plan_read(reading.event, wish)


def entries(event: Event, occasion: Occasion | None = None) -> tuple[DiaryEntry, ...]:
    said = occasion or occasion_of(CALLED, DAY, "Back room\nupstairs", WORDS)
    return diary_of(EventSource(event, [demo(name) for name in NAMES], WORDS), said)


def read_back(data: bytes) -> list[icalendar.Event]:
    calendar = icalendar.Calendar.from_ical(data)
    assert isinstance(calendar, icalendar.Calendar)
    return [one for one in calendar.walk("VEVENT") if isinstance(one, icalendar.Event)]


@cache
def written() -> bytes:
    return diary_file(entries(planned()))


def test_its_lines_are_those_of_the_standard() -> None:
    """RFC 5545: 3.1 (lines end with CRLF and have 75 octets at most; a fold begins with a space), 3.4, 3.6, 3.6.1."""
    assert written().endswith(b"END:VCALENDAR\r\n")
    lines = written().split(b"\r\n")[:-1]
    assert all(b"\r" not in line and b"\n" not in line and len(line) <= 75 for line in lines)
    unfolded = written().replace(b"\r\n ", b"").decode("utf-8").split("\r\n")[:-1]
    names = [line.partition(":")[0].partition(";")[0] for line in unfolded]
    assert unfolded[0] == "BEGIN:VCALENDAR" and names.count("PRODID") == names.count("VERSION") == 1
    assert "VERSION:2.0" in unfolded
    count = unfolded.count("BEGIN:VEVENT")
    assert count == 4
    for once in ("UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "LOCATION"):
        assert names.count(once) == count, once
    # 3.3.11: a backslash, a semicolon, a comma and a line end are escaped.
    assert f"SUMMARY:{CALLED.replace('\\', '\\\\').replace(';', '\\;').replace(',', '\\,')}" in unfolded
    assert r"LOCATION:Back room\nupstairs" in unfolded


def test_what_is_read_back_is_what_was_meant() -> None:
    meant = entries(planned())
    for event, entry in zip(read_back(written()), meant, strict=True):
        assert (str(event["summary"]), str(event["description"])) == (entry.summary, entry.description)
        assert (event.decoded("dtstart"), event.decoded("dtend")) == (entry.starts, entry.ends)
        assert event.decoded("dtstart") < event.decoded("dtend")
        assert event["dtstart"].dt.tzinfo is None, "local time, wherever the phone is"
        assert str(event["uid"]) == entry.uid
    assert len({entry.uid for entry in meant}) == len(meant)


def test_the_class_lasts_until_slower_makers_are_done() -> None:
    """14:30, ten minutes of welcome, then the longest class in whole minutes."""
    event, first = planned(), entries(planned())[0]
    slowest = max(one.slow for one in event.classes if one)
    minutes = -(-slowest // 60)
    assert first.starts == BEGINS
    assert first.ends == first.starts + timedelta(minutes=10 + minutes)
    assert "14:15 Doors open" in first.description and "50 people" in first.description


def test_helpers_have_their_jobs_with_the_plans_own_times() -> None:
    event = planned()
    plan = event.preparation
    assert plan is not None
    begins = BEGINS - timedelta(minutes=-(-plan.timeline.finish // 60))
    for number, entry in enumerate(entries(event)[1:], 1):
        spans = [span for span in plan.timeline.spans if span.helper == number]
        worked = -(-sum(span.end - span.start for span in spans if span.task) // 60)
        said = f"{worked // 60}\u202fh {worked % 60}\u202fmin" if worked % 60 else f"{worked // 60}\u202fh"
        told, *lines = entry.description.split("\n")
        assert told == f"{said} of work."
        assert entry.starts == begins + timedelta(minutes=-(-spans[0].start // 60))
        assert entry.ends == begins + timedelta(minutes=-(-max(span.end for span in spans) // 60))
        # Each line begins when it is on, and none before the one above it is done.
        clocks = [(line[:5], line[9:14]) for line in lines]
        assert clocks[0][0] == f"{entry.starts:%H:%M}" and clocks[-1][1] == f"{entry.ends:%H:%M}"
        assert all(one[1] <= other[0] for one, other in pairwise(clocks))
        assert {span.task for span in spans if span.task} and f"Helper {number}" in entry.summary


def test_what_does_not_go_into_the_day_is_on_the_day_before() -> None:
    event = planned("400,10", "1")
    plan = event.preparation
    assert plan is not None and plan.timeline.finish > 14.5 * 3600
    entry = entries(event)[1]
    assert (entry.starts, entry.ends) == (DAY - timedelta(days=1), DAY)
    assert "0:00 to " in entry.description
    (_, read) = read_back(diary_file(entries(event)))
    assert read["dtstart"].params["VALUE"] == "DATE" and read["dtend"].params["VALUE"] == "DATE"


def test_without_a_day_there_is_no_diary() -> None:
    assert entries(planned(), occasion_of(CALLED, None, "", WORDS)) == ()


def test_an_entry_is_known_again_until_event_or_day_is_another() -> None:
    first = entries(planned())
    assert [one.uid for one in entries(planned("30,25"))] == [one.uid for one in first], "more kits, the same event"
    other = entries(planned(), occasion_of(CALLED, DAY + timedelta(days=7), "", WORDS))
    assert {one.uid for one in other}.isdisjoint(one.uid for one in first)
    assert diary_file(first) == written()


@pytest.mark.parametrize("name", ["BEGIN:VEVENT\r\nX:1", "a" * 80, "שלום 🎀"])
def test_no_name_breaks_out_of_its_line(name: str) -> None:
    event = read_back(diary_file(entries(planned(), occasion_of(name, DAY, name, WORDS))))[0]
    assert str(event["summary"]) == name.replace("\r\n", "\n")
    assert str(event["location"]) == name.replace("\r\n", "\n")
