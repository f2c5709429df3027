"""A photograph that was sent in: decoded before it is believed, laid beside the recipe, and named in its text."""

from __future__ import annotations

from msgspec import Struct

from foldwright.authoring.photographs import PutIn, photo_put_in, photo_stem
from foldwright.desk.keeping.on_disk import RecipeOnDisk
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong

MOST_BYTES = 30 * 1024 * 1024
MOST_PIXELS = 60_000_000
LONG_SIDE = 2400
"""Pixels at most along the longer side of what is kept: twice what a page shows, for prints to come."""
_ENDINGS = {"jpeg": ".jpg", "png": ".png"}


class TakenIn(Struct, frozen=True):
    """The name of the file that was laid beside the recipe, and how the text comes to show it."""

    name: str
    put: PutIn


def take_in(recipe: RecipeOnDisk, data: bytes, text: str, at: int | None) -> TakenIn | Wrong:
    """Lay a photograph beside the recipe, and have the step at an offset of its text show it.

    Where that is no step, it shows the finished thing. What its file was called and says it is, nobody asks.
    """
    from foldwright.render.photos import Unusable, prepare

    if len(data) > MOST_BYTES:
        return Wrong.of("desk-keeping.photo-too-large", limit=MOST_BYTES // 1024**2)
    made = prepare(data, LONG_SIDE, LONG_SIDE, MOST_PIXELS)
    if isinstance(made, Unusable):
        facts = {**dict(made.facts), "limit": MOST_PIXELS // 1_000_000}
        return Wrong.of(f"desk-keeping.{made.code}", **facts)
    name = recipe.add_file(photo_stem(text, at), _ENDINGS[made.kind], made.data)
    if isinstance(name, Wrong):
        return name
    return TakenIn(name, photo_put_in(text, at, name, catalogue().say("desk-keeping.photo-shows")))
