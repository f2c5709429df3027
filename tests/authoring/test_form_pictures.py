"""Where on a drawn form its numbers lie: as long in the picture as a parallel projection makes them."""

from __future__ import annotations

from math import cos, dist, hypot, radians, sin

import pytest

from foldwright.authoring.form_pictures import draw_form, form_picture, form_scene
from foldwright.begin.draft.begun import begin
from foldwright.begin.forms import EXAMPLES, SIZES, FormAnswers, draft_of_form, read_size
from foldwright.begin.options import FORMS
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.geometry.scene import Scene
from foldwright.measure.length import System
from foldwright.render.drawing.measured import MeasuredSide, draw_measured, outwards

TURNS, RISE = (20.0, 32.0, 48.0), radians(30.0)
"""How a thing on the table is looked at: from so far to one side (degrees), and from above."""
SQUARE = ("box", "lid", "sleeve", "tuck box", "hinged box", "gift bag", "gable-top")


def shortened(turn: float) -> list[float]:
    """How long a millimetre is in the picture that goes to the right, away, and up: an axonometric projection."""
    return [hypot(cos(turn), sin(turn) * sin(RISE)), hypot(sin(turn), cos(turn) * sin(RISE)), cos(RISE)]


def sides(form: str, size: str, system: System = System.METRIC) -> tuple[Scene, tuple[MeasuredSide, ...]]:
    lengths = read_size(size, form, system)
    assert not isinstance(lengths, Wrong)
    answers = FormAnswers("A form", form, lengths, 4, "white card")
    begun = begin(draft_of_form(answers, catalogue()), "form", "form")
    assert begun.checked.understood is not None
    return form_scene(begun.checked.understood, form, lengths)


@pytest.mark.parametrize("form", SQUARE)
def test_the_numbers_of_a_box_lie_across_away_and_up(form: str) -> None:
    _, drawn = sides(form, "70 x 40 x 90 mm")
    assert all(side.edges for side in drawn)
    found = [dist(side.start, side.end) / long for side, long in zip(drawn, (70, 40, 90), strict=True)]
    assert any(found == pytest.approx(shortened(radians(turn)), rel=0.03) for turn in TURNS)
    upright = drawn[2]
    assert upright.start[0] == pytest.approx(upright.end[0], abs=1.0)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("system", System)
def test_every_number_that_is_asked_for_lies_somewhere_in_the_drawing(form: str, system: System) -> None:
    example = EXAMPLES[system][SIZES[form]]
    scene, drawn = sides(form, example, system)
    *numbers, last = example.split(" x ")
    unit = last.rpartition(" ")[2]
    assert [side.label for side in drawn] == [*(f"{one} {unit}" for one in numbers), last]
    assert len({(side.start, side.end) for side in drawn}) == len(drawn)
    for side in drawn:
        assert dist(side.start, side.end) > 1
        for x, y in (side.start, side.end):
            assert -scene.width <= x <= 2 * scene.width and -scene.height <= y <= 2 * scene.height


def test_what_is_round_is_measured_from_side_to_side_as_it_is_seen() -> None:
    for form, size in (("tube", "50 x 100 mm"), ("cone", "80 x 100 mm"), ("rosette", "60 mm")):
        scene, (wide, *_) = sides(form, size)
        assert wide.start[1] == pytest.approx(wide.end[1], abs=0.5)
        assert abs(wide.end[0] - wide.start[0]) == pytest.approx(float(size.split()[0]), rel=0.01)
        assert abs(wide.end[0] - wide.start[0]) == pytest.approx(scene.width, rel=0.06)


def test_a_number_stands_off_its_side_away_from_the_middle() -> None:
    assert outwards((0.0, 10.0), (10.0, 10.0), (5.0, 0.0)) == (0.0, 1.0)
    assert outwards((10.0, 10.0), (0.0, 10.0), (5.0, 0.0)) == (0.0, 1.0)
    assert outwards((0.0, 0.0), (0.0, 8.0), (4.0, 4.0)) == (-1.0, 0.0)


def test_words_of_a_drawing_are_no_markup() -> None:
    scene, drawn = sides("cube", "40 mm")
    svg = draw_measured(scene, [*drawn, MeasuredSide((0.0, 0.0), (1.0, 0.0), label="<b>")], "<i>", "&")
    assert "<b>" not in svg and "<i>" not in svg and "&lt;b>" in svg.replace("&gt;", ">")
    assert form_picture("cube", catalogue()).startswith("<svg ")


@pytest.mark.parametrize(
    ("form", "size"),
    [
        ("box", "1/1000 x 1/1000 x 1/1000 in"),
        ("card", "1/1000 x 1/1000 in"),
        ("lid", "300 x 1 x 1 in"),
        ("gift bag", "300 x 1 x 1 in"),
        ("gift bag", "1/1000 x 1/1000 x 1/1000 in"),
        ("rosette", "300 in"),
    ],
)
def test_a_size_nobody_makes_has_a_drawing_or_none_and_never_a_crash(form: str, size: str) -> None:
    lengths = read_size(size, form, System.IMPERIAL)
    assert not isinstance(lengths, Wrong)
    answers = FormAnswers("A form", form, lengths, 4, "white card")
    drawn = draw_form(begin(draft_of_form(answers, catalogue()), "form", "form"), answers, catalogue())
    assert drawn == "" or drawn.endswith("</svg>")
