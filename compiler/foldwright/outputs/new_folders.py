"""A recipe's new folder: where it goes by its title, and all of it at once or nothing. Nothing is ever written over."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from foldwright.finding import Wrong
from foldwright.outputs.reading import read_studio_file
from foldwright.outputs.sources import Source, slug_of
from foldwright.outputs.texts import RECIPE

if TYPE_CHECKING:
    from foldwright.recipe.model import Studio


def folder_for(title: str, into: Path) -> Source:
    """Where a recipe of that title is to lie."""
    slug = slug_of(title)
    return Source(into / slug, RECIPE, slug, into)


def studio_beside(into: Path) -> Studio | None:
    """The studio of the recipes in a folder."""
    return read_studio_file(folder_for("x", into).studio)


def write_new_folder(folder: Path, files: Mapping[str, bytes]) -> Wrong | None:
    """Make a folder of these files; of one that is there already, and of one that cannot be made whole, it says so."""
    if os.path.lexists(folder):
        return Wrong.of("new.there-already", path=str(folder))
    fresh = folder.with_name(f".foldwright-new-{os.getpid()}-{folder.name}")
    try:
        fresh.mkdir(parents=True)
        for name, data in files.items():
            path = fresh / name
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("xb") as file:
                file.write(data)
        fresh.rename(folder)
    except OSError as trouble:
        shutil.rmtree(fresh, ignore_errors=True)
        return cannot_write(folder, trouble)
    return None


def cannot_write(path: Path, trouble: OSError) -> Wrong:
    """What to tell when a file cannot be written: which file, and why as far as the system says."""
    reasons = {
        errno.EACCES: "may-not",
        errno.EPERM: "may-not",
        errno.EROFS: "read-only",
        errno.ENOSPC: "disk-full",
        errno.EDQUOT: "disk-full",
        errno.EEXIST: "not-a-folder",
        errno.ENOTDIR: "not-a-folder",
        errno.ENAMETOOLONG: "name-too-long",
    }
    return Wrong.of("cannot-write-" + reasons.get(trouble.errno or 0, "here"), path=str(path))
