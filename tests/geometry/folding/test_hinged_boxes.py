"""The box with its lid hinged to the back: what it measures, that it shuts, and how much room its layers have."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings

from foldwright.figures.closing import close
from foldwright.geometry.flat.inside import rooms
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import System
from geometry.folding.shapes import closed_volume, named
from geometry.folding.test_tuck_boxes import CARDS, SIZES, boxed, codes
from workbench.long import tries

SOME = settings(max_examples=tries(40, 150), deadline=None)


@SOME
@given(SIZES, CARDS)
def test_a_hinged_box_is_a_box_that_its_lid_goes_over(size: str, card: str) -> None:
    """Floor, back and a lid as high above the floor as the box is; front and sides end below it by what the card takes
    and no more than a millimetre or so; the lid's walls stand outside theirs with room for every layer between."""
    blank, folded, flat, folding = boxed(f"fold: hinged box\nfinished: {size}", card)
    assert codes(flat, folding) == set()
    assert not list(collisions(folded)) and folded.opened == ()
    thick = float(flat.cards["box"].length.mm)  # type: ignore[union-attr]
    wide, deep, high = (float(mm) for _, mm in blank.made)
    at = {
        name: folded.corners(named(folded, name))
        for name in ("floor", "front", "back", "left", "right", "lid", "lid front", "lid left", "lid right")
    }
    ground, cover = _plane(at["floor"], 2), _plane(at["lid"], 2)
    assert abs(cover - ground) == pytest.approx(high, abs=1e-9)
    for name in ("front", "left", "right"):
        rim = max(abs(spot[2] - ground) for spot in at[name])
        assert thick - 1e-9 <= high - rim <= thick + 0.8
    floor = at["floor"]
    assert closed_volume([floor, *_upright(floor, cover - ground)]) == pytest.approx(wide * deep * high, rel=1e-9)
    for side in ("left", "right"):
        assert abs(_plane(at[f"lid {side}"], 0) - _plane(at[side], 0)) >= thick
    # Between the fronts lies a flap of the lid.
    assert abs(_plane(at["lid front"], 1) - _plane(at["front"], 1)) >= 2 * thick
    outside = {room.side: float(room.outside) for room in rooms(blank, Fraction(round(thick * 1000), 1000))}
    low, top = folded.extent
    spans = [b - a + thick for a, b in zip(low, top, strict=True)]
    assert [outside["across"], outside["down"], outside["deep"]] == pytest.approx(spans, abs=1e-6)


def _plane(corners: tuple[Spot, ...], axis: int) -> float:
    (at,) = {round(spot[axis], 9) for spot in corners}
    return at


def _upright(floor: tuple[Spot, ...], high: float) -> list[list[Spot]]:
    """The walls and top of a box on a floor."""
    top = [(x, y, z + high) for x, y, z in floor]
    around = zip(floor, (*floor[1:], floor[0]), (*top[1:], top[0]), top, strict=True)
    return [*(list(wall) for wall in around), top]


@SOME
@given(SIZES, CARDS)
def test_its_glue_flaps_lie_inside_what_they_are_glued_to(size: str, card: str) -> None:
    """In the plane of a wall and within it, all six: four of the tray, two of the lid."""
    _, folded, _, _ = boxed(f"fold: hinged box\nfinished: {size}", card)
    flaps = [folded.corners(at) for at, panel in folded.panels if panel.glued]
    assert len(flaps) == 6
    walls = [folded.corners(named(folded, name)) for name in ("front", "back", "lid front")]
    found = [0, 0, 0]
    for flap in flaps:
        number = next(at for at, wall in enumerate(walls) if abs(wall[0][1] - flap[0][1]) < 1e-6)
        found[number] += 1
        for axis in (0, 2):
            ends = [spot[axis] for spot in walls[number]]
            assert all(min(ends) - 1e-6 <= spot[axis] <= max(ends) + 1e-6 for spot in flap)
    assert found == [2, 2, 2]


def test_the_room_is_what_was_asked_for() -> None:
    """By hand: one layer across, three deep (the flaps in front and back), one high; taken up to a half millimetre."""
    blank, _, flat, _ = boxed("fold: hinged box\ninside: 60 x 50 x 30 mm", "0.4 mm")
    assert [mm for _, mm in blank.made] == [Fraction(121, 2), Fraction(103, 2), Fraction(61, 2)]
    assert all(room.inside >= asked for room, asked in zip(rooms(blank, Fraction(2, 5)), (60, 50, 30), strict=True))
    assert flat.findings == ()


@SOME
@given(SIZES, CARDS)
def test_the_lid_stays_larger_as_it_is_printed(size: str, card: str) -> None:
    _, _, flat, folding = boxed(f"fold: hinged box\nfinished: {size}", card)
    lengths = flat.lengths
    both = {**lengths.by_id, **folding.lengths}
    whole = type(lengths)(both, (*lengths.relations, *folding.relations), lengths.worked_out | folding.worked_out)
    for system in System:
        printed = {name.place: one.mm for name, one in close(whole, system).printed.items() if name.side == "made"}
        assert printed["lid across"] > printed["across"] and printed["lid down"] > printed["down"]
        assert printed["wall"] <= printed["high"]


def test_a_box_too_small_for_its_flaps_is_told() -> None:
    from foldwright.geometry.pieces import lay_flat
    from geometry.laid import recipe_of

    recipe = recipe_of("  box:\n    from: card\n    fold: hinged box\n    finished: 60 x 50 x 4 mm\n")
    assert "hinged-box-too-small" in {one.code for one in lay_flat(recipe).findings}
    assert LengthId("box", "made", "lid across") not in lay_flat(recipe).lengths.by_id
