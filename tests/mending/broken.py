"""Recipes with something the matter, from all the files of cases; and what a mend must do. Not a test."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import batched
from pathlib import Path
from typing import Any

from bind.recipes import with_words
from foldwright.finding import Finding, Mend, Place, Strength
from foldwright.finding.changes import changed, moved
from foldwright.pipeline import check_recipe
from geometry import test_planted_faults as planted
from recipe import test_awkward_values as awkward
from recipe import test_slips_in_facts as slips

FILE = "recipe.md"
_CASES = Path(__file__).parents[1] / "cases"
MENDS: dict[str, Any] = tomllib.loads((_CASES / "mends.toml").read_text(encoding="utf-8"))
SOUND: str = MENDS["recipe"].lstrip()
GOES_ELSEWHERE = frozenset({"unclear-indent", "unclear-tab", "panel-empty"})
"""Of these one way or another need not be what was meant: a fault may come of it that was none before."""


def with_swap(swap: list[str]) -> str:
    """The sound recipe with texts in the place of others."""
    text = SOUND
    for before, after in batched(swap, 2):
        assert before in text, before
        text = text.replace(before, after, 1)
    return text


def of_mends() -> Iterator[tuple[str, str]]:
    """The cases of mends.toml, by name."""
    for case in MENDS["case"]:
        yield f"{case['code']}: {case['swap'][1][:40]!r}", with_swap(case["swap"])


def of_values() -> Iterator[tuple[str, str]]:
    """The awkward values of which something is told."""
    for word, table in awkward.TABLES.items():
        for typed, expected in table.items():
            if not isinstance(expected, str):
                yield f"{word}: {typed!r}", awkward.recipe_with(word, typed)


def of_slips() -> Iterator[tuple[str, str]]:
    """The slips in facts; of a name used twice only the first is read, and the second comes up when that goes."""
    yield from ((one.name, one.text) for one in slips.cases() if one.told and one.name != "a name used twice")


def of_numbers() -> Iterator[tuple[str, str]]:
    """The wrong numbers in words."""
    cases = tomllib.loads((_CASES / "wrong-numbers.toml").read_text(encoding="utf-8"))["case"]
    for case in cases:
        words, do = case["words"], case.get("do", "")
        yield f"{case['recipe']}: {words[:60]}", with_words(case["recipe"], words, do)


def of_pieces() -> Iterator[tuple[str, str]]:
    """The planted faults, but those whose outline is a file."""
    for case in planted.CASES:
        if "code" in case and "outlines" not in case:
            yield case["name"], planted.text_of(case, case["pieces"])


@cache
def found_in(text: str) -> tuple[Finding, ...]:
    """What is the matter with a recipe."""
    return check_recipe(text, FILE, "recipe").findings


def ways_of(text: str) -> Iterator[tuple[Finding, Mend]]:
    """Every mend there is, each with its finding; of those that hide a suggestion, which are all alike, the first."""
    hidden = False
    for finding in found_in(text):
        for mend in finding.mends:
            if not mend.hides or not hidden:
                yield finding, mend
            hidden = hidden or mend.hides


def assert_mended(text: str, finding: Finding, mend: Mend) -> None:
    """It is not found any more where it was, and no fault is found that was none before.

    One fault may come to light where there was one: what could not be read is read now.
    """
    after = found_in(changed(text, mend.changes))
    assert finding.place is not None
    here = {moved(finding.place.start, mend.changes), finding.place.start}
    others = [_about(one, text) for one in found_in(text) if one.code == finding.code and one != finding]
    left = [one for one in after if one.code == finding.code and one.place and one.place.start in here]
    left = [one for one in left if mend.hides or _about(one, changed(text, mend.changes)) not in others]
    assert not left, (finding.code, mend, left)
    before, now = _faults(found_in(text)), _faults(after)
    if finding.strength is Strength.FAULT:
        assert finding.code in GOES_ELSEWHERE or now.total() <= before.total(), (finding.code, mend, now - before)
    else:
        assert not now - before, (finding.code, mend, now - before)


def _about(finding: Finding, text: str) -> tuple[str, tuple[object, ...]]:
    """What it is about, wherever it stands by now."""
    place = finding.place
    facts = tuple(value for _, value in finding.facts if not isinstance(value, Place))
    return text[place.start : place.end] if place else "", facts


def _faults(findings: tuple[Finding, ...]) -> Counter[str]:
    return Counter(one.code for one in findings if one.strength is Strength.FAULT)
