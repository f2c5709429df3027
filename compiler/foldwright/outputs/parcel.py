"""A recipe with all that it is compiled from, packed so that another machine can do it: the same bytes come out there.

Which files a recipe reads is known for certain only once it is compiled. So a parcel goes out with those its text
names, and comes back when it lacks one; whoever packed it puts that one in and sends it again.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Iterable, Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.outputs.compiling import MadeRecipe, compile_recipe
from foldwright.outputs.model import Before, BuildWish
from foldwright.outputs.texts import Texts
from foldwright.render.themes import built_in_themes
from foldwright.surroundings import Refusal, Surroundings, files_of_look

MOST_PACKED = 64 * 1024 * 1024
"""Bytes of one file that goes along: more than any photograph or outline may have."""


class Parcel(Struct, frozen=True):
    """What one recipe is compiled from. `files` are of its folder, or why one cannot be read.

    `looks` are folders of looks of the user's own by what the studio or the call names them, None where there is none:
    their files by path.
    """

    texts: Texts
    wish: BuildWish
    size: str = ""
    before: Before = Before()
    files: Mapping[str, bytes | Refusal] = field(default_factory=dict)
    looks: Mapping[str, Mapping[str, bytes] | None] = field(default_factory=dict)


class Lacking(Struct, frozen=True):
    """What a parcel lacks: a file of the recipe's folder, or a look."""

    file: str = ""
    look: str = ""


class _MissedError(Exception):
    """Reading came upon what is not in the parcel."""

    def __init__(self, lacking: Lacking) -> None:
        super().__init__(lacking)
        self.lacking = lacking


def pack(texts: Texts, wish: BuildWish, size: str, before: Before, world: Surroundings, there: Iterable[str]) -> Parcel:
    """A parcel with those of the files `there` that the recipe's text names, and the look that the call names."""
    named = [name for name in there if name in (texts.text or "")]
    files = {name: world.read(name, MOST_PACKED) for name in sorted(named)}
    own = wish.theme and wish.theme not in built_in_themes()
    looks = {wish.theme: _files_of(wish.theme)} if own else {}
    return Parcel(texts, wish, size, before, files, looks)


def with_more(parcel: Parcel, lacking: Lacking, world: Surroundings) -> Parcel:
    """The parcel with what it lacked."""
    if not lacking.look:
        return replace(parcel, files={**parcel.files, lacking.file: world.read(lacking.file, MOST_PACKED)})
    folder = world.theme(lacking.look)
    return replace(parcel, looks={**parcel.looks, lacking.look: None if folder is None else _files_of(folder)})


def compile_parcel(parcel: Parcel) -> MadeRecipe | Lacking:
    """What `compile_recipe` makes of it, or what it lacks."""
    looks = {name: None if files is None else _laid(Path(name).name, files) for name, files in parcel.looks.items()}
    wish = replace(parcel.wish, theme=looks.get(parcel.wish.theme) or parcel.wish.theme)
    try:
        return compile_recipe(parcel.texts, wish, _Packed(parcel.files, looks), parcel.size, parcel.before)
    except _MissedError as missed:
        return missed.lacking


class _Packed(Struct, frozen=True):
    """The world as far as it is in a parcel."""

    files: Mapping[str, bytes | Refusal]
    looks: Mapping[str, str | None]

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        if path not in self.files:
            raise _MissedError(Lacking(file=path))
        data = self.files[path]
        return Refusal.TOO_LARGE if isinstance(data, bytes) and len(data) > at_most else data

    def theme(self, name: str) -> str | None:
        if name not in self.looks:
            raise _MissedError(Lacking(look=name))
        return self.looks[name]


def _files_of(folder: str) -> Mapping[str, bytes]:
    """The files of a look, by their paths in it; none where there is no such folder."""
    return {os.path.relpath(file, folder): Path(file).read_bytes() for file in files_of_look(folder)}


def _laid(name: str, files: Mapping[str, bytes]) -> str:
    """The folder of a look whose files came along: one for each look, however many recipes are dressed in it."""
    mark = hashlib.blake2b(digest_size=16)
    for path, data in sorted(files.items()):
        mark.update(b"%s\0%d\0" % (os.fsencode(path), len(data)) + data)
    folder = Path(_shelf().name, mark.hexdigest(), name)
    # Without files it is not made: a look that is missing is missing here too.
    if files and not folder.exists():
        # Whole at once: another thread of a worker may be laying the same look, and may be done first.
        fresh = Path(tempfile.mkdtemp(dir=_shelf().name))
        for path, data in files.items():
            place = fresh / name / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(data)
        with suppress(OSError):
            fresh.rename(folder.parent)
    return str(folder)


@cache
def _shelf() -> tempfile.TemporaryDirectory[str]:
    """Where this process lays looks; it goes when the process ends."""
    return tempfile.TemporaryDirectory(prefix="foldwright-looks-")
