"""Times that were measured while something was made, written into the recipe: each of them, and what they come to."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.authoring.places import StepPlace, steps_of
from foldwright.authoring.setting_facts import set_in_step
from foldwright.document.catalogue import Catalogue
from foldwright.document.wording import span_words
from foldwright.finding.changes import Change
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.complaints import Complaints
from foldwright.recipe.facts.durations import LONGEST, read_duration, usual_time, write_duration
from foldwright.recipe.facts.known import Fact
from foldwright.recipe.facts.phrase import Phrase
from foldwright.recipe.facts.values import row_of, said_value


def time_measured(text: str, number: int, seconds: float) -> tuple[Change, ...]:
    """The changes that add a time to a step, by its number, and have its `time` say what all of them come to.

    None where there is no such step. What was in the way of reading a former time stays, and is not counted.
    """
    step = next((step for step in steps_of(text) if step.number == number), None)
    if step is None:
        return ()
    measured = min(max(round(seconds), 1), LONGEST)
    before = _readings(text, step)
    times = [read for said in before if not isinstance(read := read_duration(said), Unreadable)]
    usual = write_duration(usual_time([*times, measured]))
    return set_in_step(text, step, {"time": usual, "measured": ", ".join([*before, write_duration(measured)])})


def measured_words(words: Catalogue, readings: Sequence[int]) -> str:
    """`measured 3 times: 4 min`; nothing where nothing was measured."""
    if not readings:
        return ""
    return words.say("desk-keeping.measured", count=len(readings), span=span_words(words, usual_time(readings)))


def _readings(text: str, step: StepPlace) -> list[str]:
    """The times a step has, in its author's own words."""
    fact = step.fact("measured")
    if fact is None:
        return []
    value = Phrase(text[slice(*fact.value)], "", fact.value[0])
    said = said_value(Fact(fact.word, value, None, value), Complaints())
    return [part.plain for part in row_of(said)]
