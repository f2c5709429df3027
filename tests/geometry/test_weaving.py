"""Woven strips: how large the mat comes out, strips that do not reach, and over and under in the picture.

The sizes are those of plain weave, by hand: so many strips side by side without gaps.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from foldwright.geometry.pictures.weaving import laid_out, woven_leaves
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.geometry.together.weaving import Weave
from foldwright.geometry.understood import fit_of
from foldwright.measure.length import Length, Unit
from foldwright.recipe.reading import read_recipe
from geometry.laid import codes, laid, the_blank, the_finding

CUTS = "cut from 20 mm across 10 mm down to 20 mm across 90 mm down, repeat 4 times, every 20 mm to the right"


def mat(
    long: str = "10 x 100 mm",
    short: str = "100 x 10 mm",
    said: str = "woven with: long strip",
    counts: tuple[int, int] = (8, 8),
    more: str = "",
) -> Flat:
    return laid(
        f"  long strip:\n    from: card\n    size: {long}\n    count: {counts[0]}\n"
        f"  short strip:\n    from: card\n    size: {short}\n    count: {counts[1]}\n    {said}\n{more}"
    )


def through(size: str, count: int = 4) -> Flat:
    return laid(
        f"  sheet:\n    from: card\n    size: 100 x 100 mm\n    lines: {CUTS}\n"
        f"  strip:\n    from: card\n    size: {size}\n    count: {count}\n    woven through: sheet\n"
    )


def the_weave(flat: Flat) -> Weave:
    (weave,) = flat.weaves
    return weave


@given(st.integers(2, 20), st.integers(2, 20), st.integers(5, 20), st.integers(5, 20), st.integers(0, 30))
def test_the_mat_is_as_large_as_its_strips_are_wide_together(
    first: int, second: int, wide: int, high: int, over: int
) -> None:
    long, across = second * high + 2 * over, first * wide + 2 * over
    # Strips that are shorter than they are wide are read the other way round.
    assume(long >= wide and across >= high)
    flat = mat(f"{wide} x {long} mm", f"{across} x {high} mm", counts=(first, second))
    assert codes(flat.findings) == []
    told = {fact.code: fact for fact in fit_of(the_blank(flat, "short strip"), flat)}
    sizes = [flat.lengths.by_id[name].mm for name in told["woven"].lengths]
    assert sizes == [high, first * wide, second * high]
    assert (told["woven"].count, told["woven"].others) == (second, first)
    for piece in ("long strip", "short strip"):
        ends = [fact for fact in fit_of(the_blank(flat, piece), flat) if fact.code == "woven-ends"]
        assert [flat.lengths.by_id[fact.lengths[0]].mm for fact in ends] == ([over] if over else [])


def test_strips_that_do_not_reach_are_told_and_such_as_just_do_are_not() -> None:
    assert the_finding(mat(long="10 x 79 mm"), "strips-too-short") == {
        "piece": "long strip",
        "other": "short strip",
        "long": Length.of(79, Unit.MILLIMETRE),
        "need": Length.of(80, Unit.MILLIMETRE),
    }
    assert codes(mat(long="10 x 80 mm", short="80 x 10 mm").findings) == []
    said = "woven with: long strip, 10 mm over at each end"
    assert codes(mat(said=said).findings) == []
    assert codes(mat(short="99 x 10 mm", said=said).findings) == ["strips-too-short"]


@pytest.mark.parametrize(
    "word", ["woven with: long strip", "weaves with: long strip", "woven through: the long strip", "woven: long strip"]
)
def test_its_spellings(word: str) -> None:
    assert the_weave(mat(said=word)).pieces == ("short strip", "long strip")


def test_said_on_both_it_is_one_weave() -> None:
    flat = laid(
        "  a:\n    from: card\n    size: 10 x 100 mm\n    count: 8\n    woven with: b\n"
        "  b:\n    from: card\n    size: 10 x 70 mm\n    count: 8\n    woven with: a\n"
    )
    assert len(flat.weaves) == 1
    assert codes(flat.findings) == ["strips-too-short"]


@pytest.mark.parametrize(
    ("remark", "code"), [("10 mm over", ""), ("hanging over by 10 mm", ""), ("as you like", "weaving-unclear")]
)
def test_what_hangs_over_is_read_or_asked_for(remark: str, code: str) -> None:
    assert codes(mat(said=f"woven with: long strip, {remark}").findings) == ([code] if code else [])


def test_what_a_step_weaves_is_woven_and_slits_are_cuts() -> None:
    """Nothing is said of the pieces: two that a step weaves; the slits of the sheet are its holes."""
    slits = "slot 1 x 80 mm, centred, middle 20 mm from the left, repeat 4 times every 20 mm to the right"
    for wide, code in ((20, ""), (21, "strips-too-wide")):
        text = (
            "---\ntitle: A mat\nmeasured in: millimetres\nsupplies:\n  card: cardstock, thickness 0.3 mm, sheet A4\n"
            f"pieces:\n  sheet:\n    from: card\n    size: 100 x 100 mm\n    holes: {slits}\n"
            f"  strip:\n    from: card\n    size: 100 x {wide} mm\n    count: 4\n---\n\n"
            "## Weave\ndo: weave strip and sheet\n\nWeave.\n"
        )
        recipe = read_recipe(text, "recipe.md", "mat").recipe
        assert recipe is not None
        flat = lay_flat(recipe)
        assert the_weave(flat).pieces == ("strip", "sheet")
        assert len(the_weave(flat).other.widths) == 5
        assert codes(flat.findings) == ([code] if code else [])


def test_one_strip_is_no_mat() -> None:
    assert "one-strip-to-weave" in codes(mat(counts=(1, 8)).findings)


@pytest.mark.parametrize(
    ("finished", "told"), [("80 x 80 mm", False), ("100 x 100 mm", False), ("90 x 80 mm", True), ("80 mm", True)]
)
def test_the_finished_size_is_that_of_the_mat_or_with_its_ends(finished: str, told: bool) -> None:
    found = codes(mat(more=f"    finished: {finished}\n").findings)
    assert found == (["woven-to-another-size"] if told else [])


@pytest.mark.parametrize(
    ("size", "count", "code"),
    [
        ("100 x 20 mm", 4, ""),
        ("100 x 20 mm", 5, "strips-too-wide"),
        ("60 x 20 mm", 4, "strips-too-short"),
        ("61 x 20 mm", 4, ""),
    ],
)
def test_strips_through_cuts(size: str, count: int, code: str) -> None:
    """Cuts of 80 mm, the outermost 60 mm apart."""
    assert codes(through(size, count).findings) == ([code] if code else [])


def test_the_loops_of_a_heart_are_half_as_long_as_their_cuts() -> None:
    """Two halves folded in the middle: what is woven is as wide as the loops are long."""
    half = (
        "    from: card\n    size: 80 x 240 mm\n    down: 120 mm | 120 mm\n    fold: card\n    lines: cut from 20 mm "
    )
    cut = "across {low} mm down to 20 mm across {high} mm down, repeat 3 times, every 20 mm to the right\n"
    for low, high, code in ((40, 200, ""), (45, 195, "strips-too-wide")):
        line = half + cut.format(low=low, high=high)
        found = codes(laid(f"  red:\n{line}  white:\n{line}    woven with: red\n").findings)
        assert set(found) == ({code} if code else set())


@pytest.mark.parametrize(
    "flat", [mat(), mat(counts=(5, 6), long="20 x 120 mm", short="130 x 12 mm"), through("95 x 19 mm")]
)
def test_the_picture_goes_over_one_and_under_the_next(flat: Flat) -> None:
    """What is on top at every crossing, found with shapely: the two papers by turns, as on a chessboard."""
    weave = the_weave(flat)
    columns, rows = laid_out(weave, {})
    leaves = sorted(woven_leaves(columns, rows), key=lambda leaf: leaf.outline[0][2])
    tops = {}
    for row, y in enumerate(middles(rows.marks)):
        for column, x in enumerate(middles(columns.marks)):
            seen = [
                leaf.piece for leaf in leaves if Polygon([(a, b) for a, b, _ in leaf.outline]).contains(Point(x, y))
            ]
            tops[row, column] = seen[-1]
    assert len(tops) == (len(rows.marks) - 1) * (len(columns.marks) - 1) > 12
    assert {tops[0, 0], tops[0, 1]} == {rows.piece, columns.piece}
    assert all(top == tops[0, (row + column) % 2] for (row, column), top in tops.items())


def middles(marks: tuple[float, ...]) -> list[float]:
    return [(one + other) / 2 for one, other in pairwise(marks)]
