"""What to measure on a piece that is folded and not yet glued: two or three lengths that tell whether it came out."""

from __future__ import annotations

from msgspec import Struct

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank
from foldwright.geometry.flat.inside import SLEEVES, TRAYS
from foldwright.geometry.lengths import LengthId

_MADE = {
    "gable-top": "box",
    "tuck box": "box",
    "cube": "box",
    "hinged box": "box",
    "prism": "prism",
    "pyramid": "pyramid",
    "hexagonal box": "hexagon",
    "octagonal box": "hexagon",
    "gift bag": "box",
}
_SHUT = frozenset({"card", "gate", "tri-fold", "accordion"})


class Trial(Struct, frozen=True):
    """`code` is box, pyramid, hexagon, prism, sleeve or shut.

    `lengths` are across, down and high for the first three (of a hexagon, both from side to opposite side), how wide
    each side is and high for a prism, wide, high and long for a sleeve, across and down for what is folded shut.
    `walls` is the second height of a box whose walls differ.
    """

    code: str
    lengths: tuple[LengthId, ...]
    walls: LengthId | None = None


def trial_of(blank: Blank) -> Trial | None:
    """None for what stays flat, and for forms nobody measures between two folds."""
    across, down = LengthId(blank.piece, "across", "size"), LengthId(blank.piece, "down", "size")
    if blank.bends and blank.form != "pillow box":
        return None
    if blank.made:
        return Trial(_MADE.get(blank.form, "shut"), tuple(length for length, _ in blank.made))
    if blank.form in TRAYS and blank.boxed:
        ends, walls = blank.across[0], blank.down[0]
        other = walls.length if ends.long != walls.long else None
        return Trial("box", (blank.across[1].length, blank.down[1].length, ends.length), other)
    side, row = blank.main_row
    walls_of = [strip for strip in row if strip.role != GLUE_FLAP]
    if blank.form in SLEEVES and len(walls_of) == 4:
        return Trial("sleeve", (walls_of[0].length, walls_of[1].length, down if side == "across" else across))
    if blank.form in _SHUT and len(row) > 1:
        widest = max(row, key=lambda strip: strip.long)
        return Trial("shut", (widest.length, down) if side == "across" else (across, widest.length))
    return None
