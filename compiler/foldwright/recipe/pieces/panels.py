"""Rows of panels: `3/4 left end | 3 1/2 floor | 3/4 right end`, `rest | 3 | rest`, `6 of 1 1/2`."""

from __future__ import annotations

import re
from functools import lru_cache

from foldwright.measure.length import Length, Unit
from foldwright.measure.numbers import NUMBER, tidy
from foldwright.measure.reading import UNIT_WORDS, read_length, read_number
from foldwright.measure.spelled import WORD_NUMBER
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.known import Fact
from foldwright.recipe.facts.limits import MOST_PANELS
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import said_value
from foldwright.recipe.model import PanelFact

_BAR = re.compile(r"[|¦│｜]+")
_SPACED_SLASH = re.compile(r"\s/\s")
_UNIT = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))
_LENGTH = rf"(?P<length>-?\s*{NUMBER}(?:(?:\s*|-)(?P<unit>{_UNIT})(?![a-z]))?)\.?"
_REST = r"(?P<rest>(?:the )?(?:rest|remainder)\b|\*)"
_NUMBER_FIRST = re.compile(
    rf"(?:{_LENGTH}|{_REST})(?:(?:\s+|(?=[(\"]))(?!(?:x|by)\s*\d)(?P<name>[^\d].*))?", re.IGNORECASE | re.DOTALL
)
_NAME_FIRST = re.compile(rf"(?P<name>[^\W\d][^\d]*?)[\s:=]+(?:{_LENGTH}|{_REST})", re.IGNORECASE | re.DOTALL)
_TIMES = re.compile(rf"(?P<times>{NUMBER}|{WORD_NUMBER})\s+of\s+", re.IGNORECASE)


def row_said(fact: Fact | None, complaints: Complaints) -> Phrase | None:
    """A row of panels; between those in a list, as YAML has them, a bar is put."""
    listed = fact.line.items if fact and fact.line else ()
    return Phrase.run([panel.whole for panel in listed], "|") if listed else said_value(fact, complaints)


def read_row(
    value: Phrase | None, word: str, unit: Unit | None, complaints: Complaints, usual: Unit | None = None
) -> tuple[PanelFact, ...]:
    """The panels between the bars. A bare number is in `unit`, or else in the unit another panel of the row names, or
    else in the `usual` one.
    """
    if value is None:
        return ()
    bars = _BAR if _BAR.search(value.text) else _SPACED_SLASH
    parts = _between_outer_bars(list(value.split(bars)), value, complaints)
    unit = unit or _unit_in(parts) or usual
    panels: list[PanelFact] = []
    for part in parts:
        panels += _read_part(part, word, unit, complaints)
        if len(panels) > MOST_PANELS:
            complaints.fault("too-many-panels", value, word=word, most=MOST_PANELS)
            return ()
    return tuple(panels)


def _between_outer_bars(parts: list[Phrase], value: Phrase, complaints: Complaints) -> list[Phrase]:
    """Bars at both ends are the edges, as one draws them, when there is a score between; `| 3 |` is asked about."""
    if len(parts) < 4 or parts[0].text or parts[-1].text:
        return parts
    complaints.thought("outer-bars", value)
    return parts[1:-1]


def _unit_in(parts: list[Phrase]) -> Unit | None:
    for part in reversed(parts):
        match = _NUMBER_FIRST.fullmatch(tidy(part.text)) or _NAME_FIRST.fullmatch(tidy(part.text))
        if match and match["unit"]:
            return UNIT_WORDS[match["unit"].lower()]
    return None


def _read_part(part: Phrase, word: str, unit: Unit | None, complaints: Complaints) -> list[PanelFact]:
    """The panels one part stands for; a part that cannot be read still stands for a panel, as long as is left over."""
    doubtful = [PanelFact("", None, part.place, unread=True)]
    if not part.text:
        complaints.fault("panel-empty", part, word=word)
        return doubtful
    times = _TIMES.match(tidy(part.text))
    count = _count(times["times"]) if times else 1
    if isinstance(count, Unreadable):
        complaints.unreadable(count, part, word=word)
        return doubtful
    single = part.part(times.end()) if times else part
    panel = _read_panel(single.text, unit)
    if isinstance(panel, Unreadable):
        # What needs a unit is the number, not the name behind it.
        said = dict(panel.facts)["text"] if panel.code == "no-unit" else part.plain
        complaints.unreadable(panel, part, word=word, said=said)
        return doubtful
    return [PanelFact(*panel, part.place)] * count


def _count(text: str) -> int | Unreadable:
    number = read_number(text)
    if isinstance(number, Unreadable):
        return number
    if number.denominator != 1 or not 0 < number <= MOST_PANELS:
        return Unreadable("odd-number-of-panels", (("text", text), ("most", MOST_PANELS)))
    return int(number)


@lru_cache(maxsize=2048)
def _read_panel(text: str, unit: Unit | None) -> tuple[str, Length | None] | Unreadable:
    """Name and length; the same panels stand in many recipes."""
    tidied = tidy(text)
    match = _NUMBER_FIRST.fullmatch(tidied) or _NAME_FIRST.fullmatch(tidied)
    if match is None:
        listed = tidied.split(", ")
        if len(listed) > 1 and all(map(_NUMBER_FIRST.fullmatch, listed)):
            return Unreadable("panels-without-bars", (("row", " | ".join(listed)),))
        length = read_length(tidied, unit)
        return length if isinstance(length, Unreadable) else ("", length)
    name = " ".join((match["name"] or "").strip(" ()\"'").split())
    if name[:1].isdigit():
        return Unreadable("no-number", (("text", " ".join(text.split())),))
    if match["rest"]:
        return name, None
    length = read_length(match["length"], unit)
    return length if isinstance(length, Unreadable) else (name, length)
