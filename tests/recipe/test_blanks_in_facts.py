"""How many blanks stand in a measurement of the facts, and of which kind, changes nothing in what is understood."""

from __future__ import annotations

import re
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import Struct

from foldwright.finding import Place
from foldwright.recipe.reading import read_recipe
from workbench.long import tries

BLANKS = (" ", "  ", "    ", " \t", "\u00a0", "\u2009", "\u202f ", " \u2060", "\n        ")
RECIPE = """---
title: Lantern box
makes: 1 box
supplies:
  teal card:
    kind: card
    weight: 100~lb cover
    thickness: 0.32~mm
    sheet: 8^1/2^x^11^in
    pack: 25 sheets at 9.50
  ribbon:
    kind: ribbon
    use: 12~1/2~in
    pack: 3^yd at 2.50
  tape:
    kind: tape
    width: 1/4~in
    use: 1~ft 6~in
tools: ruler, scissors
pieces:
  base:
    from: teal card
    size: 5~x~4~1/4~in
    across: 3/4~in left end | 3~1/2~in floor | 3/4~in right end
    down: 1~3/4 front | 3/4 floor | 1~3/4~in back
    corners: cut away
    fold: tray
    holes: round 1^1/8^in, centred on front, middle 7/8^in from the top of front
  band:
    from: teal card
    size: 12~x~1~in
    across: 8 of 1~1/2~in
  mat:
    from: teal card
    size: 1/8~in smaller on every side than base floor
    lines: score from 1/2^in across 0 down to 1/2^in across 1^in down
---

A box.

## Cut

Cut it all.
"""
"""`~` stands where a blank may be any, `^` where each line is an entry of its own and a line end begins the next."""


def _said(value: object) -> object:
    """A value without its places, and with blanks as they are shown."""
    if isinstance(value, Place):
        return None
    if isinstance(value, Struct):
        return type(value).__name__, [_said(getattr(value, field)) for field in value.__struct_fields__]
    if isinstance(value, tuple | list):
        return [_said(one) for one in value]
    return " ".join(value.replace("\u2060", " ").split()) if isinstance(value, str) else value


@settings(max_examples=tries(50, 150))
@given(st.randoms(use_true_random=False))
def test_facts_mean_the_same_however_they_are_spaced(random: Random) -> None:
    spaced = re.sub("[~^]", lambda found: random.choice(BLANKS if found[0] == "~" else BLANKS[:-1]), RECIPE)
    plain = read_recipe(re.sub("[~^]", " ", RECIPE), "recipe.md", "recipe")
    other = read_recipe(spaced, "recipe.md", "recipe")
    assert plain.recipe is not None
    assert [finding.code for finding in other.findings] == [finding.code for finding in plain.findings]
    assert _said(other.recipe) == _said(plain.recipe)
