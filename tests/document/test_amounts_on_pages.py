"""How much of each supply, as the pages of both systems say it; lists and words agree."""

from __future__ import annotations

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.document.model import Document
from foldwright.document.words import plain, plain_passage
from foldwright.measure.amounts import AMOUNT_UNITS
from foldwright.measure.length import System
from workbench.compiled import small

IMPERIAL, METRIC = System.IMPERIAL, System.METRIC


def with_supply(facts: str, words: str = "## Cut\n\ndo: cut base\n\nCut it.") -> Document:
    return small(supplies=f"  card: cardstock, sheet A4\n  {facts}", words=words)


# 60 in are 1.524 m, 500 mm 19.69 in; 30 ml 1.014 fl oz; 2 oz 56.7 g; 1.5 cm² 0.23 sq in (definitions of the units).
# What is cut off a roll is rounded up, volumes and masses to what a spoon or a scale shows.
@pytest.mark.parametrize(
    ("facts", "imperial", "metric"),
    [
        ("twine: twine, use 60 in", "60 in", "1.6 m"),
        ("ribbon: ribbon, use 500 mm", "20 in", "500 mm"),
        ("glue: wet glue, use 30 ml", "1 fl oz", "30 ml"),
        ("glue: wet glue, use 1/2 tsp", "1/2 tsp", "2.5 ml"),
        ("flock: glitter, use 2 oz", "2 oz", "57 g"),
        ("felt: felt, use 1.5 sq cm", "1/4 sq in", "1.5 cm²"),
        ("felt: felt, use 2.5 sq in", "2 1/2 sq in", "17 cm²"),
        ("water: water, use 1 1/2 cups", "1 1/2 cups", "355 ml"),
        ("water: water, use 1/2 cup", "1/2 cup", "118 ml"),
        ("felt: felt, use 1/2 sq yd", "1/2 sq yd", "0.42 m²"),
        ("bead: bead, use 4", "4", "4"),
        ("bead: bead, use 2 1/2 strings", "2 1/2 strings", "2 1/2 strings"),
    ],
)
def test_how_much_is_used(facts: str, imperial: str, metric: str) -> None:
    amount = with_supply(facts).supplies[1].amount
    assert (plain(amount, IMPERIAL), plain(amount, METRIC)) == (imperial, metric)


# 20 yd are 18.288 m and 100 ml 3.38 fl oz: a pack is never said to hold more than it does.
@pytest.mark.parametrize(
    ("facts", "imperial", "metric"),
    [
        ("twine: twine, use 1 yd, pack 20 yd", "20 yd", "18.2 m"),
        ("glue: wet glue, use a little, pack 100 ml", "3 1/4 fl oz", "100 ml"),
    ],
)
def test_what_a_pack_holds(facts: str, imperial: str, metric: str) -> None:
    (pack,) = with_supply(facts).supplies[1].packs
    assert (plain(pack, IMPERIAL), plain(pack, METRIC)) == (imperial, metric)


# 0.8 mm is 0.0315 in and 1/32 in 0.03125; 0.32 mm is 0.0126 in; 10 points of card are 0.010 in (paper trade), 0.254 mm.
@pytest.mark.parametrize(
    ("thickness", "imperial", "metric"),
    [("0.8 mm", "1/32 in", "0.8 mm"), ("0.32 mm", "0.013 in", "0.32 mm"), ("10 pt", "0.01 in", "0.25 mm")],
)
def test_how_thick_a_card_is(thickness: str, imperial: str, metric: str) -> None:
    details = with_supply(f"board: greyboard, thickness {thickness}, use 1").supplies[1].details
    assert f"{imperial} thick" in plain(details, IMPERIAL)
    assert f"{metric} thick" in plain(details, METRIC)


@pytest.mark.parametrize(
    ("words", "imperial", "metric"),
    [
        ("Cut 60 in of twine.", "Cut 60 in of twine.", "Cut 1.6 m of twine."),
        ("Cut the twine to 60 in.", "Cut the twine to 60 in.", "Cut the twine to 1.6 m."),
        ("Take 500 mm of the red ribbon.", "Take 20 in of the red ribbon.", "Take 500 mm of the red ribbon."),
        ("Cut a 500 mm length of ribbon.", "Cut a 20 in length of ribbon.", "Cut a 500 mm length of ribbon."),
        ("Use 0.8 mm board.", "Use 1/32 in board.", "Use 0.8 mm board."),
        ("Mix in 30 ml of water.", "Mix in 1 fl oz of water.", "Mix in 30 ml of water."),
    ],
)
def test_words_say_what_the_list_says(words: str, imperial: str, metric: str) -> None:
    sheet = with_supply("twine: twine, use 60 in", f"## Cut\n\ndo: cut base\n\n{words}")
    said = [plain_passage(sheet.steps[0].words, system) for system in (IMPERIAL, METRIC)]
    assert said == [imperial, metric]


def test_every_unit_can_be_said_aloud() -> None:
    # A point of card is only read: pages say how thick a card is in inches and millimetres.
    units = AMOUNT_UNITS.keys() - {"mil"} | {"°C", "°F"}
    missing = {
        unit for unit in units for form in ("one", "many", "part") if not catalogue().has(f"spoken.unit.{unit}.{form}")
    }
    assert not missing
