"""Forms of paper that curves, against the formulas of developable surfaces; what is folded has facets instead."""

from __future__ import annotations

import json
from fractions import Fraction
from math import atan2, cos, degrees, dist, hypot, pi, sin, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.geometry.contours import contours_of
from foldwright.geometry.flat.blank import Blank, Sector
from foldwright.geometry.flat.forms.round import FACETS, sector_in
from foldwright.geometry.folding.folded import Folded, fold, tree_of
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.folding.space import Spot, cross, dot, minus, unit
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.story import step_pictures
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.geometry.scene import LineKind
from foldwright.pipeline import check_recipe
from foldwright.render.machine.fold import piece_fold
from geometry.folding.shapes import area_of
from geometry.laid import SUPPLIES, recipe_of
from workbench.long import tries

SOME = settings(max_examples=tries(15, 80))
sizes = st.integers(20, 200)


def made(facts: str, card: str = "card") -> tuple[Flat, Blank, Folded, set[str]]:
    recipe = recipe_of(f"  box:\n    from: {card}\n" + "".join(f"    {line}\n" for line in facts.splitlines()))
    flat = lay_flat(recipe)
    folding = fold_pieces(recipe, flat)
    blank = flat.blank("box")
    assert blank is not None
    return flat, blank, fold(folding.nets["box"]), {one.code for one in (*flat.findings, *folding.findings)}


def mm(flat: Flat, side: str, place: str) -> float:
    return float(flat.lengths.by_id[LengthId("box", side, place)].mm)


# --- tubes ------------------------------------------------------------------------------------------------------------


@SOME
@given(sizes, sizes)
def test_a_tube_is_pi_times_its_width_round_and_a_regular_prism_when_folded(wide: int, long: int) -> None:
    """A regular polygon of n sides with the circumference c has the area c^2 / (4 n tan(pi / n))."""
    _, blank, folded, codes = made(f"fold: tube\nfinished: {wide} x {long} mm")
    assert codes == set() and folded.opened == () and not list(collisions(folded))
    lap = min(12.0, pi * wide / 4)
    assert float(blank.width) == pytest.approx(pi * wide + lap, rel=1e-9)
    walls = [number for number, panel in folded.panels if not panel.glued]
    assert len(walls) == FACETS
    # The axis runs along the blank, which is looked at from its end.
    corners = {(round(x, 6), round(z, 6)) for number in walls for x, y, z in folded.corners(number) if abs(y) < 1e-6}
    assert len(corners) == FACETS
    middle = sum(x for x, _ in corners) / FACETS, sum(z for _, z in corners) / FACETS
    ring = sorted(corners, key=lambda one: atan2(one[1] - middle[1], one[0] - middle[0]))
    assert area_of(ring) == pytest.approx((pi * wide) ** 2 / (4 * FACETS * tan(pi / FACETS)), rel=1e-5)


def test_the_circumference_of_a_tube_given_by_its_inside_is_that_of_the_middle_of_its_card() -> None:
    _, blank, _, codes = made("fold: tube\ninside: 50 x 100 mm", "thick card")
    assert codes == set()
    assert float(blank.width) == pytest.approx(pi * 50.5 + 12, rel=1e-9)


@pytest.mark.parametrize(
    ("facts", "wide", "long"),
    [
        ("size: 172 x 100 mm\nacross: 157 wall | 15 glue flap\nfold: 0", 157 / pi, 100),
        ("size: 100 x 200 mm\ndown: 185 wall | 15 glue flap\nfold: 0", 185 / pi, 100),
        ("size: 200 x 20 mm\nfold: ring", 200 / pi, 20),
    ],
)
def test_a_strip_that_is_rolled_is_told_as_the_tube_it_comes_to(facts: str, wide: float, long: float) -> None:
    text = f"---\ntitle: T\nmakes: 1\nmeasured in: mm\n{SUPPLIES}\npieces:\n  box:\n    from: card\n"
    text += "".join(f"    {line}\n" for line in facts.splitlines()) + "---\n\n## Roll\ndo: cut box, roll box\nWords.\n"
    found = check_recipe(text, "recipe.md", "t", read=lambda path, most: b"").understood
    assert found is not None
    assert mm(found.flat, "made", "diameter") == pytest.approx(wide, abs=1e-3)
    assert mm(found.flat, "made", "long") == long
    net = found.folding.nets["box"]
    assert sum(not panel.glued for panel in net.panels) == FACETS


