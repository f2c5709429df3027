"""What does not work once a piece is folded, each told of the panels and the place it concerns."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.finding import Finding, Strength
from foldwright.geometry.folding.folded import fold
from foldwright.geometry.folding.meeting import collisions
from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.pieces import lay_flat
from foldwright.measure.length import Length
from foldwright.pipeline import check_recipe
from geometry.folding.shapes import net_of_piece
from geometry.laid import STUDIO, recipe_of
from workbench.compiled import DEMOS, RECIPES


def found(facts: str, supply: str = "card", studio: str = "") -> dict[str, Finding]:
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    recipe = recipe_of(f"  box:\n    from: {supply}\n{lines}\n", studio)
    return {finding.code: finding for finding in fold_pieces(recipe, lay_flat(recipe)).findings}


def mm(finding: Finding, fact: str) -> Fraction:
    length = dict(finding.facts)[fact]
    assert isinstance(length, Length)
    return length.mm


SLEEVE = """
size: {size} x 90 mm
across: {row}
fold: sleeve
"""
FAULTY = {
    "sleeve-does-not-close": SLEEVE.format(size=178, row="62 top | 22 side | 60 bottom | 22 side | 12 glue flap"),
    "glue-flap-too-wide": SLEEVE.format(size=106, row="20 top | 22 side | 20 bottom | 22 side | 22 glue flap"),
    "glue-flap-misplaced": SLEEVE.format(size=180, row="62 top | 22 side | 12 glue flap | 62 bottom | 22 side"),
    "form-wants-panels": "size: 90 x 60 mm\nacross: 30 | 30 | 30\nfold: card",
    "form-wants-more-panels": SLEEVE.format(size=60, row="30 top | 30 side"),
    "box-wants-rows": "size: 90 x 60 mm\nacross: 30 | 30 | 30\nfold: tray",
    "gate-leaves-overlap": "size: 102 x 60 mm\nacross: 26 left | 50 middle | 26 right\nfold: gate",
    "angles-and-scores": "size: 90 x 60 mm\nacross: 30 | 30 | 30\nfold: 90",
    "corner-flaps-overlap": (
        "size: 100 x 70 mm\nacross: 20 left | 60 floor | 20 right\ndown: 20 back | 30 floor | 20 front\n"
        "flaps: joined to back and front\nfold: tray"
    ),
}


@pytest.mark.parametrize("code", FAULTY)
def test_what_does_not_work_is_found_and_says_where(code: str) -> None:
    findings = found(FAULTY[code])
    assert set(findings) == {code}
    assert findings[code].place is not None


def test_gaps_and_overlaps_are_exact() -> None:
    assert mm(found(FAULTY["sleeve-does-not-close"])["sleeve-does-not-close"], "gap") == 2
    assert mm(found(FAULTY["glue-flap-too-wide"])["glue-flap-too-wide"], "over") == 2
    assert mm(found(FAULTY["gate-leaves-overlap"])["gate-leaves-overlap"], "over") == 2
    flaps = found(FAULTY["corner-flaps-overlap"])["corner-flaps-overlap"]
    assert (mm(flaps, "over"), mm(flaps, "trim")) == (10, 5)
    # Trimmed as it says, the flaps only meet.
    assert found(FAULTY["corner-flaps-overlap"].replace("and front", "and front, trimmed 5 mm")) == {}


WELL = (
    SLEEVE.format(size=180, row="62 top | 22 side | 62 bottom | 22 side | 12 glue flap"),
    "size: 100 x 60 mm\nacross: 25 left | 50 middle | 25 right\nfold: gate",
    "size: 100 x 60 mm\nacross: 50 | 50\nfold: card",
    # A front a little short, leaves that leave a gap, one that is narrower to go in: all on purpose.
    "size: 99 x 60 mm\nacross: 50 | 49\nfold: card",
    "size: 99 x 60 mm\nacross: 24.5 | 50 | 24.5\nfold: gate",
    "size: 298 x 150 mm\nacross: 98 | 100 | 100\nfold: tri-fold",
    "size: 400 x 100 mm\nacross: 100 | 99 | 101 | 100\nfold: accordion",
    "size: 60 x 100 mm\ndown: 50 | 50\nfold: card",
    "size: 120 x 60 mm\nacross: 4 of 30\nfold: accordion",
    "size: 100 x 100 mm\nacross: 20 | 60 | 20\ndown: 30 | 40 | 30\ncorners: cut away\nfold: tray",
    "size: 100 x 60 mm",
)


@pytest.mark.parametrize("facts", WELL)
def test_nothing_is_found_where_all_is_well(facts: str) -> None:
    assert found(facts) == {}


@pytest.mark.parametrize("name", DEMOS)
def test_our_own_recipes_fold(name: str) -> None:
    checked = check_recipe((RECIPES / name / "recipe.md").read_text(encoding="utf-8"), "recipe.md", name)
    assert checked.understood is not None
    assert not [one for one in checked.understood.folding.findings if one.strength > Strength.THOUGHT]


def test_a_flap_over_a_window_is_told_at_the_window() -> None:
    facts = SLEEVE.format(size=180, row="62 top | 22 side | 62 bottom | 22 side | 12 glue flap")
    findings = found(facts + "holes: window 20 x 20 mm, edge 5 mm from the left, edge 30 mm from the top")
    assert set(findings) == {"glue-flap-over-opening"}
    assert mm(findings["glue-flap-over-opening"], "clear") == 12
    assert found(facts + "holes: window 20 x 20 mm, edge 15 mm from the left, edge 30 mm from the top") == {}


def test_a_fold_that_stops_in_mid_panel_is_told_unless_a_cut_meets_it() -> None:
    facts = "size: 100 x 60 mm\nfold: 90\nlines:\n  - valley from 0 across 30 down to 60 across 30 down"
    assert set(found(facts)) == {"fold-stops-midway"}
    cut = "\n  - cut from 60 across 0 down to 60 across 60 down"
    assert "fold-stops-midway" not in found(facts + cut)


def test_panels_that_run_through_each_other_are_told() -> None:
    """Two walls bent in over a floor by 120 degrees, each longer than half of it, cross above it."""
    facts = "size: 150 x 60 mm\nacross: 50 left | 50 floor | 50 right\nfold: {angle}, {angle}"
    assert set(found(facts.format(angle=130))) == {"panels-collide"}
    assert found(facts.format(angle=90)) == {}
    assert list(collisions(fold(net_of_piece(facts.format(angle=130))))) == [(0, 2)]


def test_edges_that_nearly_meet_are_told_with_the_gap() -> None:
    """Three walls of 50 mm at 119 degrees instead of 120 stay open by a hair; at 120 they are a prism."""
    facts = "size: 150 x 60 mm\nacross: 50 | 50 | 50\nfold: {angle}, {angle}"
    # The corners of an equilateral triangle by the law of cosines: the opening of two sides at 61 degrees.
    findings = found(facts.format(angle="119"))
    assert set(findings) == {"edges-nearly-meet"}
    assert 1 < float(mm(findings["edges-nearly-meet"], "gap")) < 2
    assert found(facts.format(angle=120)) == {}


def test_scores_nearer_than_the_card_is_thick() -> None:
    facts = "size: 60 x 60 mm\nacross: 30 | 0.4 spine | 29.6\nfold: 90, 90"
    thick = found(facts, "thick card")
    assert thick["scores-nearer-than-card"].strength is Strength.MISFIT
    # 100 lb cover is about 270 g/m2 and so, at 1.3 cm3/g, some 0.35 mm: estimated, so never more than a thought.
    guessed = found(facts.replace("0.4", "0.3").replace("29.6", "29.7"), "card")
    assert guessed["scores-nearer-than-card"].strength is Strength.THOUGHT
    assert "scores-nearer-than-card" not in found(facts, "unknown card", STUDIO)


def test_heavy_card_folded_across_its_grain_is_a_thought() -> None:
    facts = "size: 100 x 60 mm\nacross: 50 | 50\nfold: card\ngrain: {grain}"
    assert found(facts.format(grain="across the fold"))["score-across-the-grain"].strength is Strength.THOUGHT
    assert found(facts.format(grain="along the fold")) == {}
