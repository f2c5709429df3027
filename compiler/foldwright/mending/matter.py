"""A finding beside the text it stands in: the author's own words there, and its facts as one would type them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cached_property
from itertools import product

from msgspec import Struct

from foldwright.finding import Finding, Place
from foldwright.measure.length import Length
from foldwright.measure.numbers import tidy
from foldwright.recipe.facts.writing import write_length, write_number, write_row

_SLOT = re.compile(r"\{(\w+)(\*?)\}")
_MOST_WAYS = 10
"""Among more known words nobody wants to be offered each."""
_WHOLE = r"(?<![\w.,/]){}(?![\w/]|[.,][0-9])"
"""Not within a longer word or number."""

type Span = tuple[int, int]


class Matter(Struct, frozen=True, dict=True):
    """`place` is the finding's own; offsets count in `text`."""

    finding: Finding
    place: Place
    text: str

    @property
    def said(self) -> str:
        """The author's words at the place."""
        return self.text[self.place.start : self.place.end]

    @cached_property
    def facts(self) -> Mapping[str, object]:
        return {**dict(self.finding.facts), "code": self.finding.code}

    def fact(self, name: str) -> str:
        """A fact as one would type it; empty when there is none."""
        return _typed(self.facts.get(name, ""))

    def filled(self, template: str) -> Iterator[str]:
        """The template with the facts in its slots: `{one}`, or `{known*}` for a text with each of several.

        Nothing where a fact is missing or empty.
        """
        slots = [self._values(name, bool(each)) for name, each in _SLOT.findall(template)]
        for values in product(*slots):
            filling = iter(values)
            yield _SLOT.sub(lambda _: next(filling), template)  # noqa: B023

    def _values(self, name: str, each: bool) -> list[str]:
        value = self.facts.get(name, "")
        values = value if each and isinstance(value, tuple) else (value,)
        if len(values) > _MOST_WAYS:
            return []
        return [typed for one in values if (typed := _typed(one))]

    def spans(self, of: str = "", first: bool = False) -> list[Span]:
        """The place; or, of what a fact quotes, every one that stands there whole (or the first)."""
        if not of:
            return [(self.place.start, self.place.end)]
        words = tidy(self.fact(of)).split()
        if not words:
            return []
        pattern = _WHOLE.format(r"\s+".join(map(re.escape, words)))
        found = re.finditer(pattern, tidy(self.said), re.IGNORECASE)
        spans = [(self.place.start + match.start(), self.place.start + match.end()) for match in found]
        return spans[:1] if first else spans


def _typed(value: object) -> str:
    match value:
        case str():
            return value
        case bool() | Place():
            return ""
        case int():
            return str(value)
        case Length():
            return write_length(value)
        case Fraction():
            return write_number(value)
        case tuple():
            return write_row([_typed(one) for one in value])
        case _:
            return ""