@pytest.mark.parametrize(("finished", "told"), [("50 x 100", False), ("52 x 100", True), ("50 x 120", True)])
def test_a_finished_size_is_compared_with_what_it_rolls_to(finished: str, told: bool) -> None:
    text = f"""---
title: T
makes: 1
measured in: mm
{SUPPLIES}
pieces:
  box:
    from: card
    size: 172 x 100 mm
    across: 157 wall | 15 glue flap
    fold: 0
    finished: {finished} mm
---

## Roll

do: cut box, roll box, glue box

Words.
"""
    findings = [one.code for one in check_recipe(text, "recipe.md", "t", read=lambda path, most: b"").findings]
    assert ("rolls-to-another-tube" in findings) == told
    assert not {"finished-differs", "finished-differs-flat", "edges-nearly-meet"} & set(findings)


# --- cones ------------------------------------------------------------------------------------------------------------


@SOME
@given(sizes, sizes)
def test_a_cone_is_a_sector_with_its_slant_for_a_radius_and_closes(wide: int, high: int) -> None:
    """Slant s = root(r^2 + h^2), angle 360 r / s, chord 2 s sin(angle / 2); the area is pi r s (Archimedes)."""
    flat, blank, folded, codes = made(f"fold: cone\nfinished: {wide} x {high} mm")
    assert codes == set() and not list(collisions(folded))
    slant, radius = hypot(wide / 2, high), wide / 2
    angle = 2 * pi * radius / slant
    assert mm(flat, "sector", "radius") == pytest.approx(slant, rel=1e-6)
    assert mm(flat, "sector", "chord") == pytest.approx(2 * slant * sin(angle / 2), rel=1e-6)
    assert blank.sector is not None and degrees(blank.sector.angle) == pytest.approx(360 * radius / slant)
    walls = [number for number, panel in folded.panels if not panel.glued]
    assert len(walls) == FACETS
    assert sum(area_of(folded.net.panels[number].outline) for number in walls) == pytest.approx(
        pi * radius * slant, rel=2e-3
    )
    _closes_round(folded, walls, blank.sector)


@SOME
@given(sizes, sizes, sizes)
def test_a_cone_that_is_cut_off_is_part_of_a_ring_and_closes(below: int, above: int, high: int) -> None:
    """Its slanting sides would meet at the larger radius times s / (R - r); the area is pi (R + r) s."""
    if below == above:
        return
    flat, blank, folded, codes = made(f"fold: cone\nfinished: {below} x {above} x {high} mm")
    assert codes == set() and not list(collisions(folded))
    large, small = max(below, above) / 2, min(below, above) / 2
    slant = hypot(large - small, high)
    assert mm(flat, "sector", "radius") == pytest.approx(large * slant / (large - small), rel=1e-6)
    assert mm(flat, "sector", "inner") == pytest.approx(small * slant / (large - small), rel=1e-6)
    walls = [number for number, panel in folded.panels if not panel.glued]
    assert sum(area_of(folded.net.panels[number].outline) for number in walls) == pytest.approx(
        pi * (large + small) * slant, rel=2e-3
    )
    assert blank.sector is not None
    _closes_round(folded, walls, blank.sector)


