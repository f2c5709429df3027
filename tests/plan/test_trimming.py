"""A thought for what is longer than the trimmer's bed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.geometry.pieces import lay_flat
from foldwright.measure.length import Length, Unit
from foldwright.plan.sheets import check_trimmer
from plan.recipes import recipe_of


def told(piece: str, bed: str = "trimmer: bed 12 in\n", tools: str = "", sheet: str = "14 x 20 in") -> list[object]:
    facts = "\n".join(f"    {fact.strip()}" for fact in piece.split(";"))
    recipe = recipe_of(
        f"---\ntitle: T\nmeasured in: inches\n{bed}{tools}supplies:\n  card: cardstock, sheet {sheet}\n"
        f"pieces:\n  base:\n    from: card\n{facts}\n---\n\n## Cut\n\nCut it.\n"
    )
    return [dict(finding.facts)["length"] for finding in check_trimmer(recipe, lay_flat(recipe))]


@pytest.mark.parametrize(
    ("piece", "length"),
    [("size: 14 x 2 in", 14), ("size: 2 x 12 1/2 in", "25/2"), ("size: 14 x 20 in; across: 7 | 7", 20)],
)
def test_a_cut_or_score_longer_than_the_bed_is_told(piece, length):
    assert told(piece) == [Length.of(Fraction(length), Unit.INCH)]


@pytest.mark.parametrize(
    ("piece", "more"),
    [
        ("size: 12 x 4 in", {}),
        ("size: 14 x 2 in", {"bed": ""}),
        ("size: 14 x 2 in", {"tools": "tools:\n  - scissors\n"}),
        ("size: 14 in; outline: round", {}),
        ("size: 14 x 20 in", {}),
        ("size: 20 x 14 in; across: 10 | 10", {"bed": "trimmer: bed 15 in\n"}),
    ],
    ids=("just fits", "no bed known", "no trimmer", "round", "a whole sheet", "a whole sheet scored the short way"),
)
def test_what_can_be_cut_is_no_matter(piece, more):
    assert told(piece, **more) == []
