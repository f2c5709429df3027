"""Sentences of the catalogue with measures in their slots, and what numbers, times and dates are called."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from foldwright.document.catalogue import Catalogue
from foldwright.document.quote_marks import curled
from foldwright.document.words import Both, MeasureInWords, Run, Runs, SetMeasure
from foldwright.recipe.facts.days import day_of
from foldwright.recipe.words import Text

if TYPE_CHECKING:
    from fractions import Fraction


def sentence(
    words: Catalogue, key: str, count: int | None = None, **facts: str | int | Both[SetMeasure] | Runs
) -> Runs:
    """A text of the catalogue as runs: a slot may hold words, a phrase in both systems, or runs."""
    runs: list[Run] = []
    for number, part in enumerate(words.parts(key, count)):
        if number % 2 == 0:
            _add(runs, part)
            continue
        fact = facts.get(part, count)
        match fact:
            case Both():
                runs.append(MeasureInWords(fact))
            case tuple():
                runs += fact
            case _:
                _add(runs, curled(str(fact)))
    return tuple(runs)


def joined(parts: list[Runs], separator: str) -> Runs:
    """Runs one after another with a separator between them."""
    runs: list[Run] = []
    for number, part in enumerate(parts):
        if number:
            _add(runs, separator)
        runs += part
    return tuple(runs)


def _add(runs: list[Run], text: str) -> None:
    if text:
        runs.append(Text(text))


@lru_cache(maxsize=1024)
def span_words(words: Catalogue, seconds: int) -> str:
    """`2 min`, `1 h 5 min`, `45 s`."""
    hours, rest = divmod(seconds, 3600)
    minutes, left = divmod(rest, 60)
    parts = [
        words.say(f"page.span.{name}", number=number)
        for name, number in (("hours", hours), ("minutes", minutes), ("seconds", left))
        if number
    ]
    return words.say("page.span.between").join(parts) if parts else words.say("page.span.minutes", number=0)


def since_words(words: Catalogue, seconds: int) -> str:
    """Hours and minutes from the beginning, `1:05`; a begun minute counts, as it does in the time it all takes."""
    hours, minutes = divmod(-(-seconds // 60), 60)
    return words.say("page.span.since", hours=hours, minutes=f"{minutes:02}")


def number_words(value: Fraction, decimal: bool) -> str:
    """An exact number as it was written: `2.5` where decimals are usual and say it exactly, else `2 1/2`."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    if decimal and not 1000 % rest.denominator:
        return f"{whole}.{str(int(rest * 1000)).rjust(3, '0').rstrip('0')}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {fraction}" if whole else fraction


@lru_cache(maxsize=256)
def date_words(text: str, pattern: str, language: str) -> tuple[str, str]:
    """A date as (for machines, for people): `2026-11-20`, `20 November 2026`; what is no date stays as written.

    `pattern` is a date pattern of Unicode Technical Standard 35, part 4.
    """
    date = day_of(text)
    if date is None:
        return "", text
    from babel.dates import format_date

    return date.isoformat(), format_date(date, pattern, locale=language)