def _closes_round(folded: Folded, walls: list[int], sector: Sector) -> None:
    """Every place on the rim is as far from the point, and its two ends come together."""
    tip = folded.place(folded.net.root, sector.point)
    rim = [(at, place) for at in walls for place in folded.net.panels[at].outline]
    rim = [(at, place) for at, place in rim if abs(dist(place, sector.point) - sector.radius) < 1e-6]
    assert all(dist(folded.place(*one), tip) == pytest.approx(sector.radius, rel=1e-9) for one in rim)
    ends = [sector.place(turned, sector.radius) for turned in (0.0, sector.angle)]
    first, last = (min(rim, key=lambda one, end=end: dist(one[1], end)) for end in ends)  # type: ignore[misc]
    assert dist(folded.place(*first), folded.place(*last)) < sector.radius * 1e-6


@pytest.mark.parametrize(
    ("finished", "code"), [("80 x 80 x 50 mm", "cone-is-a-tube"), ("100 x 40 mm, slant", "cone-too-flat")]
)
def test_a_cone_that_cannot_be_is_told(finished: str, code: str) -> None:
    size, _, remark = finished.partition(", ")
    fold_said = f"cone, {remark}" if remark else "cone"
    recipe = recipe_of(f"  box:\n    from: card\n    fold: {fold_said}\n    finished: {size}\n")
    assert code in {one.code for one in lay_flat(recipe).findings}


@SOME
@given(st.floats(0.5, 5.5), st.floats(0.0, 6.2), st.integers(30, 200))
def test_part_of_a_circle_is_known_as_such_wherever_it_lies(angle: float, start: float, radius: int) -> None:
    steps = 60
    rim = [
        (radius * cos(start + angle * at / steps), radius * sin(start + angle * at / steps)) for at in range(steps + 1)
    ]
    # A half circle has no corner at its point.
    ring = rim if abs(angle - pi) < 1e-9 else [*rim, (0.0, 0.0)]
    found = sector_in(ring)
    assert found is not None
    assert (found.angle, found.radius) == pytest.approx((angle, radius), rel=1e-6)


def test_a_half_circle_is_known_and_nothing_else_is() -> None:
    rim = [(100 * cos(pi * at / 40), 100 * sin(pi * at / 40)) for at in range(41)]
    found = sector_in(rim)
    assert found is not None and found.angle == pytest.approx(pi)
    assert sector_in([(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)]) is None
    assert sector_in([(x, 1.2 * y) for x, y in rim]) is None


# --- pillow boxes -----------------------------------------------------------------------------------------------------


@SOME
@given(st.integers(60, 200), st.integers(80, 200), st.integers(5, 24))
def test_a_pillow_box_closes_and_is_as_thick_as_was_asked_for(wide: int, long: int, thick: int) -> None:
    """Of an arc of radius p, u from its middle, the panel covers root((p^2 - 2 u^2) / (p^2 - u^2)) across for each
    millimetre of paper, by Pythagoras; that is added up here by Simpson's rule."""
    _, _, folded, codes = made(f"fold: pillow box\nfinished: {wide} x {long} x {thick} mm")
    assert codes == set() and folded.opened == () and not list(collisions(folded))
    front, back = _highest(folded, "front"), _highest(folded, "back")
    out = unit(cross(minus(front[1], front[0]), minus(front[2], front[0])))
    apart = abs(dot(minus(back[0], front[0]), out))
    assert apart == pytest.approx(thick, rel=2e-2)
    rise = thick / 2
    radius = rise / 2 + wide * wide / (8 * rise)
    steps = 400
    parts = [_covered(radius, -wide / 2 + wide * at / steps) for at in range(steps + 1)]
    across = wide / steps / 3 * (parts[0] + parts[-1] + 4 * sum(parts[1:-1:2]) + 2 * sum(parts[2:-1:2]))
    spots = [spot for number, panel in folded.panels if panel.name == "front" for spot in folded.corners(number)]
    assert max(dist(one, other) for one in spots for other in spots if abs(one[1] - other[1]) < 1e-3) == pytest.approx(
        across, rel=1e-2
    )


