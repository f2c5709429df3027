"""What a reader of the printed figures should be told, as data."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.figures.group import ClosedGroup
from foldwright.figures.model import Note
from foldwright.figures.table import FigureTable, Stated, WrittenSum, named_in
from foldwright.geometry.lengths import AtLeast, Clearance, Equal, Sum, Within
from foldwright.measure.writing import write_exact

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
    return [
        Note.of(
            code,
            (name,),
            written=write_exact(length),
            printed=write_exact(table.length(value)),
            reads=table.length(table.rules.steps[0]),
        )
        for name, exact, value in zip(table.names, table.problem.exact, values, strict=True)
        if value != exact
        and (length := table.lengths.by_id[name]).unit.system is table.system
        and name not in table.lengths.worked_out
    ]
