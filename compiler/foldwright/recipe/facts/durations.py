"""How long something takes, as people write it: `2 min`, `1 1/2 h`, `1 h 30`, `half an hour`, `overnight`."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from foldwright.measure.numbers import NUMBER, WORD_NUMBER, tidy, value_of
from foldwright.measure.unreadable import Unreadable

MINUTE = 60
HOUR = 60 * MINUTE
DAY = 24 * HOUR
OVERNIGHT = 12 * HOUR
"""From packing up in the evening to the next morning: common practice, no source."""
LONGEST = 60 * DAY
"""Two months; nothing in a paper studio takes longer."""

_SPELLINGS = {
    1: ("s", "sec", "secs", "second", "seconds"),
    MINUTE: ("min", "mins", "minute", "minutes"),
    HOUR: ("h", "hr", "hrs", "hour", "hours"),
    DAY: ("day", "days"),
}
_SECONDS = {spelling: seconds for seconds, spellings in _SPELLINGS.items() for spelling in spellings}
_UNIT_WORD = f"(?:{'|'.join(sorted(_SECONDS, key=len, reverse=True))})(?![a-z])"
_PART = re.compile(f"(?P<number>{NUMBER}|{WORD_NUMBER}|an?) ?-?(?P<unit>{_UNIT_WORD})\\.?")
_BETWEEN = re.compile(r",? (?:and )?|,? ?")
_BARE = re.compile(r"[0-9]{1,2}(?![0-9])")
_AND_A_HALF = re.compile(r" and a (half|quarter)(?![a-z])")
_ABOUT = re.compile(r"(?:about|around|roughly|at least|up to|ca\.?|approx\.?|~) ?")
_LEAST = re.compile(f"{NUMBER}(?: ?{_UNIT_WORD})? ?(?:-|to|or) ?(?=[0-9½¼¾])")
_CLOCK = re.compile(r"[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?")


@lru_cache(maxsize=1024)
def read_duration(text: str) -> int | Unreadable:
    """A duration in whole seconds. Of `2 to 3 min` it is the longer; `1:30` is asked about."""
    said = " ".join(tidy(text).lower().split())
    if not said:
        return Unreadable("no-duration")
    said = _ABOUT.sub("", said, count=1) if _ABOUT.match(said) else said
    if said == "overnight":
        return OVERNIGHT
    if _CLOCK.fullmatch(said):
        return _clock(said)
    if isinstance(value_of(said), Fraction):
        return Unreadable("duration-without-unit", (("text", text.strip()),))
    seconds = _add_parts(said, text.strip())
    if isinstance(seconds, Unreadable) and (least := _LEAST.match(said)):
        return _add_parts(said[least.end() :], text.strip())
    return seconds


def _clock(said: str) -> Unreadable:
    """`1:30` may be an hour and a half, or a minute and a half."""
    first, second, *_ = said.split(":")
    facts = (
        ("text", said),
        ("hours", f"{int(first)} h {int(second)} min"),
        ("minutes", f"{int(first)} min {second} s"),
    )
    return Unreadable("hours-or-minutes", facts)


def _add_parts(said: str, text: str) -> int | Unreadable:
    """`1 h 30 min`: parts from large to small, added; a bare number after hours is minutes."""
    seconds = Fraction(0)
    at, last = 0, DAY + 1
    while at < len(said):
        if at and (gap := _BETWEEN.match(said, at)):
            at = gap.end()
        part = _PART.match(said, at)
        if part is None:
            bare = _BARE.fullmatch(said, at)
            if bare is None or last not in {HOUR, MINUTE}:
                return Unreadable("duration-unreadable", (("text", text),))
            return _sensible(seconds + int(bare[0]) * Fraction(last, 60), text)
        number = Fraction(1) if part["number"] in {"a", "an"} else value_of(part["number"])
        if isinstance(number, Unreadable):
            return number
        unit = _SECONDS[part["unit"]]
        if unit >= last:
            return Unreadable("duration-unreadable", (("text", text),))
        at, last = part.end(), unit
        if half := _AND_A_HALF.match(said, at):
            number += Fraction(1, 2) if half[1] == "half" else Fraction(1, 4)
            at = half.end()
        seconds += number * unit
    return _sensible(seconds, text)


def _sensible(seconds: Fraction, text: str) -> int | Unreadable:
    """Whole seconds, no more than a recipe can mean."""
    return Unreadable("duration-absurd", (("text", text),)) if seconds > LONGEST else round(seconds)
