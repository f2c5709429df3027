"""Printing every length of a recipe in one unit system so that what adds up still adds up.

A length written in the system stands as written; every other that is looked at takes the nearest mark of the coarsest
ruler on which all that belongs together can be right at once. A whole is whatever its printed parts come to. Lengths of
one piece that are equal print alike on top of that, where it can be had (`wishes`).
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from fractions import Fraction

from msgspec.structs import replace

from foldwright.figures.group import ClosedGroup, close_group
from foldwright.figures.model import Figures, Note
from foldwright.figures.table import WORDS, FigureTable, Marks, Stated, WrittenSum, lay_out, named_in
from foldwright.figures.wishes import with_wishes
from foldwright.geometry.lengths import AtLeast, Clearance, Equal, LengthId, Lengths, Sum, Within
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.printed import Printed
from foldwright.measure.steps import BETWEEN_LINES, FARTHEST, STEPS
from foldwright.measure.writing import write_exact


def close(lengths: Lengths, system: System, reads: Length | None = None, numbers: Length | None = None) -> Figures:
    """The printed value of every length in `system`.

    `reads` is the finest mark of the studio's trimmer, `numbers` the step its author asked for, which goes before:
    either binds when it is a mark of the same system, and then nothing is finer. What had to give, and what is printed
    between the lines of a ruler, is told in the notes.
    """
    trimmer = reads.mm if reads and reads.unit.system is system else Fraction(0)
    asked = numbers.mm if numbers and numbers.unit.system is system else Fraction(0)
    if not trimmer and not asked:
        return _close(lengths, system, Marks(STEPS[system], BETWEEN_LINES[system], FARTHEST[system]))
    related = {name for relation in lengths.relations for name in named_in(relation)}
    loose = {name for name in lengths.by_id if name.piece == WORDS and name not in related}
    kept = Marks((asked or trimmer,), (), FARTHEST[system], "numbers" if asked else "trimmer")
    cut = _close(_only(lengths, lengths.by_id.keys() - loose), system, kept)
    in_words = Marks((asked,), (), FARTHEST[system]) if asked else replace(kept, steps=STEPS[system], kept="")
    said = _close(_only(lengths, loose), system, in_words)
    printed = {name: (said if name in loose else cut).printed[name] for name in lengths.by_id}
    return Figures(system, printed, cut.steps | said.steps, cut.notes + said.notes, numbers if asked else None)


def _only(lengths: Lengths, names: Set[LengthId]) -> Lengths:
    """These lengths alone; relations are kept where all they name is kept."""
    by_id = {name: length for name, length in lengths.by_id.items() if name in names}
    kept = tuple(relation for relation in lengths.relations if by_id.keys() >= set(named_in(relation)))
    return replace(lengths, by_id=by_id, relations=kept)


def _close(lengths: Lengths, system: System, marks: Marks) -> Figures:
    table = lay_out(lengths, system, marks)
    problem, rules = table.problem, table.rules
    coarsest = rules.steps[0]
    values = problem.nearest(coarsest)
    steps = [0 if fixed else coarsest for fixed in problem.fixed]
    notes = notes_on_contradictions(table)

    def put(members: Sequence[int], closed: ClosedGroup) -> None:
        for index, value in zip(members, closed.values, strict=True):
            values[index] = value
            as_written = problem.fixed[index] and value == problem.exact[index]
            # What equals a length that stands as written may lie on no mark itself.
            steps[index] = 0 if as_written or value % closed.step else closed.step

    for members in _open_groups(table, values):
        closed = close_group(problem.part(members), rules)
        put(members, closed)
        notes += notes_on_group(table, members, closed)
    for members, closed in with_wishes(table, values, steps):
        put(members, closed)
    if rules.kept:
        notes += notes_on_kept_step(table, values)
    return _figures(table, values, steps, tuple(notes))


def _open_groups(table: FigureTable, values: Sequence[int]) -> list[list[int]]:
    """The groups for which the nearest values on the coarsest step will not do."""
    problem, rules = table.problem, table.rules
    troubled = {row.terms[0][0] for row in problem.rows if not row.at(rules.steps[0]).holds(values)}
    moved = enumerate(zip(values, problem.exact, strict=True))
    troubled |= {index for index, (value, exact) in moved if abs(value - exact) > rules.reach}
    return [members for members in table.groups() if not troubled.isdisjoint(members)] if troubled else []


def _figures(table: FigureTable, values: Sequence[int], steps: Sequence[int], notes: tuple[Note, ...]) -> Figures:
    printed: dict[LengthId, Printed] = {}
    rounded: dict[LengthId, Fraction] = {}
    for name, length in table.lengths.by_id.items():
        terms = table.terms[name]
        parts = rest.parts if (rest := table.rests.get(name)) else 1
        mm = Fraction(sum(times * values[index] for index, times in terms), table.ticks * parts)
        step = max((steps[index] for index, _ in terms), default=0)
        if mm == length.mm and length.unit.system is table.system and (not step or name in table.written):
            printed[name] = write_exact(length)
            continue
        printed[name] = write_exact(Length(mm, _unit(length, table.system, mm)))
        if step and not mm % Fraction(step, table.ticks):
            rounded[name] = Fraction(step, table.ticks)
    return Figures(table.system, printed, rounded, notes)


def _unit(length: Length, system: System, mm: Fraction) -> Unit:
    """Inches or millimetres; metres for what was measured by the foot or yard and comes to a metre."""
    if system is System.IMPERIAL:
        return Unit.INCH
    by_the_yard = length.unit in (Unit.FOOT, Unit.YARD) and mm >= Unit.METRE.mm
    return Unit.METRE if by_the_yard else Unit.MILLIMETRE


# --- what a reader should be told -------------------------------------------------------------------------------------


_ASKED_FOR_BY: dict[type, str] = {Clearance: "fit", Sum: "border", Within: "sheet", AtLeast: "room", Equal: "equals"}
"""What asks for more than a ruler shows, in a word; else `parts` do."""


def notes_on_contradictions(table: FigureTable) -> list[Note]:
    """What should hold and does not in the recipe's own numbers."""
    return [_on_relation("disagree-as-written", relation) for relation in table.contradicted]


