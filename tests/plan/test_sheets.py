"""Which sheets pieces come out of, and how many of each a sheet gives."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from foldwright.document.catalogue import catalogue
from foldwright.finding import Strength
from foldwright.plan.sheets import check_sheets, sheets_needed
from plan.recipes import laid


def codes(supply: str, piece: str, unit: str = "millimetres") -> list[str]:
    return [finding.code for finding in check_sheets(*laid(supply, piece, unit)).findings]


def numbers(supply: str, piece: str, unit: str = "millimetres") -> list[int]:
    return [one.number for one in check_sheets(*laid(supply, piece, unit)).yields]


@pytest.mark.parametrize(
    ("sheet", "piece", "number"),
    [
        # 210 / 100 = 2, 297 / 130 = 2; turned 210 / 130 = 1, 297 / 100 = 2.
        ("sheet A4", "size: 100 x 130 mm", 4),
        # 210 / 180 = 1, 297 / 90 = 3; turned 210 / 90 = 2, 297 / 180 = 1.
        ("sheet A4", "size: 180 x 90 mm", 3),
        ("sheet A4", "size: 210 x 297 mm", 1),
        ("sheet A4", "size: 297 x 210 mm", 1),
        ("sheet A4", "size: 264 x 90 mm", 2),
        # 8 1/2 x 11 in is 215.9 x 279.4 mm.
        ("sheet 8 1/2 x 11 in", "size: 107 x 139 mm", 4),
        # A plain grid only: five could be cut with the pieces lying both ways, which is not counted here.
        ("sheet 50 x 50 mm", "size: 30 x 20 mm", 2),
    ],
)
def test_a_sheet_gives_as_many_as_a_plain_grid_holds(sheet, piece, number):
    assert numbers(sheet, piece) == [number]


@pytest.mark.parametrize(
    ("sheet", "piece", "number"),
    [
        # 2 by 2 on a sheet, see above.
        ("sheet A4", "size: 100 x 130 mm; count: 4", 1),
        ("sheet A4", "size: 100 x 130 mm; count: 5", 2),
        ("sheet A4", "size: 210 x 297 mm; count: 3", 3),
        # Two on A4, one on A5 (148 x 210 mm): enough of whichever somebody has.
        ("sheet A4 or A5", "size: 140 x 200 mm; count: 2", 2),
    ],
)
def test_as_many_sheets_are_enough(sheet, piece, number):
    recipe, flat = laid(sheet, piece)
    assert sheets_needed(recipe, check_sheets(recipe, flat)) == {"card": number}


def test_of_what_does_not_come_out_no_number_is_said():
    recipe, flat = laid("sheet A4 or A5", "size: 200 x 290 mm")
    assert sheets_needed(recipe, check_sheets(recipe, flat)) == {}


def test_quarters_of_a_letter_sheet_are_four_and_leave_nothing():
    """A letter sheet in quarters is 4 1/4 x 5 1/2 in: the common American card, trade practice."""
    recipe, flat = laid("sheet 8 1/2 x 11 in", "size: 4 1/4 x 5 1/2 in", "inches")
    found = check_sheets(recipe, flat)
    best = found.yields[0].best
    assert best is not None
    assert (best.number, best.spare_across, best.spare_down) == (4, 0, 0)
    assert [finding.code for finding in found.findings] == ["no-trim-to-spare"]


def test_a_piece_that_comes_out_of_no_sheet_does_not_fit():
    recipe, flat = laid("sheet A4 or A5", "size: 300 x 200 mm")
    finding = check_sheets(recipe, flat).findings[0]
    facts = dict(finding.facts)
    assert (finding.code, finding.strength) == ("piece-larger-than-sheet", Strength.MISFIT)
    assert (facts["sheet"], facts["count"]) == ("A4", 2)
    says = catalogue().say("piece-larger-than-sheet.says", **facts)
    assert "300 mm x 200 mm" in says
    assert "210 mm x 297 mm" in says


@pytest.mark.parametrize("size", ["297 x 210 mm", "210 x 297 mm"])
def test_it_may_be_turned_to_come_out(size):
    assert codes("sheet A4", f"size: {size}") == []


def test_a_pattern_that_runs_one_way_forbids_turning():
    assert codes("sheet A4, pattern one way", "size: 290 x 200 mm") == ["piece-only-against-pattern"]
    assert codes("sheet A4, pattern one way", "size: 200 x 290 mm") == []
    assert codes("sheet A4, pattern any way", "size: 290 x 200 mm") == []
    assert numbers("sheet A4, pattern one way", "size: 180 x 90 mm") == [3]
    assert numbers("sheet A4, pattern one way", "size: 90 x 180 mm") == [2]


@pytest.mark.parametrize(
    ("grain", "told"),
    [
        # The fold of a card 250 x 150 mm runs down, 150 mm long. With the grain long, that lies along the 297 mm of
        # A4; then 250 mm lie across 210 mm, which is too much.
        ("grain long", ["piece-only-against-grain"]),
        ("grain short", []),
    ],
)
def test_the_grain_a_piece_asks_for_settles_how_it_lies(grain, told):
    piece = "size: 250 x 150 mm; across: 125 | 125; fold: card; grain: along the fold"
    assert codes(f"sheet A4, {grain}", piece) == told


def test_without_a_wish_the_grain_settles_nothing():
    assert codes("sheet A4, grain long", "size: 250 x 150 mm; across: 125 | 125; fold: card") == []


@pytest.mark.parametrize(
    ("sheet", "size", "row", "told"),
    [
        # 8 1/2 x 11 in with the grain along 8 1/2: two cards lie with 8 1/2 in along it, and their fold runs across it;
        # turned, one comes out, 5 1/2 in along the grain and along its fold.
        ("8 1/2 x 11 in, grain short", "8 1/2 x 5 1/2 in", "4 1/4 | 4 1/4", ["fold-across-the-grain"]),
        ("8 1/2 x 11 in, grain long", "8 1/2 x 5 1/2 in", "4 1/4 | 4 1/4", []),
        # 10 in lie only along 11 in, and the fold across that.
        ("8 1/2 x 11 in, grain long", "10 x 6 in", "5 | 5", ["fold-only-across-the-grain"]),
        ("8 1/2 x 11 in, grain short", "10 x 6 in", "5 | 5", []),
        # Nobody knows the grain.
        ("8 1/2 x 11 in", "8 1/2 x 5 1/2 in", "4 1/4 | 4 1/4", []),
    ],
)
def test_heavy_card_that_is_folded_across_its_grain_is_a_thought(sheet, size, row, told):
    piece = f"size: {size}; across: {row}; fold: card"
    found = [code for code in codes(f"weight 100 lb cover, sheet {sheet}", piece, "inches") if "grain" in code]
    assert found == told
    light = codes(f"weight 20 lb bond, sheet {sheet}", piece, "inches")
    assert not [code for code in light if "grain" in code]
    asked = codes(f"weight 100 lb cover, sheet {sheet}", f"{piece}; grain: along the fold", "inches")
    assert not [code for code in asked if code.startswith("fold-")]


def test_one_sheet_of_two_that_does_not_serve_is_a_thought():
    recipe, flat = laid("sheet A4 or A5", "size: 200 x 200 mm")
    findings = check_sheets(recipe, flat).findings
    assert [(finding.code, finding.strength) for finding in findings] == [("sheet-too-small", Strength.THOUGHT)]
    assert dict(findings[0].facts)["sheet"] == "A5"


def test_a_sheet_that_gives_half_as_many_is_a_thought():
    """5 x 4 1/4 in: 8 1/2 x 11 in gives 2 x 2; of A4, 8.27 in across, only 1 x 2 the one way and 1 x 2 the other."""
    assert numbers("sheet 8 1/2 x 11 in or A4", "size: 5 x 4 1/4 in", "inches") == [4, 2]
    assert "sheet-yields-half" in codes("sheet 8 1/2 x 11 in or A4", "size: 5 x 4 1/4 in", "inches")


def test_many_in_a_row_may_fill_a_sheet_without_a_word():
    assert codes("sheet 200 x 200 mm", "size: 20 x 20 mm") == []
    assert codes("sheet 200 x 200 mm", "size: 100 x 90 mm") == ["no-trim-to-spare"]


def test_of_two_ways_that_give_as_many_the_one_with_trim_to_spare_is_taken():
    recipe, flat = laid("sheet 210 x 200 mm", "size: 100 x 95 mm")
    best = check_sheets(recipe, flat).yields[0].best
    assert best is not None
    assert (best.number, best.turned, best.spare_across) == (4, False, Fraction(10))


def test_supplies_without_a_sheet_are_passed_over():
    assert check_sheets(*laid("weight 200 g/m2", "size: 100 x 90 mm")).yields == ()


@given(
    st.tuples(st.integers(20, 400), st.integers(20, 400)),
    st.tuples(st.integers(5, 450), st.integers(5, 450)),
)
def test_a_grid_lies_inside_its_sheet_and_one_more_row_does_not(sheet, piece):
    """Counted by hand: pieces are laid one by one until the next would stick out."""

    def laid_out(width: int, height: int) -> int:
        return sum(
            1
            for x, y in product(range(0, sheet[0], width), range(0, sheet[1], height))
            if x + width <= sheet[0] and y + height <= sheet[1]
        )

    most = max(laid_out(*piece), laid_out(*reversed(piece)))
    recipe, flat = laid(f"sheet {sheet[0]} x {sheet[1]} mm", f"size: {piece[0]} x {piece[1]} mm")
    found = check_sheets(recipe, flat)
    assert [one.number for one in found.yields] == [most]
    told = {"piece-larger-than-sheet", "piece-fits-turned-right", "piece-fits-turned-left"}
    assert any(finding.code in told for finding in found.findings) is (most == 0)


# --- at a slant -------------------------------------------------------------------------------------------------


def _carver(piece: tuple[int, int], sheet: tuple[int, int]) -> float:
    """By how much a p x q rectangle fits into one of a x b, at its best (in mm of b; below nothing it does not).

    W. B. Carver, "A problem of packing a box", American Mathematical Monthly 64 (1957), from memory: with p >= q and
    a >= b it fits when p <= a and q <= b, or when p > a, q <= b and b (p2 + q2) >= 2pqa + (p2 - q2) root(p2 + q2 - a2).
    """
    p, q = max(piece), min(piece)
    a, b = max(sheet), min(sheet)
    if p <= a:
        return b - q
    if q > b:
        return b - q
    square = p * p + q * q
    return b - (2 * p * q * a + (p * p - q * q) * sqrt(square - a * a)) / square


@given(
    st.tuples(st.integers(20, 400), st.integers(20, 400)),
    st.tuples(st.integers(5, 500), st.integers(5, 500)),
)
def test_a_rectangle_lies_at_a_slant_where_the_published_condition_says_so(sheet, piece):
    spare = _carver(piece, sheet)
    if abs(spare) < 1e-6:
        return
    recipe, flat = laid(f"sheet {sheet[0]} x {sheet[1]} mm", f"size: {piece[0]} x {piece[1]} mm")
    misfits = [one.code for one in check_sheets(recipe, flat).findings if one.strength is Strength.MISFIT]
    assert misfits == ([] if spare > 0 else ["piece-larger-than-sheet"])


def test_what_comes_out_only_at_a_slant_says_so_and_is_in_no_plan():
    """A square of 210 mm has a diagonal of 296.98 mm (Pythagoras): a band of 280 x 10 mm lies along it."""
    recipe, flat = laid("sheet 210 x 210 mm", "size: 280 x 10 mm")
    found = check_sheets(recipe, flat)
    assert [(one.code, one.strength) for one in found.findings] == [("piece-fits-turned-right", Strength.THOUGHT)]
    # By symmetry the middle of all angles that fit is that of the diagonal.
    assert dict(found.findings[0].facts)["angle"] == "45"
    assert found.yields[0].number == 0


def test_a_shape_that_stands_on_its_corner_comes_out_of_a_sheet_smaller_than_its_box():
    """A cross of two arms 40 mm wide, 240 mm long: turned by 45 degrees it measures (240 + 40) / root 2 = 197.99 mm."""
    cross = "outline: cross.svg; size: 240 x 240 mm"
    arms = ((100, 0), (140, 0), (140, 100), (240, 100), (240, 140), (140, 140), (140, 240), (100, 240), (100, 140))
    corners = tuple((Fraction(x), Fraction(y)) for x, y in (*arms, (0, 140), (0, 100), (100, 100)))
    for sheet, told in (("198 x 198 mm", ["piece-fits-turned-right"]), ("197 x 197 mm", ["piece-larger-than-sheet"])):
        recipe, flat = laid(f"sheet {sheet}", cross)
        blanks = tuple(replace(blank, outline=corners) for blank in flat.blanks)
        findings = check_sheets(recipe, replace(flat, blanks=blanks)).findings
        assert [one.code for one in findings] == told


def test_grain_and_a_pattern_forbid_a_slant():
    assert codes("sheet 210 x 210 mm, pattern one way", "size: 280 x 10 mm") == ["piece-larger-than-sheet"]
