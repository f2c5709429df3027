"""Words follow: what they say of a piece they say of the piece in any size."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.measure.length import System
from foldwright.pipeline import Checked, check_in_size, check_recipe
from foldwright.recipe.facts.writing import write_number
from workbench.long import tries

TEXT = """---
title: Box
measured in: inches
supplies:
  card: cardstock, weight 100 lb cover, sheet 24 x 24 in
pieces:
  base:
    from: card
    size: {size}
    across: {across}
    down: {down}
    flaps: joined to top and bottom
    fold: tray
sizes:
  other:
    base:
      size: {other_size}
      across: {other_across}
      down: {other_down}
---

## Cut and score the base

do: cut and score base

{words}
"""


def row(first: int, middle: int, last: int) -> tuple[str, int]:
    panels = [write_number(one) for one in _eighths(first, middle, last)]
    return " | ".join(panels), first + middle + last


def _eighths(*numbers: int) -> list[Fraction]:
    return [Fraction(number, 8) for number in numbers]


def _in(number: int) -> str:
    return write_number(_eighths(number)[0])


ROW = st.tuples(st.integers(5, 20), st.integers(21, 50), st.integers(51, 70))


def in_other_size(across, down, other_across, other_down, words: str) -> Checked:
    rows = {"across": across, "down": down, "other_across": other_across, "other_down": other_down}
    shown = {name: row(*panels) for name, panels in rows.items()}
    text = TEXT.format(
        **{name: text for name, (text, _) in shown.items()},
        size=f"{_in(shown['across'][1])} x {_in(shown['down'][1])} in",
        other_size=f"{_in(shown['other_across'][1])} x {_in(shown['other_down'][1])} in",
        words=words,
    )
    written = check_recipe(text, "r", "r")
    assert written.understood is not None
    return check_in_size(text, "r", "r", "other", written.understood)


@settings(max_examples=tries(20, 60))
@given(ROW, ROW, ROW, ROW, st.sampled_from((" in", "")))
def test_every_measure_that_is_a_panels_is_that_panels_in_the_other_size(across, down, other_across, other_down, unit):
    total = sum(across), sum(down)
    words = (
        f"Cut the card to {_in(total[0])} x {_in(total[1])}{unit}. "
        f"Score {_in(across[0])}{unit} from the left edge and {_in(down[0])}{unit} from the top edge."
    )
    checked = in_other_size(across, down, other_across, other_down, words)
    understood = checked.understood
    assert understood is not None
    printed = understood.figures[System.IMPERIAL].printed
    said = [printed[name].number for names in understood.binding.ids.values() for name in names]
    expected = [sum(other_across), sum(other_down), other_across[0], other_down[0]]
    assert said == [_in(number) for number in expected]


def test_the_same_for_both_ends_must_hold_in_the_other_size_too():
    checked = in_other_size((8, 24, 8), (8, 24, 8), (8, 24, 16), (8, 24, 8), "Score 1 in from each end.")
    found = {finding.code: finding for finding in checked.findings}
    assert "words-hold-in-one-size" in found
    assert found["words-hold-in-one-size"].place is not None


def test_a_number_of_no_piece_is_asked_about():
    checked = in_other_size((8, 24, 8), (8, 24, 8), (8, 32, 8), (8, 24, 8), "Cut away a strip of 5 3/16 in.")
    assert [one.code for one in checked.findings if "size" in one.code] == ["same-in-every-size"]


RIBBON = """---
title: Box
supplies:
  card: cardstock, weight 100 lb cover, sheet 24 x 24 in
  ribbon: ribbon, use 120 mm
pieces:
  strip:
    from: card
    size: 300 x 50 mm
sizes:
  other:
    strip:
      size: 400 x 50 mm
    ribbon: use 160 mm
---

## Mark the strip

do: mark strip

Make a pencil mark 120 mm from the corner.

## Thread it

do: thread ribbon
with: ribbon

Fold 120 mm of ribbon in half.
"""


def test_a_supplys_length_follows_only_where_the_step_names_that_supply():
    written = check_recipe(RIBBON, "r", "r")
    assert written.understood is not None
    checked = check_in_size(RIBBON, "r", "r", "other", written.understood)
    assert checked.understood is not None
    said = [length.mm for length in checked.understood.binding.free.values()]
    assert said == [120, 160]
    assert "same-in-every-size" in [finding.code for finding in checked.findings]


def test_a_panel_less_is_told_where_the_words_speak_of_it():
    text = TEXT.replace("      across: {other_across}\n", "      across: 2 | 3\n").replace("{other_size}", "5 x 5 in")
    text = text.format(
        size="5 x 5 in",
        across="1 | 3 | 1",
        down="1 | 3 | 1",
        other_down="1 | 3 | 1",
        words="Score 4 in from the left edge.",
    )
    written = check_recipe(text, "r", "r")
    assert written.understood is not None
    checked = check_in_size(text, "r", "r", "other", written.understood)
    assert "words-of-another-size" in [finding.code for finding in checked.findings]
