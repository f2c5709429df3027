"""What a reader should know about the printed numbers of one unit system."""

from __future__ import annotations

from foldwright.document.catalogue import Catalogue
from foldwright.figures.model import Figures, Note
from foldwright.measure.length import Length
from foldwright.measure.printed import Printed
from foldwright.measure.steps import BETWEEN_LINES
from foldwright.measure.writing import write_at

_IN_THE_WORDS = "words"
_SILENT = frozenset({"disagree-as-written"})
"""Told by a finding already, at the place the author wrote it."""


def rounding_notes(figures: Figures, words: Catalogue) -> tuple[str, ...]:
    """One sentence for each note, in the order of the figures; notes that read the same are said once."""
    told = (_told(note, words) for note in figures.notes if note.code not in _SILENT)
    return tuple(dict.fromkeys(told))


def _told(note: Note, words: Catalogue) -> str:
    pieces = dict.fromkeys(name.piece for name in note.lengths)
    named = tuple(words.say("page.note.the-words") if piece == _IN_THE_WORDS else piece for piece in pieces)
    facts = {name: _most(fact) if name == "most" and isinstance(fact, Length) else fact for name, fact in note.facts}
    return words.say(f"page.note.{note.code}", pieces=named, **facts)


def _most(length: Length) -> Printed:
    """A limit as a reader can use it: on the finest step, and up, never down (as ASME A112.18.1, A.2(e) has it)."""
    step = BETWEEN_LINES[length.unit.system][-1]
    return write_at(-(-length.mm // step) * step, length.unit, step)
