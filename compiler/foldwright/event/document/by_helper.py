"""The cutting plan by helper: who cuts which sheets, and when."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.document.wording import since_words, span_words
from foldwright.event.document.jobs import JobWords
from foldwright.event.document.model import EventPart, PaperTable
from foldwright.event.document.writing import EventSource
from foldwright.event.plan.jobs import What
from foldwright.event.plan.timeline import runs


def by_helper(source: EventSource) -> Iterator[EventPart]:
    """A table, by helper in the order of their work; nothing where no sheet is cut."""
    event, words, jobs = source.event, source.words, JobWords(source)
    if event.preparation is None:
        return
    timeline = event.preparation.timeline
    rows = tuple(
        (
            str(helper),
            since_words(words, run[0].start),
            jobs.name(run[0].task),
            jobs.part(run),
            str(sum(span.count for span in run)),
            span_words(words, -(-(run[-1].end - run[0].start) // 60) * 60),
        )
        for helper in range(1, event.wishes.helpers + 1)
        for run in runs(timeline, helper)
        if run[0].task and jobs.job(run[0].task).what is What.SHEETS
    )
    if rows:
        names = ("helper", "from", "what", "sheets", "stacks", "takes")
        columns = tuple(words.say(f"event.by-helper.column-{name}") for name in names)
        yield PaperTable(words.say("event.by-helper.heading"), columns, rows, frozenset({0, 1, 4}), ticked=True)
