"""Manners of drawing: strokes that shade lie in their faces, denser where it is darker; shadows lie under all."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from shapely import LineString, Polygon, unary_union

from foldwright.document.model import Picture
from foldwright.geometry.scene import Face as SceneFace
from foldwright.geometry.scene import PaperLook, Point, Scene, Tone, scene_of
from foldwright.measure.length import System
from foldwright.render.drawing.hatching import engraved, path_of
from foldwright.render.drawing.manner import DrawingManner
from foldwright.render.drawing.svg import draw, draw_stages
from foldwright.render.web.tutorial import draw_plan
from foldwright.vocabulary.colours import lightness
from workbench.compiled import DEMOS, demo

PATH = "{http://www.w3.org/2000/svg}path"
SQUARE = ((0.0, 0.0), (40.0, 8.0), (40.0, 38.0), (0.0, 30.0))
HOLE = ((10.0, 10.0), (20.0, 12.0), (20.0, 22.0), (10.0, 20.0))
NOTCHED = ((0.0, 0.0), (30.0, 0.0), (30.0, 25.0), (20.0, 25.0), (20.0, 8.0), (10.0, 8.0), (10.0, 25.0), (0.0, 25.0))


def strokes(way: str) -> Iterator[LineString]:
    """The strokes of a path that is told in steps, added up again."""
    x = y = 0.0
    start: Point = (0.0, 0.0)
    for letter, across, down in re.findall(r"([ml])([-\d.]+) ([-\d.]+)", way):
        x, y = x + float(across), y + float(down)
        if letter == "l":
            yield LineString([start, (x, y)])
        start = (x, y)


def shapes(way: str) -> Polygon:
    """An outline and its gaps, filled by the even-odd rule."""
    rings = [
        Polygon([(float(x), float(y)) for x, y in re.findall(r"([-\d.]+) ([-\d.]+)", ring)])
        for ring in way.split("Z")
        if ring
    ]
    whole = rings[0]
    for ring in rings[1:]:
        whole = whole.symmetric_difference(ring)
    return whole


def spatial(name: str) -> list[Picture]:
    document = demo(name)
    found = [picture for step in document.steps for picture in step.pictures]
    found += [document.finished] if document.finished else []
    return [picture for picture in found if any(face.shade for face in picture.scene.faces)]


@pytest.mark.parametrize("rings", [[SQUARE], [SQUARE, HOLE], [NOTCHED]], ids=["side", "window", "notched"])
@pytest.mark.parametrize("shade", [2, 3])
def test_strokes_lie_in_their_face_and_clear_of_its_gaps(rings: list[tuple[Point, ...]], shade: int) -> None:
    face = Polygon(rings[0], rings[1:])
    drawn = list(strokes(path_of(engraved(rings, shade))))
    assert len(drawn) > 15
    assert all(face.buffer(0.02).covers(one) for one in drawn)
    # They reach from edge to edge: nothing of the face lies farther from them than two strokes lie apart.
    assert unary_union(drawn).buffer(1.2, cap_style="flat").buffer(0.3).covers(face.buffer(-0.7))


def test_strokes_are_denser_where_it_is_darker_and_none_are_in_the_light() -> None:
    counts = [len(engraved([SQUARE], shade)) for shade in (1, 2, 3)]
    assert counts[0] == 0
    assert counts[2] > 1.4 * counts[1] > 0


def test_strokes_follow_the_longest_edge_and_lie_equally_far_apart() -> None:
    drawn = engraved([SQUARE], 3)
    (long, down) = SQUARE[1]
    for (x1, y1), (x2, y2) in drawn:
        assert abs((x2 - x1) * down - (y2 - y1) * long) < 1e-6
    lines = [LineString(one) for one in drawn]
    apart = [one.distance(other) for one, other in pairwise(lines)]
    assert max(apart) - min(apart) < 1e-6


def test_a_face_too_small_for_strokes_has_none() -> None:
    assert not engraved([((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))], 3)


@pytest.mark.parametrize("name", DEMOS)
def test_in_whole_pictures_strokes_lie_in_the_face_before_them(name: str) -> None:
    engravings = 0
    for picture in spatial(name):
        face = Polygon()
        for path in ElementTree.fromstring(draw_plan(picture, System.METRIC, DrawingManner.ENGRAVED)).iter(PATH):
            if path.get("class") == "sheet":
                face = shapes(path.get("d", "")).buffer(0.03)
            elif path.get("class") == "engraved":
                engravings += 1
                assert all(face.covers(one) for one in strokes(path.get("d", ""))), picture.name
    assert engravings or name == "twine-tag", "a tag lies flat"


def test_an_engraved_side_keeps_the_colour_of_its_paper_in_the_light() -> None:
    scene = scene_of([SceneFace(SQUARE, Tone.GOOD, shade=shade) for shade in (1, 2, 3)])
    for tone, darker in (("#efe3c6", True), ("#34496f", False)):
        papered = Scene(scene.width, scene.height, scene.faces, papers=(PaperLook(tone, "#ffffff"),))
        paths = list(ElementTree.fromstring(draw(papered, {}, 60, 8, manner=DrawingManner.ENGRAVED)).iter(PATH))
        fills = [path.get("fill", "") for path in paths if path.get("class") == "sheet"]
        assert fills[:2] == [tone, tone]
        assert (fills[2] == tone) is darker, "a dark side out of the light has no light strokes, and a darker tone"
        pens = {path.get("stroke", "") for path in paths if path.get("class") == "engraved"}
        assert len(pens) == 1
        assert (lightness(pens.pop()) < lightness(tone)) is darker, "on dark paper strokes are light"


@pytest.mark.parametrize("name", DEMOS)
def test_what_stands_has_a_shadow_under_it_inside_the_picture(name: str) -> None:
    shadows = 0
    for picture in spatial(name):
        root = ElementTree.fromstring(draw_plan(picture, System.METRIC, DrawingManner.SHADOW))
        _, _, wide, high = map(float, root.get("viewBox", "").split())
        paths = list(root.iter(PATH))
        ground = [path for path in paths if path.get("class") == "ground"]
        assert paths[: len(ground)] == ground, "under all else"
        for path in ground:
            left, top, right, bottom = shapes(path.get("d", "")).bounds
            assert 0 <= left < right <= wide
            assert 0 <= top < bottom <= high
        shadows += len(ground)
    assert shadows


@pytest.mark.parametrize("name", DEMOS)
def test_plans_are_drawn_alike_in_every_manner(name: str) -> None:
    for piece in demo(name).pieces:
        if piece.picture:
            assert len({draw_plan(piece.picture, System.IMPERIAL, manner) for manner in DrawingManner}) == 1


def test_what_is_held_over_the_table_has_no_shadow_of_its_own() -> None:
    """A lid lifted off its box: one shadow, that of the box."""
    finished = demo("keepsake-box").finished
    assert finished is not None
    grounds = [face.ground for face in finished.scene.faces if face.ground]
    assert len(grounds) == 1


def test_what_is_folded_on_the_page_is_engraved_when_it_is_done() -> None:
    """Only then: strokes that jump about while it moves tell nothing."""
    (stages, *_) = [one.stages for step in demo("keepsake-box").steps for one in step.pictures if one.stages]
    groups = list(ElementTree.fromstring(draw_stages(stages, 66.0, DrawingManner.ENGRAVED)))
    assert len(groups) == len(stages) > 2
    counts = [sum(path.get("class") == "engraved" for path in group) for group in groups]
    assert counts[-1] > 0
    assert not any(counts[:-1])
