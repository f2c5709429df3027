"""Numbers without a unit in a step: `Cut to 5 x 5 and score 7/8` are lengths when a piece of that step has them.

The piece must have every one of them exactly, in its own unit, as what the words do to it; then they are measures
like any other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from msgspec.structs import replace

from foldwright.bind.context import WordArea, hear
from foldwright.bind.named import PieceNames, piece_names
from foldwright.bind.resolving import Resolved, resolve
from foldwright.bind.spans import PieceSpans, spans_by_piece
from foldwright.finding import Place
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Recipe, Said, Step
from foldwright.recipe.words import Bare, Block, Inline, Measure, Text, changed, changed_runs, flat_runs, lines_of

if TYPE_CHECKING:
    from foldwright.geometry.pieces import Flat

WHY = "piece-has-it"


def bare_measures(recipe: Recipe, flat: Flat) -> dict[Place, Measure]:
    """The numbers without a unit in a recipe's steps that are lengths, by where they stand."""
    found: dict[Place, Measure] = {}
    areas = [(step, blocks) for step in recipe.steps for blocks in _words_of(step) if any(_bare_in(blocks))]
    if not areas:
        return found
    known = spans_by_piece(flat.lengths.by_id, flat.blanks)
    names = piece_names(recipe)
    for step, blocks in areas:
        for unit in dict.fromkeys(span.length.unit for spans in known.values() for span in spans.all):
            found = {**_in_unit(step, blocks, unit, names, known), **found}
    return found


def with_measures(recipe: Recipe, found: Mapping[Place, Measure]) -> Recipe:
    """A recipe in whose steps those numbers are measures."""
    if not found:
        return recipe

    def said(words: Said[tuple[Block, ...]] | None) -> Said[tuple[Block, ...]] | None:
        return words and replace(words, value=_with(found, words.value))

    steps = []
    for step in recipe.steps:
        beside = {"short": said(step.short), "tip": said(step.tip), "caution": said(step.caution)}
        steps.append(replace(step, words=_with(found, step.words), **beside))
    left = tuple(one for one in recipe.not_measured if not is_within(one.place, found))
    return replace(recipe, steps=tuple(steps), not_measured=left)


def is_within(place: Place | None, found: Iterable[Place]) -> bool:
    """Whether numbers at a place are (or hold) some that were found to be lengths."""
    return place is not None and any(place.start <= one.start and one.end <= place.end for one in found)


def _words_of(step: Step) -> Iterator[tuple[Block, ...]]:
    yield step.words
    for said in (step.short, step.tip, step.caution):
        if said:
            yield said.value


def _in_unit(
    step: Step, blocks: tuple[Block, ...], unit: Unit, names: PieceNames, known: Mapping[str, PieceSpans]
) -> dict[Place, Measure]:
    """Those that are lengths if all of them are in this unit."""
    measures = {
        bare.place: Measure(text.text, bare.place, bare.shape, lengths, bare.joiners, why=WHY)
        for text, bare in _bare_in(blocks)
        for lengths in [tuple(Length.of(value, unit) for value in bare.values)]
    }
    area = WordArea("", 0, _with(measures, blocks), step)
    heard = [one for one in hear(area, names, known) if one.measure.place in measures]
    ties = [resolve(one, known, {}, "") for one in heard]
    return {tie.heard.measure.place: tie.heard.measure for tie in ties if _has_it(tie, unit)}


def _has_it(tie: Resolved, unit: Unit) -> bool:
    return all(
        span is not None and span.length == length and span.length.unit is unit and span.id.piece in tie.heard.possible
        for length, span in zip(tie.heard.measure.lengths, tie.spans, strict=True)
    )


def _bare_in(blocks: Iterable[Block]) -> Iterator[tuple[Text, Bare]]:
    """Every run of bare numbers in some blocks."""
    for line in lines_of(blocks):
        for run in flat_runs(line):
            if isinstance(run, Text) and run.bare:
                yield run, run.bare


def _with(found: Mapping[Place, Measure], blocks: Iterable[Block]) -> tuple[Block, ...]:
    """The blocks in which bare numbers that were found to be lengths are measures."""

    def measured(run: Text | Measure, _: str) -> tuple[Inline, ...]:
        return (found.get(run.bare.place, run) if isinstance(run, Text) and run.bare else run,)

    return changed(blocks, lambda line: changed_runs(line, measured))
