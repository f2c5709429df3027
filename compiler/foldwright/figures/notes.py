"""What a reader of the printed figures should be told, as data."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

from foldwright.figures.group import Closed, Rules
from foldwright.figures.model import Note
from foldwright.figures.problem import Problem
from foldwright.geometry.lengths import Clearance, Equal, LengthId, Lengths, Relation, Sum, Within
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.steps import FINEST_RULER_LINE
from foldwright.measure.writing import write_exact


class Table(Struct, frozen=True):
    """A recipe's lengths laid out in whole ticks, in order of mention."""

    lengths: Lengths
    system: System
    ticks: int
    problem: Problem
    rules: Rules
    disagreements: tuple[Note, ...]

    def length(self, ticks: int) -> Length:
        unit = Unit.INCH if self.system is System.IMPERIAL else Unit.MILLIMETRE
        return Length(Fraction(ticks, self.ticks), unit)


def named_in(relation: Relation) -> tuple[LengthId, ...]:
    """The lengths a relation speaks of, the whole before its parts."""
    match relation:
        case Sum(total, parts):
            return (total, *parts)
        case Equal(one, other):
            return (one, other)
        case Clearance(outer, inner):
            return (outer, inner)
        case Within(length):
            return (length,)


def note_on_relation(code: str, relation: Relation) -> Note:
    """A note that a relation does not hold, on the lengths it names."""
    return Note.of(code, named_in(relation), relation=type(relation).__name__.lower())


def notes_on_group(table: Table, members: Sequence[int], closed: Closed) -> list[Note]:
    """How a group was closed, where that was not on the coarsest step as a matter of course."""
    ids = tuple(table.lengths.by_id)
    notes = [note_on_relation("cannot-close", table.lengths.relations[source]) for source in closed.dropped]
    group = tuple(ids[index] for index in members)
    moves = [abs(value - table.problem.exact[index]) for index, value in zip(members, closed.values, strict=True)]
    far = tuple(name for name, move in zip(group, moves, strict=True) if move > table.rules.reach)
    step = table.length(closed.step)
    if far and table.rules.trimmer:
        notes.append(Note.of("trimmer-step-kept", far, most=table.length(max(moves)), reads=step))
    elif far:
        notes.append(Note.of("moved-further", far, most=table.length(max(moves)), step=step))
    if step.mm < FINEST_RULER_LINE and not table.rules.trimmer:
        rounded = tuple(ids[index] for index in members if not table.problem.fixed[index])
        notes.append(Note.of("between-ruler-lines", rounded, step=step))
    if not closed.proven:
        notes.append(Note.of("closing-not-proven", group))
    return notes


def notes_on_trimmer(table: Table, values: Sequence[int], reads: Length) -> list[Note]:
    """Every length somebody wrote in the trimmer's own system that is not printed as written because of its marks."""
    return [
        Note.of(
            "trimmer-cannot-read",
            (name,),
            written=write_exact(length),
            printed=write_exact(table.length(value)),
            reads=reads,
        )
        for (name, length), exact, value in zip(table.lengths.by_id.items(), table.problem.exact, values, strict=True)
        if value != exact and length.unit.system is table.system and name not in table.lengths.worked_out
    ]
