"""Tables by their numbers: those that follow on each other are told from the first to the last."""

from __future__ import annotations

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.event.document.tables import _named
from foldwright.event.plan.tools import ClassTable


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["1"], "Table 1"),
        (["1", "2"], "Tables 1 and 2"),
        (["1", "2", "3", "7", "9", "10"], "Tables 1 to 3, 7, 9 and 10"),
        (["4", "5", "6", "Lily", "07"], "Tables 4 to 6, Lily and 07"),
        ([str(number) for number in range(1, 1251)], "Tables 1 to 1250"),
    ],
)
def test_numbers_that_follow_on_each_other_are_a_run(names: list[str], told: str) -> None:
    assert _named([ClassTable(name, 0, 8) for name in names], catalogue()) == told
