"""The tables of an event: the people who make the same sit together."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from foldwright.plan.event.model import shares


class Table(Struct, frozen=True):
    """One table: what it is called, which recipe is made there (by its number from nought), and by how many people."""

    name: str
    recipe: int
    people: int


def tables_of(kits: Sequence[int], per_table: int) -> tuple[Table, ...]:
    """As few tables as seat all, projects apart, people spread evenly over those of a project; numbered from 1."""
    found: list[Table] = []
    for recipe, people in enumerate(kits):
        for some in shares(people, -(-people // per_table)):
            found.append(Table(str(len(found) + 1), recipe, some))
    return tuple(found)
