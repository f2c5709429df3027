"""What work with paper can do to people, and to whom: codes only; the sentences stand in the catalogue."""

from __future__ import annotations

import re
from enum import IntEnum
from functools import lru_cache

from msgspec import Struct


class Signal(IntEnum):
    """How grave a caution is, after ANSI Z535.4: WARNING could be serious, CAUTION is minor, NOTICE is no injury."""

    NOTICE = 1
    CAUTION = 2
    WARNING = 3


class Hazard(Struct, frozen=True):
    """`code` is the key in the catalogue. `made` hazards lie in what is made: they are said before everything.

    `whole` ones name every supply they are about, however little room there is; `labelled` ones are told to whoever
    gets a bag. `covers` are hazards of which this one says the same, and more.
    """

    code: str
    signal: Signal
    made: bool = False
    whole: bool = False
    labelled: bool = False
    covers: tuple[str, ...] = ()


def _received(code: str, whole: bool = False) -> Hazard:
    """Something grave in what is made, that whoever gets it must know."""
    return Hazard(code, Signal.WARNING, made=True, whole=whole, labelled=True)


HAZARDS: dict[str, Hazard] = {
    hazard.code: hazard
    for hazard in (
        Hazard("blade", Signal.CAUTION),
        Hazard("trimmer-blade", Signal.CAUTION),
        Hazard("scissors", Signal.CAUTION),
        Hazard("cutting-machine", Signal.CAUTION),
        Hazard("laser", Signal.WARNING, covers=("cutting-machine",)),
        Hazard("point", Signal.CAUTION),
        Hazard("sharp-ends", Signal.CAUTION),
        Hazard("pinch", Signal.CAUTION),
        Hazard("rollers", Signal.CAUTION),
        Hazard("hot-glue", Signal.CAUTION, covers=("heat",)),
        Hazard("heat", Signal.CAUTION),
        Hazard("solder", Signal.WARNING, covers=("heat",)),
        Hazard("super-glue", Signal.WARNING),
        Hazard("spray", Signal.WARNING, covers=("solvent",)),
        Hazard("solvent", Signal.WARNING),
        Hazard("resin", Signal.WARNING, covers=("solvent",)),
        Hazard("dust", Signal.CAUTION),
        Hazard("glitter", Signal.CAUTION),
        _received("allergen", whole=True),
        _received("contents-unsaid", whole=True),
        _received("flame"),
        _received("cell"),
        _received("magnet"),
        _received("balloon"),
        _received("small-parts"),
        _received("cord"),
        Hazard("food-contact", Signal.CAUTION, made=True),
        Hazard("wrapped-food", Signal.NOTICE, made=True),
    )
}

_YOUNG = re.compile(
    r"\bbab(?:y|ies)\b|\btoddlers?\b|\binfants?\b|\bnewborns?\b"
    r"|\bunder[- ](?:three|two|one|[1-3])s?\b|\byounger than (?:three|two|one|[1-3])\b"
    r"|\b(?:one|two|[12])[- ]years?[- ]olds?\b|\b(?:aged?|from) (?:nought|zero|one|two|[0-2])\b",
    re.IGNORECASE,
)
_NOT_FOR = re.compile(r"\b(?:not|never|keep away from|unsuitable for)\b[^.;]*$", re.IGNORECASE)


@lru_cache(maxsize=256)
def may_be_under_three(text: str) -> bool:
    """Whether the words name children under three as people who make it or get it ("not for toddlers" does not)."""
    return any(not _NOT_FOR.search(text[: match.start()]) for match in _YOUNG.finditer(text))
