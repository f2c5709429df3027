"""What a library was made from, so that next time only what differs is made anew."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping

from msgspec import Struct, field, json


class SheetUse(Struct, frozen=True, array_like=True):
    """What is remembered of `offcuts.SameSheet`: the recipe by its slug, the paper by its place in `cut_from`."""

    slug: str
    paper: int
    pieces: int
    times: int


class MadeFrom(Struct, frozen=True):
    """Keys of files by path, and of what tutorials say of others by slug: with the same key they come out the same.

    `sheets` is what was found of offcuts, under a key of its own.
    """

    files: Mapping[str, str] = field(default_factory=dict)
    insets: Mapping[str, str] = field(default_factory=dict)
    sheets_key: str = ""
    sheets: Mapping[str, tuple[SheetUse, ...]] = field(default_factory=dict)


def key_of(*values: object) -> str:
    """A key of values of the types it is always called with: the same for equal ones, and only for those."""
    return hashlib.blake2b(json.encode(values, enc_hook=str), digest_size=16).hexdigest()
