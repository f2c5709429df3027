"""A finding: what is the matter, how strongly, where, and the numbers a message needs."""

from __future__ import annotations

from enum import IntEnum

from msgspec import Struct

from foldwright.finding.place import Place


class Strength(IntEnum):
    """How much a finding matters; a larger number is stronger."""

    THOUGHT = 1
    """Worth a look; the author may hush it."""
    MISFIT = 2
    """Something will not fit, or two numbers disagree."""
    FAULT = 3
    """The compiler cannot go on with this part."""


class Finding(Struct, frozen=True):
    """`code` is a stable kebab-case name; `facts` fill the slots of its message in the catalogue.

    A fact's value is a str, int, Fraction, Length, Printed, or a tuple of those.
    """

    code: str
    strength: Strength
    place: Place | None
    facts: tuple[tuple[str, object], ...] = ()

    @classmethod
    def of(cls, code: str, strength: Strength, place: Place | None, **facts: object) -> Finding:
        return cls(code, strength, place, tuple(facts.items()))


class Wrong(Struct, frozen=True):
    """What is the matter with a call, rather than with a text: the name of a message and what goes into it."""

    message: str
    facts: tuple[tuple[str, object], ...] = ()

    @classmethod
    def of(cls, message: str, **facts: object) -> Wrong:
        return cls(message, tuple(facts.items()))