@pytest.mark.parametrize("size", ["2 3/16 x 4 x 7/8 in", "2.187 x 3.999 x 0.601 in", "55.563 x 101.601 x 22.225 mm"])
def test_a_pillow_box_of_any_size_closes_and_one_whose_flaps_go_too_far_collides(size: str) -> None:
    """The flaps of an end lie on each other, the other way round: one half of an arc is the other seen in a mirror."""
    _, blank, folded, codes = made(f"fold: pillow box\nfinished: {size}")
    assert codes == set() and folded.opened == () and not list(collisions(folded))
    face = blank.faces[0]
    rim = {(x, y) for x, y in blank.outline if x < face.right and y < face.top}
    assert len(rim) == 23 and {(face.right - x, y) for x, y in rim} == rim
    arcs = {one for one in folded.net.creases if not one.smooth and one.start[0] < one.end[0] <= float(face.right)}
    assert len(arcs) == 24
    too_far = tree_of(folded.net).folded(lambda one: one.angle - 4.0 if one in arcs else one.angle)
    assert list(collisions(too_far))


@settings(max_examples=tries(6, 300))
@given(st.integers(30, 130), st.integers(40, 160), st.integers(1, 60), st.sampled_from(("sixteenths", "thousandths")))
def test_no_pillow_box_that_folds_is_told_to_collide(wide: int, long: int, part: int, counted: str) -> None:
    """As thick as some hundredths of what it may be, in marks of a ruler that seldom come to thousandths of a
    millimetre, or in those."""
    thick = max(1, int(min(0.41 * wide, 0.5 * long) * (35 + part) / 96))
    mark, unit_name = (0.0625, "in") if counted == "sixteenths" else (1.587, "mm")
    size = " x ".join(f"{one * mark:.4f}" for one in (wide, long, thick))
    _, _, folded, codes = made(f"fold: pillow box\nfinished: {size} {unit_name}")
    assert codes == set() and folded.opened == () and not list(collisions(folded))


def _covered(radius: float, off: float) -> float:
    return sqrt((radius * radius - 2 * off * off) / (radius * radius - off * off))


