"""What a call may say of a beginning, as typed. Kept apart, so that `--help` need not import what it comes to."""

from __future__ import annotations

from typing import Annotated

from msgspec import Struct

MADE = (
    "tuck box",
    "hinged box",
    "hexagonal box",
    "octagonal box",
    "pillow box",
    "cube",
    "prism",
    "pyramid",
    "gable-top",
    "gift bag",
    "envelope",
    "pocket",
    "tube",
    "cone",
)
"""Forms that are worked out from their finished size."""
FORMS = ("box", "lid", "sleeve", "card", "booklet", "tag", "gate", "tri-fold", "rosette", *MADE)
"""What `foldwright new` can begin."""


class DesignOptions(Struct, frozen=True, kw_only=True):
    """What goes inside and what is to be designed for it, as text; empty is what nobody said."""

    things: Annotated[tuple[str, ...], "thing"] = ()
    form: Annotated[str, "form"] = ""
    card: Annotated[str, "card"] = ""
    numbers: Annotated[str, "length"] = ""
    sheet: Annotated[str, "sheet"] = ""
    clearance: Annotated[str, "length"] = ""
    units: Annotated[str, "unit"] = ""


class SizeOptions(Struct, frozen=True, kw_only=True):
    """Which size of a recipe is wanted, as text: so many times as large, or round other things, in which steps."""

    scale: Annotated[str, "number"] = ""
    holds: Annotated[str, "thing"] = ""
    numbers: Annotated[str, "length"] = ""
    clearance: Annotated[str, "length"] = ""
