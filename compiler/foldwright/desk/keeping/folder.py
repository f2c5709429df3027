"""The recipes in the desk's folder, and names for new ones. Nothing a link leads to outside the folder is taken in."""

from __future__ import annotations

import os
import shutil
from itertools import count
from pathlib import Path

from foldwright.desk.keeping.disk import cannot_write
from foldwright.desk.keeping.on_disk import RecipeOnDisk
from foldwright.finding import Wrong
from foldwright.outputs.sources import Source, find_sources, slug_of
from foldwright.outputs.texts import RECIPE
from foldwright.surroundings import lies_in

_LONGEST = 60
"""Letters of a folder's name: file systems have room for 255 bytes, and a path of Windows for 260 letters."""


def recipes_in(folder: Path) -> tuple[Source, ...]:
    """The recipes of a folder, in order: its own, if it is a recipe's, and those in the folders in it."""
    try:
        below = sorted(child for child in folder.iterdir() if not child.name.startswith("."))
    except OSError:
        return ()
    found, _ = find_sources(child for child in (folder, *below) if os.path.lexists(child / RECIPE))
    return tuple(source for source in found if lies_in(source.folder / RECIPE, folder))


def recipe_called(name: str, folder: Path) -> RecipeOnDisk | None:
    """The recipe whose folder has that name; None where the desk has no such recipe."""
    for source in recipes_in(folder):
        if source.folder.absolute().name == name:
            return RecipeOnDisk(source.folder, folder)
    return None


def free_folder(title: str, folder: Path) -> Path:
    """A folder that is not there yet, for a recipe of that title: `heart-box`, or `heart-box-2`."""
    slug = slug_of(title)[:_LONGEST].strip("-") or slug_of("")
    names = (slug if number == 1 else f"{slug}-{number}" for number in count(1))
    return next(path for name in names if not os.path.lexists(path := folder / name))


def begin_recipe(title: str, text: str, folder: Path) -> RecipeOnDisk | Wrong:
    """A new recipe in a folder of its own, kept from the first."""
    path = free_folder(title, folder)
    try:
        path.mkdir()
    except OSError as trouble:
        return cannot_write(path, trouble)
    recipe = RecipeOnDisk(path, folder)
    # Nobody else knows the folder yet, so nothing can have changed outside.
    kept = recipe.keep(text)
    if isinstance(kept, Wrong):
        shutil.rmtree(path, ignore_errors=True)
        return kept
    return recipe
