"""Printing every length of a recipe in one unit system so that what adds up still adds up.

A length written in the system stands as written; every other takes the nearest mark of the coarsest ruler on which
all that belongs together can be right at once.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from fractions import Fraction
from math import lcm

from msgspec.structs import replace

from foldwright.figures.group import Rules, close_group
from foldwright.figures.model import Figures, Note
from foldwright.figures.notes import Table, named_in, note_on_relation, notes_on_group, notes_on_trimmer
from foldwright.figures.problem import Problem, Row, groups_of, in_ticks, row_of
from foldwright.geometry.lengths import LengthId, Lengths, Sum, Within
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.printed import Printed
from foldwright.measure.steps import FARTHEST, STEPS
from foldwright.measure.writing import write_exact

WORDS = "words"
"""The `piece` of a length that stands only in the words: no trimmer has to read it."""

_PLAIN_FRACTION = 64
"""The largest denominator an author writes; with it or three decimals a number was written, else worked out."""


def close(lengths: Lengths, system: System, reads: Length | None = None) -> Figures:
    """The printed value of every length in `system`.

    `reads` is the finest mark of the studio's trimmer; it binds when it is a mark of the same system. What had to
    give, and what is printed between the lines of a ruler, is told in the notes.
    """
    if reads is None or reads.unit.system is not system:
        return _close(lengths, system, None)
    related = {name for relation in lengths.relations for name in named_in(relation)}
    loose = {name for name in lengths.by_id if name.piece == WORDS and name not in related}
    cut = _close(_only(lengths, lengths.by_id.keys() - loose), system, reads)
    said = _close(_only(lengths, loose), system, None)
    printed = {name: (said if name in loose else cut).printed[name] for name in lengths.by_id}
    return Figures(system, printed, cut.steps | said.steps, cut.notes + said.notes)


def _only(lengths: Lengths, names: Set[LengthId]) -> Lengths:
    """These lengths alone; relations are kept where all they name is kept."""
    by_id = {name: length for name, length in lengths.by_id.items() if name in names}
    kept = tuple(relation for relation in lengths.relations if by_id.keys() >= set(named_in(relation)))
    return replace(lengths, by_id=by_id, relations=kept)


def _close(lengths: Lengths, system: System, reads: Length | None) -> Figures:
    table = _lay_out(lengths, system, reads)
    problem, rules = table.problem, table.rules
    coarsest = rules.steps[0]
    values = problem.nearest(coarsest)
    steps = [0 if fixed else coarsest for fixed in problem.fixed]
    notes = list(table.disagreements)
    for members in _open_groups(problem, rules, values):
        closed = close_group(problem.part(members), rules)
        for index, value in zip(members, closed.values, strict=True):
            values[index] = value
            steps[index] = 0 if problem.fixed[index] and value == problem.exact[index] else closed.step
        notes += notes_on_group(table, members, closed)
    if reads:
        notes += notes_on_trimmer(table, values, reads)
    return _figures(table, values, steps, tuple(notes))


def _open_groups(problem: Problem, rules: Rules, values: Sequence[int]) -> list[list[int]]:
    """The groups for which the nearest values on the coarsest step will not do."""
    coarsest = rules.steps[0]
    troubled = {row.terms[0][0] for row in problem.rows if not row.at(coarsest).holds(values)}
    for index, (value, exact) in enumerate(zip(values, problem.exact, strict=True)):
        if not -rules.reach <= value - exact <= rules.reach:
            troubled.add(index)
    if not troubled:
        return []
    return [members for members in groups_of(len(values), problem.rows) if not troubled.isdisjoint(members)]


def _figures(table: Table, values: Sequence[int], steps: Sequence[int], notes: tuple[Note, ...]) -> Figures:
    printed: dict[LengthId, Printed] = {}
    rounded: dict[LengthId, Fraction] = {}
    step_mm = {step: Fraction(step, table.ticks) for step in set(steps)}
    for (name, length), value, step in zip(table.lengths.by_id.items(), values, steps, strict=True):
        if step:
            printed[name] = write_exact(Length(mm := Fraction(value, table.ticks), _unit(length, table.system, mm)))
            rounded[name] = step_mm[step]
        else:
            printed[name] = write_exact(length)
    return Figures(table.system, printed, rounded, notes)


def _unit(length: Length, system: System, mm: Fraction) -> Unit:
    """Inches or millimetres; metres for what was measured by the foot or yard and comes to a metre."""
    if system is System.IMPERIAL:
        return Unit.INCH
    by_the_yard = length.unit in (Unit.FOOT, Unit.YARD) and mm >= Unit.METRE.mm
    return Unit.METRE if by_the_yard else Unit.MILLIMETRE


def _lay_out(lengths: Lengths, system: System, reads: Length | None) -> Table:
    steps, reach = (reads.mm,) if reads else STEPS[system], FARTHEST[system]
    ticks = lcm(reach.denominator, *(step.denominator for step in steps))
    ticks = lcm(ticks, *(length.mm.denominator for length in lengths.by_id.values()))
    exact = tuple(in_ticks(length.mm, ticks) for length in lengths.by_id.values())
    step_ticks = tuple(in_ticks(step, ticks) for step in steps)
    fixed = _stand_as_written(lengths, system, exact, step_ticks, bool(reads))
    rows, ceilings, disagreements = _relations(lengths, exact, fixed, ticks)
    problem = Problem(exact, fixed, ceilings, rows)
    rules = Rules(step_ticks, in_ticks(reach, ticks), reads is not None)
    return Table(lengths, system, ticks, problem, rules, disagreements)


def _could_be_written(denominator: int) -> bool:
    return denominator <= _PLAIN_FRACTION or 1000 % denominator == 0


def _stand_as_written(
    lengths: Lengths, system: System, exact: Sequence[int], steps: Sequence[int], trimmer: bool
) -> tuple[bool, ...]:
    """Which lengths print as written: in this system, by a person, and (with a trimmer) on one of its marks."""
    fixed = {
        name: length.unit.system is system
        and name not in lengths.worked_out
        and _could_be_written(length.value.denominator)
        and not (trimmer and value % steps[0])
        for (name, length), value in zip(lengths.by_id.items(), exact, strict=True)
    }
    # In a sum of lengths from both systems, what lies on no mark was added up or left over, not written.
    off_marks = {name for name, value in zip(lengths.by_id, exact, strict=True) if fixed[name] and value % steps[-1]}
    for relation in lengths.relations if off_marks else ():
        members = named_in(relation)
        if isinstance(relation, Sum) and not off_marks.isdisjoint(members) and not all(fixed[name] for name in members):
            fixed |= dict.fromkeys(off_marks.intersection(members), False)
    return tuple(fixed.values())


def _relations(
    lengths: Lengths, exact: Sequence[int], fixed: Sequence[bool], ticks: int
) -> tuple[tuple[Row, ...], tuple[int | None, ...], tuple[Note, ...]]:
    """Rows and ceilings; what the recipe's own numbers already contradict is told and otherwise left out."""
    index = {name: position for position, name in enumerate(lengths.by_id)}
    rows: list[Row] = []
    ceilings: list[int | None] = [None] * len(exact)
    disagreements: list[Note] = []
    for source, relation in enumerate(lengths.relations):
        if isinstance(relation, Within):
            position, limit = index[relation.length], in_ticks(relation.limit_mm, ticks)
            before = ceilings[position]
            holds = exact[position] <= limit
            if holds:
                ceilings[position] = limit if before is None else min(before, limit)
        else:
            row = row_of(relation, source, index, exact)
            holds = row.holds(exact)
            if holds and not all(fixed[position] for position, _ in row.terms):
                rows.append(row)
        if not holds:
            disagreements.append(note_on_relation("disagree-as-written", relation))
    return tuple(rows), tuple(ceilings), tuple(disagreements)
