"""How long something takes, as people write it: `2 min`, `1 1/2 h`, `1 h 30`, `half an hour`, `overnight`.

Several times of the same work come to the one that a person would tell.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from foldwright.measure.numbers import NUMBER, tidy, value_of
from foldwright.measure.spelled import WORD_NUMBER
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import nearest

MINUTE = 60
HOUR = 60 * MINUTE
DAY = 24 * HOUR
OVERNIGHT = 12 * HOUR
"""From packing up in the evening to the next morning: common practice, no source."""
LONGEST = 60 * DAY
"""Two months; nothing in a paper studio takes longer."""

_STEPS = ((10 * MINUTE, MINUTE), (MINUTE, MINUTE // 2), (0, 5))
"""From so many seconds on, people tell a time in steps of so many: in minutes, in half minutes, in five seconds."""

_SPELLINGS = {
    1: ("s", "sec", "secs", "second", "seconds"),
    MINUTE: ("min", "mins", "minute", "minutes"),
    HOUR: ("h", "hr", "hrs", "hour", "hours"),
    DAY: ("day", "days"),
}
_ONE_SLIP = 0.8
"""How like a unit a word must be to be taken for it (a careful guess)."""
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
    read = _read(text)
    return _or_near(read, text.strip()) if isinstance(read, Unreadable) else read


def _read(text: str) -> int | Unreadable:
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


def _or_near(wrong: Unreadable, text: str) -> Unreadable:
    """What cannot be read, with the time it is once its unit is spelled as it should be."""
    for word in re.findall("[A-Za-z]{2,}", text) if wrong.code == "duration-unreadable" else ():
        near = nearest(word, _SECONDS, _ONE_SLIP)
        meant = text.replace(word, near, 1)
        if near and meant != text and isinstance(_read(meant), int):
            return Unreadable("duration-unreadable-near", (("text", text), ("nearest", meant)))
    return wrong


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


def usual_time(readings: Sequence[int]) -> int:
    """The average of times that were measured, in seconds, as people would tell it: `4 1/2 min`, `12 min`, `35 s`."""
    average = Fraction(sum(readings), len(readings))
    step = next(step for least, step in _STEPS if average >= least)
    # Halves go up; what took any time at all is not told as none.
    return max(int(average / step + Fraction(1, 2)), 1 if average else 0) * step


def write_duration(seconds: int) -> str:
    """`1 h 5 min`, `4 min 30 s`: as one would type it, and as it is read."""
    parts = []
    for unit in (HOUR, MINUTE, 1):
        number, seconds = divmod(seconds, unit)
        if number:
            parts.append(f"{number} {_SPELLINGS[unit][0]}")
    return " ".join(parts) or f"0 {_SPELLINGS[MINUTE][0]}"
