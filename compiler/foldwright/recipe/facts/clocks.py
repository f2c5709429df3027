"""Times of day as people write them, and as a clock shows them."""

from __future__ import annotations

import re

from foldwright.measure.numbers import squeezed
from foldwright.recipe.facts.durations import DAY, HOUR, MINUTE

_CLOCK = re.compile(
    r"(?:at )?(?P<hour>[0-9]{1,2})(?:(?: ?[:.h] ?|(?<=[0-9]{2}))(?P<minute>[0-5][0-9]))?(?P<h> ?h(?:rs?|ours?)?)?"
    r"(?: o'?clock)?(?:,? ?(?P<half>[ap])\.? ?m\.?| in the (?P<part>morning|afternoon|evening)| at (?P<night>night))?"
)
_NAMED = {"noon": 12, "midday": 12, "12 noon": 12, "midnight": 0, "12 midnight": 0}
_MORNING = frozenset({"a", "morning"})
_NOON, _HOURS = 12, 24


def read_clock(text: str) -> int | None:
    """Seconds since midnight of a time as people write it: `14:00`, `14.00`, `2pm`, `2:30 p.m.`, `noon`.

    None when it is no time of day, or may be one of two (`2`).
    """
    said = squeezed(text).lower().removeprefix("at ")
    if said in _NAMED:
        return _NAMED[said] * HOUR
    match = _CLOCK.fullmatch(said)
    if match is None:
        return None
    hour, minute = int(match["hour"]), int(match["minute"] or 0)
    if half := match["half"] or match["part"] or match["night"]:
        if not 1 <= hour <= _NOON:
            return None
        # Twelve o'clock is the first hour of its half (common practice, no source).
        hour = hour % _NOON + (0 if half in _MORNING else _NOON)
    elif hour >= _HOURS or not (match["minute"] or match["h"] or hour > _NOON):
        return None
    return hour * HOUR + minute * MINUTE


def write_clock(seconds: int) -> str:
    """`14:05`, as a clock shows it before the minute is over; past midnight it begins again."""
    hours, minutes = divmod(seconds % DAY // MINUTE, MINUTE)
    return f"{hours:02}:{minutes:02}"
