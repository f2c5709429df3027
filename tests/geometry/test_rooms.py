"""The room inside forms that are no boxes, against solids sampled point by point, and formulas of their own."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import product
from math import cos, pi, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.geometry.flat.inside import TRAYS
from foldwright.geometry.together.rooms import Room, cone, cylinder, pillow, pyramid, regular
from foldwright.pack.model import Thing
from foldwright.pipeline import check_recipe

NO_CARD = Fraction(0)


def made(room: Room | None) -> Callable[[float, float], float]:
    assert room is not None and room.above is not None
    return room.above


def test_a_square_stands_in_a_hexagon() -> None:
    """The largest square in a regular hexagon of side 1 has the side 3 - root 3 (textbook, from memory)."""
    above = made(regular(6, Fraction(round(sqrt(3) * 10**6), 10**6), Fraction(1)))
    side = 3 - sqrt(3)
    assert above(side * 0.999, side * 0.999) == 1
    assert above(side * 1.004, side * 1.004) == 0


def test_a_square_stands_in_a_triangle() -> None:
    """The largest square in an equilateral triangle of side 1 has the side 2 root 3 - 3 (textbook, from memory)."""
    above = made(regular(3, Fraction(round(10**6 / sqrt(3)), 10**6), Fraction(1)))
    side = 2 * sqrt(3) - 3
    assert above(side * 0.999, side * 0.999) == 1
    assert above(side * 1.01, side * 1.01) == 0


@given(st.integers(3, 9), st.floats(5, 90), st.floats(5, 90))
def test_a_rectangle_among_walls_by_shifting_it_about(count: int, wide: float, deep: float) -> None:
    """Whatever is said to stand among walls 35 mm from the middle does for some turn and some shift of a fine grid."""
    if made(regular(count, Fraction(70), Fraction(40)))(wide, deep) <= 0:
        return
    normals = np.array([(cos(2 * pi * at / count), sin(2 * pi * at / count)) for at in range(count)])
    shifts = np.array(list(product(np.linspace(-30, 30, 121), repeat=2)))
    corners = np.array([(x * wide / 2, y * deep / 2) for x, y in product((-1, 1), repeat=2)])
    best = 99.0
    for turn in np.linspace(0, pi / count, 31):
        turned = corners @ np.array([[cos(turn), sin(turn)], [-sin(turn), cos(turn)]])
        reach = (turned @ normals.T).max(axis=0) + shifts @ normals.T
        best = min(best, float(reach.max(axis=1).min()))
    # The grid is half a millimetre wide.
    assert best <= 35 + 0.5


def test_a_cone_that_is_cut_off() -> None:
    """60 mm below and 30 above, 100 high: its point would be at 200. Half way up it is 45 wide."""
    above = made(cone(Fraction(60), Fraction(100), cut=Fraction(1, 2)))
    assert above(45 / sqrt(2), 45 / sqrt(2)) == pytest.approx(50)
    assert above(10, 10) == 100


@given(st.floats(5, 120), st.floats(5, 120))
def test_a_rectangle_in_a_hexagon_by_its_corners(wide: float, deep: float) -> None:
    """Its corners, turned in steps of a tenth of a degree, lie between all three pairs of sides, 70 mm apart."""
    above = made(regular(6, Fraction(70), Fraction(40)))
    corners = np.array([(x * wide / 2, y * deep / 2) for x, y in product((-1, 1), repeat=2)])
    normals = np.array([(cos(radians(60 * side)), sin(radians(60 * side))) for side in range(3)])
    turns = np.radians(np.arange(0, 180, 0.1))
    turned = np.array([[np.cos(turns), -np.sin(turns)], [np.sin(turns), np.cos(turns)]])
    worst = np.abs(np.einsum("na,abt,cb->tnc", normals, turned, corners)).max(axis=(1, 2)).min()
    if above(wide, deep) > 0:
        assert worst <= 35 + 1e-6
    else:
        assert worst >= 35 - 0.1


def test_the_largest_box_in_a_pyramid_is_two_thirds_of_its_foot() -> None:
    """The box of the most volume in a pyramid has a third of its height and two thirds of its foot: 4 / 27 of a box
    round it (textbook, from memory)."""
    above = made(pyramid((Fraction(90), Fraction(90), Fraction(120)), NO_CARD))
    feet = np.linspace(1, 89, 500)
    best = max((foot * foot * above(foot, foot), foot) for foot in feet)
    assert best[0] == pytest.approx(4 / 27 * 90 * 90 * 120, rel=1e-3)
    assert best[1] == pytest.approx(60, abs=0.3)


def test_the_card_of_a_pyramid_stands_inside_its_folds() -> None:
    """Planes moved inwards by half the card, and the floor raised by it: corners of boxes stay above all of them."""
    wide, long, high, card = 60.0, 80.0, 70.0, 2.0
    above = made(pyramid((Fraction(60), Fraction(80), Fraction(70)), Fraction(2)))
    for foot, deep in ((10.0, 10.0), (30.0, 20.0), (20.0, 50.0)):
        top = above(foot, deep) + card / 2
        offs = [
            (half - at) * tall / np.hypot(tall, half) - rise * half / np.hypot(tall, half)
            for half, at, tall, rise in ((wide / 2, foot / 2, high, top), (long / 2, deep / 2, high, top))
        ]
        assert min(offs) == pytest.approx(card / 2, abs=1e-6)


def test_a_cone_and_a_tube() -> None:
    assert made(cylinder(Fraction(50), Fraction(100)))(30, 40) == 100
    assert made(cylinder(Fraction(50), Fraction(100)))(30, 41) == 0
    # Half way up, a cone is half as wide.
    assert made(cone(Fraction(50), Fraction(100)))(15, 20) == pytest.approx(50)


def test_the_lens_of_a_pillow_box_keeps_its_paper() -> None:
    """The panel stays as long across as it was flat, and stands as high in its middle as half the pillow: reckoned from
    the box heights alone, as a polyline."""
    wide, long, thick = 90, 120, 30
    room = pillow((Fraction(wide), Fraction(long), Fraction(thick)), NO_CARD)
    above = made(room)
    assert room is not None
    across = float(room.bounds[0])
    xs = np.linspace(0, across, 4000)
    heights = np.array([above(x, 1) / 2 for x in xs])
    heights[-1] = 0
    length = np.hypot(np.diff(xs / 2), np.diff(heights)).sum()
    assert length == pytest.approx(wide / 2, rel=2e-3)
    assert heights[0] == pytest.approx(thick / 2, abs=1e-6)
    assert float(room.bounds[1]) == long - thick


def test_the_ends_of_a_pillow_box_meet_over_its_middle() -> None:
    """The end is the mirror image of the panel in a plane of 45 degrees: upright, and as high as the panel there."""
    above = made(pillow((Fraction(90), Fraction(120), Fraction(30)), NO_CARD))
    assert above(0.001, 90) == pytest.approx(30, abs=0.01)
    assert above(0.001, 90.1) == 0


RECIPE = """---
title: A trial
makes: 1 box
measured in: millimetres
level: easy
supplies:
  card: cardstock, thickness 0.3 mm, sheet 700 x 1000 mm
  thing: candle, size {size}, use {use}
