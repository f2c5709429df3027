"""Bands that go round things: how long they must be, checked by the perimeter of what they go round."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, dist, pi

import pytest

from foldwright.finding import Finding
from foldwright.geometry.lengths import Clearance
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe
from geometry.laid import the_blank

HEAD = """\
---
title: Bands
makes: 1 band
measured in: {unit}
supplies:
  card: cardstock, thickness 1 mm
  paper: paper, thickness 0.1 mm
  soap: soap, size 80 x 55 x 22 mm, use 1
  box of tea: tea, use 1, size 60 x 40 x 110 mm
  candle: candle, size 40 mm, use 1
  pencils: pencil, size 8 mm, use {pencils}
  thing: charm, use 1
  pass: plastic card, size 85 x 54 x 1 mm
pieces:
  pillow:
    from: card
    fold: pillow box
    finished: 90 x 120 x 30 mm
  wallet:
    from: card
    size: 200 x 80 mm
    across: 100 | 100
    fold: card
  drum:
    from: card
    fold: hexagonal box
    finished: 40 x 10 mm
  tray:
    from: card
    size: 100 x 130 mm
    across: 20 | 60 | 20
    down: 20 | 90 | 20
    corners: cut away
    fold: tray
  band:
    from: paper
{band}
---

## Wrap
do: {do}

Words.
"""


def recipe(band: str, unit: str = "millimetres", do: str = "cut band", pencils: int = 1) -> Recipe:
    lines = "".join(f"    {line}\n" for line in band.split("; "))
    read = read_recipe(HEAD.format(unit=unit, band=lines, do=do, pencils=pencils), "r", "s").recipe
    assert read is not None
    return read


def lay(band: str, unit: str = "millimetres", do: str = "cut band") -> Flat:
    return lay_flat(recipe(band, unit, do))


def the_one(flat: Flat) -> Finding:
    (finding,) = flat.findings
    return finding


@pytest.mark.parametrize(
    ("round_", "girth"),
    [
        # Two panels of 90 mm, bent outwards by the card at the two folds.
        ("pillow", 2 * 90 + 4),
        # Two leaves of 1 mm on each other.
        ("wallet", 2 * (100 + 2)),
        ("wallet, the short way", 2 * (80 + 2)),
        ("wallet, from top to bottom", 2 * (80 + 2)),
        # Half a millimetre of card outside of every score of the floor, and of the wall below it.
        ("tray", 2 * (61 + Fraction(41, 2))),
        ("tray, round the walls", 2 * (61 + 91)),
        ("soap", 2 * (80 + 22)),
        ("soap, the long way", 2 * (80 + 22)),
        ("soap, the short way", 2 * (55 + 22)),
        # Higher than it is wide and deep: round its sides, unless another way is said.
        ("box of tea", 2 * (60 + 40)),
        ("box of tea, from left to right", 2 * (60 + 110)),
        ("candle", 40 * pi),
    ],
)
def test_how_long_a_band_is_that_nobody_measured(round_: str, girth: float) -> None:
    """Round it, four times the paper's own thickness at the corners, 12 mm to overlap, up to a whole millimetre."""
    flat = lay(f"size: rest x 30; goes round: {round_}")
    band = the_blank(flat, "band")
    assert band.width == ceil(girth + Fraction(4, 10) + 12)
    assert band.height == 30
    assert flat.findings == ()
    (wrap,) = flat.wraps
    assert Clearance(wrap.length, wrap.girth) in flat.lengths.relations
    assert float(flat.lengths.by_id[wrap.girth].mm) == pytest.approx(float(girth) + 0.4, abs=0.001)


def test_a_band_in_inches_is_taken_up_to_sixteenths() -> None:
    """2 (80 + 22) + 0.4 + 12.7 = 217.1 mm is 8.547 in: 8 9/16."""
    assert the_blank(lay("size: 1; goes round: soap", "inches"), "band").width == Fraction(137, 16) * Fraction(254, 10)


def test_a_band_with_a_flap_of_its_own() -> None:
    flat = lay("across: rest | 14 glue flap; down: 20; goes round: soap")
    band = the_blank(flat, "band")
    assert band.width == ceil(204 + Fraction(4, 10) + 14)
    assert [strip.end - strip.start for strip in band.across] == [band.width - 14, 14]
    assert flat.wraps[0].lap


def test_a_band_that_is_too_short() -> None:
    finding = the_one(lay("size: 150 x 30; goes round: pillow"))
    assert finding.code == "band-too-short"
    facts = dict(finding.facts)
    assert facts["short"].mm == Fraction(184 + Fraction(4, 10)) - 150  # type: ignore[attr-defined]
    assert facts["least"].mm == 197  # type: ignore[attr-defined]


def test_a_band_that_a_step_wraps_round_is_one_too() -> None:
    assert the_one(lay("size: 150 x 30; goes on: outside of pillow", do="wrap band")).code == "band-too-short"
    assert lay("size: 222 x 30; goes on: outside of pillow", do="wrap band").findings == ()
    assert [one.code for one in lay("size: 222 x 30; goes on: outside of pillow").findings] == ["layer-overhangs"]


def test_a_sleeve_over_what_is_flat_goes_round_it() -> None:
    rows = "size: {} x 30; across: {} | 2 | {} | 2 | 14 glue flap; fold: sleeve; fits over: wallet"
    assert lay(rows.format(222, 102, 102)).findings == ()
    finding = the_one(lay(rows.format(216, 99, 99)))
    assert finding.code == "band-too-short"
    assert dict(finding.facts)["short"].mm == Fraction(24, 10)  # type: ignore[attr-defined]


