"""From a recipe's folder to its texts, and to the sizes it comes in: each is a source with its own folder of output."""

from __future__ import annotations

import os
from collections.abc import Callable, Container, Sequence
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from foldwright.finding import Finding, Place, Strength, Wrong
from foldwright.outputs.sources import Source, slug_of
from foldwright.outputs.texts import STUDIO, Texts, studio_of, with_studio
from foldwright.recipe.facts.limits import MOST_BYTES
from foldwright.surroundings import Folder, Refusal, Surroundings, lies_in

if TYPE_CHECKING:
    from foldwright.recipe.model import Studio

type Opened = Callable[[Path], Surroundings]
"""Gives a folder to read in."""


def read_texts(source: Source, opened: Opened = Folder) -> Texts:
    """Read a recipe's text and its studio file; what cannot be read is a finding, never an exception."""
    text, findings = read_text(source.folder, source.text, source.name, source.within, opened)
    by_name = {} if text is None else {source.name: text}
    texts = Texts(source.slug, source.name, text, None, findings, by_name, {source.name: source.shown})
    file = source.studio
    if file is None:
        return texts
    studio, more = read_text(file.parent, STUDIO, STUDIO, file.parent, opened)
    texts = replace(texts, findings=findings + more, shown={**texts.shown, STUDIO: os.path.relpath(file)})
    return texts if studio is None else with_studio(texts, studio)


def read_studio_file(path: Path | None) -> Studio | None:
    """The studio a file describes; None when there is no file, or none that can be read."""
    text = None if path is None else read_text(path.parent, STUDIO, STUDIO, path.parent)[0]
    return None if text is None else studio_of(text)[0]


def read_text(
    folder: Path, file: str, name: str, within: Path, opened: Opened = Folder
) -> tuple[str | None, tuple[Finding, ...]]:
    """Read a file that must lie in its own folder and, links followed, in the folder the caller named."""
    inside = folder == within or lies_in(folder, within)
    data = opened(folder).read(file, MOST_BYTES) if inside else Refusal.OUTSIDE
    if isinstance(data, Refusal):
        code = "file-" + data.name.lower().replace("_", "-")
        return None, (Finding.of(code, Strength.FAULT, Place(name, 0, 0), file=name, limit=MOST_BYTES // 1024 // 1024),)
    from foldwright.recipe.facts.source import decode

    return decode(data, name)


# --- sizes ------------------------------------------------------------------------------------------------------------


AS_WRITTEN = "as written"


def in_size(source: Source, size: str) -> Source:
    """The source of one size of a recipe, by the size's name."""
    return replace(source, size=size, slug=f"{source.slug}-{slug_of(size)}")


type Sizes = tuple[tuple[str, bool], ...]
"""The names of a recipe's sizes, each with whether it is the recipe as it is written."""


def in_sizes(
    sources: Sequence[Source], wanted: str, otherwise: str = "", sizes_of: Callable[[Source], Sizes] | None = None
) -> tuple[tuple[Source, ...], tuple[Wrong, ...]]:
    """Every source, and one for each size its recipe comes in; of `wanted` sizes only those, if any are named.

    A size that no recipe has is wrong. The recipe as written answers to `as written`, and to its name if it has one.
    `drawer-box=large` says it of one recipe by the name of its folder; of those that are not named then `otherwise` is
    wanted. `sizes_of` says which sizes there are; without it recipes are read for them.
    """
    recipes = [(source, (sizes_of or read_sizes)(source)) for source in sources]
    if "=" in wanted:
        return _in_sizes_of_each(recipes, wanted, otherwise)
    known = _known(())
    for _, sizes in recipes:
        known |= _known(sizes)
    asked = _asked(wanted or otherwise, known)
    found = (one for source, sizes in recipes for one in _chosen(source, sizes, asked))
    wrong = (Wrong.of("size-unknown", size=name, known=tuple(known.values())) for name in asked if name not in known)
    return tuple(found), tuple(wrong)


def _in_sizes_of_each(
    recipes: Sequence[tuple[Source, Sizes]], wanted: str, otherwise: str
) -> tuple[tuple[Source, ...], tuple[Wrong, ...]]:
    """The sizes of each recipe that is named, in the order of the recipes."""
    by_slug = {source.slug.casefold(): sizes for source, sizes in recipes}
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
    chosen = (_chosen(source, sizes, asked.get(source.slug.casefold(), rest)) for source, sizes in recipes)
    return tuple(chain.from_iterable(chosen)), tuple(wrong)


def _known(sizes: Sizes) -> dict[str, str]:
    """The sizes of a recipe by their names in small letters."""
    return {AS_WRITTEN: AS_WRITTEN} | {name.casefold(): name for name, _ in sizes}


def _chosen(source: Source, sizes: Sizes, asked: Sequence[str]) -> list[Source]:
    """A recipe as it is written, and in its other sizes: those that are asked for, or all."""
    names = {AS_WRITTEN, *(name.casefold() for name, as_written in sizes if as_written)}
    written = [source] if not asked or not names.isdisjoint(asked) else []
    others = (name for name, as_written in sizes if not as_written)
    return [*written, *(in_size(source, name) for name in others if not asked or name.casefold() in asked)]


def _asked(wanted: str, known: Container[str]) -> list[str]:
    """The sizes named, in small letters; a name that holds a comma itself (`1,5 cm`) is one name."""
    whole = wanted.strip().casefold()
    return [whole] if whole in known else [name for part in whole.split(",") if (name := part.strip())]


def read_sizes(source: Source) -> Sizes:
    """The sizes a recipe comes in, read only where its text speaks of sizes at all; none where it cannot be read."""
    text = read_text(source.folder, source.text, source.name, source.within)[0]
    if text is None or "size" not in text.casefold():
        return ()
    from foldwright.recipe.reading import sizes_in

    return tuple((one.name.value, one.as_written) for one in sizes_in(text, source.name))
