"""Faults planted in pieces of a studio, each told once where it stands; of their sound twins nothing is told.

The cases are data (`tests/cases/planted-faults.toml`) with the arithmetic by hand beside them.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from foldwright.finding import Finding, Strength
from foldwright.measure.length import Length
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.writing import write_length

CASES: list[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parents[1] / "cases" / "planted-faults.toml").read_text(encoding="utf-8")
)["case"]
RECIPE = """---
title: A trial
makes: 1 box
measured in: {units}
level: easy
supplies:
  card: cardstock, weight 200 g/m2, thickness 0.3 mm, sheet 700 x 1000 mm, pack 10 at 6.00
  wet glue: wet glue, use a little
{supplies}tools:
  - scissors, craft knife, ruler, scoring tool
pieces:
{pieces}
---

## Make it

do: cut and score {names}, fold {names}, glue {names}
time: 9 min

Cut and score, then fold and glue.
"""
BENCHES = {
    "post": "  envelope: envelope, size 150 x 107 mm, use 1, pack 25 at 6.25\n",
    "tiles": "  tile: tile, size 68 x 40 x 8 mm, use 4, this way up\n",
    "tokens": "  token card: gift card, size 85.6 x 54 x 0.76 mm, use 1\n",
}
OF_THE_BENCH = frozenset({"kind-unknown", "sheet-yields-half", "no-trim-to-spare", "contains-unsaid"})
"""What is told of the bench and not of the pieces."""


def text_of(case: dict[str, Any], pieces: str) -> str:
    """The whole recipe of a case."""
    names = [line[:-1] for line in pieces.splitlines() if line and not line.startswith(" ")]
    facts = {
        "units": "inches" if " in\n" in pieces else "millimetres",
        "supplies": BENCHES.get(case.get("bench", ""), ""),
        "pieces": "\n".join("  " + line for line in pieces.strip("\n").splitlines()),
        "names": " and ".join(names),
    }
    return RECIPE.format(**facts)


def told(case: dict[str, Any], pieces: str) -> tuple[str, list[Finding]]:
    text = text_of(case, pieces)
    files = {name: svg.encode() for name, svg in case.get("outlines", {}).items()}
    findings = check_recipe(text, "recipe.md", "trial", read=lambda name, most: files.get(name)).findings
    return text, [one for one in findings if one.code not in OF_THE_BENCH]


@pytest.mark.parametrize("case", [case for case in CASES if "code" in case], ids=lambda case: case["name"])
def test_a_planted_fault_is_told_once_where_it_stands(case: dict[str, Any]) -> None:
    text, findings = told(case, case["pieces"])
    also = case.get("also", "")
    assert sorted(one.code for one in findings) == sorted(filter(None, (case["code"], also)))
    (finding,) = (one for one in findings if one.code == case["code"])
    assert finding.place is not None
    assert text[finding.place.start : finding.place.end].startswith(case["at"])
    assert finding.strength is (Strength.THOUGHT if case.get("strength") == "thought" else Strength.MISFIT)
    if "over" in case:
        lengths = [write_length(fact) for _, fact in finding.facts if isinstance(fact, Length)]
        assert case["over"] in lengths


@pytest.mark.parametrize("case", [case for case in CASES if case.get("sound", True)], ids=lambda case: case["name"])
def test_nothing_is_told_of_a_sound_twin(case: dict[str, Any]) -> None:
    pieces = case["pieces"]
    for old, new in ([case["twin"]] if "twin" in case else []) + case.get("twin2", []):
        assert old in pieces
        pieces = pieces.replace(old, new)
    assert [one.code for one in told(case, pieces)[1]] == []
