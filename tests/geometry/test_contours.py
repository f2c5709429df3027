"""Lines for machines: each once, none lost. What is drawn is compared with what was laid, point by point."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import pytest
from shapely.geometry import LinearRing, LineString, Point, Polygon

from foldwright.geometry.contours import Circle, Contours, contours_of
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.lines import lines_of
from geometry.laid import laid
from workbench.compiled import DEMOS, RECIPES, compiled

SAME = 1e-3
"""Millimetres: a laser's spot is a hundred times as wide."""

AWKWARD = {
    "a cut over a score": "lines: cut from 20 across 40 down to 60 across 40 down",
    "the same score twice": "lines: score from 10 across 20 down to 90 across 20 down\n"
    "      score from 30 across 20 down to 95 across 20 down",
    "a mountain over a valley": "lines: valley from 10 across 20 down to 90 across 20 down\n"
    "      mountain from 10 across 20 down to 50 across 20 down",
    "lines on the edge": "lines: score from 0 across 0 down to 100 across 0 down\n"
    "      cut from 0 across 0 down to 0 across 80 down",
    "a window over the score": "holes: window 20 x 20 mm, centred",
    "glue beside glue": "lines: glue area 0 across 0 down, 20 across 0 down, 20 across 40 down, 0 across 40 down\n"
    "      glue area 20 across 0 down, 40 across 0 down, 40 across 40 down, 20 across 40 down\n"
    "      glue area 30 across 0 down, 50 across 0 down, 50 across 40 down, 30 across 40 down",
    "an arc through a score": "lines: cut from 20 across 40 down through 50 across 10 down to 80 across 40 down",
}


def awkward(facts: str) -> Blank:
    piece = "  card:\n    from: card\n    size: 100 x 80 mm\n    down: 40 | 40\n    "
    word, _, rest = facts.partition(": ")
    block = "|\n      " if word == "lines" else ""
    return laid(f"{piece}{word}: {block}{rest}\n").blanks[0]


def drawn(contours: Contours) -> Iterator[LineString]:
    for closed in (*contours.outlines, *contours.openings):
        if isinstance(closed, Circle):
            yield LineString(Point(closed.centre).buffer(closed.radius, quad_segs=64).exterior.coords)
        elif not closed.round_ends:
            yield LineString(LinearRing(closed.points).coords)
    yield from (LineString(run.points) for run in contours.runs)
    yield from (LineString(rim) for rim in contours.glue_rims)


def along(one: LineString, other: LineString) -> float:
    """How far two lines run along one another: what of the one lies within a hair of the other, crossings apart."""
    shared = one.intersection(other.buffer(SAME))
    return sum(part.length for part in getattr(shared, "geoms", [shared]) if part.length > 20 * SAME)


def assert_each_once(contours: Contours) -> None:
    for one, other in combinations(drawn(contours), 2):
        assert along(one, other) == 0.0, (list(one.coords), list(other.coords))


def assert_none_lost(blank: Blank, contours: Contours) -> None:
    """Every place of a laid line that has paper beside it lies on a drawn one, and nothing is drawn elsewhere."""
    lines = list(drawn(contours))
    inside = Polygon(contours.outlines[0].points) if not isinstance(contours.outlines[0], Circle) else None
    holes = [Polygon(one.points) for one in contours.openings if not isinstance(one, Circle)]
    for line in lines_of(blank):
        whole = LineString(line.points)
        for step in range(1, 40):
            spot = whole.interpolate(step / 40, normalized=True)
            on_paper = inside is None or inside.buffer(-SAME).contains(spot)
            if on_paper and not any(hole.buffer(SAME).contains(spot) for hole in holes):
                assert any(one.distance(spot) < SAME for one in lines), (line.kind, spot)
    for run in contours.runs:
        for step in (0.3, 0.7):
            spot = LineString(run.points).interpolate(step, normalized=True)
            assert not any(hole.buffer(-SAME).contains(spot) for hole in holes)


@pytest.mark.parametrize("name", AWKWARD)
def test_every_line_stands_once_and_none_is_lost(name: str) -> None:
    blank = awkward(AWKWARD[name])
    contours = contours_of(blank)
    assert_each_once(contours)
    assert_none_lost(blank, contours)


def test_a_cut_takes_the_place_of_the_part_of_a_score_it_lies_on() -> None:
    runs = contours_of(awkward(AWKWARD["a cut over a score"])).runs
    assert sorted((run.kind, *run.points) for run in runs) == [
        ("cut", (20, 40), (60, 40)),
        ("score", (0, 40), (20, 40)),
        ("score", (60, 40), (100, 40)),
    ]


def test_of_two_folds_on_one_line_the_last_counts_as_it_does_when_it_is_folded() -> None:
    runs = contours_of(awkward(AWKWARD["a mountain over a valley"])).runs
    assert sorted((run.kind, *run.points) for run in runs if run.kind != "score") == [
        ("mountain", (10, 20), (50, 20)),
        ("valley", (50, 20), (90, 20)),
    ]


def test_a_score_stops_at_a_window() -> None:
    runs = contours_of(awkward(AWKWARD["a window over the score"])).runs
    assert sorted(run.points for run in runs) == [((0, 40), (40, 40)), ((60, 40), (100, 40))]


def test_places_for_glue_that_touch_are_one() -> None:
    contours = contours_of(awkward(AWKWARD["glue beside glue"]))
    (area,) = contours.glue
    assert Polygon(area).area == pytest.approx(50 * 40)
    # Its top and left side lie on the edge of the card, its bottom on the score.
    assert [sorted(rim) for rim in contours.glue_rims] == [[(50, 0), (50, 40)]]


@pytest.mark.parametrize("name", DEMOS)
def test_no_demo_draws_a_line_twice_or_loses_one(name: str) -> None:
    understood = compiled((RECIPES / name / "recipe.md").read_text(encoding="utf-8"))[1].understood
    assert understood is not None
    for blank in understood.flat.blanks:
        contours = contours_of(blank)
        assert_each_once(contours)
        if not blank.outline and not blank.notches:
            assert_none_lost(blank, contours)


def test_no_form_that_is_worked_out_draws_a_line_twice() -> None:
    forms = {"gable-top": "3 x 2 x 3 in", "pyramid": "2 x 2 x 3 in", "hexagonal box": "3 x 1 in"}
    forms |= {"envelope": "4 1/2 x 5 3/4 in", "pillow box": "3 x 4 x 1 in"}
    for form, finished in forms.items():
        flat = laid(f"  box:\n    from: card\n    fold: {form}\n    finished: {finished}\n")
        assert_each_once(contours_of(flat.blanks[0]))
