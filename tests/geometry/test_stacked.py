"""Several of one piece glued on one another: how many are cut, and how thick they are wherever that counts."""

from __future__ import annotations

from fractions import Fraction

import pytest

from foldwright.geometry.folding.pieces import fold_pieces
from foldwright.geometry.pictures.story import step_pictures
from foldwright.geometry.pieces import Flat, lay_flat
from foldwright.geometry.understood import fit_of
from foldwright.recipe.reading import read_recipe
from geometry.laid import the_blank

HEAD = """\
---
title: A stack
makes: 1 card
measured in: millimetres
supplies:
  card: cardstock, thickness 0.5 mm, sheet A4
  envelope: envelope, size 110 x 84 mm, use 1
pieces:
  frame:
    from: card
    size: 80 x 60 mm
{facts}
  front:
    from: card
    size: 100 x 78 mm
    slides in: envelope
  band:
    from: card
    size: rest x 20 mm
    goes round: frame
---

Words.
"""


def lay(facts: str) -> Flat:
    lines = "\n".join("    " + line for line in facts.splitlines())
    recipe = read_recipe(HEAD.format(facts=lines), "recipe.md", "test", None).recipe
    assert recipe is not None
    return lay_flat(recipe)


@pytest.mark.parametrize(
    ("facts", "cut", "layers"),
    [
        ("stacked: 4", 4, 4),
        ("count: 2\nstacked: 4", 8, 4),
        ("layers: 3", 3, 3),
        ("count: 3\ngoes on: itself", 3, 3),
        ("count: 3\ngoes on: each other", 3, 3),
        ("count: 3", 3, 1),
    ],
)
def test_a_stack_is_as_thick_as_all_that_is_cut_for_it(facts: str, cut: int, layers: int) -> None:
    """Once round a flat thing: twice its width and its thickness (here 0.5 mm a layer), four half thicknesses of the
    band on either side, and 12 mm of overlap, taken up to whole millimetres."""
    flat = lay(facts)
    blank, card = the_blank(flat, "frame"), flat.cards["frame"]
    assert flat.findings == ()
    assert blank.count == cut and card is not None and card.length.mm == Fraction(layers, 2)
    long = 2 * 80 + 2 * Fraction(layers, 2) + 4 * Fraction(1, 2) + 12
    assert the_blank(flat, "band").width == -(-long // 1)
    told = [fact.count for fact in fit_of(blank, flat) if fact.code == "stacked"]
    assert told == ([layers] if layers > 1 else [])


@pytest.mark.parametrize(("layers", "told"), [(2, False), (20, True)])
def test_a_stack_on_a_card_counts_for_its_envelope(layers: int, told: bool) -> None:
    """84 mm high less a card of 78 leaves 6 mm; twenty layers are ten, too much for a letter too."""
    flat = lay(f"stacked: {layers}\ngoes on: outside of front, centred")
    assert bool({one.code for one in flat.findings} & {"too-thick-for-the-envelope", "too-thick-for-a-letter"}) is told


def test_the_picture_shows_as_many_as_are_stacked() -> None:
    """What is put on the front is one face more for every layer, each a little above the one before."""

    def faces(stacked: int) -> int:
        lines = f"    stacked: {stacked}\n    goes on: outside of front, centred"
        text = HEAD.format(facts=lines).replace("Words.", "## Stick\ndo: glue frame to front\n\nGlue it.")
        recipe = read_recipe(text, "recipe.md", "test", None).recipe
        assert recipe is not None
        flat = lay_flat(recipe)
        (told,) = step_pictures(recipe, flat, fold_pieces(recipe, flat))[:1]
        return len(told.scene.faces)

    assert [faces(number) - faces(1) for number in (2, 4, 7)] == [1, 3, 6]
