"""Sizes of pictures come out as they were made, and a picture beside another step is found."""

from __future__ import annotations

import pytest

from printed.making import made
from printed.pictured import astray, pictured

MM = 72 / 25.4


def picture(wide: float, high: float, left: float = 0, top: float = 0, alt: str = "a square") -> str:
    """A black picture in millimetres, from the corner of what it stands in."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" viewBox="0 0 1 1" '
        f'preserveAspectRatio="none" style="position:absolute;left:{left}mm;top:{top}mm"><title>{alt}</title>'
        '<rect width="1" height="1"/></svg>'
    )


def step(top: float, words: str, drawn: str, left: float = 0, wide: float = 89, high: float = 30) -> str:
    place = f"position:absolute;left:{left}mm;top:{top}mm;width:{wide}mm;height:{high}mm"
    return f"<li style='{place}'><h2>{words}</h2><p>Fold it.</p>{drawn}</li>"


def page(*steps: str, before: str = "") -> bytes:
    body = f"<h1>Boat</h1>{before}<ol style='position:relative;height:120mm'>{''.join(steps)}</ol>"
    return made(f"<body style='margin:0'>{body}")


def test_high_and_wide_are_those_of_the_ink() -> None:
    head = f"<div style='position:relative;height:25mm'>{picture(40, 25)}</div>"
    data = page(step(0, "Fold", picture(20, 10, left=69)), before=head)
    hero, shown = pictured(data)
    assert (hero.step, hero.share) == (0, 0)
    assert hero.high == pytest.approx(25 * MM, abs=0.01)
    assert shown.step == 1
    assert shown.column == pytest.approx(89 * MM, abs=1), "from the first word to the picture's edge"
    assert shown.share == pytest.approx(20 / 89, abs=0.01)


def test_room_is_more_than_ink_where_a_drawing_has_margins() -> None:
    small = picture(30, 20).replace('"0 0 1 1"', '"-1 -1 4 4"')
    (shown,) = pictured(page("", before=f"<div style='position:relative;height:25mm'>{small}</div>"))
    # WeasyPrint by itself writes figures' boxes in CSS pixels, of which there are 96 to the inch.
    assert shown.room == pytest.approx((30 / 25.4 * 96, 20 / 25.4 * 96), abs=0.01)
    assert shown.high == pytest.approx(5 * MM, abs=0.01)


def test_a_column_is_as_wide_as_its_widest_step() -> None:
    narrow = step(40, "Turn", picture(20, 10, left=20))
    wide = step(0, "Fold", picture(20, 10, left=69))
    shares = [one.share for one in pictured(page(wide, narrow))]
    assert shares == pytest.approx([20 / 89, 20 / 89], abs=0.01)


def test_columns_side_by_side_are_two() -> None:
    left = step(0, "Fold", picture(20, 10, left=20), wide=40)
    right = step(0, "Turn", picture(30, 10, left=9), left=49, wide=40)
    first, second = pictured(page(left, right))
    assert first.column == pytest.approx(40 * MM, abs=1)
    assert second.column == pytest.approx(39 * MM, abs=1)
    assert second.share == pytest.approx(30 / 39, abs=0.02)


def test_a_wide_step_under_two_leaves_each_its_column() -> None:
    left, right = (step(0, "Fold", picture(20, 10, left=19), left=x, wide=39, high=20) for x in (0, 50))
    first, second, third = pictured(page(left, right, step(40, "Turn", picture(20, 10, left=69))))
    assert first.column < 51 * MM
    assert second.column < 51 * MM
    assert third.column == pytest.approx(89 * MM, abs=1)


def test_what_is_tall_and_narrow_is_as_large_as_it_is_tall() -> None:
    (shown,) = pictured(page(step(0, "Fold", picture(5, 30, left=84))))
    assert shown.share == pytest.approx(30 / 89, abs=0.01)


def test_pictures_beside_and_over_their_steps_are_well() -> None:
    beside = [step(top, f"Fold {top}", picture(20, 25, left=60)) for top in (0, 30, 60)]
    assert astray(page(*beside)) == []
    over = [step(top, f"Fold {top}", picture(20, 12, top=-13)) for top in (13, 46, 79)]
    assert astray(page(*over)) == []


def test_the_second_of_two_may_reach_down_to_the_next_heading() -> None:
    two = picture(20, 14, left=60) + picture(20, 14, left=60, top=15)
    assert astray(page(step(0, "Fold", two), step(30, "Turn", ""))) == []
    deeper = picture(20, 14, left=60) + picture(20, 14, left=60, top=20)
    assert len(astray(page(step(0, "Fold", deeper), step(30, "Turn", "")))) == 1


def test_several_may_stand_over_their_heading() -> None:
    """Two over their words, nearer to each other than to the step above them, and one by one at the same height."""
    two = picture(20, 8, top=-18) + picture(20, 8, top=-9)
    assert astray(page(step(0, "Fold", ""), step(29, "Turn", two))) == []
    nearer_above = picture(20, 8, top=-24) + picture(20, 8, top=-9)
    assert len(astray(page(step(0, "Fold", ""), step(29, "Turn", nearer_above)))) == 1
    panels = step(25, "Fold", picture(20, 24, top=-25) + picture(20, 12, left=22, top=-25), wide=44)
    assert astray(page(panels, step(0, "Turn", "", left=46, wide=40))) == []


def test_a_heading_between_a_picture_and_its_own_is_found() -> None:
    deep = step(40, "Turn", picture(20, 8, top=-40))
    assert len(astray(page(step(12, "Fold", ""), deep))) == 1


def test_a_column_of_pictures_that_drifts_is_found() -> None:
    """Each picture a little lower than the step it belongs to, until it stands beside the next."""
    drifted = [step(30 * at, f"Fold {at + 1}", picture(20, 10, left=60, top=down)) for at, down in enumerate((0, 24))]
    drifted.append(step(60, "Fold 3", ""))
    assert astray(page(*drifted)) == ["page 1: the picture “a square” of step 2 stands nearer to the heading of step 3"]


def test_a_picture_on_the_next_page_is_found() -> None:
    rest = f"<div style='break-before:page;position:relative'>{picture(20, 10)}</div>"
    before = "<li><h2>Cut</h2><p>Cut it.</p></li>"
    long = f"<li><h2>Fold</h2><p>Fold it.</p>{rest}</li>"
    assert astray(made(f"<h1>Boat</h1><ol>{before}{long}</ol>")) == [
        "page 2: the picture “a square” of step 2 stands on another page than its heading"
    ]
    assert astray(made(f"<h1>Boat</h1><ol>{long}</ol>")) == [], "the step has both pages to itself"
