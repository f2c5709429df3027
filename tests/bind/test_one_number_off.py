"""A size in the words that is a piece's but for one number is told, whichever of the step's pieces it is."""

from __future__ import annotations

import pytest

from foldwright.finding import Finding, Strength
from foldwright.pipeline import check_recipe

RECIPE = """---
title: T
measured in: millimetres
supplies:
  gold card: cardstock, sheet A4
  moth paper: patterned paper, sheet A4
tools:
  - craft knife
  - hole punch
  - glue stick
pieces:
  outer mat:
    from: gold card
    size: 94 x 74 mm
    holes: {hole}
  inner mat:
    from: moth paper
    size: 90 x 70 mm
  label:
    from: gold card
    size: 60 x 18 mm
---

## Mats

do: cut outer mat, inner mat and label
time: 3 min

{words}
"""


def told(words: str, hole: str = "round 22 mm, centred") -> list[Finding]:
    found = check_recipe(RECIPE.format(words=words, hole=hole), "r.md", "r").findings
    return [one for one in found if one.code.startswith("words-")]


def said(finding: Finding) -> tuple[str, str, int, int]:
    facts = dict(finding.facts)
    return finding.code, str(facts["piece"]), int(facts["said"].mm), int(facts["length"].mm)  # type: ignore[attr-defined]


MATS = "Cut the gold mat {} mm and the moth mat 90 x 70 mm, with a 2 mm gold border."


@pytest.mark.parametrize(
    ("size", "slips"),
    [
        ("94 x 74", []),
        ("74 x 94", []),
        ("94 x 70", [("words-size-differs", "outer mat", 70, 74)]),
        ("70 x 94", [("words-size-differs", "outer mat", 70, 74)]),
        ("92 x 74", [("words-size-differs", "outer mat", 92, 94)]),
        # Farther off than a slip is, it is another thing.
        ("94 x 60", []),
    ],
)
def test_the_piece_that_is_right_but_for_one_number_is_meant(size: str, slips: list[tuple[str, str, int, int]]) -> None:
    findings = told(MATS.format(size))
    assert [said(one) for one in findings] == slips
    assert all(one.strength is Strength.MISFIT for one in findings)


@pytest.mark.parametrize(
    ("words", "hole", "slips"),
    [
        ("Punch a 22 mm circle in the outer mat.", "round 22 mm, centred", []),
        (
            "Punch a 20 mm circle in the outer mat.",
            "round 22 mm, centred",
            [("words-hole-differs", "outer mat", 20, 22)],
        ),
        ("Cut a window 40 x 30 mm in the outer mat.", "window 40 x 30 mm, centred", []),
        (
            "Cut a window 40 x 28 mm in the outer mat.",
            "window 40 x 30 mm, centred",
            [("words-hole-differs", "outer mat", 28, 30)],
        ),
        ("Punch the hole 20 mm below the edge of the outer mat.", "round 22 mm, centred", []),
        ("Punch a hole of about 20 mm in the outer mat.", "round 22 mm, centred", []),
    ],
)
def test_a_hole_of_another_size_is_told(words: str, hole: str, slips: list[tuple[str, str, int, int]]) -> None:
    assert [said(one) for one in told(words, hole)] == slips
