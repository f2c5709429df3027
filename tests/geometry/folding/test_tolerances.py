"""What a hand draws is as near as a hand can draw: 0.3 mm off is meant (common practice, no source), more is told."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldwright.finding import Finding
from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.pieces import lay_flat
from foldwright.measure.length import Length
from geometry.folding.shapes import net_of_piece
from geometry.laid import recipe_of

T_SHAPE = """
size: 100 x 60 mm
lines:
  - valley 90 degrees from {top} across {start} down to 50 across {end} down
  - valley 90 degrees from {left} across 30 down to {right} across 30 down
"""


def found(facts: str) -> list[Finding]:
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    recipe = recipe_of(f"  box:\n    from: card\n{lines}\n")
    return list(fold_pieces(recipe, lay_flat(recipe)).findings)


def off(number: int) -> str:
    return f"{number / 100:g}"


@given(
    top=st.integers(4980, 5020),
    start=st.integers(0, 29),
    end=st.integers(5971, 6000),
    left=st.integers(4985, 5015),
    right=st.integers(9971, 10000),
)
def test_ends_that_stay_a_hair_short_part_the_blank_as_exact_ones_do(
    top: int, start: int, end: int, left: int, right: int
) -> None:
    net = net_of_piece(T_SHAPE.format(top=off(top), start=off(start), end=off(end), left=off(left), right=off(right)))
    assert len(net.panels) == 3
    assert not net.dangling
    assert not net.loose


@pytest.mark.parametrize(("end", "panels"), [("59.75", 3), ("59.5", 2)])
def test_a_line_that_stops_well_before_the_edge_is_told(end: str, panels: int) -> None:
    facts = T_SHAPE.format(top="50", start="0", end=end, left="50", right="100")
    told = [finding.code for finding in found(facts)]
    assert told == ([] if panels == 3 else ["fold-stops-midway"])


SLEEVE = """
size: {size} x 90 mm
across: 62 top | 22 side | {bottom} bottom | 22 side | 12 glue flap
fold: sleeve
"""


@pytest.mark.parametrize(("bottom", "gap"), [("62", None), ("61.8", None), ("61.7", None), ("61.6", "0.4")])
def test_walls_that_miss_by_less_than_a_hand_cuts_meet(bottom: str, gap: str | None) -> None:
    told = found(SLEEVE.format(size=f"{float(bottom) + 118:g}", bottom=bottom))
    gaps = [value for finding in told for value in dict(finding.facts).values() if isinstance(value, Length)]
    assert [length.mm for length in gaps] == ([] if gap is None else [Fraction(gap)])


CORNER = """
size: 80 x 80 mm
lines:
  - cut from 0 across 40 down to 40 across 40 down
  - mountain {one} degrees from 40 across 0 down to 40 across 40 down
  - mountain {other} degrees from 40 across 40 down to 40 across 80 down
  - mountain {last} degrees from 40 across 40 down to 80 across 40 down
"""


@given(one=st.integers(1, 179), other=st.integers(1, 179), last=st.integers(1, 179))
def test_nothing_is_ever_told_to_be_nothing_apart(one: int, other: int, last: int) -> None:
    for finding in found(CORNER.format(one=one, other=other, last=last)):
        lengths = [value for value in dict(finding.facts).values() if isinstance(value, Length)]
        assert all(length.mm >= Fraction(3, 10) for length in lengths), finding


@pytest.mark.parametrize(("right", "told"), [("100.2", []), ("100.3", []), ("100.4", ["line-off-the-piece"])])
def test_a_line_drawn_a_hair_beyond_the_edge_ends_on_it(right: str, told: list[str]) -> None:
    facts = T_SHAPE.format(top="50", start="0", end="60", left="50", right=right)
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    recipe = recipe_of(f"  box:\n    from: card\n{lines}\n")
    assert [one.code for one in lay_flat(recipe).findings] == told
    if not told:
        assert len(net_of_piece(facts).panels) == 3
