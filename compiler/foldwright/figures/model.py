"""What stands on the page for every length, and what a reader should be told about it."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length, System
from foldwright.measure.printed import Printed


class Note(Struct, frozen=True):
    """Something about the printed figures that cannot be seen in them. The wording lives in the catalogue.

    `code` is a kebab-case name, `lengths` the lengths concerned in order of mention, `facts` fill the message's slots
    (Length, Printed, str or int). The codes, with their facts:

    - `finer-for-fit`, `-border`, `-sheet`, `-room`, `-equals`, `-parts` (step): on no step of a ruler would this hold,
      so its group is printed on a finer one;
    - `moved-further` (most, step): even the finest step moves these further than is usual;
    - `trimmer-cannot-read` (written, printed, reads): one length, not printed as its author wrote it;
    - `trimmer-step-kept` (most, reads): the trimmer's own step was kept, and these moved further for it;
    - `numbers-rounded`, `numbers-step-kept`: the same two for a step the recipe asks for;
    - `total-gives` (written): what its author wrote is not what its printed parts come to;
    - `disagree-as-written` (relation): what should hold does not hold in the recipe's own numbers;
    - `cannot-close` (relation): no rounding lets this hold together with the rest;
    - `closing-not-proven` (): the search was cut short; the figures hold together but nearer ones may exist.

    `relation` is `sum`, `equal`, `clearance`, `within` or `atleast`.
    """

    code: str
    lengths: tuple[LengthId, ...]
    facts: tuple[tuple[str, object], ...] = ()

    @classmethod
    def of(cls, code: str, lengths: tuple[LengthId, ...], **facts: object) -> Note:
        return cls(code, lengths, tuple(facts.items()))


class Figures(Struct, frozen=True):
    """The printed value of every length in one unit system, by identity.

    `steps` holds the step (in millimetres) of every length that was rounded; one printed as written has none.
    """

    system: System
    printed: dict[LengthId, Printed]
    steps: dict[LengthId, Fraction]
    notes: tuple[Note, ...] = ()
    numbers: Length | None = None
    """The step its author asked for, where that is one of this system."""

    def __getitem__(self, length: LengthId) -> Printed:
        return self.printed[length]
