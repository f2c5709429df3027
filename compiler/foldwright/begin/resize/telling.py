"""What is to be said of another size of a recipe, in words."""

from __future__ import annotations

from foldwright.begin.draft.model import DraftNote
from foldwright.document.catalogue import Catalogue
from foldwright.measure.length import Length
from foldwright.measure.writing import plain_cross, write_exact


def tell_note(note: DraftNote, words: Catalogue, table: str = "command") -> str:
    """A note in words, in those of the command line where `table` has none; sizes as `A x B`."""

    def told(fact: object) -> object:
        if isinstance(fact, tuple) and fact and all(isinstance(one, Length) for one in fact):
            return plain_cross([write_exact(one) for one in fact])
        return fact

    key = f"{table}.design.{note.code}"
    key = key if words.has(key) else f"command.design.{note.code}"
    return words.say(key, **{word: told(fact) for word, fact in note.facts})
