"""Steps as a document says them: words, times, cautions, and whose flat plan belongs beside them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from foldwright.document import model
from foldwright.document.catalogue import Catalogue
from foldwright.document.cautions import Cautions
from foldwright.document.measures import Measures
from foldwright.document.quote_marks import curled
from foldwright.document.step_lists import work_lists
from foldwright.document.wording import span_words
from foldwright.document.words import Passage, Runs, plain_passage
from foldwright.measure.length import System
from foldwright.plan.times import StepTime, Times, Totals
from foldwright.recipe.model import Photo, Recipe, Step, When
from foldwright.recipe.needs import needs_of
from foldwright.vocabulary import act_of

_LONG = 600
"""Seconds from which an estimate is said in whole minutes."""


def step_texts(
    recipe: Recipe,
    times: Times,
    lines: Sequence[model.PieceLine],
    pictures: Mapping[int, tuple[model.Picture, ...]],
    trials: Mapping[int, tuple[Runs, ...]],
    cautions: Cautions,
    measures: Measures,
    words: Catalogue,
) -> tuple[model.StepText, ...]:
    """Every step; one without words of its author's gets the list of its work."""
    pieces = {piece.name: piece for piece in lines}
    said = {step.number: measures.passage(step.words) for step in recipe.steps}
    listed = work_lists(recipe.steps, pieces, words)
    headings = {step.number: measures.text(step.heading.value) for step in recipe.steps}
    return tuple(
        model.StepText(
            number=step.number,
            heading=headings[step.number],
            wordings=_wordings(step, said[step.number] or listed.get(step.number, ()), measures),
            time=step_time(time, words, step.within.value if step.within else 0),
            when=step.when,
            when_words=words.say("page.when.before-class") if step.when is When.BEFORE_CLASS else "",
            cautions=cautions.by_step.get(step.number, ()),
            pieces=tuple(dict.fromkeys(name for doing in step.doings for name in doing.subjects if name in pieces)),
            shows=tuple(dict.fromkeys(_shown(step, pieces))),
            pictures=pictures.get(step.number, ()),
            trials=trials.get(step.number, ()),
            tip=measures.passage(step.tip.value) if step.tip else (),
            photo=photograph(step.photo),
            video=step.video.value if step.video else "",
            optional=step.optional,
            meanwhile=headings.get(time.meanwhile, ()),
            hazards=cautions.brought.get(step.number, ()),
            done=tuple(_done(step, words)),
            needs=needs_of(step, plain_passage(said[step.number], System.METRIC), recipe),
        )
        for step, time in zip(recipe.steps, times.steps, strict=True)
    )


def photograph(photo: Photo | None) -> model.Photograph | None:
    """A photograph and what it shows, with real quotation marks; None where there is none."""
    return model.Photograph(photo.path.value, curled(photo.shows.value) if photo.shows else "") if photo else None


def _shown(step: Step, pieces: Mapping[str, model.PieceLine]) -> Iterator[str]:
    """Pieces whose shape the step changes."""
    for doing in step.doings:
        act = act_of(doing.act)
        if act and act.on_paper:
            yield from (name for name in doing.subjects if name in pieces and pieces[name].picture)


def _done(step: Step, words: Catalogue) -> Iterator[model.Done]:
    for doing in step.doings:
        key = f"page.done.{doing.act.replace(' ', '-')}"
        word = words.say(key) if words.has(key) else ""
        yield from (model.Done(doing.act, piece, word) for piece in doing.subjects or ("",))


def _wordings(step: Step, full: Passage, measures: Measures) -> tuple[Passage, ...]:
    return (full, measures.passage(step.short.value)) if step.short else (full,)


def span(seconds: int, words: Catalogue) -> model.TimeSpan | None:
    """A time in seconds and in words; None for no time."""
    return model.TimeSpan(seconds, span_words(words, seconds)) if seconds else None


def step_time(time: StepTime, words: Catalogue, within: int = 0) -> model.StepTimeInWords:
    """`within` is the step's deadline in seconds; 0 when it has none."""
    hands_on = time.hands_on, time.hands_on_estimated
    waiting = time.waiting, time.waiting_estimated
    return model.StepTimeInWords(
        hands_on=span(time.hands_on, words),
        get_ready=span(time.get_ready, words),
        waiting=span(time.waiting, words),
        estimated=time.estimated,
        line=_line(*hands_on, time.get_ready, *waiting, words, within),
        in_hand=_line(*hands_on, 0, *waiting, words, within),
    )


def totals(sums: Totals, words: Catalogue) -> model.TotalsInWords:
    """The times of the whole recipe, in seconds and in words."""
    return model.TotalsInWords(
        hands_on=model.TimeSpan(sums.hands_on, span_words(words, sums.hands_on)),
        get_ready=span(sums.get_ready, words),
        waiting=span(sums.waiting, words),
        elapsed=model.TimeSpan(sums.elapsed, span_words(words, sums.elapsed)),
        estimated=sums.estimated,
        line=_line(sums.hands_on, sums.estimated, sums.get_ready, sums.waiting, False, words),
    )


def _line(
    hands_on: int,
    hands_on_estimated: bool,
    get_ready: int,
    waiting: int,
    waiting_estimated: bool,
    words: Catalogue,
    within: int = 0,
) -> str:
    """`2 min, plus 3 min to set up, 10 min waiting, finish within 5 min`; an estimate says `about`."""
    parts: list[str] = []
    for name, seconds, estimated in (
        ("hands-on", hands_on, hands_on_estimated),
        ("get-ready", get_ready, False),
        ("waiting", waiting, waiting_estimated),
        ("within", within, False),
    ):
        if seconds:
            name = "get-ready-alone" if name == "get-ready" and not parts else name
            said = span_words(words, _roughly(seconds) if estimated else seconds)
            parts.append(
                words.say(f"page.time.{name}", span=words.say("page.time.about", span=said) if estimated else said)
            )
    return words.say("list.comma").join(parts)


def _roughly(seconds: int) -> int:
    """An estimate of many minutes in whole ones: nobody knows its seconds."""
    return round(seconds / 60) * 60 if seconds >= _LONG else seconds
