"""Who sits where: tables of a list of guests stay, others sit with their own project, all are seated once."""

from __future__ import annotations

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from foldwright.event.facts.guests import Guest
from foldwright.event.plan.tools import ClassTable, tables_of


def test_without_a_list_projects_are_apart_and_tables_are_even() -> None:
    """Reckoned by hand: 20 people at tables of 8 take three (7, 7, 6), nine more take two (5, 4)."""
    tables = tables_of([20, 9], 8)
    assert [(one.name, one.recipe, one.people) for one in tables] == [
        ("1", 0, 7), ("2", 0, 7), ("3", 0, 6), ("4", 1, 5), ("5", 1, 4),
    ]  # fmt: skip


def test_tables_of_the_list_stay_and_the_others_fill_up_those_of_their_project() -> None:
    guests = [
        Guest("A", table="Lily", recipe=0),
        Guest("B", recipe=0),
        Guest("C", table="lily", recipe=0),
        Guest("D", recipe=1),
        Guest("E", table="Table 1", recipe=1),
    ]
    # Two of four places at Lily are free: B takes one, a nameless person the other; two more sit at a table of theirs.
    assert tables_of([6, 3], 4, guests) == (
        ClassTable("Lily", 0, 4, (0, 2, 1)),
        ClassTable("2", 0, 2),
        ClassTable("Table 1", 1, 3, (4, 3)),
    )


def test_a_table_with_two_projects_stays_and_nobody_joins_it() -> None:
    guests = [Guest("A", table="Lily", recipe=0), Guest("B", table="Lily", recipe=1), Guest("C", recipe=0)]
    assert tables_of([2, 1], 8, guests) == (
        ClassTable("Lily", 0, 1, (0,)),
        ClassTable("1", 0, 1, (2,)),
        ClassTable("Lily", 1, 1, (1,)),
    )


def test_a_guest_of_no_known_project_keeps_a_place_at_the_table_of_the_list() -> None:
    guests = [Guest("A", table="4", recipe=0), Guest("B", table="4"), Guest("C", recipe=0)]
    assert tables_of([2, 1], 2, guests) == (
        ClassTable("4", 0, 1, (0,)),
        ClassTable("1", 0, 1, (2,)),
        ClassTable("2", 1, 1),
    )


GUESTS = st.lists(
    st.builds(
        Guest,
        st.just("Zoë"),
        table=st.sampled_from(["", "", "1", "Lily", "Rose"]),
        recipe=st.sampled_from([0, 1, None]),
    ),
    max_size=25,
)


@given(GUESTS, st.lists(st.integers(1, 30), min_size=2, max_size=2), st.integers(1, 9))
def test_everybody_sits_once_and_projects_are_mixed_only_by_the_list(
    guests: list[Guest], kits: list[int], per_table: int
) -> None:
    tables = tables_of(kits, per_table, guests)
    seated = Counter(number for table in tables for number in table.guests)
    assert seated == Counter(number for number, guest in enumerate(guests) if guest.recipe is not None)
    listed = {guest.table.casefold() for guest in guests if guest.table}
    for recipe, people in enumerate(kits):
        mine = [table for table in tables if table.recipe == recipe]
        named = sum(guest.recipe == recipe for guest in guests)
        assert sum(table.people for table in mine) == max(people, named)
        for table in mine:
            assert all(guests[number].recipe == recipe for number in table.guests)
            assert all(guests[number].table.casefold() in ("", table.name.casefold()) for number in table.guests)
            assert len(table.guests) <= table.people
            assert table.name.casefold() in listed or table.people <= per_table
    added = [table.name for table in tables if table.name.casefold() not in listed]
    assert len(added) == len(set(added))
