"""A sample whose readings were typed where they were taken: each in a field of its own, at its place on the piece.

The place of what is found is the name of that field, so that it can be told there.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping
from itertools import pairwise

from msgspec import Struct

from foldwright.begin.draft.card import plain_name
from foldwright.begin.draft.model import UNIT
from foldwright.begin.recover.model import SIDES, RulerReading, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.notes.lengths import READ_TO
from foldwright.begin.recover.notes.marks import read_habit
from foldwright.finding import Finding, Place, Wrong
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable

_FIGURES = re.compile("[0-9½¼¾⅓⅔⅛⅜⅝⅞]")
_MOST_WORDS = 6
"""Of a length, with its unit: `1 and 3/4 in` has four."""


class TypedSide(Struct, frozen=True):
    """One side as typed: a number for each panel, or (`running`) for each line after the first edge; the whole, if
    that was measured too. What was left empty is an empty text. Behind a number may stand what its panel is called."""

    side: str
    numbers: tuple[str, ...]
    whole: str = ""
    running: bool = False


class TypedPiece(Struct, frozen=True):
    """One piece as typed; its fields are called `field-across-1` and so on."""

    field: str
    name: str
    sides: tuple[TypedSide, TypedSide]
    fold: str = ""


class TypedSample(Struct, frozen=True):
    """Everything that was typed: the pieces, the unit of their numbers, how far apart the ruler's marks are (empty: as
    usual), and what the maker cuts to (empty: nobody knows)."""

    pieces: tuple[TypedPiece, ...]
    system: System
    read_to: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    made_in: str = ""


def sample_typed(typed: TypedSample) -> tuple[Sample | None, Mapping[str, Wrong]]:
    """The sample, or what is wrong with which field."""
    marks = read_length(typed.read_to, UNIT[typed.system]) if typed.read_to else None
    wrong: dict[str, Wrong] = {}
    if isinstance(marks, Unreadable):
        wrong["read-to"] = Wrong.of("recover.read-to-odd", said=typed.read_to)
    bound = Length(marks.mm / 2, marks.unit) if isinstance(marks, Length) else READ_TO[typed.system]
    pieces = []
    for piece in typed.pieces:
        across, down = (_side(piece, side, typed.system, bound, wrong) for side in piece.sides)
        facts = (("fold", piece.fold),) if piece.fold else ()
        pieces.append(SamplePiece(piece.name, (across, down), facts, across.place))
    habit = read_habit(typed.made_in) if typed.made_in else None
    return (None if wrong else Sample(tuple(pieces), typed.facts, (), habit)), wrong


def notes_of(typed: TypedSample, wide: Container[tuple[str, str]] = (), bound: str = "") -> str:
    """The same as the notes a person would write, as they are kept beside the recipe; the numbers of some sides (piece
    and side) may be off by a bound."""
    unit = UNIT[typed.system]
    lines = [f"{word}: {said}" for word, said in typed.facts]
    lines += [f"read to: {typed.read_to.removesuffix(unit.symbol).strip()} {unit.symbol}"] if typed.read_to else []
    lines += [f"made in: {typed.made_in}"] if typed.made_in else []
    for piece in typed.pieces:
        for side in piece.sides:
            within = f"; within {bound}" if (piece.name, side.side) in wide else ""
            lines += [f"{line}{within}" for line in _notes(piece.name, side, unit)]
        lines += [f"{piece.name} fold: {piece.fold}"] if piece.fold else []
    return "\n".join(lines) + "\n"


def field_of(piece: TypedPiece, side: str, number: int) -> str:
    """What the field of a panel, or of a line, is called; 0 is that of the whole side."""
    return f"{piece.field}-{side}-{number}" if number else f"{piece.field}-{side}-whole"


def _side(piece: TypedPiece, side: TypedSide, system: System, bound: Length, wrong: dict[str, Wrong]) -> SampleSide:
    count = len(side.numbers)
    parts = [_parted(said, UNIT[system]) for said in side.numbers]
    readings: list[RulerReading] = []
    for number, said in [*enumerate((said for said, _ in parts), 1), (0, side.whole)]:
        if not said:
            continue
        field = field_of(piece, side.side, number)
        length = read_length(said, UNIT[system])
        if isinstance(length, Unreadable) or length.mm <= 0:
            wrong[field] = Wrong.of("recover.reading", said=said)
            continue
        if bound.mm * 2 > length.mm:
            wrong[field] = Wrong.of("recover.too-vague", said=said, bound=bound)
        start, end = (0, number or count) if side.running or not number else (number - 1, number)
        readings.append(RulerReading(start, end, length, bound, Place(field, 0, len(said)), said))
    if side.running:
        for one, other in pairwise(readings):
            if other.end > one.end and other.length.mm <= one.length.mm:
                wrong[other.place.file] = Wrong.of("recover.not-rising", said=other.said, before=one.said)
    return SampleSide(
        side.side, tuple(name for _, name in parts), tuple(readings), Place(f"{piece.field}-{side.side}", 0, 0)
    )


def _parted(said: str, unit: Unit) -> tuple[str, str]:
    """The number that was typed for a panel, and behind it what the panel is called: `1 3/4 front`. What has figures is
    no name: of `1 3 4` nobody knows what was meant.
    """
    words = said.split()
    for count in range(min(len(words), _MOST_WORDS), 0, -1):
        number, name = " ".join(words[:count]), " ".join(words[count:])
        if not isinstance(read_length(number, unit), Unreadable) and not _FIGURES.search(name):
            return number, plain_name(name)
    return said, ""


def _notes(piece: str, side: TypedSide, unit: Unit) -> Iterator[str]:
    edge = "left" if side.side == SIDES[0] else "top"
    panels = [_noted(*_parted(said, unit), unit) if said else "" for said in side.numbers]
    whole = _noted(side.whole, "", unit) if side.whole else ""
    if all(panels):
        how = f", from the {edge}" if side.running else ""
        row = (", " if side.running else " | ").join(panels)
        # A unit that all of them have is said once.
        end = f" {unit.symbol}"
        row = row.replace(f"{end},", ",").replace(f"{end} |", " |") if all(one.endswith(end) for one in panels) else row
        yield f"{piece} {side.side}{how}: {row}" + (f"; whole: {whole}" if whole else "")
        return
    for number, said in enumerate(panels, 1):
        if said:
            yield f"{piece} {side.side}, panel {number}: {said}"
    if whole:
        yield f"{piece} {side.side} whole: {whole}"


def _noted(number: str, name: str, unit: Unit) -> str:
    """A number with its unit, and a panel's name."""
    length = number if isinstance(read_length(number), Length) else f"{number} {unit.symbol}"
    return f"{length} {name}".rstrip()


def field_found(finding: Finding) -> str:
    """The field that something found is about: that of its panel, or of the reading it names."""
    place = finding.place.file if finding.place else ""
    return f"{place}-{dict(finding.facts)['panel']}" if finding.code == "not-measured" else place
