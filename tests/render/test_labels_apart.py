"""The finding of places: labels in rows, and whole pictures of random pieces at three widths."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.flat import scoring_scene
from foldwright.geometry.pictures.plan import flat_scene
from foldwright.geometry.pictures.state import PieceState
from foldwright.geometry.scene import Scene
from foldwright.measure.writing import typographic, write_exact
from foldwright.render.drawing.bands import in_rows, side_by_side
from foldwright.render.drawing.inscriptions import Box, overlap
from foldwright.render.drawing.label import label_of
from foldwright.render.drawing.layout import DrawingLayout, lay_out
from foldwright.render.fonts import FACES, font_file
from geometry.laid import laid, pieces
from workbench.long import tries

WIDTHS = ((45.0, 6.5), (90.0, 8.0), (170.0, 9.0))
_HAIR = 1e-6


def pictured(text: str) -> tuple[Scene, dict[LengthId, str]]:
    flat = laid(text)
    labels = {name: typographic(write_exact(length)) for name, length in flat.lengths.by_id.items()}
    return flat_scene(flat.blanks[0]), labels


def shrunk(box: Box) -> Box:
    return box[0] + _HAIR, box[1] + _HAIR, box[2] - _HAIR, box[3] - _HAIR


def assert_readable(layout: DrawingLayout) -> None:
    """No text lies on another, none is cut off at the edge of the picture."""
    for text in layout.texts:
        left, top, right, bottom = text.box
        assert left >= -_HAIR, text
        assert top >= -_HAIR, text
        assert right <= layout.width + _HAIR, text
        assert bottom <= layout.height + _HAIR, text
    for one, other in combinations(layout.texts, 2):
        assert not overlap(shrunk(one.box), shrunk(other.box)), (one.label.text, other.label.text)


@settings(max_examples=tries(40, 120))
@given(pieces())
def test_texts_of_random_pieces_are_apart_and_inside_the_picture(text: str):
    scene, labels = pictured(text)
    for width, points in WIDTHS:
        assert_readable(lay_out(scene, labels, width, points))


@settings(max_examples=tries(20, 60))
@given(pieces())
def test_the_piece_lies_inside_the_picture_in_its_true_shape(text: str):
    scene, labels = pictured(text)
    for width, points in WIDTHS:
        layout = lay_out(scene, labels, width, points)
        assert layout.width == width
        assert layout.left > 0
        assert layout.left + scene.width * layout.scale < width
        assert layout.top > 0
        assert layout.top + scene.height * layout.scale < layout.height


FAVOUR_BOX = """\
  base:
    from: card
    size: 5 x 4 1/4 in
    across: 3/4 left end | 3 1/2 floor | 3/4 right end
    down: 1 3/4 front | 3/4 floor | 1 3/4 back
    flaps: joined to front and back
    fold: tray
