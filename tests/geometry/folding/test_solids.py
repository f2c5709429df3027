"""Solids that do not close as they were meant to: one slip of a net that closes, told once, at its line.

The net is the cross of a cube of 40 mm with tabs, every edge of which meets another (a cube has twelve edges, five of
them folds of the cross).
"""

from __future__ import annotations

import pytest

from foldwright.finding import Finding, Strength
from foldwright.geometry.folding.folded import fold
from foldwright.geometry.folding.meeting import meeting_edges
from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.outlines.svg import Outline
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.recipe.model import Recipe
from geometry.laid import recipe_of

BETWEEN = "mountain 90 degrees from {} across {} down to {} across {} down"


def folds(right: int | str = 130) -> list[str]:
    """The five folds of the cross, then those of its tabs."""
    ends = (
        (50, 50, 90, 50), (50, 90, 90, 90), (50, 130, 90, 130), (50, 50, 50, 90), (90, 50, 90, 90),
        (50, 10, 90, 10), (10, 50, 50, 50), (10, 90, 50, 90), (10, 50, 10, 90),
        (90, 50, right, 50), (90, 90, right, 90), (right, 50, right, 90),
    )  # fmt: skip
    return [BETWEEN.format(*four) for four in ends]


def cross(right: float = 130) -> Outline:
    """Good side up; tabs of 10 mm, cut narrower at their ends."""
    points = (
        (52, 0), (88, 0), (90, 10), (90, 50), (94, 40), (right - 4, 40), (right, 50), (right + 10, 54),
        (right + 10, 86), (right, 90), (right - 4, 100), (94, 100), (90, 90), (90, 130), (90, 170), (50, 170),
        (50, 130), (50, 90), (46, 100), (14, 100), (10, 90), (0, 86), (0, 54), (10, 50), (14, 40), (46, 40),
        (50, 50), (50, 10),
    )  # fmt: skip
    return Outline(right + 10, 170, points)


def cube(lines: list[str], right: float = 130) -> tuple[Recipe, Flat]:
    read = recipe(
        f"size: {right + 10:g} x 170 mm\noutline: cross.svg\nlines:\n" + "\n".join(f"  - {one}" for one in lines)
    )
    return read, lay_flat(read, {"box": cross(right)})


def recipe(facts: str) -> Recipe:
    lines = "\n".join("    " + line for line in facts.strip().splitlines())
    return recipe_of(f"  box:\n    from: card\n{lines}\n")


def wrong(read: Recipe, flat: Flat) -> list[Finding]:
    return [one for one in fold_pieces(read, flat).findings if one.strength is not Strength.THOUGHT]


def found(facts: str) -> list[Finding]:
    read = recipe(facts)
    return wrong(read, lay_flat(read))


def test_a_cube_closes() -> None:
    read, flat = cube(folds())
    assert wrong(read, flat) == []
    assert meeting_edges(fold(fold_pieces(read, flat).nets["box"])) == 12 - 5


@pytest.mark.parametrize("turned", [3, 4])
def test_a_fold_that_goes_the_other_way_is_told_at_its_line(turned: int) -> None:
    read, flat = cube([line.replace("mountain", "valley") if at == turned else line for at, line in enumerate(folds())])
    findings = wrong(read, flat)
    assert [(one.code, one.strength) for one in findings] == [("fold-the-other-way", Strength.MISFIT)]
    assert findings[0].place == read.pieces[0].lines[turned].place
    assert dict(findings[0].facts)["right"] == "mountain"


@pytest.mark.parametrize(("right", "gap"), [(130.2, None), (127, 3), (133, 3)])
def test_a_side_of_another_length_is_told_once(right: float, gap: int | None) -> None:
    """40 mm less 37 mm are 3 mm, and so are 43 less 40."""
    findings = wrong(*cube(folds(f"{right:g}"), right))
    assert [one.code for one in findings] == ([] if gap is None else ["edges-nearly-meet"])
    for one in findings:
        assert float(dict(one.facts)["gap"].mm) == pytest.approx(gap)  # type: ignore[attr-defined]


