"""The tables of an event: the people who make the same sit together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import count

from msgspec import Struct

from foldwright.event.facts.guests import Guest
from foldwright.event.plan.model import shares


class ClassTable(Struct, frozen=True):
    """One table: what it is called, which recipe is made there (by its number from nought), and by how many people.

    `guests` are the numbers, from nought, of those whose names are known. A table at which a list of guests has several
    recipes made stands here once for each of them, by the same name.
    """

    name: str
    recipe: int
    people: int
    guests: tuple[int, ...] = ()


def tables_of(kits: Sequence[int], per_table: int, guests: Sequence[Guest] = ()) -> tuple[ClassTable, ...]:
    """Tables that guests are said to sit at stay as they are; all others sit where their project has free places, then
    at as few tables more as seat them, projects apart, people spread evenly over those of a project, numbered from 1.
    """
    named = _as_listed(guests)
    taken = _numbers_taken(guests)
    names = (number for number in map(str, count(1)) if number not in taken)
    return tuple(
        table
        for recipe, people in enumerate(kits)
        for table in _of_recipe(recipe, people, per_table, guests, named, names)
    )


type _Listed = dict[str, tuple[str, dict[int | None, list[int]]]]


def _as_listed(guests: Sequence[Guest]) -> _Listed:
    """The tables of the list by their names in small letters: as first written, and who makes what there."""
    found: _Listed = {}
    for number, guest in enumerate(guests):
        if guest.table:
            _, seated = found.setdefault(guest.table.casefold(), (guest.table, {}))
            seated.setdefault(guest.recipe, []).append(number)
    return found


def _numbers_taken(guests: Sequence[Guest]) -> frozenset[str]:
    """`4`, and that of `Table 4` or `Tisch 4`, which is the same table to whoever looks for it."""
    return frozenset(word for guest in guests for word in guest.table.split() if word.isdecimal())


def _of_recipe(
    recipe: int, people: int, per_table: int, guests: Sequence[Guest], named: _Listed, names: Iterator[str]
) -> Iterator[ClassTable]:
    waiting = [number for number, guest in enumerate(guests) if guest.recipe == recipe and not guest.table]
    listed = [(name, seated) for name, seated in named.values() if recipe in seated]
    # People without a name sit down after those with one.
    others = max(0, people - len(waiting) - sum(len(seated[recipe]) for _, seated in listed))
    for name, seated in listed:
        mixed = len(seated.keys() - {None}) > 1
        free = 0 if mixed else max(0, per_table - sum(map(len, seated.values())))
        joining, waiting = waiting[:free], waiting[free:]
        nameless = min(free - len(joining), others)
        others -= nameless
        here = (*seated[recipe], *joining)
        yield ClassTable(name, recipe, len(here) + nameless, here)
    rest = len(waiting) + others
    for some in shares(rest, -(-rest // per_table)):
        here, waiting = tuple(waiting[:some]), waiting[some:]
        yield ClassTable(next(names), recipe, some, here)
