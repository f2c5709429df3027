"""Another size of a recipe: what joins and borders stays, what cannot be scaled is named, and its check is passed."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from begin.design.wishes import things
from foldwright.begin.draft.blanks import STEPS
from foldwright.begin.resize.fitting import holder_of, ways_fitted
from foldwright.begin.resize.model import Resized
from foldwright.begin.resize.scaling import scaled
from foldwright.begin.resize.sizing import size_entry, with_size
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank
from foldwright.outputs.reading import read_studio_file
from foldwright.pipeline import Understood, check_in_size, check_recipe
from foldwright.recipe.model import Recipe

RECIPES = Path(__file__).parents[3] / "recipes"
SCALES = [Fraction(3, 4), Fraction(5, 4), Fraction(2)]


def text_of(name: str) -> str:
    return (RECIPES / name / "recipe.md").read_text(encoding="utf-8")


def understood(text: str, name: str) -> Understood:
    studio = read_studio_file(RECIPES / "studio.yaml")
    checked = check_recipe(text, name, name, studio, read=lambda path, most: (RECIPES / name / path).read_bytes())
    assert checked.understood is not None
    return checked.understood


def in_new_size(name: str, resized: Resized, written: Understood) -> Understood:
    text = with_size(text_of(name), size_entry("new", written.recipe, resized))
    again = understood(text, name)
    studio = read_studio_file(RECIPES / "studio.yaml")
    checked = check_in_size(
        text, name, name, "new", again, studio, lambda path, most: (RECIPES / name / path).read_bytes()
    )
    assert checked.understood is not None
    return checked.understood


def step_of(recipe: Recipe) -> Fraction:
    return STEPS[recipe.system].mm


def glue_flap(blank: Blank) -> list[Fraction]:
    return [strip.end - strip.start for strip in (*blank.across, *blank.down) if strip.role == GLUE_FLAP]


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("name", ["birdhouse", "concertina", "drawer-box", "keepsake-box", "layered-card", "twine-tag"])
def test_joints_clearances_and_borders_stay_and_all_else_is_scaled(name, scale):
    written = understood(text_of(name), name)
    resized = scaled(written.recipe, written.flat, scale, STEPS[written.recipe.system])
    larger = in_new_size(name, resized, written)
    envelopes = {supply.name.value for supply in written.recipe.supplies}
    for old, new in zip(written.flat.gaps, larger.flat.gaps, strict=True):
        if old.outer.piece not in envelopes:
            assert new.between_scores == old.between_scores
    for name_of, border in written.flat.lengths.by_id.items():
        if name_of.side.startswith("border on"):
            assert larger.flat.lengths.by_id[name_of] == border
    for blank in written.flat.blanks:
        grown = larger.flat.blank(blank.piece)
        assert grown is not None
        assert glue_flap(grown) == glue_flap(blank)
        assert grown.flap_trimmed == blank.flap_trimmed
    first = written.flat.blanks[0], larger.flat.blanks[0]
    assert abs(first[1].width - first[0].width * scale) <= step_of(written.recipe) * len(first[0].across)


def test_a_whole_project_half_as_large_again_passes_every_check():
    written = understood(text_of("drawer-box"), "drawer-box")
    text = with_size(
        text_of("drawer-box"),
        size_entry(
            "new", written.recipe, scaled(written.recipe, written.flat, Fraction(3, 2), STEPS[written.recipe.system])
        ),
    )
    again = understood(text, "drawer-box")
    studio = read_studio_file(RECIPES / "studio.yaml")
    assert check_in_size(text, "drawer-box", "drawer-box", "new", again, studio).findings == ()


def test_what_is_bought_ready_made_is_named():
    written = understood(text_of("layered-card"), "layered-card")
    codes = [
        note.code for note in scaled(written.recipe, written.flat, Fraction(11, 10), STEPS[written.recipe.system]).notes
    ]
    assert "other-envelope" in codes
    assert "stamp-has-one-size" in codes
    bird = understood(text_of("birdhouse"), "birdhouse")
    notes = scaled(bird.recipe, bird.flat, Fraction(3, 2), STEPS[bird.recipe.system]).notes
    assert {note.code for note in notes} == {"punch-has-one-size", "held-as-it-is", "alone", "used-in-proportion"}


@pytest.mark.parametrize("count", [1, 2, 4, 6])
def test_a_box_for_other_contents_holds_them(count):
    written = understood(text_of("birdhouse"), "birdhouse")
    found = holder_of(written.recipe, written.flat)
    assert found is not None
    blank, held = found
    assert (blank.piece, held) == ("base", "caramel")
    wanted = things(count, "9/8", "3/4", "1/2")
    ways = ways_fitted(written.recipe, written.flat, blank, held, wanted, STEPS[written.recipe.system], Fraction(1))
    resized = next(ways)
    other = in_new_size("birdhouse", resized, written)
    (lying,) = other.flat.held
    assert lying.things == (("caramel", count),)
