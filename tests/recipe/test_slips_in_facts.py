"""Slips and odd layouts in the facts: what was read, what was told, and where (tests/cases/slips-in-facts.txt)."""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from foldwright.document.findings import tell
from foldwright.finding import Strength
from foldwright.recipe.model import Recipe
from foldwright.recipe.reading import read_recipe
from recipe.facts_shown import shown


@dataclass(frozen=True)
class Case:
    name: str
    facts: str
    read: tuple[tuple[str, str], ...]
    told: tuple[str, ...]

    @property
    def text(self) -> str:
        has_title = re.search(r"^\W*(title)\b", self.facts, re.MULTILINE | re.IGNORECASE)
        return f"---\n{'' if has_title else 'title: x' + chr(10)}{self.facts}---\n\n## Step\n\nWords.\n"


def cases() -> Iterator[Case]:
    text = (Path(__file__).parents[1] / "cases" / "slips-in-facts.txt").read_text(encoding="utf-8")
    for part in text.split("\n=== ")[1:]:
        name, *lines = part.rstrip().split("\n")
        facts = [line for line in lines if not line.startswith(("=> ", ">>> "))]
        read = [tuple(line[3:].split(": ", 1)) for line in lines if line.startswith("=> ")]
        told = [line[4:] for line in lines if line.startswith(">>> ")]
        yield Case(name, "\n".join(facts) + "\n", tuple((one[0], one[1]) for one in read), tuple(told))


CASES = [pytest.param(case, id=case.name) for case in cases()]


def found(recipe: Recipe, path: str) -> str:
    """`pieces/base/size` of a recipe, in short; a row of named things is their names."""
    value: object = recipe
    for word in path.split("/"):
        if isinstance(value, tuple):
            value = next(one for one in value if one.name.value == word)
        else:
            value = getattr(value, word)
    if isinstance(value, tuple) and value and hasattr(value[0], "name") and not hasattr(value[0], "length"):
        return " ; ".join(one.name.value for one in value)
    return shown(value)


@pytest.mark.parametrize("case", CASES)
def test_what_was_read(case: Case) -> None:
    recipe = read_recipe(case.text, "r", "slug").recipe
    assert recipe is not None
    assert [(path, found(recipe, path)) for path, _ in case.read] == list(case.read)


@pytest.mark.parametrize("case", CASES)
def test_what_was_told_and_where(case: Case) -> None:
    told = [
        f"{finding.code} {case.text[finding.place.start : finding.place.end]}".replace("\n", "⏎")
        for finding in read_recipe(case.text, "r", "slug").findings
        if finding.place
    ]
    assert told == list(case.told)


@pytest.mark.parametrize("case", CASES)
def test_how_it_is_told(case: Case) -> None:
    """Every message stands on its line, quotes the author unless it speaks of one mark, and says what to do."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for finding in read_recipe(case.text, "r", "slug").findings:
            one = tell(finding, {"r": case.text})
            assert one.line > 1
            assert one.says
            assert one.remedy
            assert "{" not in one.says.replace("{kind", "")
            assert one.strength in (Strength.FAULT, Strength.THOUGHT)
