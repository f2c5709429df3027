"""What the program itself is known by: another version may make other files of the same recipe."""

from __future__ import annotations

import hashlib
import os
import sys
from functools import cache
from pathlib import Path

from foldwright.surroundings import files_below

_PACKAGE = Path(__file__).parents[1]
_ABOVE = ("authoring", "begin", "booklet", "cli", "desk", "event", "guide", "library")
"""Rooms no output is made in: nothing below may import them (the import contract)."""
_LIBRARY, _BOOKLET, _THEMES = "library", "booklet", "themes"


@cache
def program_mark() -> str:
    """A digest of all that outputs are made with: our sources, themes and words, and the versions of what is installed.

    Contents count and not times, so that it is the same on another machine. Libraries of the system (those that shape
    letters) are not in it.
    """
    mark = hashlib.blake2b(_sources().encode(), digest_size=16)
    mark.update("\n".join([sys.version, *_installed()]).encode())
    return mark.hexdigest()


@cache
def _sources() -> str:
    """A digest of our sources, themes and words: the same for a checkout and for what is installed of it."""
    mark = hashlib.blake2b(digest_size=16)
    _take_in(mark, _PACKAGE, (*_ABOVE, _THEMES))
    inside, beside = _PACKAGE / _THEMES, _PACKAGE.parents[1] / _THEMES
    _take_in(mark, inside if inside.is_dir() else beside, ())
    return mark.hexdigest()


@cache
def library_mark() -> str:
    """The same for what stands round the recipes."""
    mark = hashlib.blake2b(program_mark().encode(), digest_size=16)
    _take_in(mark, _PACKAGE / _LIBRARY, ())
    return mark.hexdigest()


@cache
def booklet_mark() -> str:
    """The same for booklets."""
    mark = hashlib.blake2b(program_mark().encode(), digest_size=16)
    _take_in(mark, _PACKAGE / _BOOKLET, ())
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


@cache
def program_elsewhere() -> str:
    """What a foldwright on another machine must be known by to make the same files: its sources and themes, its Python,
    the libraries it needs and what those need. What else is installed there does not matter."""
    mark = hashlib.blake2b(_sources().encode(), digest_size=16)
    mark.update(repr((sys.version_info[:3], _needed())).encode())
    return mark.hexdigest()


def _needed() -> list[tuple[str, str]]:
    """Name and version of foldwright and of all it needs, and they in turn."""
    from importlib.metadata import PackageNotFoundError, distribution

    from packaging.requirements import Requirement

    waiting, found = [__package__.partition(".")[0]], dict[str, str]()
    while waiting:
        name = waiting.pop().casefold()
        if name in found:
            continue
        try:
            known = distribution(name)
        except PackageNotFoundError:
            continue
        found[name] = known.version
        asked = map(Requirement, known.requires or ())
        waiting += [one.name for one in asked if one.marker is None or one.marker.evaluate({"extra": ""})]
    return sorted(found.items())
