"""The card something is made of, in the words of a call: read as in any recipe."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct

from foldwright.finding import Strength, Wrong
from foldwright.geometry.flat.thickness import thickness_of
from foldwright.recipe.model import Studio
from foldwright.recipe.reading import read_recipe

_SMALLEST = """---
title: x
supplies:
  {name}: cardstock, {facts}
pieces:
  x:
    from: {name}
    size: 1 x 1 in
---
## x
"""
"""The smallest recipe of a card."""
_NOT_IN_NAMES = {ord(mark): " " for mark in ":,|#"}


def plain_name(said: str) -> str:
    """What a supply or a thing may be called: without the marks that mean something in the facts."""
    return " ".join(said.translate(_NOT_IN_NAMES).split())


class DraftCard(Struct, frozen=True):
    """What it is called, its facts as a recipe has them, and how thick it is (mm)."""

    name: str
    facts: str
    thickness: Fraction


def read_card(said: str, studio: Studio | None = None) -> DraftCard | Wrong:
    """`white card, 270 g/m2`: a name, if there is one, and a weight or a thickness."""
    parts = [part.strip() for part in re.split(r"[,:](?![0-9])\s*", said) if part.strip()]
    if not parts:
        return Wrong.of("design.card-unreadable", card=said)
    name, facts = (parts[0], parts[1:]) if not parts[0][0].isdigit() else ("white card", parts)
    shown = ", ".join(facts)
    read = read_recipe(_SMALLEST.format(name=name, facts=shown), "card", "card", studio)
    recipe = read.recipe
    if any(one.strength > Strength.THOUGHT for one in read.findings) or recipe is None or len(recipe.supplies) != 1:
        return Wrong.of("design.card-unreadable", card=said)
    thickness = thickness_of(recipe.pieces[0], {name.casefold(): recipe.supplies[0]}, recipe.studio)
    return DraftCard(name, shown, thickness.length.mm) if thickness else Wrong.of("design.card-how-thick", card=said)
