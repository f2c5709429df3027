"""What is noted down while a piece is laid flat: its lengths in order of mention, relations, findings."""

from __future__ import annotations

from msgspec import Struct, field

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.lengths import LengthId, Relation
from foldwright.measure.length import Length


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
