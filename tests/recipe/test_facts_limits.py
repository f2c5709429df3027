"""Limits of the facts: passing one is told, and no heap of text takes long."""

from __future__ import annotations

import pytest

from foldwright.recipe.facts.limits import DEEPEST, MOST_BYTES, MOST_FACTS, MOST_PANELS, MOST_PIECES
from foldwright.recipe.reading import Reading, read_recipe

WORDS = "---\n\n## Step\n\nWords.\n"
HEAPS = {
    "unknown words": "".join(f"w{number}: y\n" for number in range(MOST_BYTES // 10)),
    "one line continued": "  y\n" * (MOST_BYTES // 4),
    "an open bracket": "note: {\n" + "  y\n" * (MOST_BYTES // 4),
    "one fact again and again": "makes: x\n" * (MOST_BYTES // 9),
    "brackets": "supplies:\n  a: " + "(" * MOST_BYTES,
    "commas": "supplies:\n  a: " + "b," * (MOST_BYTES // 2),
    "places": "pieces:\n  a: size 5 x 4 in\n  b:\n    goes on: " + "a and " * (MOST_BYTES // 6),
    "pieces": "pieces:\n" + "".join(f"  p {number}: goes on p 1\n" for number in range(MOST_BYTES // 22)),
    "digits": "pieces:\n  a:\n    size: " + "1" * MOST_BYTES,
    "blanks": "makes: x" + " " * MOST_BYTES + "y",
}


def read(facts: str) -> Reading:
    return read_recipe(f"---\ntitle: x\n{facts}\n{WORDS}", "r", "slug")


@pytest.mark.parametrize("heap", HEAPS.values(), ids=HEAPS)
def test_no_heap_of_text_takes_long(heap: str) -> None:
    """The slowest takes a second or two; one that grew with its square would take hours, and this run would not end."""
    reading = read(heap)
    assert "too-many-facts" in {finding.code for finding in reading.findings}
    assert reading.recipe is not None
    assert len(reading.recipe.steps) == 1


def test_as_many_facts_as_are_allowed_are_read() -> None:
    line = "#" * 63 + "\n"
    room = MOST_FACTS - len("\ntitle: x\nmakes: y\n\n")
    reading = read(line * (room // len(line)) + "makes: y")
    assert reading.findings == ()
    assert reading.recipe is not None
    assert reading.recipe.makes is not None


@pytest.mark.parametrize(
    ("piece", "codes"),
    [
        (f"across: {MOST_PANELS} of 1 mm", []),
        (f"across: {MOST_PANELS + 1} of 1 mm", ["odd-number-of-panels"]),
        (f"across: {MOST_PANELS} of 1 mm | 1 mm", ["too-many-panels"]),
        (f"count: {MOST_PIECES}", []),
        (f"count: {MOST_PIECES + 1}", ["too-many"]),
    ],
)
def test_limits_of_a_piece(piece: str, codes: list[str]) -> None:
    assert [finding.code for finding in read(f"pieces:\n  a:\n    {piece}").findings] == codes


@pytest.mark.parametrize(("levels", "codes"), [(DEEPEST, []), (DEEPEST + 1, ["too-deep"])])
def test_limit_of_levels(levels: int, codes: list[str]) -> None:
    facts = "".join(f"{' ' * level}{'note' if level else 'summary'}:\n" for level in range(levels)).rstrip("\n")
    assert [finding.code for finding in read(f"{facts} x").findings] == codes
