"""What the program itself is known by: another version may make other files of the same recipe."""

from __future__ import annotations

import hashlib
import os
import sys
from functools import cache
from pathlib import Path

from foldwright.surroundings import files_below

_PACKAGE = Path(__file__).parents[1]
_ABOVE = ("authoring", "begin", "cli", "desk", "event", "guide", "library")
"""Rooms no output is made in: nothing below may import them (the import contract)."""
_LIBRARY = "library"


@cache
def program_mark() -> str:
    """A digest of all that outputs are made with: our sources, themes and words, and the versions of what is installed.

    Contents count and not times, so that it is the same on another machine. Libraries of the system (those that shape
    letters) are not in it.
    """
    mark = hashlib.blake2b(sys.version.encode(), digest_size=16)
    for place in (_PACKAGE, *([] if (_PACKAGE / "themes").is_dir() else [_PACKAGE.parents[1] / "themes"])):
        _take_in(mark, place, _ABOVE)
    mark.update("\n".join(_installed()).encode())
    return mark.hexdigest()


@cache
def library_mark() -> str:
    """The same for what stands round the recipes."""
    mark = hashlib.blake2b(program_mark().encode(), digest_size=16)
    _take_in(mark, _PACKAGE / _LIBRARY, ())
    return mark.hexdigest()


def _take_in(mark: hashlib.blake2b, place: Path, without: tuple[str, ...]) -> None:
    left_out = tuple(f"{place / name}{os.sep}" for name in without)
    for file in files_below(place):
        if not file.startswith(left_out):
            with open(file, "rb", buffering=0) as stream:
                mark.update(os.path.relpath(file, place).encode() + b"\0" + stream.read())


def _installed() -> list[str]:
    """Name and version of everything installed beside us, as the names of the folders have it that describe them.

    All of it, since what we ask for asks for more in turn.
    """
    places = dict.fromkeys(place for place in sys.path if os.path.isdir(place))
    return sorted({name for place in places for name in os.listdir(place) if name.endswith(".dist-info")})
