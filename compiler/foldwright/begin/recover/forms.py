"""What a recovered blank most likely folds to, when nobody says: from its panels alone."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from foldwright.measure.length import Length

_FEWEST = 4
"""Of three equal panels nobody can say whether they fold to and fro or one over the other."""
_MEETING = Fraction(9, 10)
"""Together a gate's leaves are about as wide as its middle: they meet, or leave a little of it to be seen."""


def form_of(across: Sequence[Length], down: Sequence[Length]) -> str:
    """The form, empty when it is not plain from the panels."""
    if len(across) == 3 and len(down) == 3:
        return "tray"
    if len(across) > 1 and len(down) > 1:
        return ""
    row = across if len(across) > 1 else down
    if _goes_round(row):
        return "sleeve"
    if len(row) == 2:
        return "card"
    if len(row) == 3 and row[0] == row[2] and _MEETING * row[1].mm <= row[0].mm * 2 <= row[1].mm:
        return "gate"
    if len(row) == 3 and max(row).mm < 2 * min(row).mm:
        return "tri-fold"
    return "accordion" if len(row) >= _FEWEST and len(set(row)) == 1 else ""


def glue_flap_in(row: Sequence[Length]) -> int | None:
    """Which panel of a row that goes once round is the glue flap, counted from nought; None when it has none."""
    if len(row) == 5:
        for flap, walls in ((4, row[:4]), (0, row[1:])):
            if walls[0] == walls[2] and walls[1] == walls[3] and row[flap].mm < min(walls[0], walls[1]).mm * 2:
                return flap
    return None


def _goes_round(row: Sequence[Length]) -> bool:
    return glue_flap_in(row) is not None
