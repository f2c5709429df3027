"""Trays, lids, sleeves and accordions of any size against what anybody can work out with a pencil."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from foldwright.geometry.folding.folded import fold
from foldwright.geometry.folding.space import distance
from geometry.folding.shapes import closed_volume, folded_piece, named, net_of_piece, sizes
from workbench.long import tries

quarters = st.integers(40, 900).map(lambda number: Fraction(number, 4))
"""Ten to 225 mm in quarters of a millimetre."""
MANY = settings(max_examples=tries(50, 500))


def near(one: float, other: float, size: float) -> bool:
    return abs(one - other) <= 1e-9 * size


def mm(length: Fraction) -> str:
    return f"{float(length):g}"


@MANY
@given(quarters, quarters, quarters, st.booleans(), st.sampled_from(["tray", "lid"]))
def test_a_tray_measures_floor_by_floor_by_wall(
    wide: Fraction, long: Fraction, deep: Fraction, cut: bool, form: str
) -> None:
    corners = "corners: cut away" if cut else "flaps: joined to left and right"
    folded = folded_piece(
        f"""
size: {mm(wide + 2 * deep)} x {mm(long + 2 * deep)} mm
across: {mm(deep)} left | {mm(wide)} floor | {mm(deep)} right
down: {mm(deep)} back | {mm(long)} floor | {mm(deep)} front
{corners}
fold: {form}
"""
    )
    size = folded.net.size
    measured = sizes(folded)
    assert all(near(one, float(other), size) for one, other in zip(measured, (wide, long, deep), strict=True))
    assert len(folded.panels) == (5 if cut else 9) and not folded.opened
    sides = [folded.corners(named(folded, name)) for name in ("floor", "left", "right", "back", "front")]
    floor = sides[0]
    top = [(x, y, z - float(deep)) for x, y, z in reversed(floor)]
    volume = closed_volume([*sides, top])
    assert abs(volume - float(wide * long * deep)) <= 1e-9 * size**3


@MANY
@given(quarters, quarters, quarters, quarters)
def test_a_sleeve_is_as_wide_high_and_long_as_its_panels_and_closes(
    wide: Fraction, high: Fraction, long: Fraction, flap: Fraction
) -> None:
    whole = 2 * wide + 2 * high + flap
    net = net_of_piece(
        f"""
size: {mm(whole)} x {mm(long)} mm
across: {mm(wide)} top | {mm(high)} left side | {mm(wide)} bottom | {mm(high)} right side | {mm(flap)} glue flap
fold: sleeve
"""
    )
    # Held by its top, so that the sizes lie along the axes they are named for.
    folded = fold(replace(net, root=0))
    size = net.size
    walls = [named(folded, name) for name in ("top", "left side", "bottom", "right side")]
    glued = named(folded, "glue flap")
    top, last = folded.net.panels[walls[0]], folded.net.panels[walls[3]]
    left = min(x for x, _ in top.outline)
    right = max(x for x, _ in last.outline)
    for y in (0.0, float(long)):
        assert distance(folded.place(walls[0], (left, y)), folded.place(walls[3], (right, y))) <= 1e-9 * size
    # The flap lies flat against the top, inside.
    assert all(abs(z) <= 1e-9 * size for _, _, z in folded.corners(glued))
    xs = [spot[0] for wall in walls for spot in folded.corners(wall)]
    zs = [spot[2] for wall in walls for spot in folded.corners(wall)]
    assert near(max(xs) - min(xs), float(wide), size) and near(max(zs) - min(zs), float(high), size)
    ends = [[folded.place(wall, (x, y)) for wall, x in _mouth(folded.net, walls)] for y in (0.0, float(long))]
    volume = closed_volume([*(folded.corners(wall) for wall in walls), ends[0], ends[1][::-1]])
    assert abs(volume - float(wide * high * long)) <= 1e-9 * size**3


def _mouth(net, walls):  # type: ignore[no-untyped-def]
    """The four corners of an end, each as a place on the panel that begins there."""
    return [(wall, min(x for x, _ in net.panels[wall].outline)) for wall in walls]


@MANY
@given(quarters, quarters, st.integers(2, 12), st.sampled_from(["up", "down"]))
def test_an_accordion_closes_to_one_panel(wide: Fraction, high: Fraction, count: int, first: str) -> None:
    net = net_of_piece(
        f"""
size: {mm(wide * count)} x {mm(high)} mm
across: {count} of {mm(wide)}
fold: accordion, first fold {first}
"""
    )
    closed = fold(net)
    measured = sizes(closed)
    assert all(near(one, other, net.size) for one, other in zip(measured, (float(wide), float(high), 0.0), strict=True))
    # Open, it is as long as its panels together; half way, each panel leans and it is half as long (cos 60 degrees),
    # measured along the zigzag of its odd folds.
    assert near(sizes(fold(net, 0.0))[0], float(wide * count), net.size)
    ahead = 1 if first == "up" else -1
    second = fold(net, 0.5).normal(1)
    assert near(second[0], -ahead, 1.0) and near(second[2], 0.0, 1.0)


@MANY
@given(quarters, quarters, st.floats(0.0, 1.0))
def test_folding_bends_no_panel(wide: Fraction, high: Fraction, fraction: float) -> None:
    """Every edge keeps its length at every part of the way (a fold is rigid)."""
    net = net_of_piece(
        f"""
size: {mm(wide + 60)} x {mm(high + 60)} mm
across: 30 left | {mm(wide)} floor | 30 right
down: 30 back | {mm(high)} floor | 30 front
flaps: joined to back and front, trimmed 2 mm
fold: tray
"""
    )
    folded = fold(net, fraction)
    assert not folded.opened
    for number, panel in folded.panels:
        flat = [(x, y, 0.0) for x, y in panel.outline]
        spots = folded.corners(number)
        for at in range(len(flat)):
            assert near(distance(flat[at - 1], flat[at]), distance(spots[at - 1], spots[at]), net.size)
    for crease in net.creases:
        for point in (crease.start, crease.end):
            assert distance(folded.place(crease.one, point), folded.place(crease.other, point)) <= 1e-9 * net.size
