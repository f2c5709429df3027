"""Numbers without a unit in a step: `Cut to 5 x 5 and score 7/8` are lengths when a piece of that step has them.

The piece must have every one of them exactly, in its own unit, as what the words do to it; then they are measures
like any other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from msgspec.structs import replace

from foldwright.bind.heard import WordArea, hear
from foldwright.bind.named import PieceNames, piece_names
from foldwright.bind.resolving import Resolved, resolve
from foldwright.bind.spans import PieceSpans, spans_by_piece
from foldwright.finding import Place
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Recipe, Said, Step
from foldwright.recipe.words import (
    Bare,
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
    Text,
)

if TYPE_CHECKING:
    from foldwright.geometry.pieces import Flat

WHY = "piece-has-it"

type _Change = Callable[[Text, Bare], Text | Measure]


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

    def change(text: Text, bare: Bare) -> Text | Measure:
        return found.get(bare.place, text)

    def said(words: Said[tuple[Block, ...]] | None) -> Said[tuple[Block, ...]] | None:
        return words and replace(words, value=_changed(words.value, change))

    steps = tuple(
        replace(
            step,
            words=_changed(step.words, change),
            short=said(step.short),
            tip=said(step.tip),
            caution=said(step.caution),
        )
        for step in recipe.steps
    )
    left = tuple(one for one in recipe.not_measured if not is_within(one.place, found))
    return replace(recipe, steps=steps, not_measured=left)


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
        bare.place: Measure(
            text.text,
            bare.place,
            bare.shape,
            tuple(Length.of(value, unit) for value in bare.values),
            bare.joiners,
            why=WHY,
        )
        for text, bare in _bare_in(blocks)
    }
    area = WordArea("", _changed(blocks, lambda _, bare: measures[bare.place]), step)
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
    met: list[tuple[Text, Bare]] = []

    def note(text: Text, bare: Bare) -> Text:
        met.append((text, bare))
        return text

    _changed(tuple(blocks), note)
    return iter(met)


def _changed(blocks: tuple[Block, ...], change: _Change) -> tuple[Block, ...]:
    return tuple(_block(block, change) for block in blocks)


def _block(block: Block, change: _Change) -> Block:
    match block:
        case Paragraph() | Subheading():
            return replace(block, children=_inlines(block.children, change))
        case Items():
            return replace(block, items=tuple(_changed(item, change) for item in block.items))
        case Quote():
            return replace(block, children=_changed(block.children, change))
        case _:
            return block


def _inlines(children: tuple[Inline, ...], change: _Change) -> tuple[Inline, ...]:
    return tuple(_inline(child, change) for child in children)


def _inline(child: Inline, change: _Change) -> Inline:
    match child:
        case Text(_, Bare() as bare):
            return change(child, bare)
        case Emphasis() | Strong() | Link():
            return replace(child, children=_inlines(child.children, change))
        case _:
            return child
