"""Pictures of the steps: which there are, that nearer sides hide farther ones, and that nothing jumps or flips."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from foldwright.geometry.folding.folded import fold
from foldwright.geometry.lengths import Lengths
from foldwright.geometry.pictures.bending import bending_of
from foldwright.geometry.pictures.folding import motion_of
from foldwright.geometry.pictures.joining import Bench
from foldwright.geometry.pictures.solid import faces_of, sheets_of
from foldwright.geometry.pictures.standing import Standing, stood, turn_of
from foldwright.geometry.pictures.state import State
from foldwright.geometry.pictures.step_picture import StepPicture
from foldwright.geometry.pictures.story import step_pictures
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pieces import Flat
from foldwright.geometry.scene import Scene, Stress, Tone
from foldwright.pipeline import Understood, check_recipe
from geometry.folding.shapes import net_of_piece
from workbench.compiled import DEMOS, RECIPES
from workbench.long import tries


@cache
def understood(name: str, studio: str = "") -> Understood:
    text = (RECIPES / name / "recipe.md").read_text(encoding="utf-8").replace("---\ntitle", f"---\n{studio}title", 1)

    def read(path: str, at_most: int) -> bytes:
        return (Path(RECIPES) / name / path).read_bytes()

    known = check_recipe(text, "recipe.md", name, read=read).understood
    assert known is not None
    return known


@cache
def told(name: str, studio: str = "") -> list[StepPicture]:
    known = understood(name, studio)
    spoken = frozenset(length for names in known.binding.ids.values() for length in names)
    return list(step_pictures(known.recipe, known.flat, known.folding, spoken))


EXPECTED = {
    "birdhouse": "1 cut base, 1 score-down base, 1 score-across base, 2 slit base, 3 fold-part base, 3 glue-part base, "
    "3 made base, 4 cut birdhouse front, 5 punch birdhouse front, 6 join-with birdhouse front, 7 cut wrapper, "
    "7 band wrapper, 8 tie , 0 joined base",
    "keepsake-box": "1 cut base, 1 cut lid, 2 score-all-round base, 3 score-all-round lid, 4 slit base, 4 slit lid, "
    "5 fold-part base, 5 glue-part base, 5 made base, 6 fold-part lid, 6 glue-part lid, 6 made lid, 7 cut label, "
    "7 join label, 0 lid lid",
    "layered-card": "1 cut base, 1 score-across base, 2 fold base, 2 made base, 3 cut outer mat, 3 cut inner mat, "
    "4 cut panel, 4 stamp panel, 5 join-with inner mat, 5 join-with outer mat, 6 join-with panel, 0 joined base",
    "drawer-box": "1 cut drawer, 1 score-down drawer, 1 score-across drawer, 2 slit drawer, 3 open drawer, "
    "4 fold-part drawer, 4 glue-part drawer, 4 made drawer, 5 thread-through drawer, 6 cut sleeve, "
    "6 score-across sleeve, 7 glue sleeve, 7 made sleeve, 0 drawer drawer",
    "concertina": "1 cut strip, 2 score-across strip, 3 fold strip, 3 made strip, 4 cut cover, 5 join cover, "
    "6 tie , 0 joined strip",
    "twine-tag": "1 cut tag, 2 cut leaf panel, 2 join leaf panel, 3 punch tag, 4 tie-through tag, 0 joined tag",
}


@pytest.mark.parametrize("name", DEMOS)
def test_every_step_that_works_on_paper_has_its_pictures(name: str) -> None:
    assert ", ".join(f"{one.step} {one.code} {one.piece}" for one in told(name)) == EXPECTED[name]


@pytest.mark.parametrize("name", DEMOS)
def test_everything_lies_in_its_picture(name: str) -> None:
    for one in told(name):
        for scene in (one.scene, *one.stages):
            points = [point for face in scene.faces for point in face.outline]
            points += [point for arrow in scene.arrows for point in arrow.path]
            assert all(-1e-6 <= x <= scene.width + 1e-6 and -1e-6 <= y <= scene.height + 1e-6 for x, y in points)
            assert scene.width > 0 and scene.height > 0


def test_only_the_lengths_a_step_needs_are_shown() -> None:
    score = next(one for one in told("birdhouse") if one.code == "score-down")
    assert {(length.place, length.number) for length in score.scene.lengths} == {("score", 1), ("score", 2)}
    glue = next(one for one in told("birdhouse") if one.code == "glue-part")
    assert glue.scene.lengths == () and any(face.hatched for face in glue.scene.faces) and glue.scene.arrows


def test_what_this_step_does_is_strong_and_what_was_done_is_faint() -> None:
    second = next(one for one in told("birdhouse") if one.code == "score-across")
    marks = [stroke.emphasis for stroke in second.scene.strokes]
    assert marks.count(Stress.STRONG) == 2 and marks.count(Stress.FAINT) == 2


def test_pictures_for_left_handed_people_have_the_stop_on_the_other_side() -> None:
    right = next(one for one in told("keepsake-box") if one.code == "score-all-round").scene
    left = next(one for one in told("keepsake-box", "hand: left\n") if one.code == "score-all-round").scene

    def stop(scene: Scene) -> float:
        tools = [face for face in scene.faces if face.tone is Tone.TOOL]
        smaller = min(tools, key=lambda face: Polygon(face.outline).area)
        return sum(x for x, _ in smaller.outline) / 4 / scene.width

    assert stop(right) < 0.3 and stop(left) > 0.7
    folded = [one.scene for one in told("keepsake-box", "hand: left\n") if one.code == "made"]
    assert folded != [one.scene for one in told("keepsake-box") if one.code == "made"]


sizes = st.integers(20, 120)


@settings(max_examples=tries(20, 60))
@example(20, 20, 20, 0.4707509257099104, False)
@given(sizes, sizes, st.integers(10, 40), st.floats(0.0, 1.0), st.booleans())
def test_of_two_sides_that_overlap_the_nearer_comes_later(
    wide: int, long: int, deep: int, part: float, left: bool
) -> None:
    """At any place of a picture the face drawn last there is the nearest: asked of every pair by another way, from the
    depth of the panels themselves along the line of sight."""
    net = net_of_piece(
        f"size: {wide + 2 * deep} x {long + 2 * deep} mm\n"
        f"across: {deep} | rest | {deep}\ndown: {deep} | rest | {deep}\n"
        "flaps: joined to top and bottom\nfold: tray"
    )
    view = View(left)
    bending = bending_of(net, "tray")
    sheets = stood(sheets_of(bending.posed(0, bending.last, part)), Standing.PLAIN_UP)
    faces = faces_of(sheets, view)[1:]
    by_outline = {tuple(view.point(spot) for spot in sheet.outline): sheet for sheet in sheets}
    for number, upper in enumerate(faces):
        for lower in faces[:number]:
            # A hair smaller: with an edge in common but for rounding, GEOS may call the whole of a face shared.
            shared = Polygon(upper.outline).buffer(-0.01).intersection(Polygon(lower.outline).buffer(-0.01))
            if shared.area < 0.5:
                continue
            ahead = [
                depth(by_outline[upper.outline].outline, view, place)
                - depth(by_outline[lower.outline].outline, view, place)
                for place in shared.convex_hull.exterior.coords
            ]
            through = min(ahead) < -1e-6 and max(ahead) > 1e-6
            # Only flaps that are together longer than the wall they go behind run through each other on their way:
            # such a pair has no order.
            assert 2 * deep > long if through else min(ahead) >= -1e-6


def depth(outline: object, view: View, at: tuple[float, float]) -> float:
    """How near the plane of three corners is at a place of the picture, by solving for it."""
    import numpy as np

    spots = np.array([view.project(spot) for spot in list(outline)])  # type: ignore[call-overload]
    found, *_ = np.linalg.lstsq(np.c_[spots[:, :2], np.ones(len(spots))], spots[:, 2], rcond=None)
    return float(found @ np.array([*at, 1.0]))


@pytest.mark.parametrize("standing", Standing)
def test_nothing_is_seen_in_a_mirror(standing: Standing) -> None:
    """A turn in space keeps the sense of three directions; the blank's frame has y downwards and so is left-handed."""
    turn = turn_of(standing)
    a, b, c = (turn(axis) for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
    across = (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
    assert sum(one * other for one, other in zip(across, c, strict=True)) == -1.0


def test_a_fold_goes_from_flat_to_folded_without_jumping() -> None:
    net = net_of_piece(
        "size: 100 x 130 mm\nacross: 20 | 60 | 20\ndown: 20 | 90 | 20\nflaps: joined to left and right\nfold: tray"
    )
    bending = bending_of(net, "tray")
    bench = Bench(Flat((), Lengths({}, ()), ()), {"piece": bending}, State())
    stages = motion_of(bench, "piece", 0, bending.last, View())
    assert len({(stage.width, stage.height) for stage in stages}) == 1
    flat = sum(Polygon(face.outline).area for face in stages[0].faces)
    # Flat, the faces do not overlap: their areas add up to that of their union.
    assert Polygon(stages[0].faces[0].outline).area > 0
    from shapely import union_all

    assert union_all([Polygon(face.outline) for face in stages[0].faces]).area == pytest.approx(flat, rel=1e-6)
    assert fold(net).extent[0][2] == pytest.approx(-20.0)
