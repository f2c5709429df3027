"""What work with paper can do to people: codes only; the sentences stand in the catalogue."""

from __future__ import annotations

from enum import IntEnum

from msgspec import Struct


class Signal(IntEnum):
    """How grave a caution is, after ANSI Z535.4: WARNING could be serious, CAUTION is minor, NOTICE is no injury."""

    NOTICE = 1
    CAUTION = 2
    WARNING = 3


class Hazard(Struct, frozen=True):
    """`code` is the key in the catalogue. `young` hazards are said only where children under three may be."""

    code: str
    signal: Signal
    young: bool = False


HAZARDS: dict[str, Hazard] = {
    hazard.code: hazard
    for hazard in (
        Hazard("blade", Signal.CAUTION),
        Hazard("trimmer-blade", Signal.CAUTION),
        Hazard("scissors", Signal.CAUTION),
        Hazard("point", Signal.CAUTION),
        Hazard("pinch", Signal.CAUTION),
        Hazard("rollers", Signal.CAUTION),
        Hazard("hot-glue", Signal.CAUTION),
        Hazard("heat", Signal.CAUTION),
        Hazard("fumes", Signal.CAUTION),
        Hazard("flame", Signal.WARNING),
        Hazard("magnet", Signal.WARNING),
        Hazard("cord", Signal.WARNING, young=True),
        Hazard("small-parts", Signal.WARNING, young=True),
        Hazard("wrapped-food", Signal.NOTICE),
        Hazard("food-contact", Signal.CAUTION),
        Hazard("allergen", Signal.WARNING),
    )
}
