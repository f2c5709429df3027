"""What the captions of a video say of a recipe: where its steps begin, and lengths it has not or has otherwise.

Spoken lengths are found and tied to pieces as those in the words are: what is said of a step stands in the place of its
words, and is bound by the same binder.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import accumulate
from typing import TYPE_CHECKING

from msgspec.structs import replace

from foldwright.bind.aligning import Aligned, SpokenStep, Sureness, align
from foldwright.bind.words import Binding, bind_words
from foldwright.finding import Finding, Place, Strength
from foldwright.measure.spoken import in_figures
from foldwright.recipe.captions import Cue
from foldwright.recipe.facts.moments import write_moment
from foldwright.recipe.film import Moment, moments_of
from foldwright.recipe.model import Recipe
from foldwright.recipe.prose.inline import Lines, WordNotes, read_inline
from foldwright.recipe.words import Block, Measure, Paragraph, flat_runs, lines_of

if TYPE_CHECKING:
    from foldwright.geometry.pieces import Flat

_NEAR = 5
"""Seconds: who writes a moment down may begin a breath before the first word (a reasoned guess)."""
_MOST_SHOWN = 60
"""Letters of a cue that are shown of it."""


def check_spoken(recipe: Recipe, flat: Flat, cues: Sequence[Cue], known: Collection[Fraction]) -> Iterator[Finding]:
    """All there is to tell of a recipe and the captions of its video. `known` are all lengths it has, in mm, as they
    are and as they are printed."""
    aligned = align(recipe, cues)
    yield from _moments(recipe, aligned)
    yield from _lengths(recipe, flat, aligned, known)


def _moments(recipe: Recipe, aligned: Aligned) -> Iterator[Finding]:
    """Where steps begin that do not say so, and where one says otherwise."""
    said = {moment.step.number: moment for moment in moments_of(recipe)}
    for spoken in aligned.steps:
        step, moment = spoken.step, write_moment(spoken.seconds)
        facts = {"number": step.number, "moment": moment, "words": _shortened(spoken.cues[0].text)}
        if written := said.get(step.number):
            if spoken.sureness is Sureness.SURE and abs(written.seconds - spoken.seconds) > _NEAR:
                code, place = "captions-step-elsewhere", written.place
                yield Finding.of(code, Strength.THOUGHT, place, said=written.written, **facts)
        elif step.video is None and _goes_between(spoken, said.values()):
            code, place = f"captions-step-{spoken.sureness.value}", step.heading.place
            yield Finding.of(code, Strength.THOUGHT, place, **facts)


def _goes_between(spoken: SpokenStep, said: Iterable[Moment]) -> bool:
    """Whether the moment goes with those that other steps say."""
    at = spoken.step.number, spoken.seconds
    return all((one.step.number < at[0]) == (one.seconds < at[1]) and one.seconds != at[1] for one in said)


def _shortened(text: str) -> str:
    return text if len(text) <= _MOST_SHOWN else text[: _MOST_SHOWN - 1].rstrip() + "…"


# --- lengths ----------------------------------------------------------------------------------------------------------


def _lengths(recipe: Recipe, flat: Flat, aligned: Aligned, known: Collection[Fraction]) -> Iterator[Finding]:
    words = {spoken.step.number: (_as_words(spoken.cues),) for spoken in aligned.steps}
    binding = _bound(recipe, flat, words)
    told = {one.place: one for one in binding.findings if one.code.endswith("-differs")}
    for spoken in aligned.steps:
        for measure in _measures(words[spoken.step.number]):
            facts = {"number": spoken.step.number, "moment": write_moment(_begins(spoken.cues, measure.place) // 1000)}
            if found := told.get(measure.place):
                of = dict(found.facts)
                shown = {name: of[name] for name in ("said", "piece", "length", "apart")}
                yield Finding.of("spoken-differs", Strength.MISFIT, measure.place, **facts, **shown)
            elif any(length.mm not in known for length in measure.lengths) and measure.place in binding.ids:
                lacking = tuple(length for length in measure.lengths if length.mm not in known)
                yield Finding.of("spoken-lacks", Strength.THOUGHT, measure.place, **facts, lengths=lacking)


def _bound(recipe: Recipe, flat: Flat, words: Mapping[int, tuple[Block, ...]]) -> Binding:
    """The words of the captions bound as if they were those of the steps."""
    steps = tuple(
        replace(step, words=words.get(step.number, ()), short=None, tip=None, caution=None) for step in recipe.steps
    )
    return bind_words(replace(recipe, intro=(), steps=steps, sections=()), flat)


def _as_words(cues: Sequence[Cue]) -> Block:
    """All that is said, as one paragraph, every letter with its place in the file."""
    lines = [line for cue in cues for line in cue.lines]
    starts = accumulate((len(line.text) + 1 for line in lines[:-1]), initial=0)
    placed = Lines(tuple(starts), tuple(line.start for line in lines))
    text = in_figures(" ".join(line.text for line in lines))
    return Paragraph(read_inline(text, placed, WordNotes(cues[0].place.file), {}))


def _measures(words: Sequence[Block]) -> Iterator[Measure]:
    runs = (run for line in lines_of(words) for run in flat_runs(line))
    return (run for run in runs if isinstance(run, Measure))


def _begins(cues: Sequence[Cue], place: Place) -> int:
    """When the cue begins in which it is said."""
    return max((cue.begins for cue in cues if cue.place.start <= place.start), default=cues[0].begins)