def _highest(folded: Folded, name: str) -> tuple[Spot, ...]:
    """The facet in the middle of a panel."""
    facets = [(number, panel) for number, panel in folded.panels if panel.name == name]
    number, _ = max(facets, key=lambda one: area_of(one[1].outline) if len(one[1].outline) == 4 else 0.0)
    middle = [at for at, panel in facets if _spans(panel.outline, folded.net.panels[number].outline)]
    return folded.corners(middle[len(middle) // 2])


def _spans(outline: tuple[tuple[float, float], ...], like: tuple[tuple[float, float], ...]) -> bool:
    high = max(y for _, y in outline) - min(y for _, y in outline)
    return high > 0.5 * (max(y for _, y in like) - min(y for _, y in like))


def test_a_flap_of_a_pillow_box_stands_upright_between_its_panels() -> None:
    _, blank, folded, _ = made("fold: pillow box\nfinished: 90 x 120 x 30 mm")
    rise = Fraction(15)
    tips = {name: _tip(folded, x, 0.0) for name, x in (("front", 45.0), ("back", 135.0))}
    feet = {name: _tip(folded, x, 2 * float(rise)) for name, x in (("front", 45.0), ("back", 135.0))}
    assert dist(tips["front"], feet["back"]) == pytest.approx(0, abs=1e-6)
    assert dist(tips["back"], feet["front"]) == pytest.approx(0, abs=1e-6)
    assert blank.height == 150


def _tip(folded: Folded, x: float, y: float) -> Spot:
    for number, panel in folded.panels:
        if any(abs(px - x) + abs(py - y) < 1e-6 for px, py in panel.outline):
            return folded.place(number, (x, y))
    raise AssertionError((x, y))


@pytest.mark.parametrize(
    ("size", "told"), [("100 x 200 x 41", False), ("100 x 200 x 42", True), ("200 x 80 x 40", True)]
)
def test_an_arc_may_be_as_steep_as_45_degrees(size: str, told: bool) -> None:
    """An arc that meets its chord at 45 degrees is a quarter of a circle: it rises by (root 2 - 1) / 2 of the chord."""
    recipe = recipe_of(f"  box:\n    from: card\n    fold: pillow box\n    finished: {size} mm\n")
    assert ("pillow-too-thick" in {one.code for one in lay_flat(recipe).findings}) == told


# --- what is never seen of the facets ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("facts", "runs"),
    [
        ("fold: tube\nfinished: 50 x 100 mm", 0),
        ("fold: cone\nfinished: 100 x 150 mm", 0),
        ("fold: pillow box\nfinished: 90 x 120 x 30 mm", 6),
    ],
)
def test_nobody_scores_a_bend(facts: str, runs: int) -> None:
    """A template has two straight scores and four arcs of a pillow box, and none of what is only rolled."""
    _, blank, folded, _ = made(facts)
    assert len(contours_of(blank).runs) == runs
    data = json.loads(piece_fold(folded.net, float(blank.height), "t", "d", "c"))
    bends = data["foldwright:bends"]
    smooth = [crease for crease in folded.net.creases if crease.smooth]
    assert len(bends) >= len(smooth) > 0
    assert all(data["edges_assignment"][at] in "MV" and data["edges_foldAngle"][at] for at in bends)


def test_a_rolled_tube_is_drawn_without_a_line_between_its_facets() -> None:
    text = f"---\ntitle: T\nmakes: 1\nmeasured in: mm\n{SUPPLIES}\npieces:\n  box:\n    from: card\n    fold: tube\n"
    text += "    finished: 50 x 100 mm\n---\n\n## Roll\n\ndo: cut box, roll box, glue box\n\nWords.\n"
    found = check_recipe(text, "recipe.md", "t", read=lambda path, most: b"").understood
    assert found is not None
    pictures = {one.code: one for one in step_pictures(found.recipe, found.flat, found.folding)}
    assert {"cut", "roll-glue", "rolled"} <= set(pictures)
    faces = pictures["rolled"].scene.faces
    creases = [edge for face in faces for edge in face.edges if edge.kind is LineKind.CREASE]
    # Only where it turns out of sight, on the left and on the right, on either side of the paper.
    assert len(creases) <= 4


def test_discs_go_on_the_ends_of_a_tube_as_wide_as_they_are() -> None:
    disc = "  disc:\n    from: card\n    count: 2\n    size: {0} x {0} mm\n    outline: circle\n"
    head = f"---\ntitle: T\nmakes: 1\nmeasured in: mm\n{SUPPLIES}\npieces:\n  box:\n    from: card\n    fold: tube\n"
    steps = (
        "## Roll\n\ndo: cut box, roll box, glue box, cut disc\n\nWords.\n\n## End\n\ndo: glue disc to box\n\nWords.\n"
    )
    shown = {}
    for wide in (50, 90):
        text = f"{head}    finished: 50 x 100 mm\n{disc.format(wide)}---\n\n{steps}"
        found = check_recipe(text, "recipe.md", "t", read=lambda path, most: b"").understood
        assert found is not None
        shown[wide] = [one for one in step_pictures(found.recipe, found.flat, found.folding) if one.code == "cap"]
    assert len(shown[50]) == 1 and len(shown[50][0].scene.arrows) == 2
    assert not shown[90]


@pytest.mark.parametrize(
    "facts", ["tube{}\nfinished: 50 x 100 mm", "cone{}\nfinished: 90 x 100 mm", "pyramid{}\nfinished: 60 x 60 x 80 mm"]
)
def test_good_side_in_turns_every_fold_of_a_worked_out_form_round(facts: str) -> None:
    _, _, out, _ = made("fold: " + facts.format(""))
    _, _, turned, codes = made("fold: " + facts.format(", good side in"))
    assert codes == set()
    angles = [[crease.angle for crease in folded.net.creases] for folded in (out, turned)]
    assert angles[1] == [-angle for angle in angles[0]] and any(angles[0])
