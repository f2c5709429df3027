"""How fine the numbers of a page are: `numbers: whole mm`, `numbers: 1/16 in`, `numbers: exact`."""

from __future__ import annotations

import re
from fractions import Fraction

from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import read_length
from foldwright.measure.steps import EXACT
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.model import NumberSteps, Said

_KNOWN = ("whole mm", "1/2 mm", "1/16 in", "exact")
"""What is offered when it says something else."""
_APART = re.compile(r"\s*(?:,|\band\b|\bor\b)\s*")
_SPELT = (("whole ", "1 "), ("half a ", "1/2 "), ("half ", "1/2 "), ("tenths of a ", "1/10 "))
_COARSEST = {System.METRIC: Fraction(10), System.IMPERIAL: Unit.INCH.mm / 2}
"""Nobody rounds further than to whole centimetres or halves of an inch (a reasoned guess)."""


def numbers_of(value: Phrase | None, complaints: Complaints) -> Said[NumberSteps] | None:
    """One step for either unit system, or for both."""
    if value is None:
        return None
    text = " ".join(value.text.casefold().split())
    if text == "exact":
        steps = {system: Length(step, _UNIT[system]) for system, step in EXACT.items()}
        return Said(NumberSteps(steps, value.text), value.place)
    found: dict[System, Length] = {}
    for part in _APART.split(text):
        step = read_length(_spelt_out(part))
        known = not isinstance(step, Unreadable) and 0 < step.mm <= _COARSEST[step.unit.system]
        if isinstance(step, Unreadable) or not known or step.unit.system in found:
            complaints.fault("numbers-how", value, known=_KNOWN)
            return None
        found[step.unit.system] = step
    return Said(NumberSteps(found, value.text), value.place)


_UNIT = {System.METRIC: Unit.MILLIMETRE, System.IMPERIAL: Unit.INCH}


def _spelt_out(part: str) -> str:
    part = part.removeprefix("to ").removeprefix("the ").removeprefix("nearest ")
    for words, number in _SPELT:
        if part.startswith(words):
            return number + part.removeprefix(words)
    return part if any(map(str.isdigit, part)) else f"1 {part}"
