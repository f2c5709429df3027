"""Which picture a page with little room keeps: the plan with most work first, then the finished thing."""

from __future__ import annotations

from compiled import DEMOS, demo


def shown(recipe: str) -> list[tuple[int, str]]:
    return [(one.step, one.piece or (one.photo.path if one.photo else "")) for one in demo(recipe).shown]


def test_the_blank_with_most_work_comes_first_then_the_finished_thing():
    assert shown("birdhouse") == [
        (1, "base"),
        (0, "finished.png"),
        (4, "birdhouse front"),
        (7, "wrapper"),
    ]


def test_without_photographs_the_plans_stand_by_how_much_is_done_to_them():
    ranked = shown("keepsake-box")
    assert ranked == [(1, "base"), (1, "lid"), (7, "label")]


def test_every_plan_is_wanted_once():
    for recipe in DEMOS:
        pieces = [piece for _, piece in shown(recipe) if not piece.endswith((".png", ".jpg"))]
        assert len(pieces) == len(set(pieces)) == sum(1 for piece in demo(recipe).pieces if piece.picture)