"""


@pytest.mark.parametrize(("width", "points"), WIDTHS)
def test_all_lengths_and_names_of_the_favour_box_are_shown(width: float, points: float):
    scene, labels = pictured(FAVOUR_BOX)
    layout = lay_out(scene, labels, width, points, {"flap": "tab"})
    shown = sorted(text.label.text for text in layout.texts)
    wanted = [labels[dimension.length] for dimension in scene.dimensions]
    words = ("left end", "floor", "right end", "front", "back")
    for text in (*wanted, *words):
        parts = text.split(" ") if text in words else [text]
        assert text in shown or all(part in shown for part in parts), text
    assert layout.scale * scene.width > 0.6 * width
    if width > 45:
        assert shown.count("tab") == 4


def test_ten_equal_narrow_panels_share_one_label():
    scene, labels = pictured(
        "  strip:\n    from: card\n    across: 10 of 1 1/2 in\n    down: 4 in\n    fold: accordion\n"
    )
    layout = lay_out(scene, labels, 45, 6.5)
    shown = [text.label.text for text in layout.texts]
    assert sum("10 ×" in text for text in shown) == 1
    # Eleven edges, of which the label hides some, and two for each of the whole sizes.
    assert 6 + 4 <= len(layout.ticks) <= 11 + 4


def fence(text: str) -> tuple[Scene, dict[LengthId, str]]:
    """The blank against the fence, and what its lengths read."""
    flat = laid(text)
    scene = scoring_scene(flat.blanks[0], "across", PieceState(), False, frozenset())
    return scene, {name: typographic(write_exact(length)) for name, length in flat.lengths.by_id.items()}


EVERY = {"every": "every {length}, {count} times"}


def test_many_scores_equally_far_apart_are_said_once_with_the_last_place():
    scene, labels = fence("  strip:\n    from: card\n    across: 30 of 10 mm\n    down: 40 mm\n    fold: accordion\n")
    layout = lay_out(scene, labels, 66, 9, EVERY)
    assert [text.label.text for text in layout.texts] == ["every 10\u202fmm, 29 times", "290\u202fmm"]


def test_a_last_panel_of_another_length_does_not_break_the_row():
    scene, labels = fence(
        "  strip:\n    from: card\n    across: 5 of 20 mm | 7 mm\n    down: 40 mm\n    fold: accordion\n"
    )
    layout = lay_out(scene, labels, 66, 9, EVERY)
    assert [text.label.text for text in layout.texts] == ["every 20\u202fmm, 5 times", "100\u202fmm"]


def test_many_scores_of_all_lengths_are_measured_along_one_line():
    """Each figure at its tick, turned along it, in order and apart; the unit at the last alone, the origin marked."""
    scene, labels = fence(
        "  strip:\n    from: card\n    across: 10 mm | 22 | 8 | 14 | 31 | 40\n    down: 40 mm\n    fold: tray\n"
    )
    layout = lay_out(scene, labels, 66, 9, EVERY)
    assert [text.label.text for text in layout.texts] == ["0", "10", "32", "40", "54", "85\u202fmm"]
    assert all(text.turned for text in layout.texts)
    assert all(one.box[2] <= other.box[0] + 1e-6 for one, other in pairwise(layout.texts))
    places = [layout.left + (at + scene.strokes[-1].points[0][0]) * layout.scale for at in (0, 10, 32, 40, 54, 85)]
    for text, place in zip(layout.texts, places, strict=True):
        assert abs(text.x - place) < 1.6 * layout.size, text.label.text
    assert len(layout.dots) == 1
    assert layout.dots[0][0] == pytest.approx(places[0])
    assert len(layout.ticks) == 0


@pytest.mark.parametrize("width", [66.0, 100.0])
def test_running_lengths_of_worked_out_forms_are_apart(width: float):
    sizes = {"gable-top": "80 x 60 x 90 mm", "pyramid": "60 x 60 x 50 mm", "hexagonal box": "70 x 20 mm"}
    for form, size in sizes.items():
        scene, labels = pictured(f"  p:\n    from: card\n    finished: {size}\n    fold: {form}\n")
        layout = lay_out(scene, labels, width, 9)
        running = [one for one in scene.dimensions if one.running]
        assert len(running) > 5, form
        assert all(one.start == (0.0, 0.0) for one in running)
        assert_readable(layout)
        assert layout.size >= 9 * 25.4 / 72 * 0.7, form


def test_doubtful_numbers_are_marked():
    scene, labels = pictured("  tray:\n    from: card\n    size: 100 x 50 mm\n    across: 20 | 60 | 18\n")
    layout = lay_out(scene, labels, 90, 8)
    doubtful = {text.label.text for text in layout.texts if text.style == "doubt"}
    assert {text.split("\u202f")[0] for text in doubtful} == {"20", "60", "18", "100"}
    assert all(text.endswith("?") for text in doubtful)


def test_widths_of_labels_against_an_independent_measure():
    """Pillow sets the same letters with the font itself; a label is given at least that room and not much more."""
    font = ImageFont.truetype(str(font_file(FACES["sans"])), 1000)
    for text in ("15 in", "105 mm", "10.5 mm", "left end", "glue flap", "8 × 2 mm", "AVATAR Tailwind"):
        label = label_of(text)
        measured = font.getlength(text) / 1000
        assert measured <= label.width <= 1.12 * measured, text
    fraction = label_of("4 1\u20448 in").width
    assert font.getlength("4 in") / 1000 < fraction < font.getlength("4 1/8 in") / 1000 * 1.06


lengths = st.lists(st.floats(0.5, 9), min_size=1, max_size=12)


@given(lengths, st.randoms())
def test_labels_side_by_side_keep_their_order_and_their_room(sizes: list[float], random: object):
    wanted = sorted(random.uniform(-5, 45) for _ in sizes)  # type: ignore[attr-defined]
    rows = in_rows(wanted, sizes, 0, 40, 0.5)
    assert sorted(index for row in rows for index in row) == list(range(len(sizes)))
    for row in rows:
        own = [sizes[index] for index in row]
        middles = side_by_side([wanted[index] for index in row], own, 0, 40, 0.5)
        edges = [(middle - size / 2, middle + size / 2) for middle, size in zip(middles, own, strict=True)]
        assert edges[0][0] >= -_HAIR
        assert edges[-1][1] <= 40 + _HAIR
        assert all(one[1] + 0.5 <= other[0] + _HAIR for one, other in pairwise(edges))


def test_labels_with_room_stand_where_they_want_to():
    assert side_by_side([5, 15, 25], [4, 4, 4], 0, 40, 1) == [5, 15, 25]
    # Two that want the same place share the way: each moves half of what both need.
    assert side_by_side([10, 10], [4, 4], 0, 40, 1) == [7.5, 12.5]
