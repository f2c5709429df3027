"""What was wrong with a single value, said without knowing where the value stood."""

from __future__ import annotations

from msgspec import Struct


class Unreadable(Struct, frozen=True):
    """Why a text is not a measure: `code` names the fault, `facts` carry what a message needs."""

    code: str
    facts: tuple[tuple[str, object], ...] = ()
