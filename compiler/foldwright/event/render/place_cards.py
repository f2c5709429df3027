"""Place cards to fold in half: the name on the half that is seen, as large as it can be and never cut."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.event.document.model import CardText
from foldwright.event.render.grids import LabelGrid
from foldwright.event.render.specimens import specimen
from foldwright.render.paper.placing import (
    PlacedBlock,
    PlacedRule,
    PlacedWords,
    Specimen,
    Told,
    high_mm,
    placed_pdf,
    second_half,
)
from foldwright.render.paper.shaping import Lettering, broken, within

_NAMES = (*(float(size) for size in range(38, 12, -2)), 12.0, 11.0, 10.0, 9.0, 8.0)
_WHOLE = 14.0
"""Points: only in smaller letters is a name broken within a word."""
_TABLE, _LEAST = 11.0, 6.0
_ASIDE = 8.0


def place_cards_pdf(
    cards: Sequence[CardText], grid: LabelGrid, title: str, language: str, theme: str, told: Told | None = None
) -> bytes:
    """A card for each, with the table under the name and what else to know in small letters at the foot."""
    look = specimen(theme, language)
    blocks = []
    for number, card in enumerate(cards):
        blocks.append(_card(card, float(grid.width), float(grid.height), look))
        if told and number % len(grid.places) == 0:
            told(number + 1, 2 * len(cards))
    return placed_pdf(blocks, grid.places, grid.page, look, title, second_half(told))


def _card(card: CardText, width: float, height: float, look: Specimen) -> PlacedBlock:
    frame, half = look.frames["card"], height / 2
    room, bottom = width - 2 * frame.inset_across, height - frame.inset_down
    aside = _smaller(card.aside, look.letterings["aside"], _ASIDE, room)
    table = _smaller(card.table, look.letterings["table"], _TABLE, room)
    foot = bottom - sum(one.high for one in aside)
    high = foot - half - frame.inset_down - sum(one.high for one in table)
    lettering = look.letterings["guest"]
    gap = lettering.below if table else 0.0
    lines, size = _name(card.name, lettering, room, high - gap)
    text = high_mm(len(lines), lettering, size)
    top = half + frame.inset_down + max(0.0, (high - gap - text) / 2)
    words = [PlacedWords(lines, lettering, size, top)]
    words += [PlacedWords(one.lines, one.lettering, one.size, top + text + gap) for one in table]
    words += [PlacedWords(one.lines, one.lettering, one.size, foot) for one in aside]
    return PlacedBlock(width, height, frame, tuple(words), (PlacedRule(0.0, half, width, dashed=True),), centred=True)


def _name(name: str, lettering: Lettering, room: float, high: float) -> tuple[tuple[str, ...], float]:
    """The name in the largest letters in which it fits whole; in the smallest where it fits in none."""
    found: tuple[str, ...] | None = ()
    for by_letter in (False, True):
        for size in _NAMES:
            if by_letter and size > _WHOLE:
                continue
            found = broken(name, lettering, size, room, by_letter)
            if found and high_mm(len(found), lettering, size) <= high and within(found, lettering, size, room):
                return found, size
    return found or (name,), _NAMES[-1]


def _smaller(text: str, lettering: Lettering, size: float, room: float) -> tuple[PlacedWords, ...]:
    """One line of what stands under the name, set smaller where it is too wide, then broken."""
    if not text:
        return ()
    while size > _LEAST and (broken(text, lettering, size, room) or ("", ""))[1:]:
        size -= 0.5
    lines = broken(text, lettering, size, room) or broken(text, lettering, size, room, True) or (text,)
    return (PlacedWords(lines, lettering, size, 0.0),)
