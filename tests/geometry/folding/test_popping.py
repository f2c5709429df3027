"""Pop-ups on their way from open to shut, reckoned a second time as linkages with nothing of the program.

A box is a planar linkage of four bars, closed by two circles that meet. A V-fold is four turns about four lines through
one point, which must come to no turn at all; they are found by Newton's method.
"""

from __future__ import annotations

from math import cos, hypot, radians, sin, sqrt

import numpy as np
import pytest
from numpy.typing import NDArray

from foldwright.geometry.folding.folded import Tree, tree_of
from foldwright.geometry.folding.net import Crease
from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.folding.popping import pop_up_trouble
from foldwright.geometry.pieces import lay_flat
from geometry.folding.test_solids import POP_UP, recipe

V_FOLD = """
size: 148 x 200 mm
lines:
  - cut from {left} across {low} down to 74 across 20 down
  - cut from 74 across 20 down to {right} across {low} down
  - valley 90 degrees from 74 across 0 down to 74 across 20 down
  - valley 90 degrees from 74 across 100 down to 74 across 200 down
  - valley 60 degrees from 74 across 100 down to {left} across {low} down
  - valley 60 degrees from 74 across 100 down to {right} across {low} down
  - mountain 90 degrees from 74 across 100 down to 74 across 20 down
"""


def tree_and_trouble(facts: str) -> tuple[Tree, str]:
    read = recipe(facts)
    flat = lay_flat(read)
    net = fold_pieces(read, flat).nets["box"]
    tree = tree_of(net)
    blank = flat.blank("box")
    assert blank is not None
    trouble = pop_up_trouble(tree.folded(lambda crease: crease.angle), blank)
    return tree, trouble.code if trouble else ""


def corner_of_four_bars(p: float, q: float, u: float, v: float, card: float) -> float:
    """How far the fold of a strip is from the fold of the card, which is opened by so many degrees: where a circle of
    radius u round one end of the strip meets one of radius v round the other, farther from the fold of the card."""
    one = (p, 0.0)
    other = (q * cos(radians(card)), q * sin(radians(card)))
    apart = hypot(other[0] - one[0], other[1] - one[1])
    along = (u * u - v * v + apart * apart) / (2 * apart)
    off = sqrt(max(0.0, u * u - along * along))
    x, y = (other[0] - one[0]) / apart, (other[1] - one[1]) / apart
    return max(hypot(one[0] + along * x + s * off * y, one[1] + along * y - s * off * x) for s in (1, -1))


@pytest.mark.parametrize("opened", [170, 120, 90, 45, 10])
@pytest.mark.parametrize(("deep", "high"), [(30, 30), (20, 45)])
def test_a_box_moves_as_a_linkage_of_four_bars(deep: int, high: int, opened: float) -> None:
    tree, code = tree_and_trouble(POP_UP.format(top=100 - high, bottom=100 + deep, middle=100 - high + deep))
    assert code == ""
    turn = 180.0 - opened

    def angle(crease: Crease) -> float:
        return turn if crease.angle > 0 else -turn

    folded = tree.folded(angle)
    assert not folded.opened
    middle = next(one for one in tree.net.creases if one.angle < 0)
    spot = folded.place(middle.one, middle.start)
    gutter = folded.place(tree.net.root, (0.0, 100.0))
    far = hypot(spot[1] - gutter[1], spot[2] - gutter[2])
    assert far == pytest.approx(corner_of_four_bars(high, deep, deep, high, opened), abs=1e-6)


def turned(axis: float, angle: float) -> NDArray[np.float64]:
    """A turn by an angle about a line in the plane, at another angle to its x axis (Rodrigues)."""
    x, y = cos(radians(axis)), sin(radians(axis))
    k = np.array([[0, 0, y], [0, 0, -x], [-y, x, 0]])
    return np.asarray(np.identity(3) + sin(radians(angle)) * k + (1 - cos(radians(angle))) * (k @ k))


