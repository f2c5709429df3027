"""Which picture a page with little room keeps: the finished thing first, then one of each step, then other plans."""

from __future__ import annotations

from workbench.compiled import DEMOS, demo


def shown(recipe: str) -> list[tuple[int, str]]:
    """Each picture's step and what it is: the piece of a plan, a photograph's file, or the kind of a drawing."""
    sheet = demo(recipe)
    found = []
    for one in sheet.shown:
        drawn = sheet.picture(one) if one.drawing else None
        found.append((one.step, drawn.kind if drawn else one.piece or (one.photo.path if one.photo else "")))
    return found


def test_the_finished_thing_comes_first_then_the_blank_with_most_work_then_what_no_plan_shows():
    assert shown("birdhouse") == [
        (0, "finished.png"),
        (1, "base"),
        (3, "glue-part"),
        (6, "join-with"),
        (2, "slit"),
        (5, "punch"),
        (7, "band"),
        (8, "tie"),
        (4, "birdhouse front"),
        (7, "wrapper"),
    ]


def test_without_photographs_the_finished_thing_is_drawn():
    assert shown("keepsake-box") == [
        (0, "lid"),
        (1, "base"),
        (5, "glue-part"),
        (6, "glue-part"),
        (7, "join"),
        (4, "slit"),
        (2, "score-all-round"),
        (3, "score-all-round"),
        (1, "lid"),
        (7, "label"),
    ]


def test_every_step_with_a_picture_has_its_own_before_any_has_a_second():
    for recipe in DEMOS:
        sheet = demo(recipe)
        pictured = [step.number for step in sheet.steps if step.photo or step.pictures or step.shows]
        leads = [one.step for one in sheet.shown if one.step][: len(pictured)]
        assert sorted(leads) == pictured


def test_every_plan_is_wanted_once():
    for recipe in DEMOS:
        plans = [one.piece for one in demo(recipe).shown if one.piece and not one.drawing]
        assert len(plans) == len(set(plans)) == sum(1 for piece in demo(recipe).pieces if piece.picture)


def test_a_photograph_of_a_step_takes_the_place_of_its_drawing():
    for recipe in DEMOS:
        photographed = {one.step for one in demo(recipe).shown if one.photo}
        assert photographed.isdisjoint(one.step for one in demo(recipe).shown if one.drawing and one.step)