def test_a_box_without_a_lid_stays_open_without_a_word() -> None:
    facts = "size: 120 x 120 mm\nacross: 40 | 40 | 40\ndown: 40 | 40 | 40\ncorners: cut away\nfold: {}"
    assert found(facts.format("-90, -90, -90, -90")) == []


# --- flaps over openings --------------------------------------------------------------------------------------------

TRAY = """
size: 184 x 164 mm
across: 30 left | 124 floor | 30 right
down: 30 back | 104 floor | 30 front
flaps: joined to front and back, trimmed 1 mm
holes: {hole}
fold: tray
"""


@pytest.mark.parametrize(
    ("hole", "over"),
    [
        # The wall is 104 mm long, and flaps of 29 mm lie along it from both ends: 46 mm in the middle stay free.
        ("window 15 x 60 mm, centred on left", 7),
        ("window 15 x 46 mm, centred on left", None),
        ("window 60 x 15 mm, centred on front", None),
        ("window 60 x 60 mm, centred on floor", None),
    ],
)
def test_corner_flaps_that_lie_behind_a_window(hole: str, over: int | None) -> None:
    """104 - 60 leave 22 mm at either end, 7 less than 29."""
    findings = found(TRAY.format(hole=hole))
    assert [one.code for one in findings] == ([] if over is None else ["flap-over-opening"])
    for one in findings:
        assert float(dict(one.facts)["over"].mm) == pytest.approx(over)  # type: ignore[attr-defined]
        assert one.place == recipe(TRAY.format(hole=hole)).pieces[0].holes[0].place


# --- envelopes ------------------------------------------------------------------------------------------------------

ENVELOPE = """
size: 190 x {whole} mm
across: 20 left flap | 150 body | 20 right flap
down: {top} top flap | 110 body | {bottom} bottom flap
corners: cut away
fold: envelope
"""


@pytest.mark.parametrize(("top", "bottom", "gap"), [(65, 55, None), (55, 55, None), (25, 45, 40)])
def test_the_flaps_of_an_envelope_reach_each_other(top: int, bottom: int, gap: int | None) -> None:
    findings = found(ENVELOPE.format(whole=top + 110 + bottom, top=top, bottom=bottom))
    assert [one.code for one in findings] == ([] if gap is None else ["envelope-stays-open"])
    assert all(dict(one.facts)["gap"].mm == gap for one in findings)  # type: ignore[attr-defined]


# --- pop-ups --------------------------------------------------------------------------------------------------------

POP_UP = """
size: 148 x 200 mm
lines:
  - cut from 88 across {top} down to 88 across {bottom} down
  - cut from 118 across {top} down to 118 across {bottom} down
  - valley 90 degrees from 0 across 100 down to 88 across 100 down
  - valley 90 degrees from 118 across 100 down to 148 across 100 down
  - valley 90 degrees from 88 across {top} down to 118 across {top} down
  - mountain 90 degrees from 88 across {middle} down to 118 across {middle} down
  - valley 90 degrees from 88 across {bottom} down to 118 across {bottom} down
"""


@pytest.mark.parametrize(
    ("deep", "high", "over"),
    [(30, 30, None), (50, 50, None), (65, 65, 30), (30, 80, 10)],
)
def test_a_pop_up_stays_within_its_card_when_it_is_shut(deep: int, high: int, over: int | None) -> None:
    """Shut, the box lies with its depth and its height one behind the other from the fold: 65 + 65 of 100 mm."""
    facts = POP_UP.format(top=100 - high, bottom=100 + deep, middle=100 - high + deep)
    findings = found(facts)
    assert [one.code for one in findings] == ([] if over is None else ["pop-up-stands-out"])
    assert all(float(dict(one.facts)["over"].mm) == pytest.approx(over) for one in findings)  # type: ignore[attr-defined]
