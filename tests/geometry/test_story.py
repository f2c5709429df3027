"""The story the pictures tell: a piece as it is by then, one fold after the other, never torn."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from shapely.geometry import Polygon

from foldwright.geometry.folding.folded import tree_of
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.bending import Bending
from foldwright.geometry.pictures.folding import shots_of
from foldwright.geometry.pictures.popped_up import popped_up
from foldwright.geometry.pictures.standing import Standing, signs_between, turn_of
from foldwright.geometry.pictures.state import Added, PieceState
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.story import step_pictures
from foldwright.geometry.pictures.workshop import Workshop, workshop_of
from foldwright.geometry.scene import Scene, Sign, Tone
from foldwright.pipeline import Understood, check_recipe

FRONT = """---
title: A box
makes: 1 box
measured in: millimetres
supplies:
  card: cardstock, weight 250 g/m2, thickness 0.33 mm, sheet A3
  paper: paper, weight 120 g/m2, sheet A3
  glue: wet glue, use a little
tools: craft knife, metal ruler, cutting mat, hole punch
pieces:
"""
TRAY = """  tray:
    from: card
    size: 100 x 130 mm
    across: 20 left | 60 floor | 20 right
    down: 20 back | 90 floor | 20 front
    flaps: joined to left and right, trimmed 2 mm
    fold: tray
