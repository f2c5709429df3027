"""Days of the calendar as people write them: `2026-11-20`, `20 November 2026`, `Nov 20th, 2026`."""

from __future__ import annotations

import re
from datetime import date

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = (
    r"(?P<month>jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?"
    r"|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\.?"
)
_NTH = r"(?P<day>[0-9]{1,2})(?:st|nd|rd|th)?"
_WEEKDAY = r"(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+)?(?:the\s+)?"
_DAYS = (
    re.compile(r"(?P<year>[0-9]{4})-(?P<month>[0-9]{2})-(?P<day>[0-9]{2})"),
    re.compile(rf"{_WEEKDAY}{_NTH}(?:\s+of)?\s+{_MONTH},?\s+(?P<year>[0-9]{{4}})", re.IGNORECASE),
    re.compile(rf"{_WEEKDAY}{_MONTH}\s+(?:the\s+)?{_NTH},?\s+(?P<year>[0-9]{{4}})", re.IGNORECASE),
)
"""Days as ISO 8601 has them, and as people write them in English."""
_IN_A_ROW = re.compile(r"([0-9]{1,2})\s*[-/.]\s*([0-9]{1,2})\s*[-/.]\s*([0-9]{4})")
_LIKE_A_DAY = re.compile(r".*[0-9]\s*[-/.]\s*[0-9].*|.*\b[0-9]{1,2}(?:st|nd|rd|th)?\b.*[0-9]{4}.*")
"""Numbers as in a day; `Spring 2027` has one only."""


def day_of(text: str) -> date | None:
    """The day a text names; None for any other text, and for a day that no calendar has."""
    match = next((match for day in _DAYS if (match := day.fullmatch(text.strip()))), None)
    if match is None:
        return None
    month = match["month"]
    number = int(month) if month.isdigit() else _MONTHS.index(month[:3].lower()) + 1
    try:
        return date(int(match["year"]), number, int(match["day"]))
    except ValueError:
        return None


def only_day_in(text: str) -> date | None:
    """The only day that numbers in a row may mean: `20/11/2026` and `11/20/2026`, but not `10/11/2026`."""
    match = _IN_A_ROW.fullmatch(text.strip())
    if match is None:
        return None
    one, other, year = map(int, match.groups())
    days = set()
    for month, day in ((one, other), (other, one)):
        try:
            days.add(date(year, month, day))
        except ValueError:
            continue
    return days.pop() if len(days) == 1 else None


def looks_like_a_day(text: str) -> bool:
    """Whether numbers stand in a text as in a day, be it one that no calendar has."""
    return _LIKE_A_DAY.fullmatch(text) is not None
