"""When each piece is cut free, opened and shut: read from all the steps, before any of them is shown.

A picture may not show what a later step will do, and what no step speaks of happens when the piece is cut out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank
from foldwright.recipe.model import Doing, Step
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary.work import CLOSING, CUTTING, FOLDING, GLUING, PIERCING, PRESSING, SCORING, SLITTING

PUNCHING = frozenset({"punch", "pierce"})
"""What goes through all that lies there."""
_CALLED = {"round": "hole"}
"""What people call an opening, where it is not its shape."""


class Schedule(Struct, frozen=True):
    """The number of the step in which something is done to a piece; 0 where no step does."""

    cut: int = 0
    freed: int = 0
    opened: int = 0
    told: bool = False
    """Whether a step speaks of the opening, and not of cutting the piece out alone."""
    shut: int = 0
    """When its last end is shut, where it is left open before."""


def schedule_of(blank: Blank, steps: Sequence[Step]) -> Schedule:
    """When things are done to a piece, by the acts that name it."""
    doings = [(step.number, doing) for step in steps for doing in step.doings if not joins(doing)]
    acts = [(number, doing.act) for number, doing in doings if blank.piece in doing.subjects]
    cut = next((number for number, act in acts if act in CUTTING | SCORING), 0)
    later = [(number, act) for number, act in acts if number > cut or act not in CUTTING]
    lined = any(line.kind == "cut" and line.number for line in blank.drawn)
    freeing = {"notch", "snip"} if blank.notches or lined else set()
    freed = _first(later, SLITTING - freeing - PUNCHING) if blank.flap_cuts or blank.corners_removed else 0
    spoken = {step.number for step in steps if step.number > cut and _speaks_of(step, blank)}
    if freed in spoken and (blank.openings or blank.notches):
        # "Cut the window": the flaps are cut when a step says so, or else before the first fold.
        freed = _first([one for one in later if one[0] not in spoken], SLITTING - freeing - PUNCHING)
        freed = freed or _first(acts, FOLDING)
    others = [(number, act) for number, act in later if number != freed or act not in SLITTING]
    opened = (
        _first([one for one in later if one[0] in spoken], PIERCING | freeing)
        or _first(others, PUNCHING | freeing)
        or _first(others, PIERCING)
        or _first(later, PIERCING - {"slit"} | freeing)
    )
    folded = max((number for number, act in acts if act in FOLDING | GLUING), default=0)
    shut = _first(acts, CLOSING | {PRESSING} if blank.pressed else CLOSING)
    return Schedule(cut, freed or cut, opened or cut, bool(opened), shut if shut >= folded else 0)


def _speaks_of(step: Step, blank: Blank) -> bool:
    """Whether the heading or the words of a step name what is cut out of the piece."""
    said = f"{step.heading.value} {spoken_text(step.words)}".casefold()
    named = {_CALLED.get(opening.shape, opening.shape) for opening in blank.openings}
    named |= {"notch"} if blank.notches else set()
    return any(name in said for name in named)


def joins(doing: Doing) -> bool:
    """Whether pieces are put on one another, and not one piece made."""
    return doing.act in GLUING and len(doing.subjects) >= 2


def _first(acts: Iterable[tuple[int, str]], wanted: frozenset[str] | set[str]) -> int:
    return next((number for number, act in acts if act in wanted), 0)
