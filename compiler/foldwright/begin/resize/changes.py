"""What differs between a recipe and its new size, as the lines of an entry under `sizes:`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from foldwright.begin.resize.resizing import Resized
from foldwright.recipe.facts.writing import WrittenFact, fact_lines, piece_measures, supply_measures
from foldwright.recipe.model import Recipe


def size_entry(name: str, recipe: Recipe, resized: Resized) -> tuple[str, ...]:
    """The entry, its lines pushed in below its name; only the name when nothing differs."""
    lines = [f"{name}:"]
    for old, new in zip(recipe.pieces, resized.pieces, strict=True):
        lines += _differing(old.name.value, piece_measures(old), piece_measures(new))
    for one, other in zip(recipe.supplies, resized.supplies, strict=True):
        lines += _differing(one.name.value, supply_measures(one), supply_measures(other))
    return tuple(lines)


def _differing(name: str, old: Iterable[WrittenFact], new: Iterable[WrittenFact]) -> Iterator[str]:
    known = set(old)
    differ = [fact for fact in new if fact not in known]
    if differ:
        yield f"  {name}:"
        yield from (f"    {line}" for line in fact_lines(differ))


def with_size(text: str, entry: Sequence[str]) -> str:
    """A recipe's text with the entry under `sizes:`, at the end of its facts; nothing else is changed."""
    lines = text.splitlines(keepends=True)
    fences = [number for number, line in enumerate(lines) if line.rstrip() == "---"]
    end = fences[1]
    pushed = [f"  {line}\n" for line in entry]
    there = next((number for number in range(fences[0], end) if lines[number].rstrip() == "sizes:"), None)
    if there is None:
        return "".join([*lines[:end], "\n", "sizes:\n", *pushed, *lines[end:]])
    after = next((number for number in range(there + 1, end) if lines[number][:1] not in (" ", "\n", "#")), end)
    while not lines[after - 1].strip():
        after -= 1
    return "".join([*lines[:after], *pushed, *lines[after:]])