def closed(axes: list[float], card: float, start: list[float]) -> tuple[float, NDArray[np.float64]]:
    """Newton's method on the three other folds of a point with four, the card's folded by so much: what is left open,
    and their angles."""
    angles = np.array(start)

    def gap(at: NDArray[np.float64]) -> NDArray[np.float64]:
        whole = np.identity(3)
        for axis, angle in zip(axes, [card, *at], strict=True):
            whole = whole @ turned(axis, angle)
        return np.array([whole[0, 1] - whole[1, 0], whole[1, 2] - whole[2, 1], whole[2, 0] - whole[0, 2]])

    for _ in range(200):
        here = gap(angles)
        slopes = np.array([(gap(angles + step) - here) / 1e-5 for step in np.identity(3) * 1e-5]).T
        move = np.linalg.lstsq(slopes, here, rcond=None)[0]
        angles = angles - move * min(1.0, 5.0 / (np.abs(move).max() + 1e-12))
    return float(np.abs(gap(angles)).max()), angles


@pytest.mark.parametrize("slant", [60, 67, 75])
def test_a_v_fold_moves_as_four_turns_about_a_point(slant: float) -> None:
    """The angles found by Newton's method close the net of the program; shut, its own fold lies as far over."""
    left, low = 74 - 60 * sin(radians(slant)), 100 - 60 * cos(radians(slant))
    facts = V_FOLD.format(left=f"{left:.6f}", right=f"{148 - left:.6f}", low=f"{low:.6f}")
    tree, code = tree_and_trouble(facts)
    assert code == ""
    start = [90.0, -90.0, 90.0]
    for card in (60.0, 90.0, 120.0, 150.0):
        # In turn round the point: the card's own fold, one page, the pop-up's fold, the other page.
        gap, found = closed([270, 90 + slant, 90, 90 - slant], card, start)
        assert gap < 1e-9
        assert found[0] == pytest.approx(found[2], abs=1e-4)
        by_source = {3: card, 4: card, 5: abs(found[2]), 6: abs(found[0]), 7: -abs(found[1])}
        assert not tree.folded(lambda crease, by_source=by_source: by_source[crease.source.number]).opened  # type: ignore[misc]
        start = list(found)


@pytest.mark.parametrize(("aside", "code"), [(0.0, ""), (6.0, "v-fold-does-not-shut"), (-9.0, "v-fold-does-not-shut")])
def test_a_crooked_v_fold_does_not_shut(aside: float, code: str) -> None:
    """By Kawasaki's theorem: sectors 180 - a, g, d and 180 - b; every other one makes half a turn when d = a."""
    slant = 60.0
    at = 80 / (
        cos(radians(abs(aside)))
        + sin(radians(abs(aside))) * (80 - 60 * cos(radians(slant))) / (60 * sin(radians(slant)))
    )
    left, low = 74 - 60 * sin(radians(slant)), 100 - 60 * cos(radians(slant))
    facts = V_FOLD.format(left=f"{left:.6f}", right=f"{148 - left:.6f}", low=f"{low:.6f}")
    end = f"{74 + at * sin(radians(aside)):.6f} across {100 - at * cos(radians(aside)):.6f} down"
    facts = facts.replace("74 across 100 down to 74 across 20 down", f"74 across 100 down to {end}")
    sectors = (180 - slant, slant - aside, slant + aside, 180 - slant)
    assert (abs(sectors[0] + sectors[2] - 180) < 1e-9) is (code == "")
    assert tree_and_trouble(facts)[1] == code


def test_a_v_fold_that_stands_out_of_the_shut_card() -> None:
    """Shut, its own fold lies at twice the slant from that of the card: 80 sin 80 = 78.8 mm of 74 to the side."""
    slant = 40.0
    left, low = 74 - 60 * sin(radians(slant)), 100 - 60 * cos(radians(slant))
    facts = V_FOLD.format(left=f"{left:.6f}", right=f"{148 - left:.6f}", low=f"{low:.6f}")
    read = recipe(facts)
    flat = lay_flat(read)
    blank = flat.blank("box")
    assert blank is not None
    tree = tree_of(fold_pieces(read, flat).nets["box"])
    trouble = pop_up_trouble(tree.folded(lambda crease: crease.angle), blank)
    assert trouble is not None and trouble.code == "pop-up-stands-out"
    assert trouble.numbers[0] == pytest.approx(80 * sin(radians(80)) - 74, abs=1e-3)
