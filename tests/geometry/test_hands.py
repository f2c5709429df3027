"""How sure pieces made by hand are to go together, against the distributions of sums of errors in closed form."""

from __future__ import annotations

from fractions import Fraction
from math import comb, factorial, floor

import numpy as np
import pytest

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.together.hands import Chance, chances_of
from foldwright.geometry.together.mating import Gap
from foldwright.measure.length import Length, System, Unit
from foldwright.pipeline import check_recipe
from geometry.laid import STUDIO, laid, the_blank

BOX = """\
  box:
    from: card
    size: 100 x 100 mm
    across: 20 | 60 | 20
    down: 20 | 60 | 20
    corners: cut away
    fold: tray
  lid:
    from: card
    size: 100 x 100 mm
    across: 20 | 60 | 20
    down: 20 | 60 | 20
    corners: cut away
    fold: lid
"""


def blanks() -> tuple[Blank, Blank]:
    flat = laid(BOX)
    return the_blank(flat, "box"), the_blank(flat, "lid")


def chance(across: str, down: str, made: int, error: str = "0.5") -> Chance:
    """Of a pair with these rooms in mm, `made` of the two by hand."""
    gaps = [
        Gap(
            LengthId("lid", side, "panel", 2),
            LengthId("box", side, "panel", 2),
            Length(Fraction(room), Unit.MILLIMETRE),
            None,
            False,
            "over",
        )
        for side, room in (("across", across), ("down", down))
    ]
    (found,) = chances_of(gaps, blanks()[:made], System.METRIC, Fraction(error))
    return found


def irwin_hall(total: float, count: int) -> float:
    """P(the sum of `count` numbers, each evenly spread over 0 to 1, is at most `total`) (Irwin 1927, Hall 1927)."""
    terms = ((-1) ** k * comb(count, k) * (total - k) ** count for k in range(floor(max(0.0, min(total, count))) + 1))
    return min(1.0, sum(terms) / factorial(count)) if total < count else 1.0


@pytest.mark.parametrize(("made", "edges"), [(1, 2), (2, 4)])
@pytest.mark.parametrize("room", ["0.1", "0.25", "0.5", "0.75"])
def test_the_share_is_that_of_a_sum_of_even_errors(made: int, edges: int, room: str) -> None:
    """Errors from -0.5 to 0.5 are numbers from 0 to 1 less a half: their sum is at most the room with this chance, and
    in both directions with its square."""
    alone = irwin_hall(float(room) + edges / 2, edges)
    assert chance(room, room, made).share == pytest.approx(100 * alone * alone, abs=1.5)
    assert chance(room, "99", made).share == pytest.approx(100 * alone, abs=1.5)


def test_what_is_enough_in_the_worst_case_always_works() -> None:
    """Four edges, each half a millimetre off the wrong way, take 2 mm."""
    assert chance("2", "2", 2) == Chance("lid", "box", "over", 100, None, False)
    short = chance("1.2", "3", 2)
    assert short.share < 100 and short.more is not None and short.more.mm == 1
    # With so much more it always does.
    assert chance("2.2", "4", 2).more is None


def test_it_is_the_same_every_time() -> None:
    assert chance("0.7", "0.9", 2) == chance("0.7", "0.9", 2)


RECIPE = """---
title: Box
measured in: millimetres
{studio}makes: 1 box
supplies:
  card: cardstock, thickness 0.3 mm, sheet A4
tools:
  - scissors
pieces:
{pieces}    fits over: box
---

## Cut it

do: cut box and lid
time: 1 min
"""


def test_a_pair_that_seldom_goes_together_is_a_thought() -> None:
    box, lid = BOX.split("  lid:")
    pieces = f"{box}  lid:{lid.replace('60', '61').replace('100 x 100', '101 x 101')}"
    for studio, seldom in (("", True), ("hand error: 0.05 mm\n", False)):
        checked = check_recipe(RECIPE.format(pieces=pieces, studio=studio), "r.md", "r")
        assert ("seldom-goes-over" in {finding.code for finding in checked.findings}) is seldom


def test_a_hexagonal_lid_goes_over_its_base_as_often_as_a_simulation_says() -> None:
    """72 over 70 mm of card 0.33 mm thick: 97.7 in a hundred (a packaging engineer's own simulation).

    Reckoned anew: each of the six walls of either is off by as much as half a millimetre. The lid may be shifted about,
    so that it goes over when some shift leaves every wall room: by Farkas' lemma, when no two opposite walls and no
    three that stand at 120 degrees to each other ask for more than there is.
    """
    pieces = """\
  base:
    from: card
    thickness: 0.33 mm
    fold: hexagonal box
    finished: 70 x 40 mm
  lid:
    from: card
    thickness: 0.33 mm
    fold: hexagonal box
    finished: 72 x 20 mm
    fits over: base
"""
    flat = laid(pieces, STUDIO)
    (chance,) = chances_of(flat.gaps, flat.blanks, System.METRIC, None)
    lid, base = np.random.default_rng(7).uniform(-0.5, 0.5, (2, 200_000, 6))
    walls = (72 - 70 - 2 * 0.33) / 2 + lid - base
    opposite = walls[:, :3] + walls[:, 3:]
    goes = (opposite >= 0).all(axis=1) & (walls[:, ::2].sum(axis=1) >= 0) & (walls[:, 1::2].sum(axis=1) >= 0)
    assert 100 * goes.mean() == pytest.approx(97.7, abs=0.5)
    assert chance.share == pytest.approx(97.7, abs=1)
