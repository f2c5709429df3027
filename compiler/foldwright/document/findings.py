"""A finding told: its words from the catalogue, its place as line and column."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from msgspec import Struct

from foldwright.document.catalogue import Catalogue, catalogue
from foldwright.document.mends import label
from foldwright.finding import Finding, LineTable, Place, Strength
from foldwright.finding.changes import Change
from foldwright.recipe.facts.unprintable import printable


class ToldMend(Struct, frozen=True):
    """A way to put it right: what it does in a few words, and the changes of the file the finding is about."""

    label: str
    changes: tuple[Change, ...]


class Told(Struct, frozen=True):
    """A finding in words, with its place in the author's file; `line` and `column` count from 1, 0 when unknown."""

    file: str
    line: int
    column: int
    strength: Strength
    code: str
    says: str
    understood: str = ""
    remedy: str = ""
    line_text: str = ""
    said: str = ""
    """The author's own words at that place."""
    where: str = ""
    """The place in words: `recipe.md, line 27`."""
    mends: tuple[ToldMend, ...] = ()
    """The likeliest first."""


def tell(finding: Finding, sources: Mapping[str, str], words: Catalogue | None = None) -> Told:
    """The finding in words. `sources` has the text of every file a place may name; an unknown file tells no line."""
    words = words or catalogue()
    facts = {name: _line_of(fact, sources) if isinstance(fact, Place) else fact for name, fact in finding.facts}
    parts = [f"{finding.code}.{part}" for part in ("says", "understood", "remedy")]
    says, understood, remedy = (
        words.say(part, **facts) if part == parts[0] or words.has(part) else "" for part in parts
    )
    place = finding.place
    if place is None or place.file not in sources:
        return Told(place.file if place else "", 0, 0, finding.strength, finding.code, says, understood, remedy)
    table = _lines(sources[place.file])
    line, column = table.line_and_column(place.start)
    text = printable(table.line(line))
    said = text[column - 1 : column - 1 + place.end - place.start]
    where = words.say("page.where", file=place.file, line=line)
    mends = tuple(ToldMend(label(mend, place, sources[place.file], words), mend.changes) for mend in finding.mends)
    told = (place.file, line, column, finding.strength, finding.code, says, understood, remedy, text, said, where)
    return Told(*told, mends)


def _line_of(place: Place, sources: Mapping[str, str]) -> str:
    """A fact that is a place elsewhere in the text is told by its line."""
    return str(_lines(sources[place.file]).line_and_column(place.start)[0]) if place.file in sources else "?"


@lru_cache(maxsize=8)
def _lines(text: str) -> LineTable:
    """A file with many findings is cut into lines once."""
    return LineTable(text)
