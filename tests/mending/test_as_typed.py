"""What stands in the text after a mend is what its author would have typed (tests/cases/mends.toml)."""

from __future__ import annotations

from difflib import unified_diff
from typing import Any

import pytest

from foldwright.finding.changes import changed
from mending import broken

CASES = [pytest.param(case, id=f"{case['code']}: {case['swap'][1][:40]!r}") for case in broken.MENDS["case"]]


def test_nothing_is_the_matter_with_the_recipe_that_the_cases_break() -> None:
    assert broken.found_in(broken.SOUND) == ()


@pytest.mark.parametrize("case", CASES)
def test_each_way_types_what_the_case_says(case: dict[str, Any]) -> None:
    text = broken.with_swap(case["swap"])
    finding = next(one for one in broken.found_in(text) if one.code == case["code"])
    ways = [shown(text, changed(text, one.changes)) for one in finding.mends if not one.hides]
    if case["ways"][-1] == "…":
        expected = case["ways"][:-1]
        assert ways[: len(expected)] == expected
    else:
        assert ways == case["ways"]


def shown(before: str, after: str) -> str:
    """The lines that are new; those that are gone, where none is."""
    lines = list(unified_diff(before.split("\n"), after.split("\n"), n=0, lineterm=""))[2:]
    changes = [line for line in lines if line[0] in "+-"]
    return "\n".join([line for line in changes if line[0] == "+"] or changes)
