"""What differs between a recipe and its new size, as the lines of an entry under `sizes:`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from foldwright.begin.design.resizing import Resized
from foldwright.recipe.model import Recipe
from foldwright.recipe.writing_facts import write_piece, write_supply_facts


def size_entry(name: str, recipe: Recipe, resized: Resized) -> tuple[str, ...]:
    """The entry, its lines pushed in below its name; only the name when nothing differs."""
    lines = [f"{name}:"]
    for old, new in zip(recipe.pieces, resized.pieces, strict=True):
        lines += _differing(old.name.value, write_piece(old)[1:], write_piece(new)[1:])
    for one, other in zip(recipe.supplies, resized.supplies, strict=True):
        lines += _differing(one.name.value, list(write_supply_facts(one)), list(write_supply_facts(other)))
    return tuple(lines)


def _differing(name: str, old: Sequence[str], new: Sequence[str]) -> Iterator[str]:
    """The facts that are not the same, with the lines of a list kept together."""
    known = set(_facts(old))
    differ = [fact for fact in _facts(new) if fact not in known]
    if differ:
        yield f"  {name}:"
        for fact in differ:
            yield from (f"  {line}" for line in fact)


def _facts(lines: Sequence[str]) -> list[tuple[str, ...]]:
    """Each fact with the lines beneath it; all pushed in by two."""
    facts: list[tuple[str, ...]] = []
    for line in lines:
        if line.startswith("    ") and facts:
            facts[-1] = (*facts[-1], line)
        else:
            facts.append((line,))
    return facts


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
