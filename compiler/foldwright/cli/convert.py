"""`foldwright convert`: single measures, A x B, and rows of panels, in the other units, closed as on a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from foldwright.cli.telling import Teller
from foldwright.figures.closing import close
from foldwright.figures.model import Figures
from foldwright.geometry.lengths import LengthId, Lengths, Relation, Sum
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.printed import Printed
from foldwright.measure.reading import read_length, read_lengths_cross
from foldwright.measure.unreadable import Unreadable
from foldwright.sheet.catalogue import catalogue

BAR = "|"
_TOTAL = LengthId("measure", "all", "sum")


@dataclass(frozen=True, slots=True)
class Asked:
    """One measure of the call: its lengths, and whether they are panels whose sum must be kept."""

    said: str
    lengths: tuple[Length, ...]
    panels: bool


def convert(measures: Sequence[str], *, to: str, reads: str) -> int:
    """Print each measure in the other system (or in `to`); the exit status."""
    teller, complaints = Teller(), Teller("stderr")
    system = system_named(to)
    if to and system is None:
        complaints.words("wrong.to-unknown", name=to)
        return 2
    mark = read_length(reads) if reads else None
    if isinstance(mark, Unreadable):
        complaints.words("wrong.reads-unreadable", text=reads)
        return 2
    status = 0
    for said in measures:
        asked = read(said)
        if isinstance(asked, Unreadable):
            _complain(complaints, said, asked)
            status = 2
            continue
        _answer(teller, asked, system or asked.lengths[0].unit.system.other, mark)
    return status


def system_named(name: str) -> System | None:
    return next((system for system in System if system.value == name.strip().lower()), None)


def read(said: str) -> Asked | Unreadable:
    """A measure as typed: `4 1/8 x 3 5/8 in`, or panels, the last unit covering those before it."""
    if BAR not in said:
        lengths = read_lengths_cross(said)
        return lengths if isinstance(lengths, Unreadable) else Asked(said, lengths, panels=False)
    unit: Unit | None = None
    found: list[Length] = []
    for part in reversed(said.split(BAR)):
        length = read_length(part, unit)
        if isinstance(length, Unreadable):
            return length
        unit = length.unit
        found.append(length)
    return Asked(said, tuple(reversed(found)), panels=True)


def figures_of(asked: Asked, system: System, reads: Length | None) -> tuple[tuple[LengthId, ...], Figures]:
    """The lengths' names in order (panels are followed by their sum) and their figures."""
    ids = tuple(LengthId("measure", "all", f"panel {number}") for number in range(1, len(asked.lengths) + 1))
    by_id = dict(zip(ids, asked.lengths, strict=True))
    relations: tuple[Relation, ...] = ()
    if asked.panels:
        total = sum((length.mm for length in asked.lengths), start=Fraction(0))
        by_id[_TOTAL] = Length(total, asked.lengths[-1].unit)
        relations = (Sum(_TOTAL, ids),)
    return tuple(by_id), close(Lengths(by_id, relations), system, reads)


def _answer(teller: Teller, asked: Asked, system: System, reads: Length | None) -> None:
    ids, figures = figures_of(asked, system, reads)
    printed = [figures[one] for one in ids]
    exact = all(figure.mm == length.mm for figure, length in zip(printed, asked.lengths, strict=False))
    key = "command.convert." + ("same" if exact else "near") + ("-sum" if asked.panels else "")
    facts = {"said": " ".join(asked.said.split())}
    if asked.panels:
        facts["sum"] = printed.pop().plain
    joiner = f" {BAR} " if asked.panels else " x "
    teller.text(catalogue().say(key, printed=joined(printed, joiner), **facts))
    for note in figures.notes:
        teller.text("  " + catalogue().say(f"command.convert-note.{note.code}", **dict(note.facts)))


def joined(printed: Iterable[Printed], joiner: str) -> str:
    """Numbers with one unit at the end when they share it."""
    figures = tuple(printed)
    if len({figure.unit for figure in figures}) > 1:
        return joiner.join(figure.plain for figure in figures)
    return joiner.join(figure.number for figure in figures) + f" {figures[-1].unit.symbol}"


def _complain(teller: Teller, said: str, why: Unreadable) -> None:
    facts = dict(why.facts)
    teller.words("wrong.measure-unreadable", text=said)
    teller.text("  " + catalogue().say(f"{why.code}.says", **facts))
