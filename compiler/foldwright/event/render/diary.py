"""Entries of a diary as a file that calendars take in (RFC 5545)."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, time

from foldwright.event.document.diary import DiaryEntry

_MAKER = "-//Foldwright//Event diary//EN"


def diary_file(entries: Sequence[DiaryEntry]) -> bytes:
    """The same bytes for the same entries.

    `DTSTAMP` has to be there and is to say when an entry was written; as nothing here asks the time, it is the
    beginning of the day of the first entry.
    """
    from icalendar import Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", _MAKER)
    calendar.add("version", "2.0")
    first = entries[0].starts
    stamp = datetime.combine(first, time(), UTC)
    for entry in entries:
        event = Event()
        event.add("uid", entry.uid)
        event.add("dtstamp", stamp)
        event.add("dtstart", entry.starts)
        event.add("dtend", entry.ends)
        event.add("summary", entry.summary)
        event.add("description", entry.description)
        if entry.place:
            event.add("location", entry.place)
        calendar.add_component(event)
    return bytes(calendar.to_ical())