"""
CARD = "  card:\n    from: card\n    size: 200 x 100 mm\n    across: 100 back | 100 front\n    fold: card\n"
FORMS = (
    "fold: gable-top\n    finished: 80 x 60 x 90 mm",
    "fold: hexagonal box\n    finished: 70 x 40 mm",
    "fold: pyramid\n    finished: 60 x 60 x 70 mm",
    "fold: envelope\n    finished: 110 x 80 mm",
    "fold: tuck box\n    finished: 40 x 30 x 80 mm",
    "fold: tuck box, reverse\n    finished: 40 x 30 x 80 mm",
    "fold: tuck box, snap-lock bottom\n    finished: 40 x 30 x 80 mm",
    "fold: tuck box, automatic bottom\n    finished: 40 x 30 x 80 mm",
    "fold: gift bag\n    finished: 80 x 40 x 100 mm",
    "size: 190 x 85 mm\n    across: 62 | 27 | 62 | 27 | 12 glue flap\n    fold: sleeve",
    "size: 300 x 260 mm\n    across: 3 of 100\n    down: 200 page | 60 pocket\n    fold: 180, 180, 180",
)


def understood(pieces: str, steps: Sequence[str]) -> Understood:
    text = FRONT + pieces + "---\n" + "".join(f"## Step {at}\ndo: {do}\n" for at, do in enumerate(steps, 1))
    known = check_recipe(text, "recipe.md", "box").understood
    assert known is not None
    return known


def told(pieces: str, *steps: str) -> list[StepPicture]:
    known = understood(pieces, steps)
    return list(step_pictures(known.recipe, known.flat, known.folding))


def shop(pieces: str, *steps: str) -> Workshop:
    known = understood(pieces, steps)
    return workshop_of(known.recipe, known.flat, known.folding, frozenset())


def holes_in(scene: Scene) -> int:
    return sum(len(face.gaps) for face in scene.faces) + sum(face.tone is Tone.HOLE for face in scene.faces)


def test_cutting_and_scoring_are_both_shown() -> None:
    """And the flaps, of which no later step speaks."""
    codes = [one.code for one in told(TRAY, "cut and score tray") if one.step]
    assert codes == ["cut", "score-down", "score-across", "slit"]


def test_a_hole_is_there_from_the_step_that_cuts_it_and_not_before() -> None:
    pieces = TRAY + "    holes: round 10 mm, centred on front\n"
    late = told(pieces, "cut and score tray", "slit tray, fold tray, glue tray", "punch tray", "close tray")
    before = [one for one in late if one.step in (1, 2)]
    assert before and not any(holes_in(one.scene) or any(map(holes_in, one.stages)) for one in before)
    assert [one.code for one in late if one.step == 3] == ["punch-folded"]
    assert all(holes_in(one.scene) for one in late if one.step in (0, 3))
    # Where no step speaks of it, it is cut with the piece.
    first = told(pieces, "cut and score tray", "slit tray, fold tray, glue tray")
    assert all(holes_in(one.scene) for one in first)


def test_what_is_snipped_off_is_gone_in_the_next_picture() -> None:
    """The outline of the blank, 100 x 130 mm: four flaps 20 mm wide are trimmed by 2 mm, which takes 4 x 2 x 20 mm2."""
    pieces = TRAY + "    holes: round 10 mm, centred on front\n"
    pictures = told(pieces, "cut and score tray", "slit tray", "punch tray")
    areas = {one.code: Polygon(one.scene.faces[0].outline).area for one in pictures if one.step}
    assert areas["cut"] == areas["slit"] == pytest.approx(100 * 130)
    assert areas["punch"] == pytest.approx(100 * 130 - 4 * 2 * 20)


def test_what_was_stuck_on_is_there_when_the_piece_is_folded() -> None:
    pieces = CARD + "  label:\n    from: paper\n    size: 40 x 30 mm\n    goes on: outside of card front, centred\n"
    steps = ("cut and score card", "cut label, glue label to card", "fold card")
    fold = next(one for one in told(pieces, *steps) if one.code == "fold")
    assert {face.paper for face in fold.scene.faces if face.outline} == {0, 1}
    without = next(one for one in told(pieces, steps[0], steps[2], steps[1]) if one.code == "fold")
    assert {face.paper for face in without.scene.faces if face.outline} == {0}


def test_the_end_that_is_shut_later_stays_open_until_then() -> None:
    pictures = told(
        "  box:\n    from: card\n    " + FORMS[4] + "\n", "cut and score box", "fold box, glue box", "close box"
    )
    steps = [one.step for one in pictures if one.code.startswith("close")]
    assert steps and set(steps) == {3}
    made = {one.step: one.scene for one in pictures if one.code == "made"}
    assert made[3].height < made[2].height


@pytest.mark.parametrize("facts", FORMS)
def test_nothing_is_torn_in_any_picture(facts: str) -> None:
    """Of every crease the two panels beside it are looked at where they are drawn: they hang together, but for what no
    eye sees (a fiftieth of the blank)."""
    bending = shop(f"  piece:\n    from: card\n    {facts}\n", "cut and score piece", "fold piece").bending("piece")
    assert bending is not None and bending.last
    for shot in shots_of(bending, 0, bending.last):
        pose = bending.posed(shot.start, shot.end, bending.part_way(shot.start, shot.end))
        for crease in bending.net.creases:
            for end in (crease.start, crease.end):
                one, other = pose.place(crease.one, end), pose.place(crease.other, end)
                assert (
                    sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5 < 0.02 * bending.net.size + 1e-6
                )


@pytest.mark.parametrize("facts", FORMS)
def test_in_the_end_it_is_folded_as_its_form_says(facts: str) -> None:
    """Each panel faces the way it does when every crease has its finished angle, but for what parts layers."""
    bending = shop(f"  piece:\n    from: card\n    {facts}\n", "cut and score piece", "fold piece").bending("piece")
    assert bending is not None
    drawn, meant = bending.posed(bending.last), tree_of(bending.net).folded(lambda crease: _meant(bending, crease))
    for number, _ in drawn.panels:
        together = sum(a * b for a, b in zip(drawn.normal(number), meant.normal(number), strict=True))
        assert together > 0.9


def _meant(bending: Bending, crease: object) -> float:
    return bending.order.angles[bending.number[id(crease)]]


def test_signs_say_when_a_piece_is_turned() -> None:
    assert signs_between(Standing.GOOD_UP, Standing.PLAIN_UP) == (Sign.TURN_OVER,)
    assert signs_between(Standing.PLAIN_UP, Standing.PLAIN_UP) == ()
    assert signs_between(Standing.HEAD_DOWN, Standing.UPRIGHT) == (Sign.TURN_ROUND,)
    assert signs_between(Standing.GOOD_UP, Standing.UPRIGHT) == ()
    signs = [
        one.scene.signs for one in told(TRAY, "cut and score tray", "slit tray, fold tray, glue tray") if one.step == 2
    ]
    assert signs == [(), (Sign.TURN_OVER,), (), ()]


@pytest.mark.parametrize("standing", [Standing.UPRIGHT, Standing.HEAD_DOWN, Standing.SIDEWAYS, Standing.SIDEWAYS_DOWN])
def test_a_box_that_stands_has_its_front_to_the_front(standing: Standing) -> None:
    """The good side of a blank looks along its third axis; away from the viewer is the table's second."""
    assert turn_of(standing)((0.0, 0.0, 1.0)) == (0.0, -1.0, 0.0)


def test_a_leaf_that_swings_away_has_an_arrow_that_goes_behind() -> None:
    fold = next(one for one in told(CARD, "cut and score card", "fold card") if one.code == "fold")
    assert [arrow.behind for arrow in fold.scene.arrows] == [True]
    envelope = told("  post:\n    from: card\n    " + FORMS[3] + "\n", "cut and score post", "fold post")
    assert not any(arrow.behind for one in envelope[:3] for arrow in one.scene.arrows)


@pytest.mark.parametrize("facts", FORMS)
def test_every_arrow_has_a_shaft(facts: str) -> None:
    for one in told(f"  piece:\n    from: card\n    {facts}\n", "cut and score piece", "fold piece, glue piece"):
        size = max(one.scene.width, one.scene.height)
        for arrow in one.scene.arrows:
            (x1, y1), (x2, y2) = arrow.path[0], arrow.path[-1]
            assert ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 > 0.08 * size


