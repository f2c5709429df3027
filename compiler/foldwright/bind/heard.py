"""Every measure of a stretch of words with what its sentence says about it: pieces, act, edges, direction."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from foldwright.bind.context import Context, context_of
from foldwright.bind.direction import Telling, tellings
from foldwright.bind.named import PieceNames, is_of_another_thing, pieces_meant
from foldwright.bind.sentences import sentences
from foldwright.bind.spans import PieceSpans
from foldwright.recipe.model import Step
from foldwright.recipe.words import Block, Measure


class WordArea(Struct, frozen=True):
    """A stretch of words: `name` and the `number` of its step or section tell which, `step` is the step it belongs to,
    `checked` whether slips in it are told.
    """

    name: str
    number: int
    blocks: tuple[Block, ...]
    step: Step | None = None
    checked: bool = False


class Heard(Struct, frozen=True):
    """A measure as its sentence has it. `meant` are the pieces it is most likely of, `possible` all it may be of.

    `other_thing` when it measures a supply that no piece is cut from. `tellings` of its sentence come before it.
    """

    measure: Measure
    context: Context
    meant: tuple[str, ...]
    possible: tuple[str, ...]
    other_thing: bool
    tellings: tuple[Telling, ...]


def hear(area: WordArea, names: PieceNames, known: Mapping[str, PieceSpans]) -> list[Heard]:
    """The measures of an area in order; what is told of the direction goes with the next measure after it."""
    heard: list[Heard] = []
    waiting: list[Telling] = []
    spoken: dict[str, None] = {}
    for sentence in sentences(area.blocks):
        words = sentence.words
        told = tellings(words) if area.step else []
        mentions = names.mentions(words)
        for mention in mentions:
            if not mention.by_supply:
                spoken.update(dict.fromkeys(mention.pieces))
        for at, measure in sentence.places():
            while told and told[0].at < at:
                waiting.append(told.pop(0))
            context = context_of(sentence, at, measure, names)
            in_step = _in_step(area.step, context.act)
            meant = _meant(pieces_meant(words, at, mentions), in_step)
            possible = tuple(piece for piece in {**dict.fromkeys((*meant, *in_step)), **spoken} if piece in known)
            other_thing = is_of_another_thing(names, words, at)
            meant = tuple(piece for piece in meant if piece in known)
            heard.append(Heard(measure, context, meant, possible, other_thing, tuple(waiting)))
            waiting = []
        waiting += told
    return heard


def _in_step(step: Step | None, act: str) -> tuple[str, ...]:
    """The pieces of the step's `do:`, those of the sentence's own act if it has any."""
    if step is None:
        return ()
    same = [piece for doing in step.doings if doing.act == act for piece in doing.subjects]
    return tuple(same) or tuple(piece for doing in step.doings for piece in doing.subjects)


def _meant(named: tuple[str, ...], in_step: tuple[str, ...]) -> tuple[str, ...]:
    """A supply names every piece cut from it: the step says which of them is at hand."""
    if len(named) > 1 and (both := tuple(piece for piece in named if piece in in_step)):
        return both
    return named or tuple(dict.fromkeys(in_step))