def test_ends_that_hardly_overlap_are_a_thought_and_a_thing_without_a_size_too() -> None:
    assert the_one(lay("size: 206 x 30; goes round: soap, across")).code == "band-hardly-overlaps"
    assert the_one(lay("size: 206 x 30; goes round: thing")).code == "round-what"
    assert the_one(lay("size: rest x 30; goes round: thing")).code == "round-what-size"


def test_two_bands_round_each_other_are_a_circle() -> None:
    text = HEAD.format(unit="mm", pencils=1, band="    size: rest x 30\n    goes round: belt\n", do="cut band").replace(
        "pieces:\n", "pieces:\n  belt:\n    from: paper\n    size: rest x 20\n    goes round: band\n"
    )
    read = read_recipe(text, "r", "s").recipe
    assert read is not None
    assert [one.code for one in lay_flat(read).findings] == ["measured-in-a-circle"]


@pytest.mark.parametrize(
    ("band", "row"),
    [
        # The soap is 80 x 55 x 22 mm and the paper 0.1 mm thick: half a millimetre up from 80.1, 22.1 and so on.
        ("size: rest x 30 mm; fold: band; goes round: soap", [80.5, 22.5, 80.5, 22.5, 12]),
        ("size: 30 mm; fold: belly band; goes round: soap, from top to bottom", [55.5, 22.5, 55.5, 22.5, 12]),
        ("size: 30 mm; fold: wrapper; goes round: soap, round the sides", [80.5, 55.5, 80.5, 55.5, 12]),
        # The tray of 1 mm card is 61 x 91 mm outside and 20.5 mm high.
        ("size: 30 mm; fold: sleeve; goes round: tray", [61.5, 21, 61.5, 21, 12]),
        # A hexagon 40 mm from flat to flat and 2 mm of card: six sides of 42 over root 3 (24.249), and a share of the
        # band's own 0.4 mm.
        ("size: 8 mm; fold: band; goes round: drum", [24.5] * 6 + [12]),
        # As thick as a card: nobody scores that.
        ("size: 30 mm; fold: band; goes round: pass", [ceil(2 * (85 + 1) + 0.4 + 12)]),
        # Nothing with corners: one strip.
        ("size: 30 mm; fold: sleeve; goes round: candle", [ceil(40 * pi + 0.4 + 12)]),
    ],
)
def test_a_band_round_a_box_is_scored_at_its_corners(band: str, row: list[float]) -> None:
    flat = lay(band)
    blank = the_blank(flat, "band")
    assert [float(strip.long) for strip in blank.across] == row
    (wrap,) = flat.wraps
    assert flat.lengths.by_id[wrap.length].mm >= flat.lengths.by_id[wrap.girth].mm
    assert flat.findings == ()
    if len(row) > 1:
        assert len(row) > 5 or [strip.name for strip in blank.across] == ["front", "side", "back", "side", "glue flap"]
        assert flat.findings == ()


def _hull_round(centres: list[tuple[float, float]]) -> float:
    """How long a thread is round circles 1 across: the perimeter of the hull of their middles, by walking it
    (gift wrapping, a textbook method), and once round one of them."""
    start = here = min(centres)
    long = 0.0
    while True:
        following = centres[0] if centres[0] != here else centres[1]
        for one in centres:
            turn = (following[0] - here[0]) * (one[1] - here[1]) - (following[1] - here[1]) * (one[0] - here[0])
            if turn < -1e-9 or (abs(turn) <= 1e-9 and dist(here, one) > dist(here, following)):
                following = one
        long += dist(here, following)
        here = following
        if here == start:
            return long + pi


@pytest.mark.parametrize("count", range(1, 8))
def test_a_band_round_a_bundle_runs_round_the_outer_ones(count: int) -> None:
    """Round things as close as they lie: rows that are shifted by half, as few across as can be."""
    high = 3**0.5 / 2
    places = {
        1: [(0.0, 0.0)],
        2: [(0.0, 0.0), (1.0, 0.0)],
        3: [(0.0, 0.0), (1.0, 0.0), (0.5, high)],
        4: [(0.0, 0.0), (1.0, 0.0), (0.5, high), (1.5, high)],
        5: [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (0.5, high), (1.5, high)],
        6: [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (0.5, high), (1.5, high), (1.0, 2 * high)],
        7: [(0.5, -high), (1.5, -high), (0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (0.5, high), (1.5, high)],
    }
    long = 8 * (_hull_round(places[count]) if count > 1 else pi)
    band = the_blank(lay_flat(recipe("size: rest x 30 mm; goes round: pencils", pencils=count)), "band")
    assert band.width == ceil(long + 0.4 + 12)


def test_each_band_has_its_share_of_the_things() -> None:
    """Six pencils and three bands: two pencils each, whose band is pi + 2 times as long as one is wide."""
    band = the_blank(lay_flat(recipe("size: rest x 30 mm; count: 3; goes round: pencils", pencils=6)), "band")
    assert band.width == ceil(8 * (pi + 2) + 0.4 + 12)


def test_nobody_knows_how_a_large_bundle_lies() -> None:
    flat = lay_flat(recipe("size: rest x 30 mm; goes round: pencils", pencils=8))
    assert {one.code for one in flat.findings} == {"round-what-size"}
