"""Which column of a list of guests holds what: by its heading, and where that is not known by what stands in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import chain

from msgspec import Struct

from foldwright.event.facts.guest_headings import heading_of, heading_within
from foldwright.event.facts.guest_text import LINES_ABOVE, GuestFindings, GuestRow
from foldwright.event.facts.projects import Offered, is_size, projects_named
from foldwright.vocabulary.diets import diet_of

_IN_ORDER = ("name", "table", "note")
"""What columns hold that nothing else is known of."""
_USUAL = {"name": 0, "table": 1, "note": 2, "diet": 2}
"""Where this is nothing to speak of."""
_SEVERAL = frozenset({"note", "diet"})
"""There may be more than one column of these."""
_MOSTLY = 4 / 5
"""As many cells of a column must be of a kind for the column to be of it; the rest may be slips."""
_NUMBER_LONG, _FEWEST_REPEATED = 3, 4
"""Digits that the number of a table has at most; cells in which words repeat because they name tables."""


class GuestColumns(Struct, frozen=True):
    """Which cells are what: for each word (name, first, table ...) the numbers of its columns, from nought.

    `width` is how many columns there are; what stands beyond them belongs to nothing.
    """

    of: Mapping[str, tuple[int, ...]]
    width: int

    def cells(self, row: GuestRow, word: str) -> list[str]:
        """What stands in the columns of a word, empty cells left out."""
        numbers = self.of.get(word, ())
        return [row.cells[number] for number in numbers if number < len(row.cells) and row.cells[number]]


def columns_of(rows: Sequence[GuestRow], offered: tuple[Offered, ...], told: GuestFindings) -> tuple[GuestColumns, int]:
    """What the columns are, and the number of the first row that is a guest. `rows` are the first of the list."""
    for number, row in enumerate(rows[:LINES_ABOVE]):
        headings = _headings(row.cells) or ({} if number else _asked(rows))
        # Above its headings a table may have a title; below other lines, one heading alone may be a guest.
        if not headings or (number and len(headings) < 2):
            continue
        if number:
            told.thought("guests-above-headings", rows[0].start, rows[number - 1].end)
        taken = set(chain.from_iterable(headings.values()))
        free = [column for column, cell in enumerate(row.cells) if cell and column not in taken]
        found = _by_contents(rows[number + 1 :], free, offered)
        for word, column in found.items():
            # Sizes of what is not made in sizes are those of something else, such as a shirt.
            if word not in headings and (word != "size" or any(one.size for one in offered)):
                headings[word] = (column,)
                told.thought("guests-column-taken", row.start, row.end, heading=row.cells[column], word=word)
        if not headings.keys() & {"whole", "name", "first", "last"}:
            headings["name"] = _name_column(row, headings, told)
            if not headings["name"]:
                return GuestColumns(headings, len(row.cells)), len(rows)
        return GuestColumns(headings, len(row.cells)), number + 1
    return _without_headings(rows, offered, told)


def _headings(cells: Iterable[str]) -> dict[str, tuple[int, ...]]:
    """The columns by what their headings mean; of most words the first column counts."""
    found: dict[str, tuple[int, ...]] = {}
    for number, cell in enumerate(cells):
        word = heading_of(cell)
        if word and (word in _SEVERAL or word not in found):
            found[word] = (*found.get(word, ()), number)
    return found


def _asked(rows: Sequence[GuestRow]) -> dict[str, tuple[int, ...]]:
    """The columns of a form, whose headings are questions (`Any allergies?`): they have a known heading in them.

    A line of guests may look like that too (`Kit Lund, Garden table`): so a name must be asked for and something else,
    nothing of it stands again below, and there is no figure in it.
    """
    found: dict[str, tuple[int, ...]] = {}
    for column, cell in enumerate(rows[0].cells):
        word = heading_within(cell)
        if word and word not in found and cell not in _cells(rows[1:], column) and not any(map(str.isdigit, cell)):
            found[word] = (column,)
    named = not found.keys().isdisjoint(("whole", "name", "first", "last"))
    return found if rows[1:] and named and len(found) > 1 else {}


def _name_column(row: GuestRow, headings: Mapping[str, tuple[int, ...]], told: GuestFindings) -> tuple[int, ...]:
    """The first column with a heading that is not known is taken for the names."""
    known = set(chain.from_iterable(headings.values()))
    unknown = [number for number, cell in enumerate(row.cells) if cell and number not in known]
    if not unknown:
        told.fault("guests-no-name-column", row.start, row.end)
        return ()
    told.thought("guests-name-column", row.start, row.end, heading=row.cells[unknown[0]])
    return (unknown[0],)


# --- by what stands in them -------------------------------------------------------------------------------------------


def _tests(offered: tuple[Offered, ...]) -> dict[str, Callable[[str], bool]]:
    return {
        "project": lambda cell: bool(projects_named(cell, offered)),
        "size": lambda cell: is_size(cell, offered),
        "diet": lambda cell: bool(diet_of(cell).avoided),
    }


def _by_contents(rows: Sequence[GuestRow], free: Sequence[int], offered: tuple[Offered, ...]) -> dict[str, int]:
    """The columns, of those that are free, which hold projects, sizes and diets; of each the first."""
    found: dict[str, int] = {}
    for column in free:
        cells = _cells(rows, column)
        for word, test in _tests(offered).items():
            if cells and word not in found and sum(map(test, cells)) >= _MOSTLY * len(cells):
                found[word] = column
                break
    return found


def _cells(rows: Sequence[GuestRow], column: int) -> list[str]:
    return [row.cells[column] for row in rows if column < len(row.cells) and row.cells[column]]


def _without_headings(
    rows: Sequence[GuestRow], offered: tuple[Offered, ...], told: GuestFindings
) -> tuple[GuestColumns, int]:
    """No heading is known: names, tables and notes in this order, but for what is seen to be something else.

    Where the first line alone is not like those below it, it is headings in another language.
    """
    rest = rows[1:] or rows
    everywhere = range(max((len(row.cells) for row in rows), default=0))
    found = _by_contents(rest, everywhere, offered)
    others = [column for column in everywhere if column not in found.values()]
    if len(others) > 1:
        tables = [column for column in others if _are_numbers(_cells(rest, column))]
        tables += [column for column in others if _repeat(_cells(rest, column))]
        if tables:
            found["table"] = tables[0]
    headed = bool(rows[1:]) and any(_is_heading(word, column, rows, offered) for word, column in found.items())
    left = [column for column in everywhere if column not in found.values() and not _of_machines(_cells(rest, column))]
    usual = dict(zip((word for word in _IN_ORDER if word not in found), left, strict=False))
    found = usual | found
    if headed or any(_USUAL.get(word) != column for word, column in found.items()):
        order = tuple(sorted(found, key=found.__getitem__))
        told.thought("guests-columns-guessed", rows[0].start, rows[0].end, words=order)
    width = max((*found.values(), len(_IN_ORDER) - 1)) + 1
    return GuestColumns({word: (column,) for word, column in found.items()}, width), int(headed)


def _is_heading(word: str, column: int, rows: Sequence[GuestRow], offered: tuple[Offered, ...]) -> bool:
    """Whether the first line has something else there than the lines below it."""
    first = _cells(rows[:1], column)
    if not first:
        return False
    if word == "table":
        return _are_numbers(_cells(rows[1:], column)) and not _are_numbers(first)
    return not _tests(offered)[word](first[0])


def _are_numbers(cells: Sequence[str]) -> bool:
    return bool(cells) and all(cell.isdecimal() and len(cell) <= _NUMBER_LONG for cell in cells)


def _of_machines(cells: Sequence[str]) -> bool:
    """Addresses, dates and numbers that forms write down by themselves."""
    return bool(cells) and all(
        "@" in cell or (len(cell) > _NUMBER_LONG and not any(map(str.isalpha, cell))) for cell in cells
    )


def _repeat(cells: Sequence[str]) -> bool:
    return len(cells) >= _FEWEST_REPEATED and 2 * len(set(cells)) <= len(cells)
