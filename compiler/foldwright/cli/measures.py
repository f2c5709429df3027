"""The measures found in a recipe's words, how each was understood, and what was passed over, ready to be listed."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from foldwright.finding import LineTable
from foldwright.geometry.lengths import LengthId
from foldwright.measure.writing import write_exact
from foldwright.pipeline import Understood
from foldwright.recipe.model import Recipe
from foldwright.recipe.words import (
    Block,
    Emphasis,
    Inline,
    Items,
    Link,
    Measure,
    Paragraph,
    Quote,
    Strong,
    Subheading,
)
from foldwright.sheet.catalogue import catalogue


class FoundMeasure(Struct, frozen=True):
    """`line` and `column` count from one; `exact_mm` are exact fractions of a millimetre; `meant` may be empty.

    `why` says what made it a measure.
    """

    line: int
    column: int
    said: str
    understood: str
    exact_mm: tuple[str, ...]
    meant: str
    why: str


class PassedOver(Struct, frozen=True):
    """What looked like a measure and was not taken for one, and why."""

    line: int
    column: int
    said: str
    why: str


def found_measures(understood: Understood, text: str) -> tuple[FoundMeasure, ...]:
    """Every measure of the recipe's words in the order of the text."""
    table = LineTable(text)
    ids = understood.binding.ids
    measures = sorted(_measures(understood.recipe), key=lambda measure: measure.place)
    return tuple(_listed(measure, table, ids.get(measure.place, ())) for measure in measures)


def passed_over(understood: Understood, text: str) -> tuple[PassedOver, ...]:
    """What was passed over in the recipe's words, in the order of the text."""
    table = LineTable(text)
    words = catalogue()
    return tuple(
        PassedOver(*table.line_and_column(one.place.start), one.said, words.say(f"measured.passed.{one.why}"))
        for one in sorted(understood.recipe.not_measured, key=lambda one: one.place)
    )


def _listed(measure: Measure, table: LineTable, ids: tuple[LengthId, ...]) -> FoundMeasure:
    line, column = table.line_and_column(measure.place.start)
    printed = [write_exact(length).plain for length in measure.lengths]
    joiners = (*measure.joiners, "")
    understood = "".join(number + joiner for number, joiner in zip(printed, joiners, strict=False))
    exact = tuple(str(length.mm) for length in measure.lengths)
    meant = tuple(dict.fromkeys(_meant(one) for one in ids if one.piece != "words"))
    why = catalogue().say(f"measured.believed.{measure.why}")
    return FoundMeasure(line, column, measure.said, understood, exact, catalogue().worded(meant), why)


def _meant(length: LengthId) -> str:
    return catalogue().say("command.measures.length", piece=length.piece, side=length.side, place=length.place)


def _measures(recipe: Recipe) -> Iterator[Measure]:
    passages = [recipe.intro, *(section.words for section in recipe.sections)]
    for step in recipe.steps:
        passages.append(step.words)
        passages += [said.value for said in (step.tip, step.caution, step.short) if said is not None]
    for passage in passages:
        yield from _in_blocks(passage)


def _in_blocks(blocks: tuple[Block, ...]) -> Iterator[Measure]:
    for block in blocks:
        match block:
            case Paragraph() | Subheading():
                yield from _in_runs(block.children)
            case Items():
                for item in block.items:
                    yield from _in_blocks(item)
            case Quote():
                yield from _in_blocks(block.children)
            case _:
                pass


def _in_runs(runs: tuple[Inline, ...]) -> Iterator[Measure]:
    for run in runs:
        match run:
            case Measure():
                yield run
            case Emphasis() | Strong() | Link():
                yield from _in_runs(run.children)
            case _:
                pass
