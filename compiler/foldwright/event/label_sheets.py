"""What `--labels` asks for: a size of label, or a whole sheet by measure."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise

from foldwright.event.render.grids import LEAST_LABEL, MOST_LABEL, Across, LabelSheet
from foldwright.measure.length import Unit
from foldwright.measure.reading import read_length, read_lengths_cross, read_number
from foldwright.measure.unreadable import Unreadable

_MOST_MARGIN = 100
"""Millimetres of a margin or a gap: a larger one would leave no room for labels."""
_BETWEEN = re.compile(r",\s+|;\s*")
"""A comma with no space after it is a decimal comma."""
_COUNTS = re.compile(r"([0-9]{1,2}) across,? (?:by |and |x )?([0-9]{1,2}) down")
_PAIR = re.compile(r"(margin|gap)s?:? (.+)")
_LENGTH = re.compile(
    r"(?P<number>[1-9][0-9]* [0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?)"
    r"(?: ?(?P<unit>(?!top|side|left|across|down)[a-z\"]+))?(?: (?P<way>top|side|left|across|down))?(?: and|,)?(?: |$)"
)
_DOWN, _ACROSS = ("top", "down"), ("side", "left", "across")


def read_label_sheet(text: str) -> LabelSheet | None:
    """`4 x 2 in`; `3 across 7 down, 63.5 x 38.1 mm, margins 15.1 7.2, gaps 0 2.5`. None where it is neither.

    Of two margins the first is the top one, of two gaps the first is that between rows; one is for both directions.
    """
    parts = [part.strip().casefold() for part in _BETWEEN.split(text) if part.strip()]
    parts = _whole_counts(parts)
    counts = [found for part in parts if (found := _COUNTS.fullmatch(part))]
    pairs = [found for part in parts if (found := _PAIR.fullmatch(part))]
    sizes = [part for part in parts if not _COUNTS.fullmatch(part) and not _PAIR.fullmatch(part)]
    lengths = read_lengths_cross(sizes[0]) if len(sizes) == 1 else None
    named = {found[1]: found[2] for found in pairs}
    if lengths is None or isinstance(lengths, Unreadable) or len(lengths) != 2 or len(counts) > 1:
        return None
    if len(named) < len(pairs) or not all(LEAST_LABEL <= side.mm <= MOST_LABEL for side in lengths):
        return None
    asked: dict[str, tuple[Fraction, Fraction] | None] = {}
    for word, said in named.items():
        if (asked_for := _pair(said, lengths[-1].unit)) is None:
            return None
        asked[word] = asked_for
    return _sheet(lengths[0].mm, lengths[1].mm, counts[0] if counts else None, asked)


def _whole_counts(parts: list[str]) -> list[str]:
    """`3 across, 7 down` is one part, whatever parts it."""
    for number, (one, other) in enumerate(pairwise(parts)):
        if one.endswith(" across") and other.endswith(" down"):
            return [*parts[:number], f"{one} {other}", *parts[number + 2 :]]
    return parts


def _sheet(
    width: Fraction,
    height: Fraction,
    counts: re.Match[str] | None,
    asked: Mapping[str, tuple[Fraction, Fraction] | None],
) -> LabelSheet | None:
    across, down = (int(counts[1]), int(counts[2])) if counts else (None, None)
    if 0 in (across, down):
        return None
    margin, gap = asked.get("margin"), asked.get("gap") or (Fraction(0), Fraction(0))
    return LabelSheet(
        Across(width, across, margin and margin[1], gap[1]), Across(height, down, margin and margin[0], gap[0])
    )


def _pair(text: str, unit: Unit) -> tuple[Fraction, Fraction] | None:
    """Down and across in millimetres; a number without a unit is in that of the label's size."""
    found, at = [], 0
    while at < len(text):
        match = _LENGTH.match(text, at)
        length = match and _length(match["number"], match["unit"], unit)
        if match is None or length is None or length > _MOST_MARGIN:
            return None
        found.append((match["way"], length))
        at = match.end()
    if len(found) == 1 and found[0][0] is None:
        return found[0][1], found[0][1]
    if len(found) != 2:
        return None
    (first, one), (second, other) = found
    if first in _ACROSS and second not in _ACROSS:
        return other, one
    return None if second in _DOWN or first in _ACROSS else (one, other)


def _length(number: str, unit: str | None, otherwise: Unit) -> Fraction | None:
    """Unlike other lengths, it may be nothing."""
    if unit is None:
        plain = read_number(number)
        return None if isinstance(plain, Unreadable) else plain * otherwise.mm
    length = read_length(f"{number} {unit}")
    if isinstance(length, Unreadable):
        zero = read_number(number)
        return Fraction(0) if zero == 0 else None
    return length.mm