def _on_relation(code: str, relation: Stated) -> Note:
    return Note.of(code, named_in(relation), relation=type(relation).__name__.lower())


def notes_on_group(table: FigureTable, members: Sequence[int], closed: ClosedGroup) -> list[Note]:
    """How a group was closed, where that was not on the marks of a ruler as a matter of course."""
    rules = table.rules
    notes = [_on_dropped(table, table.stated[source]) for source in closed.dropped]
    group = tuple(table.names[index] for index in members)
    moves = [abs(value - table.problem.exact[index]) for index, value in zip(members, closed.values, strict=True)]
    far = tuple(name for name, move in zip(group, moves, strict=True) if move > rules.reach)
    step, most = table.length(closed.step), table.length(max(moves))
    if far and rules.kept:
        notes.append(Note.of(f"{rules.kept}-step-kept", far, most=most, reads=step))
    elif far:
        notes.append(Note.of("moved-further", far, most=most, step=step))
    if closed.step in rules.finer:
        asking = None if closed.because is None else table.stated[closed.because]
        rounded = tuple(table.names[index] for index in members if not table.problem.fixed[index])
        about = named_in(asking) if asking is not None else rounded
        notes.append(Note.of(f"finer-for-{_ASKED_FOR_BY.get(type(asking), 'parts')}", about, step=step))
    if not closed.proven:
        notes.append(Note.of("closing-not-proven", group))
    return notes


def _on_dropped(table: FigureTable, relation: Stated) -> Note:
    if not isinstance(relation, WrittenSum):
        return _on_relation("cannot-close", relation)
    written = table.lengths.by_id[relation.total]
    return Note.of("total-gives", (relation.total,), written=write_exact(written))


def notes_on_kept_step(table: FigureTable, values: Sequence[int]) -> list[Note]:
    """Every length somebody wrote in the page's own system that is not printed as written, for a step that is kept."""
    kept = table.rules.kept
    code = "trimmer-cannot-read" if kept == "trimmer" else "numbers-rounded"
    reads = table.length(table.rules.steps[0])
    return [
        Note.of(code, (name,), written=write_exact(length), printed=write_exact(table.length(value)), reads=reads)
        for name, exact, value in zip(table.names, table.problem.exact, values, strict=True)
        if value != exact
        and (length := table.lengths.by_id[name]).unit.system is table.system
        and name not in table.lengths.worked_out
    ]
