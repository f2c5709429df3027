"""What another size comes to: its pieces and supplies, and what is to be said of them."""

from __future__ import annotations

from msgspec import Struct

from foldwright.begin.draft.model import DraftNote
from foldwright.recipe.model import Piece, Supply


class Resized(Struct, frozen=True):
    """The pieces and supplies of the new size, in the order of the recipe, and what is to be said of them."""

    pieces: tuple[Piece, ...]
    supplies: tuple[Supply, ...]
    notes: tuple[DraftNote, ...]
