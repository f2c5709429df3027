"""Tables of notes: a heading with the sides, and below it a row for each piece.

| piece | across | down |
| lid | 20, 60, 20 mm | 40 mm |
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct

from foldwright.begin.recover.model import SIDES
from foldwright.begin.recover.notes.tokens import Token, tokens_of
from foldwright.measure.length import Unit
from foldwright.recipe.facts.phrase import Phrase

_SILENT = frozenset({"filler", "singly", "open", "close", "whole"})


class TableCell(Struct, frozen=True):
    """A cell of a row: what was measured along a side of a piece. `tokens` begin with that side."""

    piece: str
    phrase: Phrase
    tokens: tuple[Token, ...]
    unit: Unit | None


class NotedTable(Struct, frozen=True):
    """`columns` has the side of each column but that of the pieces, and the unit of its numbers; `mark` parts cells.

    It is `headed` where something stands over the pieces; elsewhere it may have none.
    """

    mark: str
    columns: tuple[tuple[str, Unit | None], ...]
    headed: bool

    def row(self, phrase: Phrase) -> list[TableCell] | None:
        """The cells of a row; None where it is no row of the table."""
        cells = _cells(phrase, self.mark)
        measured = cells[-len(self.columns) :]
        if len(measured) < len(self.columns) or not all(map(_has_number, measured)):
            return None
        match cells[: -len(self.columns)]:
            case [name] if _is_name(name):
                return list(self._filled(name.plain, measured))
            case [] if not self.headed:
                return list(self._filled("", measured))
        return None

    def _filled(self, piece: str, cells: list[Phrase]) -> Iterator[TableCell]:
        for (side, unit), cell in zip(self.columns, cells, strict=True):
            yield TableCell(piece, cell, (Token(side, 0, 0), Token("colon", 0, 0), *tokens_of(cell.text)), unit)


def table_headed(phrase: Phrase) -> NotedTable | None:
    """The table whose heading this is; None where it is none: the first cell names no side, and each other one does."""
    mark = next((mark for mark in "|\t" if mark in phrase.text.strip(" \t|")), "")
    cells = _cells(phrase, mark) if mark else []
    headed = bool(cells) and _column(cells[0]) is None
    columns = [_column(cell) for cell in cells[headed:]]
    known = tuple(column for column in columns if column)
    sides = {side for side, _ in known}
    if len(sides) < 2 or len(sides) < len(columns) or (headed and _has_number(cells[0])):
        return None
    return NotedTable(mark, known, headed)


def _cells(phrase: Phrase, mark: str) -> list[Phrase]:
    """What stands between the marks, without the ones at both ends."""
    parts = [phrase.part(*match.span()) for match in re.finditer(f"[^{re.escape(mark)}]+", phrase.text)]
    return [part for part in parts if part.text.strip()]


def _column(cell: Phrase) -> tuple[str, Unit | None] | None:
    tokens = tokens_of(cell.text)
    sides = [token.kind for token in tokens if token.kind in SIDES]
    others = [token for token in tokens if token.kind not in (*SIDES, *_SILENT)]
    if len(sides) != 1 or not all(token.kind == "unit" for token in others):
        return None
    return sides[0], next((token.unit for token in others), None)


def _is_name(cell: Phrase) -> bool:
    return not _has_number(cell) and any(token.kind == "word" for token in tokens_of(cell.text))


def _has_number(cell: Phrase) -> bool:
    return any(token.kind in ("number", "unread") for token in tokens_of(cell.text))
