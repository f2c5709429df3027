"""The guests of an event: who sits where, makes what, and must not eat what, from a table as spreadsheets write it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import chain, islice

from msgspec import Struct
from msgspec.structs import replace

from foldwright.event.facts.guest_columns import GuestColumns, columns_of
from foldwright.event.facts.guest_text import (
    LINES_LOOKED_AT,
    MOST_GUEST_BYTES,
    GuestFindings,
    GuestRow,
    decoded,
    rows_of,
)
from foldwright.event.facts.projects import Offered, recipe_meant
from foldwright.finding import Finding, Place
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.unprintable import UNPRINTABLE, gated

__all__ = ["LONGEST", "MOST_GUESTS", "MOST_GUEST_BYTES", "Guest", "GuestsRead", "chosen", "read_guests"]

MOST_GUESTS = 20_000
LONGEST = {"name": 80, "table": 80, "project": 120, "size": 40, "diet": 400, "note": 200}
"""Characters that fit on a card, or in a line of a paper."""
_NAMED = 3
"""As many are named of those who say no project; then they are counted."""


class Guest(Struct, frozen=True):
    """One place at a table, as typed but for runs of blanks. Only the name is never empty.

    `recipe` is the number of the planned recipe that project and size mean, from nought; None where that is not known.
    """

    name: str
    table: str = ""
    note: str = ""
    project: str = ""
    diet: str = ""
    size: str = ""
    recipe: int | None = None


class GuestsRead(Struct, frozen=True):
    """In the order of the file; two guests may have the same name. `guests` is None when there are none.

    Places of `findings` are offsets into `text`, the file decoded.
    """

    guests: tuple[Guest, ...] | None
    findings: tuple[Finding, ...]
    text: str = ""


def read_guests(data: bytes, file: str, offered: tuple[Offered, ...] = ()) -> GuestsRead:
    """The guests and all that is the matter with the file. Whatever the bytes, a finding and never an exception.

    `offered` are the recipes that are planned, in order.
    """
    told = GuestFindings(file)
    text = decoded(data, told)
    if text is None:
        return GuestsRead(None, told.findings)
    if (at := text.find("\0")) >= 0:
        told.fault("guests-not-text", at, at + 1)
        return GuestsRead(None, told.findings, text)
    if UNPRINTABLE.search(text):
        complaints = Complaints()
        gated(text, file, complaints)
        return GuestsRead(None, (*told.findings, *complaints.findings), text)
    guests = _guests(text, file, offered, told)
    if not guests and not told.any_fault:
        told.fault("guests-none", 0, 0, file=file)
    return GuestsRead(guests or None, told.findings, text)


def _guests(text: str, file: str, offered: tuple[Offered, ...], told: GuestFindings) -> tuple[Guest, ...]:
    rows = rows_of(text, told)
    top = list(islice(rows, LINES_LOOKED_AT))
    columns, begin = columns_of(top, offered, told)
    found: list[tuple[Guest, GuestRow]] = []
    for number, row in enumerate(chain(top[begin:], rows)):
        if number == MOST_GUESTS:
            told.fault("guests-too-many", row.start, row.end, most=MOST_GUESTS)
            break
        if values := _values(row, columns, text, told):
            found.append((Guest(**values, recipe=None), row))
    _tell_doubles(found, file, told)
    guests = _making(found, offered, text, told)
    _tell_mixed_tables(guests, [row for _, row in found], offered, told)
    return guests


def _values(row: GuestRow, columns: GuestColumns, text: str, told: GuestFindings) -> dict[str, str] | None:
    """What is said of a guest; None where no name is."""
    beyond = [cell for cell in row.cells[columns.width :] if cell]
    if beyond:
        told.thought("guests-cells-beyond", *_place_of(beyond[0], row, text), cell=beyond[0][:40])
    values = {
        "name": _name(columns, row),
        "table": "".join(columns.cells(row, "table")),
        "note": "; ".join(columns.cells(row, "note")),
        "project": "".join(columns.cells(row, "project")),
        "diet": "; ".join(columns.cells(row, "diet")),
        "size": "".join(columns.cells(row, "size")),
    }
    for word, value in values.items():
        if len(value) > LONGEST[word]:
            code = "guests-diet-too-long" if word == "diet" else "guests-cell-too-long"
            said = value[:24] + "…"
            told.fault(code, *_place_of(value, row, text), word=word, said=said, most=LONGEST[word])
            # Of what somebody must not eat a part is better than nothing.
            values[word] = value[: LONGEST[word] - 1] + "…" if word == "diet" else ""
    if "\N{REPLACEMENT CHARACTER}" in values["name"]:
        told.thought("guests-lost-letter", *_place_of(values["name"], row, text), said=values["name"][:40])
    if not any(columns.cells(row, word) for word in ("whole", "name", "first", "last")):
        told.fault("guests-no-name", row.start, row.end)
    return values if values["name"] else None


def _name(columns: GuestColumns, row: GuestRow) -> str:
    """The name that is whole, or put together: `Nom` beside `Prénom` is a last name, `Nombre` beside `Apellidos` not.

    Where the column `Name` already holds what stands beside it, that is not said twice.
    """
    if whole := "".join(columns.cells(row, "whole")):
        return whole
    name, first, last = (" ".join(columns.cells(row, word)) for word in ("name", "first", "last"))
    words = set(name.split())
    first = "" if set(first.split()) <= words else first
    last = "" if set(last.split()) <= words else last
    return " ".join(filter(None, (first, name, last)))


def _place_of(cell: str, row: GuestRow, text: str) -> tuple[int, int]:
    """Where a cell stands in its row; the whole row when it was cleaned or put together."""
    whole = re.compile(rf'(?:(?<=[,;\t\n" ])|^){re.escape(cell)}(?=[,;\t\n" ]|$)').search(text, row.start, row.end)
    start = whole.start() if cell and whole else text.find(cell, row.start, row.end) if cell else -1
    return (start, start + len(cell)) if start >= 0 else (row.start, row.end)


# --- what to tell of them together ------------------------------------------------------------------------------------


def _tell_doubles(found: Sequence[tuple[Guest, GuestRow]], file: str, told: GuestFindings) -> None:
    """A name that stands twice: two people, or one who was written down again. Nobody is left out."""
    first: dict[str, GuestRow] = {}
    for guest, row in found:
        before = first.setdefault(guest.name.casefold(), row)
        if before is not row:
            place = Place(file, before.start, before.end)
            told.thought("guests-name-twice", row.start, row.end, name=guest.name, first=place)


def _making(
    found: Sequence[tuple[Guest, GuestRow]], offered: tuple[Offered, ...], text: str, told: GuestFindings
) -> tuple[Guest, ...]:
    """The guests with what each makes; what could not be told apart is told."""
    if not offered:
        return tuple(guest for guest, _ in found)
    any_project = any(guest.project for guest, _ in found)
    guests: list[Guest] = []
    without: list[tuple[str, GuestRow]] = []
    for guest, row in found:
        meant = recipe_meant(guest.project, guest.size, offered)
        if meant.slip == "guests-project-missing":
            without.append((guest.name, row))
        elif meant.slip == "guests-size-one":
            told.once("guests-size-one", *_place_of(guest.size, row, text), size=guest.size, title=offered[0].names[0])
        elif meant.slip:
            said = guest.size if meant.slip == "guests-size-unknown" else guest.project
            code = f"{meant.slip}-near" if meant.near else meant.slip
            place = _place_of(said, row, text)
            told.fault(code, *place, name=guest.name, said=said, nearest=meant.near, known=meant.known)
        guests.append(replace(guest, recipe=meant.recipe))
    if without and any_project:
        names = tuple(name for name, _ in without[:_NAMED])
        row = without[0][1]
        told.thought("guests-project-missing", row.start, row.end, names=names, count=len(without))
    elif without:
        told.once("guests-no-projects", without[0][1].start, without[0][1].end)
    return tuple(guests)


def _tell_mixed_tables(
    guests: Sequence[Guest], rows: Sequence[GuestRow], offered: Sequence[Offered], told: GuestFindings
) -> None:
    """A table at which two recipes are made needs the tools of both: it stays as the list has it, and is told."""
    made: dict[str, int] = {}
    mixed: set[str] = set()
    for guest, row in zip(guests, rows, strict=True):
        if guest.table and guest.recipe is not None:
            key = guest.table.casefold()
            first = made.setdefault(key, guest.recipe)
            if offered[first].folder != offered[guest.recipe].folder and key not in mixed:
                titles = tuple(offered[number].names[0] for number in (first, guest.recipe))
                told.thought("guests-table-mixed", row.start, row.end, table=guest.table, titles=titles)
                mixed.add(key)


def chosen(guests: Sequence[Guest], recipes: int) -> tuple[int, ...]:
    """How many guests make each of the recipes."""
    return tuple(sum(guest.recipe == number for guest in guests) for number in range(recipes))
