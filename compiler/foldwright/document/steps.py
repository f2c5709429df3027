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
from foldwright.document.words import Runs, plain_passage
from foldwright.measure.length import System
from foldwright.plan.times import StepTime, Times, Totals
from foldwright.recipe.facts.moments import read_moment
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
            wordings=(
                said[step.number] or listed.get(step.number, ()),
                *([measures.passage(step.short.value)] if step.short else []),
            ),
            time=_step_time(time, words, step.within.value if step.within else 0),
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
            moment=read_moment(step.video.value) if step.video else None,
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


def _span(seconds: int, words: Catalogue) -> model.TimeSpan | None:
    """A time in seconds and in words; None for no time."""
    return model.TimeSpan(seconds, span_words(words, seconds)) if seconds else None


def _step_time(time: StepTime, words: Catalogue, within: int) -> model.StepTimeInWords:
    """`within` is the step's deadline in seconds; 0 when it has none."""
    times = [
        ("hands-on", time.hands_on, time.hands_on_estimated),
        ("get-ready", time.get_ready, False),
        ("waiting", time.waiting, time.waiting_estimated),
        ("within", within, False),
    ]
    return model.StepTimeInWords(
        hands_on=_span(time.hands_on, words),
        get_ready=_span(time.get_ready, words),
        waiting=_span(time.waiting, words),
        estimated=time.estimated,
        line=_line(times, words),
        in_hand=_line([one for one in times if one[0] != "get-ready"], words),
    )


def totals(sums: Totals, words: Catalogue) -> model.TotalsInWords:
    """The times of the whole recipe, in seconds and in words."""
    times = [
        ("hands-on", sums.hands_on, sums.estimated),
        ("get-ready", sums.get_ready, False),
        ("waiting", sums.waiting, False),
    ]
    return model.TotalsInWords(
        hands_on=model.TimeSpan(sums.hands_on, span_words(words, sums.hands_on)),
        get_ready=_span(sums.get_ready, words),
        waiting=_span(sums.waiting, words),
        elapsed=model.TimeSpan(sums.elapsed, span_words(words, sums.elapsed)),
        estimated=sums.estimated,
        line=_line(times, words),
    )


def _line(times: Sequence[tuple[str, int, bool]], words: Catalogue) -> str:
    """`2 min, plus 3 min to set up, 10 min waiting, finish within 5 min`; an estimate says `about`.

    Each time is given by its name, its seconds and whether it is an estimate.
    """
    parts: list[str] = []
    for name, seconds, estimated in times:
        if seconds:
            name = "get-ready-alone" if name == "get-ready" and not parts else name
            # An estimate of many minutes in whole ones: nobody knows its seconds.
            said = span_words(words, round(seconds / 60) * 60 if estimated and seconds >= _LONG else seconds)
            about = words.say("page.time.about", span=said) if estimated else said
            parts.append(words.say(f"page.time.{name}", span=about))
    return words.say("list.comma").join(parts)
