"""What a recipe is begun from: its pieces, what they are made of, and what goes into what."""

from __future__ import annotations

from msgspec import Struct

from foldwright.measure.length import System

SHEETS = {
    System.IMPERIAL: ("8 1/2 x 11 in or A4", "8 1/2 x 11 in", "12 x 12 in", "11 x 17 in", "18 x 24 in"),
    System.METRIC: ("A4 or 8 1/2 x 11 in", "A4", "305 x 305 mm", "A3", "A2"),
}
"""Sheets to try one after the other when nobody says, the handiest first (common practice, no source)."""


ASKED_OF_THE_AUTHOR = frozenset({"contains-unsaid"})
"""Thoughts that only the author can answer and that must be answered: a draft never hushes them."""


class DraftPiece(Struct, frozen=True):
    """A piece: its facts as a recipe writes them (`size`, `across`, `fold`), in order.

    `form` is what it folds to, empty when it stays flat or nobody knows; `trim` is what is taken off its corner flaps.
    """

    name: str
    form: str
    facts: tuple[tuple[str, str], ...]
    trim: str = ""

    def fact(self, word: str) -> str:
        return dict(self.facts).get(word, "")

    @property
    def scored(self) -> bool:
        return any("|" in self.fact(side) or " of " in self.fact(side) for side in ("across", "down"))


class DraftContents(Struct, frozen=True):
    """Something that goes in: the name of a supply, its facts on one line, and the piece it goes into."""

    name: str
    facts: str
    into: str


class Draft(Struct, frozen=True):
    """A recipe that is still to be written: one making of it, measured in one unit system.

    `card` and `card_facts` are the supply all parts are cut from. `tape` is how much of it one making takes (empty:
    none). `over` and `into` are pairs of pieces: a lid and what it goes over, a drawer and its sleeve.
    """

    title: str
    summary: str
    system: System
    card: str
    card_facts: str
    parts: tuple[DraftPiece, ...]
    makes: str = ""
    tape: str = ""
    tape_width: str = ""
    supplies: tuple[DraftContents, ...] = ()
    over: tuple[tuple[str, str], ...] = ()
    into: tuple[tuple[str, str], ...] = ()
    hush: tuple[str, ...] = ()
