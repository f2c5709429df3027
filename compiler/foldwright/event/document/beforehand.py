"""The sheet of a recipe at an event: what the cutting plan does is a step before class, and is not said again in it."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from msgspec.structs import replace

from foldwright.document.catalogue import Catalogue
from foldwright.document.model import CautionText, Document, Done, StepText, StepTimeInWords
from foldwright.document.steps import totals
from foldwright.document.wording import joined, sentence
from foldwright.document.words import MeasureInWords, Runs, plain_passage
from foldwright.event.plan.beforehand import Beforehand, needs_left
from foldwright.event.plan.model import WorkedRecipe
from foldwright.measure.length import System
from foldwright.plan.times import class_totals
from foldwright.recipe.model import Recipe, When
from foldwright.recipe.words import Paragraph, Text
from foldwright.vocabulary import act_of, tools_in
from foldwright.vocabulary.work import CUTTING

_CUT, _TRIMMER = "cut", "paper trimmer"


def at_the_event(
    document: Document, worked: WorkedRecipe, done: Beforehand, occasion: str, words: Catalogue
) -> Document:
    """What is cut beforehand is listed as made ready; nothing is left of some steps, of others the rest."""
    steps = tuple(_left(step, document, worked.recipe, done, words) for step in document.steps)
    return replace(
        document,
        head=replace(document.head, occasion=occasion),
        labels={**document.labels, "on-the-table": words.say("event.kits.on-the-table")},
        steps=(_cutting(steps, document, done, words), *steps),
        class_totals=totals(class_totals(worked.times, done.steps), words),
    )


def _cutting(steps: Collection[StepText], document: Document, done: Beforehand, words: Catalogue) -> StepText:
    """The cutting plan as a step before all others, with the hazards that no step after it still brings."""
    shaped_before = {
        one.piece for step in steps if step.when is When.BEFORE_CLASS for one in step.done if one.act in CUTTING
    }
    shaped = done.shaped - shaped_before
    kept = {caution.code for step in steps for caution in step.hazards}
    brought = {caution.code: caution for step in document.steps for caution in step.hazards}
    cut, to_size = words.say("page.done.cut"), words.say("event.kits.cut-to-size")
    return StepText(
        number=0,
        heading=(),
        wordings=((),),
        time=StepTimeInWords(None, None, None, False, ""),
        when=When.BEFORE_CLASS,
        when_words="",
        hazards=tuple(caution for code, caution in brought.items() if code not in kept),
        done=tuple(
            Done(_CUT, piece.name, to_size if piece.name in shaped else cut)
            for piece in document.pieces
            if piece.name in done.pieces
        ),
        needs=(
            *dict.fromkeys(piece.supply for piece in document.pieces if piece.name in done.pieces),
            *(tool.said for tool in document.tools if _is_trimmer(tool.said) and done.pieces),
        ),
    )


def _is_trimmer(tool: str) -> bool:
    return any(kind.name == _TRIMMER for kind in tools_in(tool))


def _left(step: StepText, document: Document, recipe: Recipe, done: Beforehand, words: Catalogue) -> StepText:
    if step.number in done.steps:
        return replace(step, when=When.BEFORE_CLASS)
    pieces, lengths = done.partly.get(step.number, ()), done.lengths.get(step.number, ())
    if step.when is When.BEFORE_CLASS or not (pieces or lengths):
        return step
    to_size = [name for name in pieces if name in done.shaped]
    told = [
        Paragraph(sentence(words, f"event.kits.{key}", things=things))
        for key, things in (
            ("already-cut", _things(document, {*pieces} - done.shaped, lengths, words)),
            ("already-to-size", _things(document, to_size, (), words)),
        )
        if things
    ]
    needs = needs_left(recipe.steps[step.number - 1], plain_passage(step.words, System.METRIC), recipe, done)
    return replace(
        step,
        wordings=tuple((*told, *wording) for wording in step.wordings),
        done=tuple(one for one in step.done if not _is_done(one, pieces, done)),
        needs=needs,
        hazards=tuple(_hazards(step, needs)),
    )


def _things(document: Document, pieces: Collection[str], lengths: Collection[str], words: Catalogue) -> Runs:
    """`wrapper, 1 x 3 in; cotton twine, 36 in`."""
    things: list[Runs] = []
    comma = words.say("list.comma")
    for piece in document.pieces:
        if piece.name in pieces:
            size: Runs = (Text(comma), MeasureInWords(piece.size)) if piece.size else ()
            things.append((Text(piece.name), *size))
    cut = [supply for supply in document.supplies if supply.said in lengths]
    things += [(*supply.name, Text(comma), *supply.amount) for supply in cut]
    return joined(things, "; ")


def _is_done(one: Done, pieces: Collection[str], done: Beforehand) -> bool:
    return one.act in CUTTING and one.piece in pieces and one.piece not in done.shaped


def _hazards(step: StepText, needs: Collection[str]) -> Iterator[CautionText]:
    """The cautions of what is still done: not those that a tool put away alone would bring."""
    away = {code for name in step.needs if name not in needs for tool in tools_in(name) for code in tool.hazards}
    kept = {code for name in needs for tool in tools_in(name) for code in tool.hazards}
    kept |= {code for one in step.done if one.act not in CUTTING and (act := act_of(one.act)) for code in act.hazards}
    yield from (caution for caution in step.hazards if caution.code not in away - kept)
