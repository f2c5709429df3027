"""Moments of a video as people write them: `3:40`, `1:02:05`; and how long one is: `12:30 long`, `12 min long`."""

from __future__ import annotations

import re

from foldwright.recipe.facts.durations import HOUR, MINUTE, read_duration

_MOMENT = re.compile("(?:(?P<hours>[0-9]{1,2}):(?=[0-5][0-9]:))?(?P<minutes>[0-9]{1,3}):(?P<seconds>[0-5][0-9])")
_LIKE_ONE = re.compile(r"([0-9]{1,3})(?: ?[.,;'] ?| )([0-5][0-9])")
"""`3.40`: it looks like a moment, with another sign between."""
_LONG = re.compile(r"(?P<address>\S+?),?\s+(?:,\s*)?(?P<length>[^,\s].*?)\s+long", re.DOTALL)


def read_moment(text: str) -> int | None:
    """A moment in whole seconds from the beginning; None for any other text."""
    found = _MOMENT.fullmatch(text.strip())
    return int(found["hours"] or 0) * HOUR + int(found["minutes"]) * MINUTE + int(found["seconds"]) if found else None


def write_moment(seconds: int) -> str:
    """`3:40`, `1:02:05`: as it is typed, and as players show it."""
    hours, rest = divmod(seconds, HOUR)
    minutes, left = divmod(rest, MINUTE)
    return f"{hours}:{minutes:02}:{left:02}" if hours else f"{minutes}:{left:02}"


def near_moment(text: str) -> str:
    """The moment that a text is nearly (`3.40`), or that it says in words (`3 min 40 s`); empty where it is none."""
    said = text.strip()
    if like := _LIKE_ONE.fullmatch(said):
        return f"{like[1]}:{like[2]}"
    seconds = read_duration(said)
    return write_moment(seconds) if isinstance(seconds, int) else ""


def parted_film(text: str) -> tuple[str, str]:
    """`https://… , 12:30 long` is an address and how long its video is; the second is empty where nobody says."""
    found = _LONG.fullmatch(text.strip())
    return (found["address"], found["length"]) if found else (text.strip(), "")


def read_film_length(text: str) -> int | None:
    """How long a video is, in seconds, above nothing; None for what says no length."""
    seconds = read_moment(text)
    if seconds is None:
        duration = read_duration(text)
        seconds = duration if isinstance(duration, int) else None
    return seconds or None
