"""Forms that are worked out from their finished size, against formulas anybody can look up."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import asin, atan, dist, hypot, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point as Place
from shapely.geometry import Polygon

from foldwright.finding import Finding
from foldwright.geometry.flat.inside import rooms
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import lay_flat
from foldwright.geometry.understood import work_on
from geometry.folding.shapes import area_of, closed_volume, made
from geometry.laid import STUDIO, laid, recipe_of, the_blank
from workbench.long import tries

lengths = st.integers(20, 200)
SOME = settings(max_examples=tries(50, 150))


@SOME
@given(lengths, lengths, lengths)
def test_a_pyramid_closes_and_holds_a_third_of_its_base_by_its_height(wide: int, long: int, high: int) -> None:
    """The volume of any pyramid is a third of base by height (Euclid, Elements XII)."""
    blank, folded, codes = made(f"fold: pyramid\nfinished: {wide} x {long} x {high} mm")
    assert codes == set()
    assert closed_volume([folded.corners(number) for number, _ in folded.panels]) == pytest.approx(
        wide * long * high / 3, rel=1e-8
    )
    tips = [
        min(folded.corners(number), key=lambda spot: spot[2])
        for number, _ in folded.panels
        if number != folded.net.root
    ]
    assert all(tip == pytest.approx(tips[0], abs=1e-6) for tip in tips)
    assert float(blank.width) == pytest.approx(wide + 2 * sqrt(high * high + wide * wide / 4), rel=1e-12)


@SOME
@given(lengths, lengths)
def test_the_square_of_an_envelope_wraps_its_body_and_its_flaps_overlap(wide: int, high: int) -> None:
    """The diagonal of the square is root 2 times its side (Pythagoras); folded, the body is what was asked for."""
    blank, folded, codes = made(f"fold: envelope\nfinished: {wide} x {high} mm")
    assert codes == set()
    body = folded.net.panels[folded.net.root].outline
    sides = sorted(
        sqrt((x2 - x1) ** 2 + (y2 - y1) ** 2) for (x1, y1), (x2, y2) in zip(body, (*body[1:], body[0]), strict=True)
    )
    assert sides == pytest.approx(sorted([wide, wide, high, high]), rel=1e-9)
    side = float(blank.width)
    assert side % 5 == pytest.approx(0, abs=1e-9)
    assert side * sqrt(2) - 2 * min(wide, high) >= 12 - 1e-9
    # Every flap lies flat on the body, and none sticks out beyond it.
    spots = [spot for number, _ in folded.panels for spot in folded.corners(number)]
    assert all(abs(z) < 1e-6 for _, _, z in spots)
    assert len(folded.panels) == 5


@SOME
@given(lengths, lengths, lengths)
def test_a_gable_top_closes_all_round_and_its_ridge_meets(wide: int, deep: int, high: int) -> None:
    """Every ring of panels closes; the body is a box, and a roof of 45 degrees rises by half its depth.

    Each gable leans in as far: in a carton deeper than it is wide the two would run into each other, and that is told.
    """
    if deep > wide:
        _, folded, codes = made(f"fold: gable-top\nfinished: {wide} x {deep} x {high} mm")
        assert codes == {"gables-meet"} and list(collisions(folded))
        wide, deep = deep, wide
    _, folded, codes = made(f"fold: gable-top\nfinished: {wide} x {deep} x {high} mm")
    assert codes == set() and folded.opened == () and not list(collisions(folded))
    spots = [spot for number, _ in folded.panels for spot in folded.corners(number)]
    across, down, back = (max(axis) - min(axis) for axis in zip(*spots, strict=True))
    # Held by its front: that wall's width, the height with roof and strip, and the depth behind.
    assert (across, back) == pytest.approx((wide, deep), rel=1e-9)
    assert down == pytest.approx(high + deep / 2 + 12, rel=1e-9)
    strips = [folded.corners(number) for number, panel in folded.panels if _is_strip(panel.outline, wide)]
    assert len(strips) == 2
    for spot in strips[0]:
        assert min(dist(spot, other) for other in strips[1]) < 1e-6


def _is_strip(outline: Sequence[tuple[float, float]], wide: int) -> bool:
    return min(y for _, y in outline) == 0.0 and area_of(outline) == pytest.approx(12 * wide)


@SOME
@given(st.integers(60, 200), st.integers(60, 200), st.integers(10, 24))
def test_the_curved_flaps_of_a_pillow_are_as_high_as_it_is_thick(wide: int, long: int, thick: int) -> None:
    """Each is bounded by an arc and its mirror image: twice a circular segment of chord `wide` and height `thick` / 2
    (area of a segment: r^2 (a - sin a) / 2 with r = h / 2 + c^2 / 8 h)."""
    lines = f"    fold: pillow box\n    finished: {wide} x {long} x {thick} mm\n"
    blank = lay_flat(recipe_of(f"  box:\n    from: card\n{lines}")).blank("box")
    assert blank is not None
    assert (float(blank.width), float(blank.height)) == (2 * wide + 12, long + thick)
    rise = thick / 2
    radius = rise / 2 + wide * wide / (8 * rise)
    angle = 2 * asin(wide / 2 / radius)
    segment = radius * radius * (angle - sin(angle)) / 2
    # The glue flap is cut back along the beginning of the arc it lies behind.
    end, past = Fraction(blank.outline[-1][1]), next(y for x, y in blank.outline if x > 2 * wide)
    assert 0 < past - Fraction(thick, 2) < 12 and end
    body = 2 * wide * long + 12 * (long - float(past) + rise)
    outline = [(float(x), float(y)) for x, y in blank.outline]
    assert area_of(outline) == pytest.approx(body + 4 * segment, rel=2e-3)
    arcs = [line for line in blank.drawn if line.arc]
    assert len(arcs) == 4 and {abs(line.points[1][1] - line.points[0][1]) for line in arcs} == {Fraction(thick, 2)}


def test_the_marks_of_an_envelope_are_its_sides_over_root_two() -> None:
    recipe = recipe_of("  box:\n    from: card\n    fold: envelope\n    finished: 100 x 140 mm\n")
    flat = lay_flat(recipe)
    (told,) = (fact for fact in work_on(the_blank(flat, "box"), flat) if fact.code == "marks")
    marks = [float(flat.lengths.by_id[name].mm) for name in told.lengths]
    assert marks == pytest.approx([100 / sqrt(2), 140 / sqrt(2)], rel=1e-9)


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ("size: 150 x 150 mm\nfold: envelope\nfinished: 110 x 150 mm", "envelope-too-small"),
        ("fold: pyramid\nfinished: 60 x 60 mm", "finished-wants"),
        ("fold: hexagonal box\nfinished: 60 x 60 x 20 mm", "finished-wants"),
        ("fold: pyramid", "finished-wanted"),
        ("fold: gable-top\nsize: 300 x 300 mm\nfinished: 80 x 60 x 90 mm", "size-is-worked-out"),
        ("fold: gable-top\ninside: 70 x 50 x 80 mm\nfinished: 80 x 60 x 90 mm", "inside-and-finished"),
    ],
)
def test_what_cannot_be_worked_out_says_what_would(facts: str, code: str) -> None:
    lines = "\n".join("    " + line for line in facts.splitlines())
    findings: dict[str, Finding] = {
        one.code: one for one in lay_flat(recipe_of(f"  box:\n    from: card\n{lines}\n")).findings
    }
    assert code in findings and findings[code].place is not None


@pytest.mark.parametrize(
    ("finished", "differs"),
    [("60 x 90 x 20 mm", False), ("20 x 90 x 60 mm", False), ("60 x 90 x 25 mm", True), ("62 x 90 mm", True)],
)
def test_the_finished_size_is_compared_in_any_order(finished: str, differs: bool) -> None:
    """Length, breadth and height in any order (the trade says them so: FEFCO code, inside)."""
    facts = f"""
