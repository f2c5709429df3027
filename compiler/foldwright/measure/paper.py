"""Named sheets and envelopes, upright: the shorter side across, the longer down.

Series A and B after ISO 216, series C and DL after ISO 269; letter, legal and tabloid after ASME Y14.1 and common
practice. Announcement envelopes (`A2 envelope`) are trade practice without a standard; a bare `A2` is the ISO sheet.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import read_lengths_cross
from foldwright.measure.unreadable import Unreadable

_ISO_START = {"a": (841, 1189), "b": (1000, 1414), "c": (917, 1297)}
_INCH_SHEETS: dict[str, tuple[str, str]] = {
    "letter": ("17/2", "11"),
    "us letter": ("17/2", "11"),
    "legal": ("17/2", "14"),
    "us legal": ("17/2", "14"),
    "tabloid": ("11", "17"),
    "ledger": ("11", "17"),
    "half letter": ("11/2", "17/2"),
    "scrapbook": ("12", "12"),
    "ansi a": ("17/2", "11"),
    "ansi b": ("11", "17"),
    "ansi c": ("17", "22"),
    "ansi d": ("22", "34"),
    "ansi e": ("34", "44"),
}
_CLOSED = {name.replace(" ", ""): size for name, size in _INCH_SHEETS.items()}
"""The same by their names written as one word."""
_INCH_ENVELOPES: dict[str, tuple[str, str]] = {
    "a1": ("29/8", "41/8"),
    "4 bar": ("29/8", "41/8"),
    "a2": ("35/8", "23/4"),
    "a6": ("19/4", "13/2"),
    "a7": ("21/4", "29/4"),
    "a9": ("23/4", "35/4"),
    "9": ("31/8", "71/8"),
    "10": ("33/8", "19/2"),
    "11": ("9/2", "83/8"),
    "14": ("5", "23/2"),
    "6 3/4": ("29/8", "13/2"),
    "monarch": ("31/8", "15/2"),
}
_BY_MEASURES = (("4", "6"),)
"""Inch papers called by their measures and nothing else: photographs and index cards (common practice, no source)."""
_METRIC_ENVELOPES = {"dl": (110, 220), "c6/c5": (114, 229), "c65": (114, 229)}

_ISO_NAME = re.compile(r"(?:iso )?([abc])(10|[0-9])")
_PAPER_WORDS = re.compile(r"^(?:us|iso) | (?:paper|sheets?|cards?)$")
_ENVELOPE_WORDS = re.compile(r"\b(?:envelopes?|no\.?|number|personal|commercial)(?= |$)|#")


def named_sheet(name: str) -> tuple[Length, Length] | None:
    """The sheet or envelope of this name as (across, down), or None when no such name is known."""
    plain = " ".join(name.lower().replace("-", " ").split())
    envelope = " ".join(_ENVELOPE_WORDS.sub(" ", plain).split())
    if envelope != plain:
        return _inches(_INCH_ENVELOPES.get(envelope)) or _millimetres(_METRIC_ENVELOPES.get(envelope)) or _iso(envelope)
    sheet = plain.removesuffix(" paper").removesuffix(" sheet")
    return _iso(sheet) or _inches(_INCH_SHEETS.get(sheet)) or _millimetres(_METRIC_ENVELOPES.get(sheet))


def envelopes_in(system: System) -> tuple[tuple[str, Length, Length], ...]:
    """The envelopes sold in a unit system by name (`A2`, `C6`), the smallest first: those of ISO 269 and series B in
    millimetres, the trade's in inches."""
    if system is System.IMPERIAL:
        named = [(called, _inches(_INCH_ENVELOPES[name])) for name, called in _ASKED_FOR.items()]
    else:
        named = [(name.upper(), _iso(name)) for name in ("c6", "b6", "c5", "c4")]
        named += [(name.upper(), _millimetres(_METRIC_ENVELOPES[name])) for name in ("dl", "c6/c5")]
    sized = [(name, *size) for name, size in named if size]
    return tuple(sorted(sized, key=lambda one: one[1].mm * one[2].mm))


_ASKED_FOR = {"a1": "A1", "a2": "A2", "a6": "A6", "a7": "A7", "a9": "A9", "10": "No. 10"}


def paper_meant(text: str) -> tuple[Length, Length] | None:
    """The paper somebody prints on: `A 4`, `Half_Letter`, `US letter paper`, `4x6`, `6 x 4 in`, `148 x 210 mm`.

    As (across, down), upright, or None. A size without a unit is in whichever unit makes it a paper that is sold.
    """
    plain = _PAPER_WORDS.sub("", " ".join(text.casefold().replace("-", " ").replace("_", " ").split()))
    closed = plain.replace(" ", "")
    return named_sheet(plain) or _iso(closed) or _inches(_CLOSED.get(closed)) or _of_measures(plain)


def _of_measures(text: str) -> tuple[Length, Length] | None:
    with_unit = read_lengths_cross(text)
    if not isinstance(with_unit, Unreadable):
        return _upright(with_unit)
    for unit in (Unit.INCH, Unit.MILLIMETRE):
        without = read_lengths_cross(text, unit)
        size = None if isinstance(without, Unreadable) else _upright(without)
        if size in _sold():
            return size
    return None


def _upright(lengths: tuple[Length, ...]) -> tuple[Length, Length] | None:
    if len(lengths) != 2:
        return None
    across, down = sorted(lengths, key=lambda length: length.mm)
    return across, down


@cache
def _sold() -> frozenset[tuple[Length, Length] | None]:
    named = (_iso(f"{series}{number}") for series in _ISO_START for number in range(11))
    return frozenset((*named, *map(_inches, (*_INCH_SHEETS.values(), *_BY_MEASURES)))) - {None}


def _iso(name: str) -> tuple[Length, Length] | None:
    """Each size is the one before it halved across its longer side, rounded down to a whole millimetre (ISO 216)."""
    match = _ISO_NAME.fullmatch(name)
    if match is None:
        return None
    across, down = _ISO_START[match[1]]
    for _ in range(int(match[2])):
        across, down = down // 2, across
    return _millimetres((across, down))


def _millimetres(size: tuple[int, int] | None) -> tuple[Length, Length] | None:
    return (Length.of(size[0], Unit.MILLIMETRE), Length.of(size[1], Unit.MILLIMETRE)) if size else None


def _inches(size: tuple[str, str] | None) -> tuple[Length, Length] | None:
    return (Length.of(Fraction(size[0]), Unit.INCH), Length.of(Fraction(size[1]), Unit.INCH)) if size else None
