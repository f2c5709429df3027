"""A measure said in other units, closed as on a sheet: pairs of figures as written and as converted."""

from __future__ import annotations

from msgspec import Struct

from foldwright.figures.closing import close
from foldwright.figures.model import Note
from foldwright.geometry.lengths import LengthId, Lengths, Relation, Sum
from foldwright.measure.conversion import TypedMeasure
from foldwright.measure.length import Length, System
from foldwright.measure.printed import Printed
from foldwright.measure.writing import write_exact

_TOTAL = LengthId("measure", "all", "sum")


class Converted(Struct, frozen=True):
    """`pairs` are (as written, as converted) in order; `total` is the pair of a row's sum."""

    asked: TypedMeasure
    pairs: tuple[tuple[Printed, Printed], ...]
    total: tuple[Printed, Printed] | None
    notes: tuple[Note, ...]

    @property
    def exact(self) -> bool:
        """Whether nothing was rounded."""
        return all(one.mm == other.mm for one, other in (*self.pairs, *((self.total,) if self.total else ())))


def convert(asked: TypedMeasure, system: System | None = None, reads: Length | None = None) -> Converted:
    """One measure in `system` (the other system than its own when None); a row still adds up to its total."""
    system = system or asked.lengths[0].unit.system.other
    ids = tuple(LengthId("measure", "all", f"length {number}") for number in range(1, len(asked.lengths) + 1))
    by_id = dict(zip(ids, asked.lengths, strict=True))
    relations: tuple[Relation, ...] = ()
    if asked.total:
        by_id[_TOTAL] = asked.total
        relations = (Sum(_TOTAL, ids),)
    figures = close(Lengths(by_id, relations), system, reads)
    pairs = {name: (write_exact(length), figures[name]) for name, length in by_id.items()}
    return Converted(asked, tuple(pairs[name] for name in ids), pairs.get(_TOTAL), figures.notes)
