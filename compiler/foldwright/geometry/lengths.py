"""Lengths by identity, what must hold between them however they are rounded, and where both are noted down."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct, field

from foldwright.finding import Finding, Place, Strength
from foldwright.measure.length import Length


class LengthId(Struct, frozen=True, order=True):
    """Which length this is, never how long: the piece, the side or feature, the place on it.

    `number` is that of a panel, score, hole, line or step, from 1 (0: there is one). `of` is what else it takes to
    tell: the piece under a border, the point of a hole its place is measured to.

    `LengthId("base", "across", "size")`, `LengthId("base", "down", "panel", 2)`;
    `LengthId("base", "across", "score", 1)` (from the left or top edge), `LengthId("base", "across", "score back", 1)`
    (from the right or bottom edge); `LengthId("front", "hole", "across", 1)`,
    `LengthId("front", "hole", "left", 1, "middle")`; `LengthId("mat", "border", "across", of="base")`,
    `LengthId("lid", "room", "across each side", of="base")`.
    """

    piece: str
    side: str
    place: str
    number: int = 0
    of: str = ""


class Sum(Struct, frozen=True):
    """`total` is exactly the sum of `parts` (a part may stand twice, as a border does).

    The parts are what is looked at: a total prints as whatever its printed parts come to. Where it is a length of its
    own, such as the panel a mat lies on, it is `held`, and all of them have to give.
    """

    total: LengthId
    parts: tuple[LengthId, ...]
    held: bool = False


class Equal(Struct, frozen=True):
    """Two lengths that are the same length and must print the same."""

    one: LengthId
    other: LengthId


class Clearance(Struct, frozen=True):
    """`outer` goes round `inner`: printed, the gap stays above zero and at least the designed gap less half a step."""

    outer: LengthId
    inner: LengthId


class Within(Struct, frozen=True):
    """`length` may not print larger than `limit_mm`, the sheet it is cut from."""

    length: LengthId
    limit_mm: Fraction


class AtLeast(Struct, frozen=True):
    """`length` may not print smaller than `least_mm`: so much room was asked for."""

    length: LengthId
    least_mm: Fraction


class Rest(Struct, frozen=True):
    """`length` prints as what is left between `outer` and `inner` as they are printed, in so many equal parts."""

    length: LengthId
    outer: LengthId
    inner: LengthId
    parts: int


type Relation = Sum | Equal | Clearance | Within | AtLeast | Rest


class Lengths(Struct, frozen=True):
    """Every length of a recipe in order of mention, and the relations that hold between them."""

    by_id: dict[LengthId, Length]
    relations: tuple[Relation, ...]
    worked_out: frozenset[LengthId] = frozenset()
    """Lengths nobody wrote and no written ones simply add up to (a card's thickness went in, or parts of both unit
    systems): they are rounded to a step in either system."""


class Ledger(Struct):
    """Grows while one piece is laid; read once at the end."""

    lengths: dict[LengthId, Length] = field(default_factory=dict)
    relations: list[Relation] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    worked_out: set[LengthId] = field(default_factory=set)

    def note(self, name: LengthId, length: Length, *sources: LengthId) -> Length:
        """Note down a length that follows from others, unless it is known; it was worked out where one of them was."""
        if not self.worked_out.isdisjoint(sources):
            self.worked_out.add(name)
        return self.lengths.setdefault(name, length)

    def fault(self, code: str, place: Place | None, **facts: object) -> None:
        self.findings.append(Finding(code, Strength.FAULT, place, tuple(facts.items())))

    def misfit(self, code: str, place: Place | None, **facts: object) -> None:
        self.findings.append(Finding(code, Strength.MISFIT, place, tuple(facts.items())))

    def thought(self, code: str, place: Place | None, **facts: object) -> None:
        self.findings.append(Finding(code, Strength.THOUGHT, place, tuple(facts.items())))
