"""Boxes that others have worked out, folded here."""

from __future__ import annotations

from math import sqrt

import pytest

from geometry.folding.shapes import closed_volume, folded_piece, named, sizes

INCH = 25.4

TEXTBOOK = (
    # An open box of greatest volume from one sheet, squares cut from its corners: sheet, unit, depth, volume.
    # OpenStax, Calculus Volume 1, section 4.7 (24 x 36 in; exactly 10 - 2 sqrt 7 and 640 + 448 sqrt 7), and the same
    # exercise as other textbooks set it.
    (36, 24, INCH, 10 - 2 * sqrt(7), 640 + 448 * sqrt(7)),
    (30, 20, INCH, 3.923748, 1056.306),
    (20, 14, 10.0, 2.703935, 339.0126),
    (10, 8, INCH, 1.472475, 52.5138),
    (18, 12, INCH, 5 - sqrt(7), 228.162),
    (24, 18, INCH, 3.394449, 654.9773),
)


def volume_of(wide: float, long: float, deep: float, unit: float) -> float:
    """The volume of the folded box in cubes of the unit. Scores are set to a hundred-thousandth of a millimetre."""
    across, down, wall = (round(length * unit, 5) for length in (wide, long, deep))
    folded = folded_piece(
        f"""
size: {across:.5f} x {down:.5f} mm
across: {wall:.5f} left | {across - 2 * wall:.5f} floor | {wall:.5f} right
down: {wall:.5f} back | {down - 2 * wall:.5f} floor | {wall:.5f} front
corners: cut away
fold: tray
"""
    )
    sides = [folded.corners(named(folded, name)) for name in ("floor", "left", "right", "back", "front")]
    top = [(x, y, z - wall) for x, y, z in reversed(sides[0])]
    assert sizes(folded)[2] == pytest.approx(wall, rel=1e-9)
    return closed_volume([*sides, top]) / unit**3


@pytest.mark.parametrize(("wide", "long", "unit", "deep", "volume"), TEXTBOOK)
def test_the_textbook_box_holds_what_the_textbook_says_and_no_other_depth_holds_more(
    wide: float, long: float, unit: float, deep: float, volume: float
) -> None:
    best = volume_of(wide, long, deep, unit)
    assert best == pytest.approx(volume, rel=2e-6)
    assert volume_of(wide, long, deep - 0.05, unit) < best
    assert volume_of(wide, long, deep + 0.05, unit) < best


def test_a_box_of_the_trade() -> None:
    """4 1/8 x 3 5/8 in, scored 5/8 in from each short end and 1 1/2 in from each long side, makes a box 2 7/8 x 5/8 x
    1 1/2 in (common practice, no source)."""
    folded = folded_piece(
        """
size: 4 1/8 x 3 5/8 in
across: 5/8 | rest floor | 5/8
down: 1 1/2 | rest floor | 1 1/2
flaps: joined to top and bottom
fold: tray
"""
    )
    assert sizes(folded) == pytest.approx((2.875 * INCH, 0.625 * INCH, 1.5 * INCH), rel=1e-12)
