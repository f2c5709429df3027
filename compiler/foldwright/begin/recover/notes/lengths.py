"""Noted numbers as lengths: their unit, what a doubt makes of them, and how far each may be off."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.recover.notes.parts import NotedBound, NotedNumber
from foldwright.finding import Place
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase

READ_TO = {
    System.IMPERIAL: Length.of(Fraction(1, 32), Unit.INCH),
    System.METRIC: Length.of(Fraction(1, 2), Unit.MILLIMETRE),
}
"""How far a reading may be off when nobody says: half a mark of a ruler marked in sixteenths, or in millimetres."""
_LONGEST = Fraction(3000)
"""Millimetres: no sheet is as long (a reasoned guess). Such a number lacks a mark, or has the wrong unit."""
_LIKELY = Fraction(700)
"""Millimetres: a longer panel is not taken to be in the unit of the others (a reasoned guess)."""
_SHORTEST = Fraction(1, 10)


class NumberCustoms(Struct, frozen=True):
    """How numbers are meant unless a line says otherwise: the unit of bare ones, and how far each system's are off.

    `usual` is the unit of bare numbers without a fraction where other lines have only that one; `marked` whether the
    bounds are those of a ruler's marks.
    """

    unit: Unit | None
    bounds: Mapping[System, Length]
    usual: Unit | None = None
    marked: bool = True


class RowItem(Struct, frozen=True):
    """One number of a run; `name` is the panel's, empty when it has none. No length: it could not be read."""

    length: Length | None
    bound: Length
    name: str
    said: Phrase


def lengths_of(
    runs: Sequence[Sequence[NotedNumber]],
    customs: NumberCustoms,
    line: NotedBound | None,
    complaints: Complaints,
    assumed: list[DraftNote],
) -> dict[Place, RowItem] | None:
    """The numbers of a line by their places; None (and a finding) when one of them is no length.

    A bare number takes the unit of the next of its run that has one, else of the one before; else that of the line.
    """
    numbers = sorted((number for run in runs for number in run), key=lambda number: number.phrase.start)
    fractions = any(number.fraction for number in numbers)
    items: dict[Place, RowItem] = {}
    for at, number in enumerate(numbers):
        run = next(run for run in runs if any(one is number for one in run))
        own = next(place for place, one in enumerate(run) if one is number)
        near = (*run[own:], *reversed(run[:own]), *numbers[at:], *reversed(numbers[:at]))
        unit = next((one.unit for one in near if one.unit), customs.unit)
        if unit is None and fractions:
            unit = Unit.INCH
            assumed.append(DraftNote.of("fractions-are-inches"))
        elif unit is None and customs.usual and (number.value or 0) * customs.usual.mm <= _LIKELY:
            unit = customs.usual
            assumed.append(DraftNote.of("unit-as-elsewhere", unit=unit.symbol))
        if unit is None and number.value is not None:
            complaints.fault("reading-without-unit", number.phrase)
            return None
        if number.perhaps_inches:
            if (unit is not None and unit.system is System.METRIC) or (
                customs.usual or Unit.INCH
            ).system is System.METRIC:
                complaints.fault("reading-in-unclear", number.phrase)
                return None
            unit = Unit.INCH
        item = _item(number, unit or Unit.MILLIMETRE, customs, line, complaints, assumed)
        if item is None:
            return None
        items[number.phrase.place] = item
    return items


def _item(
    number: NotedNumber,
    unit: Unit,
    customs: NumberCustoms,
    line: NotedBound | None,
    complaints: Complaints,
    assumed: list[DraftNote],
) -> RowItem | None:
    bound = _bound(number, unit, customs, line, assumed)
    if number.value is None:
        return RowItem(None, bound, number.name, number.phrase)
    if not _sensible(number, unit, complaints):
        return None
    middle, off = Length.of(number.value, unit), bound
    if number.other:
        other = Length.of(number.other[0], number.other[1] or unit)
        middle = Length((middle.mm + other.mm) / 2, middle.unit)
        off = Length(bound.mm + abs(middle.mm - other.mm), bound.unit)
    if number.doubt == "about":
        off = Length(off.mm * 2, off.unit)
    elif number.doubt:
        # The edge lies beyond this mark, and before the next.
        middle = Length(middle.mm + (bound.mm if number.doubt == "over" else -bound.mm), middle.unit)
    if off.mm * 2 > middle.mm:
        complaints.fault("reading-too-vague", number.phrase, bound=off)
        return None
    if number.doubt or number.other:
        low, high = Length(middle.mm - off.mm, middle.unit), Length(middle.mm + off.mm, middle.unit)
        assumed.append(DraftNote.of("doubted", said=number.phrase.plain, low=low, high=high))
    return RowItem(middle, off, number.name, number.phrase)


def _sensible(number: NotedNumber, unit: Unit, complaints: Complaints) -> bool:
    values = [(number.value, unit), *([number.other] if number.other else [])]
    if number.comma > 1 and unit in (Unit.MILLIMETRE, Unit.INCH):
        # Nobody reads a ruler to hundredths of a millimetre, and few write inches with a comma.
        complaints.fault("reading-comma-unclear", number.phrase)
        return False
    for value, own in values:
        assert value is not None
        mm = value * (own or unit).mm
        if mm > _LONGEST:
            complaints.fault("reading-too-long", number.phrase, length=Length(mm, own or unit))
            return False
        if mm < _SHORTEST:
            complaints.fault("reading-unreadable", number.phrase)
            return False
    return True


def _bound(
    number: NotedNumber, unit: Unit, customs: NumberCustoms, line: NotedBound | None, assumed: list[DraftNote]
) -> Length:
    """How far a number may be off: as it says itself, or its line, or the notes."""
    if number.bound:
        value, own, marks = *number.bound, number.marks
    elif line:
        value, own, marks = line.value, line.unit, line.marks
    else:
        bound = customs.bounds[unit.system]
        if customs.marked:
            assumed.append(_told_marks(Length(bound.mm * 2, bound.unit)))
        return bound
    said = Length.of(value, own or unit)
    if marks:
        assumed.append(_told_marks(said))
    return Length(said.mm / 2, said.unit) if marks else said


def _told_marks(apart: Length) -> DraftNote:
    """That a ruler is marked so, and what that means for a reading."""
    return DraftNote.of("ruler-marks", marks=apart, off=Length(apart.mm / 2, apart.unit))


def only_fractions(numbers: Iterable[NotedNumber]) -> bool:
    """Whether no number has a unit and one is a fraction, as only inches are written."""
    listed = list(numbers)
    return any(number.fraction for number in listed) and not any(number.unit for number in listed)
