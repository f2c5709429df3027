"""How large the blank of a form is that is worked out from its finished size or its inside: laid as any recipe is."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from msgspec.structs import replace

from foldwright.geometry.pieces import lay_flat
from foldwright.measure.length import Length, Unit
from foldwright.measure.steps import STEPS
from foldwright.recipe.facts.writing import write_length
from foldwright.recipe.model import Dims, Recipe, Said
from foldwright.recipe.reading import read_recipe


@lru_cache(maxsize=512)
def blank_size(form: str, word: str, lengths: tuple[Length, ...], thickness: Fraction) -> tuple[Length, Length] | None:
    """What the blank of a form measures whose `inside` or `finished` size is given; None where there is none of it."""
    recipe = _recipe_of(form, word, len(lengths), thickness)
    if recipe is None:
        return None
    piece = recipe.pieces[0]
    said: Said[Dims] = getattr(piece, word)
    sized = replace(recipe, pieces=(replace(piece, **{word: replace(said, value=Dims(lengths))}),))
    blank = lay_flat(sized).blank("box")
    if blank is None or blank.doubtful:
        return None
    unit = lengths[0].unit
    # What has roots in it is taken up to what a fine ruler shows.
    step = STEPS[unit.system][-1]
    return Length(-(-blank.width // step) * step, unit), Length(-(-blank.height // step) * step, unit)


@lru_cache(maxsize=32)
def _recipe_of(form: str, word: str, sides: int, thickness: Fraction) -> Recipe | None:
    """A recipe of one piece of the form, of any size: it is read once, and given each size in turn."""
    card = write_length(Length(thickness, Unit.MILLIMETRE))
    facts = f"    from: card\n    fold: {form}\n    {word}: {' x '.join(['50'] * sides)} mm\n"
    text = f"---\ntitle: A\nsupplies:\n  card: cardstock, thickness {card}\npieces:\n  box:\n{facts}---\n\nWords.\n"
    return read_recipe(text, "proposal", "proposal").recipe
