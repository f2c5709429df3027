"""Wishes for tests: things in inches or millimetres, out of usual sheets."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from foldwright.begin.design.model import FORMS, DesignWish, Things
from foldwright.begin.draft.blanks import BlankRules
from foldwright.begin.draft.card import DraftCard
from foldwright.measure.length import Length, Unit
from foldwright.recipe.facts.amounts import read_sheet
from foldwright.recipe.model import NamedSheet

THICK = Fraction(7, 20)
"""Millimetres: about what card of 270 g/m2 is."""


def sheet(name: str) -> NamedSheet:
    read = read_sheet(name)
    assert isinstance(read, NamedSheet)
    return read


def things(count: int, *size: str | Fraction, unit: Unit = Unit.INCH, name: str = "treat") -> Things:
    return Things(name, count, tuple(Length(Fraction(side) * unit.mm, unit) for side in size))


def wish(
    *held: Things,
    forms: Sequence[str] = FORMS,
    step: str = "1/8",
    clearance: str = "1/16",
    sheets: Sequence[str] = ("8 1/2 x 11 in", "A4"),
    thickness: Fraction = THICK,
    unit: Unit = Unit.INCH,
) -> DesignWish:
    rules = BlankRules(Length(Fraction(step) * unit.mm, unit), Length(Fraction(clearance) * unit.mm, unit), thickness)
    card = DraftCard("white card", f"thickness {float(thickness)} mm", thickness)
    return DesignWish(held, tuple(forms), rules, card, tuple(sheet(name) for name in sheets))


def metric(*held: Things, **options: object) -> DesignWish:
    return wish(*held, **{"step": "1", "clearance": "1", "unit": Unit.MILLIMETRE, **options})  # type: ignore[arg-type]
