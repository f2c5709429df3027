"""The phrases of tests/cases/measures-in-prose.txt, and what each of them says must be found."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from foldwright.measure.length import Shape, Unit

CASES = Path(__file__).parents[1] / "cases" / "measures-in-prose.txt"
SHAPES = {"x": Shape.CROSS, "to": Shape.RANGE, "list": Shape.LIST}
UNITS = {unit.symbol: unit for unit in Unit}


@dataclass(frozen=True)
class Expected:
    """What one measure must be; `lengths` are compared with their units."""

    said: str
    shape: Shape
    lengths: tuple[tuple[Fraction, Unit], ...]
    hyphenated: bool


@dataclass(frozen=True)
class Phrase:
    line: int
    text: str
    expected: tuple[Expected, ...]
    reason: str


def phrases() -> list[Phrase]:
    lines = CASES.read_text(encoding="utf-8").split("\n")
    return [_phrase(number, line) for number, line in enumerate(lines, 1) if "=>" in line and not line.startswith("#")]


def _phrase(number: int, line: str) -> Phrase:
    marked, _, wanted = line.rpartition("=>")
    marked, wanted = marked.rstrip(" "), wanted.strip()
    said = re.findall(r"\{([^}]*)\}", marked)
    text = marked.replace("{", "").replace("}", "")
    if wanted.startswith("(") or not wanted:
        assert not said, f"line {number}: braces, but nothing behind the arrow"
        return Phrase(number, text, (), wanted.strip("()"))
    measures = wanted.split(";")
    return Phrase(number, text, tuple(_expected(*pair) for pair in zip(said, measures, strict=True)), "")


def _expected(said: str, wanted: str) -> Expected:
    words = wanted.split()
    hyphenated = words[0] == "adjective"
    words = words[1:] if hyphenated else words
    shape = SHAPES.get(words[0], Shape.SINGLE)
    numbers = " ".join(words[1:] if words[0] in SHAPES else words).split(",")
    lengths = tuple((Fraction(number.split()[0]), UNITS[number.split()[1]]) for number in numbers)
    return Expected(said, shape, lengths, hyphenated)