def test_flaps_that_go_in_turn_are_numbered_in_turn() -> None:
    pictures = told(TRAY, "cut and score tray", "slit tray, fold tray, glue tray")
    numbers = [
        {caption.text for caption in one.scene.captions} for one in pictures if one.code in ("fold-part", "glue-part")
    ]
    assert numbers == [{"1"}, {"2"}]
    assert [one.parts for one in pictures if one.code == "fold-part"] == [("left", "right")]


def test_no_wall_is_seen_edge_on_while_it_is_folded() -> None:
    """It is chosen so that a sleeve's walls are seen as surfaces while it is made: the sine of the angle is asked."""
    workshop = shop(
        "  sleeve:\n    from: card\n    " + FORMS[9] + "\n", "cut and score sleeve", "fold sleeve, glue sleeve"
    )
    bending = workshop.bending("sleeve")
    assert bending is not None
    pose = bending.posed(0, 1, bending.part_way(0, 1))
    turn = turn_of(Standing.PLAIN_UP)
    walls = [at for at in bending.order.row if not bending.net.panels[at].glued]
    assert all(abs(workshop.view.project(turn(pose.normal(at)))[2]) > 0.15 for at in walls)


def test_a_hole_punched_through_a_folded_card_is_in_both_its_leaves() -> None:
    """Reckoned by hand: folded at 100 mm, a hole 30 mm from the left edge lies on a place 30 mm from the right one."""
    pieces = CARD + "    holes: round 6 mm, middle 30 mm from the left, middle 20 mm from the top\n"
    steps = "cut and score card", "fold card", "punch card"
    net = shop(pieces, *steps).net("card", True, 1)
    assert net is not None
    holes = {panel.name: panel.openings for panel in net.panels}
    places = {name: Polygon(rings[0]).centroid for name, rings in holes.items()}
    assert (places["back"].x, places["back"].y) == pytest.approx((30, 20), abs=1e-6)
    assert (places["front"].x, places["front"].y) == pytest.approx((170, 20), abs=1e-6)
    picture = next(one for one in told(pieces, *steps) if one.step == 3)
    assert len(picture.scene.strokes) == len(picture.scene.arrows) == 1


def test_a_strip_glued_to_both_leaves_stands_in_the_open_card() -> None:
    """Reckoned by hand: folded to a step 40 mm deep and 30 mm high, with one foot of 10 mm before it on the leaf that
    lies on the table, and one over it on the leaf that stands at the back, the card a quarter open."""
    strip = (
        "  strip:\n    from: paper\n    size: 20 x 90 mm\n    down: 10 heel | 40 roof | 30 wall | 10 toe\n"
        "    fold: 90, -90, 90\n    glued: strip heel to inside of card back, strip toe to inside of card front\n"
    )
    steps = "cut and score card, fold card", "cut and score strip, fold strip", "glue strip to card"
    known = understood(CARD + strip, steps)
    workshop = workshop_of(known.recipe, known.flat, known.folding, frozenset())
    state = workshop.untouched()
    for name in ("card", "strip"):
        state = state.put(name, PieceState(cut_out=True, folds=99, folded=True, glued=True))
    leaves = popped_up(workshop, state.adding(Added("glue-to", "strip", "card")), "card")
    card, own = ([spot for leaf in leaves if leaf.piece == name for spot in leaf.outline] for name in ("card", "strip"))
    assert extents(card) == pytest.approx((100, 100, 100), abs=1e-6)
    assert extents(own) == pytest.approx((20, 50, 40), abs=1e-6)
    assert min(z for _, _, z in own) == pytest.approx(0, abs=0.5)
    assert max(y for _, y, _ in own) == pytest.approx(max(y for _, y, _ in card), abs=0.5)


def extents(spots: Sequence[Spot]) -> tuple[float, ...]:
    return tuple(max(axis) - min(axis) for axis in zip(*spots, strict=True))


def test_what_goes_into_a_pocket_is_shown_before_the_leaves_are_shut_over_it() -> None:
    """The pocket is folded up and nothing else: an insert half as wide as the leaf lies between the sides of it, in the
    same plane, and so takes half the width of it in the picture too."""
    pieces = (
        "  folder:\n    from: card\n    size: 300 x 260 mm\n    across: 100 left | 100 middle | 100 right\n"
        "    down: 200 leaf | 60 pocket\n    fold: 180, 180, 180\n"
        "  insert:\n    from: paper\n    size: 50 x 150 mm\n    slides in: folder\n"
    )
    steps = "cut and score folder, fold folder, glue folder", "cut insert", "slide insert into folder"
    (picture,) = (one for one in told(pieces, *steps) if one.step == 3)
    sheets = [Polygon(face.outline) for face in picture.scene.faces if len(face.outline) > 2]
    insert = [Polygon(face.outline) for face in picture.scene.faces if face.paper == 1 and len(face.outline) > 2]
    leaf = max((sheet for sheet in sheets if sheet not in insert), key=lambda sheet: sheet.area)
    assert len(insert) == 1 and insert[0].area / leaf.area == pytest.approx(50 * 150 / (100 * 200))
    assert len(picture.scene.arrows) == 1
