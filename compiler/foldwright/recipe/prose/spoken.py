"""The plain text of some prose: what is said, without marks; measures as their author spelled them."""

from __future__ import annotations

from collections.abc import Iterable

from foldwright.recipe.words import Block, Break, Code, Measure, Text, flat_runs, lines_of


def spoken_text(blocks: Iterable[Block]) -> str:
    """Everything the blocks say, blocks parted by line ends; code and preformatted text say nothing."""
    return "".join([_spoken(run) for line in lines_of(blocks) for run in (*flat_runs(line), None)])


def _spoken(run: Text | Measure | Code | Break | None) -> str:
    match run:
        case Text():
            return run.text
        case Measure():
            return run.said
        case Code() | Break():
            return " "
        case None:
            return "\n"
