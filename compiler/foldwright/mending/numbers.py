"""Numbers put right where they stand, written as the author writes them: `4⅛`, `4-1/8`, `4.125`, `4,5`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from foldwright.finding import Mend
from foldwright.finding.changes import Change
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.numbers import NUMBER, VULGAR, tidy, value_of
from foldwright.mending.layout import fact_rows
from foldwright.mending.matter import Matter, Span
from foldwright.mending.ways import Way, at
from foldwright.recipe.facts.writing import write_length, write_number

_NUMBER = re.compile(rf"(?<![\w.,/]){NUMBER}(?![0-9/])")
_PANEL = re.compile(
    rf"(?:^|\|)\s*(?P<part>(?P<number>{NUMBER})(?:\s+(?!of\b|in\b|mm\b|cm\b)[^|0-9\n]*[^|0-9\s])?)(?=\s*(?:\||$))"
)
"""A panel with a number alone, and its name."""
_SIZE = re.compile(r"[,:{\n]\s*size\b[^\S\n]*:?[^\S\n]+", re.IGNORECASE)
_COMMA = re.compile(r",(?![0-9])")
_CHARACTERS = {value: character for character, value in VULGAR.items()}
_REPEATED = re.compile(r"\brepeat(?:ed|s)?\s+(?P<times>[0-9]+)", re.IGNORECASE)
_MOST_DENOMINATOR = 64


def right_number(matter: Matter) -> Iterator[Mend]:
    """The number `said` gives way to the one that is the `length`."""
    said, length = matter.facts["said"], matter.facts["length"]
    if not isinstance(said, Length) or not isinstance(length, Length):
        return
    text = tidy(matter.said)
    spans = [match.span() for match in _NUMBER.finditer(text) if value_of(match[0]) == said.value]
    written = _like(matter.said[slice(*spans[0])], length.mm / said.unit.mm, said.unit) if spans else ""
    start = matter.place.start
    if written:
        yield Mend(tuple(Change(start + one, start + end, written) for one, end in spans))
    elif len(list(_NUMBER.finditer(text))) == 1:
        yield at(start, matter.place.end, write_length(length))


def _like(typed: str, value: Fraction, unit: Unit) -> str:
    """A number written as another one was; empty where no such writing says it exactly."""
    tidied, denominator = tidy(typed), value.denominator
    binary = denominator <= _MOST_DENOMINATOR and denominator & (denominator - 1) == 0
    decimal = "." in tidied or "," in tidied or (unit.system is System.METRIC and "/" not in tidied)
    written = write_number(value, not decimal)
    if "/" in written and not binary:
        return ""
    whole, rest = divmod(value, 1)
    if rest in _CHARACTERS and any(character in VULGAR for character in typed):
        return f"{whole or ''}{_CHARACTERS[rest]}"
    if "-" in tidied:
        return written.replace(" ", "-")
    return written.replace(".", ",") if "," in tidied else written


def right_size(matter: Matter) -> Iterator[Mend]:
    """The side of the size that the panels do not come to gives way to what they come to."""
    wrong, right, side = matter.facts["size"], matter.facts["sum"], matter.facts["side"]
    found = _size_in_entry(matter)
    if not found or not isinstance(wrong, Length) or not isinstance(right, Length):
        return
    text = tidy(matter.text[slice(*found)])
    numbers = list(_NUMBER.finditer(text))
    number = numbers[0 if side == "across" else 1] if len(numbers) == 2 else None
    if number and value_of(number[0]) == wrong.value:
        start, end = (found[0] + one for one in number.span())
        if written := _like(matter.text[start:end], right.mm / wrong.unit.mm, wrong.unit):
            yield at(start, end, written)


def rest_for_one(matter: Matter) -> Iterator[Mend]:
    """`rest` for the length of one panel or another, where it leaves something."""
    size, total = matter.facts["size"], matter.facts["sum"]
    assert isinstance(size, Length)
    assert isinstance(total, Length)
    for part in _PANEL.finditer(tidy(matter.said)):
        value = value_of(part["number"])
        if isinstance(value, Fraction) and value * size.unit.mm > total.mm - size.mm:
            start, end = (matter.place.start + one for one in part.span("part"))
            name = matter.text[matter.place.start + part.end("number") : end]
            yield at(start, end, f"rest{name}")


def _size_in_entry(matter: Matter) -> Span | None:
    """Where the size of the piece stands that a place belongs to."""
    begin, end = fact_rows(matter.text).extent(matter.place.start)
    size = _SIZE.search(matter.text, begin, end)
    if size is None:
        return None
    line_end = matter.text.find("\n", size.end(), end)
    # On a line with others the size ends at the comma; one between digits is a decimal comma.
    comma = _COMMA.search(matter.text, size.end(), line_end if line_end >= 0 else end)
    return size.end(), comma.start() if comma else (line_end if line_end >= 0 else end)


def swapped_numbers(matter: Matter) -> Iterator[Mend]:
    """The first two numbers of the place change about: across x down."""
    found = list(_NUMBER.finditer(tidy(matter.said)))[:2]
    if len(found) == 2:
        start = matter.place.start
        spans = [(start + match.start(), start + match.end()) for match in found]
        texts = [matter.text[one:end] for one, end in spans]
        yield Mend(tuple(Change(*span, text) for span, text in zip(spans, reversed(texts), strict=True)))


def fewer_times(matter: Matter) -> Iterator[Mend]:
    """As often as there is room; once is no repeating."""
    fits = matter.facts["fits"]
    found = _REPEATED.search(matter.said)
    if found and isinstance(fits, int) and fits > 1:
        start = matter.place.start
        yield at(start + found.start("times"), start + found.end("times"), str(fits))


@lru_cache(maxsize=4)
def _units(text: str) -> tuple[str, ...]:
    """The units a bare number may be in, the one the recipe uses most first."""
    counts = {unit: len(re.findall(rf"[0-9] ?{unit}\b", text)) for unit in ("in", "mm", "cm")}
    return tuple(sorted(counts, key=lambda unit: -counts[unit]))


def with_unit(of: str = "") -> Way:
    """A unit behind a bare number."""

    def way(matter: Matter) -> Iterator[Mend]:
        for unit in _units(matter.text):
            if spans := matter.spans(of):
                yield Mend(tuple(Change(end, end, f" {unit}") for _, end in spans))

    return way


def trimmed_flaps(matter: Matter) -> Iterator[Mend]:
    """A little off the free edge of each flap, in the recipe's own unit first."""
    end, sizes = matter.place.end, {"in": "1/16 in", "mm": "1 mm"}
    for unit in _units(matter.text):
        if unit in sizes:
            yield at(end, end, f", trimmed {sizes[unit]}")
