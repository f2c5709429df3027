"""Sliders on a puck, and strips through slits: what slides, how far, and what does not."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.geometry.understood import fit_of
from foldwright.recipe.reading import read_recipe
from geometry.laid import the_blank

HEAD = """\
---
title: A slider
makes: 1 card
measured in: millimetres
supplies:
  card: cardstock, thickness {card}, sheet A4
  foam: foam square, use 6, {foam}
  penny: coin, use 2, size {coin}
pieces:
  track:
    from: card
    size: 100 x 130 mm
    holes: {holes}
  slider:
    from: card
    size: {size}
    {how}
---

Words.
"""
SOUND = {
    "card": "0.4 mm",
    "foam": "size 12 x 4 x 2 mm",
    "coin": "19 x 19 x 1.6 mm",
    "holes": "track 75 x 5 mm, centred",
    "size": "25 x 25 mm",
    "how": "slides in: track",
}


def lay(**changed: str) -> Flat:
    recipe = read_recipe(HEAD.format(**{**SOUND, **changed}), "recipe.md", "test", None).recipe
    assert recipe is not None
    return lay_flat(recipe)


@pytest.mark.parametrize("how", ["slides in: track", "goes on: outside of track, centred"])
@pytest.mark.parametrize("holes", ["track 75 x 5 mm, centred", "slot 5 x 75 mm, centred"])
def test_a_slider_travels_as_far_as_the_slot_leaves_the_foam(how: str, holes: str) -> None:
    """75 mm of slot less 12 mm of foam: 63 mm. It covers a part of the slot, as sliders do."""
    flat = lay(how=how, holes=holes)
    assert flat.findings == ()
    told = [fact for fact in fit_of(the_blank(flat, "slider"), flat) if fact.code == "slides-along"]
    assert [flat.lengths.by_id[name].mm for fact in told for name in fact.lengths] == [63]
    assert flat.gaps == ()


@pytest.mark.parametrize(
    ("changed", "codes"),
    [
        ({"foam": "size 12 x 6 x 2 mm"}, {"foam-wider-than-slot"}),
        ({"foam": "size 12 x 5 x 2 mm"}, {"foam-wider-than-slot"}),
        ({"foam": "size 12 x 4.5 x 2 mm"}, set()),
        ({"foam": "size 12 x 4 x 0.4 mm"}, {"foam-thinner-than-card"}),
        ({"foam": "thickness 0.3 mm"}, {"foam-thinner-than-card"}),
        ({"coin": "5 x 5 x 1 mm"}, {"coin-falls-through"}),
        ({"coin": "5.5 mm"}, set()),
        # As long as the slot: it does not slide, and is a cover.
        ({"size": "75 x 25 mm", "how": "goes on: outside of track, centred"}, {"layer-over-opening"}),
        ({"holes": "window 75 x 5 mm, centred", "how": "goes on: outside of track, centred"}, {"layer-over-opening"}),
        ({"holes": "round 20 mm, centred", "how": "goes on: outside of track, centred"}, {"layer-over-opening"}),
    ],
)
def test_what_keeps_a_slider_from_sliding_is_told(changed: dict[str, str], codes: set[str]) -> None:
    assert {one.code for one in lay(**changed).findings} == codes


@pytest.mark.parametrize(("wide", "codes"), [(20, set()), (21, set()), (22, {"strip-wider-than-slit"})])
def test_a_strip_goes_through_slits_longer_than_it_is_wide(wide: int, codes: set[str]) -> None:
    holes = "slot 22 x 1 mm, middle 50 mm from the left, middle 40 mm from the top; "
    holes += "slot 22 x 1 mm, middle 50 mm from the left, middle 90 mm from the top"
    flat = lay(holes=holes, size=f"{wide} x 200 mm")
    assert {one.code for one in flat.findings} == codes
    if not codes:
        (clear,) = (
            one for one in flat.lengths.relations if getattr(one, "inner", None) == LengthId("slider", "across", "size")
        )
        assert flat.lengths.by_id[clear.outer].mm - flat.lengths.by_id[clear.inner].mm == Fraction(22 - wide)
