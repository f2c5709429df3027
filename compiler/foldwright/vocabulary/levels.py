"""How hard a project is, easiest first."""

from __future__ import annotations

from msgspec import Struct

from foldwright.vocabulary.names import KnownNames


class Level(Struct, frozen=True):
    """`rank` counts from 1, the easiest."""

    name: str
    rank: int
    forms: tuple[str, ...] = ()


LEVELS: tuple[Level, ...] = (
    Level("beginner", 1, ("first", "very easy", "starter", "children", "for beginner", "absolute beginner")),
    Level("easy", 2, ("simple", "quick", "basic")),
    Level("moderate", 3, ("medium", "intermediate", "middling", "average")),
    Level("advanced", 4, ("hard", "difficult", "challenging", "experienced", "tricky", "expert")),
)

_NAMES = KnownNames.of((level, (level.name, *level.forms)) for level in LEVELS)


def level_of(text: str) -> Level | None:
    """The level a word means, or None for a new word (`easy to moderate` is the last one named)."""
    return _NAMES.best_in(text)
