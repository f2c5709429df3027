"""Recipes that come in several sizes: each size is a source of its own, with a folder of output of its own."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from foldwright.finding import Wrong
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source, slug_of
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe

AS_WRITTEN = "as written"


def in_size(source: Source, size: str) -> Source:
    """The source of one size of a recipe, by the size's name."""
    return replace(source, size=size, slug=f"{source.slug}-{slug_of(size)}")


def in_sizes(
    sources: Sequence[Source], wanted: str, otherwise: str = ""
) -> tuple[tuple[Source, ...], tuple[Wrong, ...]]:
    """Every source, and one for each size its recipe comes in; of `wanted` sizes only those, if any are named.

    A size that no recipe has is wrong. The recipe as written answers to `as written`, and to its name if it has one.
    `drawer-box=large` says it of one recipe by the name of its folder; of those that are not named then `otherwise` is
    wanted.
    """
    recipes = [(source, _recipe(source)) for source in sources]
    if "=" in wanted:
        return _in_sizes_of_each(recipes, wanted, otherwise)
    found: list[Source] = []
    known: dict[str, str] = {AS_WRITTEN: AS_WRITTEN}
    asked = _asked(wanted or otherwise, [size.name.value for _, recipe in recipes if recipe for size in recipe.sizes])
    for source, recipe in recipes:
        found += _chosen(source, recipe, asked)
        known |= _known(recipe)
    wrong = (Wrong.of("size-unknown", size=name, known=tuple(known.values())) for name in asked if name not in known)
    return tuple(found), tuple(wrong)


def _in_sizes_of_each(
    recipes: Sequence[tuple[Source, Recipe | None]], wanted: str, otherwise: str
) -> tuple[tuple[Source, ...], tuple[Wrong, ...]]:
    """The sizes of each recipe that is named, in the order of the recipes."""
    by_slug = {source.slug.casefold(): recipe for source, recipe in recipes}
    asked: dict[str, list[str]] = {}
    wrong: list[Wrong] = []
    for part in filter(str.strip, wanted.split(",")):
        slug, _, size = (one.strip().casefold() for one in part.partition("="))
        if slug not in by_slug:
            slugs = tuple(source.slug for source, _ in recipes)
            wrong.append(Wrong.of("size-recipe-unknown", said=part.strip(), recipe=slug, known=slugs))
        elif size not in (known := _known(by_slug[slug])):
            sizes = tuple(known.values())
            wrong.append(Wrong.of("size-of-recipe-unknown", said=part.strip(), recipe=slug, size=size, known=sizes))
        else:
            asked.setdefault(slug, []).append(size)
    rest = [otherwise] if otherwise else []
    found = (_chosen(source, recipe, asked.get(source.slug.casefold(), rest)) for source, recipe in recipes)
    return tuple(one for some in found for one in some), tuple(wrong)


def _known(recipe: Recipe | None) -> dict[str, str]:
    """The sizes of a recipe by their names in small letters."""
    sizes = recipe.sizes if recipe else ()
    return {AS_WRITTEN: AS_WRITTEN} | {size.name.value.casefold(): size.name.value for size in sizes}


def _chosen(source: Source, recipe: Recipe | None, asked: Sequence[str]) -> list[Source]:
    """A recipe as it is written, and in its other sizes: those that are asked for, or all."""
    sizes = recipe.sizes if recipe else ()
    names = {AS_WRITTEN, *(size.name.value.casefold() for size in sizes if size.as_written)}
    written = [source] if not asked or not names.isdisjoint(asked) else []
    others = (size.name.value for size in sizes if not size.as_written)
    return [*written, *(in_size(source, name) for name in others if not asked or name.casefold() in asked)]


def _asked(wanted: str, names: Sequence[str]) -> list[str]:
    """The sizes named, in small letters; a name that holds a comma itself (`1,5 cm`) is one name."""
    whole = wanted.strip().casefold()
    if whole in {name.casefold() for name in names}:
        return [whole]
    return [name.strip().casefold() for name in wanted.split(",") if name.strip()]


def _recipe(source: Source) -> Recipe | None:
    """The recipe, read only where its text speaks of sizes at all; None where it does not, or cannot be read."""
    text = read_texts(source).text
    if text is None or "size" not in text.casefold():
        return None
    return read_recipe(text, source.name, source.slug).recipe