tools:
  - scissors, scoring tool
pieces:
  box:
    from: card
{facts}
    holds: thing
---

## Make it

do: cut and score box, fold box
time: 9 min

Cut it.
"""


def told(facts: str, size: str, use: int = 1) -> list[str]:
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    found = check_recipe(RECIPE.format(facts=lines, size=size, use=use), "recipe.md", "trial").findings
    return [one.code for one in found if "go" in one.code.split("-") or "above" in one.code or "room" in one.code
            or "way" in one.code or one.code.startswith("how-large")]  # fmt: skip


@pytest.mark.parametrize(
    ("facts", "size", "use", "codes"),
    [
        ("fold: hexagonal box\nfinished: 70 x 40 mm", "50 x 50 x 30 mm", 1, []),
        ("fold: hexagonal box\nfinished: 70 x 40 mm", "53 x 53 x 30 mm, this way up", 1, ["does-not-go-in"]),
        ("fold: hexagonal box\nfinished: 70 x 40 mm", "68.5 mm round x 30 mm", 1, []),
        ("fold: hexagonal box\nfinished: 70 x 40 mm", "20 x 20 x 60 mm, this way up", 1, ["stands-above-the-wall"]),
        ("fold: octagonal box\nfinished: 70 x 40 mm", "52 x 52 x 30 mm, this way up", 1, []),
        ("fold: octagonal box\nfinished: 70 x 40 mm", "54 x 54 x 30 mm, this way up", 1, ["does-not-go-in"]),
        ("fold: prism\nfinished: 60 x 100 mm", "24 x 24 x 90 mm", 1, []),
        ("fold: prism\nfinished: 60 x 100 mm", "30 x 30 x 90 mm", 1, ["does-not-go-in"]),
        ("fold: tube\nfinished: 50 x 100 mm", "34 x 34 x 90 mm", 1, []),
        ("fold: tube\nfinished: 50 x 100 mm", "36 x 36 x 90 mm", 1, ["does-not-go-in"]),
        ("fold: cone\nfinished: 60 x 100 mm", "20 x 20 x 50 mm, this way up", 1, []),
        ("fold: cone\nfinished: 60 x 100 mm", "20 x 20 x 60 mm, this way up", 1, ["does-not-go-in"]),
        ("fold: tuck box\nfinished: 60 x 40 x 100 mm", "58 x 38 x 98 mm", 1, []),
        ("fold: tuck box\nfinished: 60 x 40 x 100 mm", "58 x 38 x 101 mm", 1, ["does-not-go-in-high"]),
        ("fold: pyramid\nfinished: 90 x 90 x 120 mm", "58 x 58 x 38 mm, this way up", 1, []),
        ("fold: pyramid\nfinished: 90 x 90 x 120 mm", "62 x 62 x 40 mm, this way up", 1, ["does-not-go-in"]),
        ("fold: pillow box\nfinished: 90 x 120 x 30 mm", "40 x 85 x 20 mm", 1, []),
        ("fold: pillow box\nfinished: 90 x 120 x 30 mm", "40 x 100 x 20 mm", 1, ["does-not-go-in"]),
        ("fold: pillow box\nfinished: 90 x 120 x 30 mm", "70 x 60 x 28 mm", 1, ["does-not-go-in"]),
        ("fold: gable-top\nfinished: 80 x 60 x 90 mm", "70 x 50 x 85 mm", 1, []),
        ("fold: gable-top\nfinished: 80 x 60 x 90 mm", "70 x 50 x 125 mm, this way up", 1, ["does-not-go-in-high"]),
        ("fold: envelope\nfinished: 150 x 110 mm", "148 x 105 x 1 mm", 1, []),
        ("fold: envelope\nfinished: 150 x 110 mm", "148 x 112 x 1 mm", 1, ["does-not-go-in-down"]),
        ("size: 172 x 100 mm\nacross: 157 wall | 15 glue flap\nfold: 0", "48 mm round x 90 mm, this way up", 1, []),
        ("size: 172 x 100 mm\nacross: 157 wall | 15 glue flap\nfold: 0", "diameter 52 x 90 mm", 1, ["does-not-go-in"]),
        ("size: 172 x 100 mm\nacross: 157 wall | 15 glue flap\nfold: 0", "34 x 34 x 90 mm, this way up", 1, []),
        ("size: 140 x 140 mm\nacross: 20 | 100 | 20\ndown: 20 | 100 | 20\ncorners: cut away\nfold: tray",
         "41 mm round x 19 mm, this way up", 5, []),
        ("size: 140 x 140 mm\nacross: 20 | 100 | 20\ndown: 20 | 100 | 20\ncorners: cut away\nfold: tray",
         "24 mm round", 16, ["stands-above-the-wall"]),
    ],
)  # fmt: skip
def test_what_goes_into_forms_of_every_kind(facts: str, size: str, use: int, codes: list[str]) -> None:
    assert told(facts, size, use) == codes


def test_a_shape_is_never_roomier_than_the_box_round_it() -> None:
    shapes = (
        regular(6, Fraction(70), Fraction(40)),
        pyramid((Fraction(60), Fraction(80), Fraction(70)), Fraction(1, 3)),
        pillow((Fraction(90), Fraction(120), Fraction(30)), Fraction(1, 3)),
        cone(Fraction(50), Fraction(100)),
    )
    assert TRAYS
    for room in filter(None, shapes):
        for box in room.boxes([Thing((Fraction(7), Fraction(9), Fraction(5)))]):
            assert all(side <= bound for side, bound in zip(box, room.bounds, strict=True))
            assert box[0] * box[1] * box[2] <= room.volume
    assert float(cone(Fraction(50), Fraction(100)).volume) == pytest.approx(pi / 12 * 50**2 * 100, abs=0.1)  # type: ignore[union-attr]