size: 100 x 130 mm
across: 20 left | 60 floor | 20 right
down: 20 back | 90 floor | 20 front
corners: cut away
fold: tray
finished: {finished}
"""
    assert ("finished-differs" in made(facts)[2]) is differs


def test_a_line_may_say_how_far_it_is_folded() -> None:
    lines = "size: 40 x 60 mm\nlines:\n  - {fold} from 0 across 30 down to 40 across 30 down"
    _, folded, codes = made(lines.format(fold="valley 60 degrees"))
    assert codes == set()
    (crease,) = folded.net.creases
    assert crease.angle == 60.0
    _, other, _ = made(lines.format(fold="mountain 45°"))
    assert other.net.creases[0].angle == -45.0


@pytest.mark.parametrize(
    ("fold", "finished", "wide", "high"),
    [
        ("envelope", "100 x 140 mm", 100, 140),
        ("gable-top", "80 x 60 x 90 mm", 80, 60),
        ("pillow box", "90 x 120 x 30 mm", 90, 120),
        ("pyramid", "60 x 50 x 80 mm", 60, 50),
        ("hexagonal box", "70 x 40 mm", 70, 70),
    ],
)
def test_what_goes_in_is_measured_by_the_finished_size(fold: str, finished: str, wide: int, high: int) -> None:
    """Not by the blank, which is far larger: the room left is the finished size less the thing."""
    flat = laid(
        f"  pocket:\n    from: card\n    fold: {fold}\n    finished: {finished}\n"
        f"  slip:\n    from: card\n    size: {wide - 4} x {high - 6} mm\n    slides in: pocket\n"
    )
    assert sorted(gap.between_scores.mm for gap in flat.gaps) == [4, 6]


def test_the_walls_of_a_carton_have_names_and_a_label_lies_on_its_front() -> None:
    flat = laid(
        "  carton:\n    from: card\n    fold: gable-top\n    finished: 80 x 60 x 90 mm\n"
        "  label:\n    from: card\n    size: 60 x 70 mm\n    goes on: outside of carton, centred\n"
        "  stamp:\n    from: card\n    size: 20 x 20 mm\n    goes on: outside of carton left, centred\n"
    )
    assert flat.findings == ()
    borders = {
        name: length.mm for name, length in flat.lengths.by_id.items() if (name.side, name.of) == ("border", "carton")
    }
    assert borders == {
        LengthId("label", "border", "across", of="carton"): 10,
        LengthId("label", "border", "down", of="carton"): 10,
        LengthId("stamp", "border", "across", of="carton"): 20,
        LengthId("stamp", "border", "down", of="carton"): 35,
    }
    _, folded, _ = made("fold: gable-top\nfinished: 80 x 60 x 90 mm")
    panels = folded.net.panels
    assert sorted(panel.name for panel in panels if panel.name) == ["back", "front", "glue flap", "left", "right"]
    assert panels[folded.net.root].name == "front"


def test_what_a_carton_holds_is_packed_up_to_its_eaves() -> None:
    """Between its scores less the card, here 0.32 mm: one layer across, two down and two under what lies in it."""
    text = "  carton:\n    from: card\n    fold: gable-top\n    finished: 80 x 60 x 90 mm\n"
    (blank,) = laid(text, STUDIO).blanks
    sizes = [room.inside for room in rooms(blank, Fraction(32, 100))]
    assert sizes == [Fraction(7968, 100), Fraction(5936, 100), Fraction(8936, 100)]


@SOME
@given(lengths, lengths)
def test_glue_on_an_envelope_lies_under_the_flap_between(wide: int, high: int) -> None:
    """Folded, every place of it lies on the third flap, which goes over the two that carry it."""
    blank, folded, _ = made(f"fold: envelope\nfinished: {wide} x {high} mm")
    areas = [line.points for line in blank.drawn if line.kind == "glue area"]
    flaps = [number for number, _ in folded.panels if number != folded.net.root]
    assert len(areas) == 2
    over = set(flaps)
    for area in areas:
        shape = Polygon([(float(x), float(y)) for x, y in area])
        (carries,) = (at for at in flaps if Polygon(folded.net.panels[at].outline).buffer(1e-6).contains(shape))
        spots = Polygon([folded.place(carries, point)[:2] for point in shape.exterior.coords])
        over &= {
            at
            for at in flaps
            if at != carries and Polygon([c[:2] for c in folded.corners(at)]).buffer(1e-6).contains(spots)
        }
    assert len(over) == 1


@SOME
@given(lengths, lengths, lengths)
def test_the_holes_of_a_pyramid_meet_at_its_tip_and_keep_a_rim(wide: int, long: int, high: int) -> None:
    """As far from the tip on every wall, so one thread goes through all four; 2 mm of card beside a hole of 3 mm."""
    blank, folded, codes = made(f"fold: pyramid\nfinished: {wide} x {long} x {high} mm")
    assert codes == set()
    # In slender tips there is no room below half the wall for a hole with its rim.
    assert len(blank.openings) in (0, 4)
    tip = min((spot for at, _ in folded.panels for spot in folded.corners(at)), key=lambda spot: spot[2])
    off = set()
    for opening in blank.openings:
        middle = float(opening.left + opening.width / 2), float(opening.top + opening.height / 2)
        (wall,) = (at for at, panel in folded.panels if Polygon(panel.outline).contains(Place(*middle)))
        assert Polygon(folded.net.panels[wall].outline).exterior.distance(Place(*middle)) >= 3.5 - 1e-6
        off.add(round(dist(folded.place(wall, middle), tip), 6))
    assert len(off) <= 1
    # The hole with its rim fits where half the angle of a tip is wide enough; then up to the next half millimetre.
    slants = hypot(high, wide / 2), hypot(high, long / 2)
    angles = atan(long / 2 / slants[0]), atan(wide / 2 / slants[1])
    needed = max(8.0, 3.5 / sin(min(angles)))
    if needed + 0.5 <= min(slants) / 2:
        assert len(blank.openings) == 4
    if needed > min(slants) / 2:
        assert len(blank.openings) == 0


@pytest.mark.parametrize("facts", ["fold: pyramid, no holes", "fold: pyramid\nholes: round 4 mm, centred"])
def test_holes_at_the_tips_are_left_out_where_the_author_says_so(facts: str) -> None:
    blank, _, _ = made(f"{facts}\nfinished: 60 x 60 x 80 mm")
    assert len(blank.openings) == (1 if "round" in facts else 0)


def test_glue_on_a_carton_lies_within_its_flaps() -> None:
    blank, folded, _ = made("fold: gable-top\nfinished: 80 x 60 x 90 mm")
    areas = [
        Polygon([(float(x), float(y)) for x, y in line.points]) for line in blank.drawn if line.kind == "glue area"
    ]
    assert len(areas) == 3
    for area in areas:
        assert any(Polygon(panel.outline).contains(area) for _, panel in folded.panels)


@pytest.mark.parametrize(
    ("base", "form", "said", "inside"),
    [
        # Of 0.5 mm card: a tray 60 wide inside is 61 outside, and with flaps in front and back 62.
        (
            "inside: 60 x 40 x 20 mm\n    flaps: joined to front and back\n    fold: tray",
            "tuck box",
            "1 mm bigger on every side than base outside",
            [64, 43, Fraction(45, 2)],
        ),
        # A hexagon of 70 from fold to fold is 70.5 outside.
        (
            "finished: 70 x 40 mm\n    fold: hexagonal box",
            "hexagonal box",
            "1 mm bigger on every side than base outside, 20 mm deep",
            [Fraction(145, 2), 20],
        ),
    ],
)
def test_an_inside_may_be_said_by_another_piece(base: str, form: str, said: str, inside: list[Fraction]) -> None:
    """By hand, from what the other measures outside: half a thickness on either side of its scores, and its flaps."""
    flat = laid(
        f"  base:\n    from: thick card\n    {base}\n"
        f"  outer:\n    from: thick card\n    fold: {form}\n    inside: {said}\n"
    )
    assert flat.findings == ()
    blank = flat.blank("outer")
    assert blank is not None
    room = [one.inside for one in rooms(blank, Fraction(1, 2))]
    assert all(asked <= free <= asked + Fraction(1, 2) for asked, free in zip(inside, room, strict=True))


@pytest.mark.parametrize(
    ("form", "code"),
    [("tuck box", "inside-than-what"), ("prism", "finished-not-inside"), ("pyramid", "finished-not-inside")],
)
def test_an_inside_by_another_that_cannot_be_known_is_told(form: str, code: str) -> None:
    flat = laid(
        "  base:\n    from: thick card\n    finished: 70 x 40 mm\n    fold: hexagonal box\n"
        f"  outer:\n    from: thick card\n    fold: {form}\n    inside: 1 mm bigger on every side than base outside\n"
    )
    assert code in {one.code for one in flat.findings}
