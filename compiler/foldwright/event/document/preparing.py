"""What is done before class in words: what is reckoned with, who does what in which order, and when it is finished."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from foldwright.document.wording import since_words, span_words
from foldwright.event.document.model import (
    Beside,
    EventPart,
    Lanes,
    LaneSpan,
    PaperTable,
    PaperText,
    PaperWords,
    Tick,
    Ticks,
)
from foldwright.event.document.writing import EventSource, JobWords, SectionWriter, not_whole
from foldwright.event.plan.jobs import CUT_LENGTH, CUT_THROUGH, OPEN_BAG, PUT_IN, SET_STOP, STICK_LABEL, What
from foldwright.event.plan.preparing import Preparation, Sharing
from foldwright.event.plan.timeline import TaskSpan, runs
from foldwright.recipe.facts.clocks import write_clock

_MARKS = (60, 300, 600, 900, 1800, 3600, 7200, 14400, 28800, 86400)
"""How far apart times are written under a timeline, in seconds: the first that gives no more than twelve."""

_WORTH_SAYING = 120
"""Seconds with nothing to do; less is used up between two jobs."""


def preparing_paper(source: EventSource) -> PaperText | None:
    """One plan for all recipes: the whole, then each helper's list, the timeline, and what more helpers would save.

    None where there is nothing to do before class.
    """
    event, words = source.event, source.words
    if event.preparation is None:
        return None
    parts = _PreparationPaper(source, event.preparation).parts()
    helpers = words.say("event.preparing.helpers", count=event.wishes.helpers)
    kits = sum(making.all_kits for making in event.makings)
    summary = words.say("event.preparing.summary", kits=kits, helpers=helpers)
    return PaperText(summary, (*not_whole(event, words), *parts))


def start_for(plan: Preparation, begins: int) -> int:
    """When work has to start for all to be packed when the class begins; below nought, that is the day before."""
    return begins - -(-plan.timeline.finish // 60) * 60


class _PreparationPaper(SectionWriter):
    section = "preparing"

    def __init__(self, source: EventSource, preparation: Preparation) -> None:
        super().__init__(source)
        self._plan, self._helpers, self._jobs = preparation, source.event.wishes.helpers, JobWords(source)

    def _span(self, seconds: int) -> str:
        """To the minute, upwards: nobody plans helpers by the second."""
        return span_words(self._words, -(-seconds // 60) * 60)

    def parts(self) -> Iterator[EventPart]:
        yield PaperWords("", tuple(self._whole()))
        for helper in range(1, self._helpers + 1):
            yield self._list(helper)
        yield self._lanes()
        reckoned = PaperWords(self._say("reckoned"), tuple(self._reckoned()))
        yield Beside(((self._more(),), (reckoned,)))

    def _whole(self) -> Iterator[str]:
        plan = self._plan
        yield self._way()
        yield self._begin()
        yield self._say("bound", bound=self._span(plan.bound), work=self._span(plan.work))
        if plan.way is Sharing.STATIONS:
            yield self._stations()
        if self._helpers > 1:
            yield self._say("batch", count=plan.timeline.batch)
        if any(not span.task for span in plan.timeline.spans):
            yield self._say("breaks")

    def _way(self) -> str:
        plan = self._plan
        finish = self._span(plan.timeline.finish)
        if self._helpers == 1:
            return self._say("way-same", finish=finish)
        other = plan.together if plan.way is Sharing.STATIONS else plan.stations
        return self._say(f"way-{plan.way.value}", finish=finish, other=self._span(other))

    def _begin(self) -> str:
        """When to begin so that all is packed when the class begins, on the day if there is time enough."""
        begins = self._event.wishes.begins
        start = start_for(self._plan, begins)
        if start < 0:
            return self._say("begin-before", ready=write_clock(begins))
        return self._say("begin", begin=write_clock(start), ready=write_clock(begins))

    def _stations(self) -> str:
        balance = self._plan.balance
        told = []
        first = 1
        for number, (steps, people) in enumerate(zip(balance.stations, balance.people, strict=True), 1):
            who = self._words.listed([str(helper) for helper in range(first, first + people)])
            first += people
            if steps:
                jobs = self._words.listed(list(map(self._jobs.name, steps)))
                told.append(self._say("station", number=number, count=people, who=who, jobs=jobs))
        least = "balance-proven" if balance.proven else "balance"
        return self._say(least, stations="; ".join(told), cycle=self._span(int(-(-balance.cycle // 1))))

    def _list(self, helper: int) -> Ticks:
        """What one helper does, in order."""
        mine = runs(self._plan.timeline, helper)
        if not mine:
            return Ticks(self._say("list-none", number=helper), ())
        heading = self._say("list", number=helper, done=since_words(self._words, mine[-1][-1].end))
        free = [after[0].start - run[-1].end for run, after in pairwise(mine)]
        return Ticks(heading, tuple(self._line(*pair) for pair in zip(mine, [*free, 0], strict=True)))

    def _line(self, run: Sequence[TaskSpan], idle: int) -> Tick:
        start, end = (since_words(self._words, seconds) for seconds in (run[0].start, run[-1].end))
        free = self._say("free", span=self._span(idle)) if idle >= _WORTH_SAYING else ""
        task = run[0].task
        if not task:
            return Tick(self._say("line-break", start=start, end=end), free)
        return Tick(self._say("line", start=start, end=end, job=self._jobs.name(task), part=self._jobs.part(run)), free)

    def _lanes(self) -> Lanes:
        timeline = self._plan.timeline
        spans: dict[int, list[LaneSpan]] = {}
        every = [(run, helper) for helper in range(1, self._helpers + 1) for run in runs(timeline, helper)]
        for run, helper in sorted(every, key=lambda one: (one[0][0].start, one[1])):
            spans.setdefault(run[0].task, []).append(LaneSpan(run[0].start, run[-1].end, helper))
        apart = next(step for step in _MARKS if timeline.finish <= 12 * step or step == _MARKS[-1])
        helpers = self._say("helpers", count=self._helpers)
        return Lanes(
            self._say("lanes"),
            tuple(self._jobs.name(job) if job else self._say("lane-break") for job in spans),
            tuple(map(tuple, spans.values())),
            timeline.finish,
            tuple((at, since_words(self._words, at)) for at in range(0, timeline.finish + 1, apart)),
            self._say("lanes-note") if self._helpers > 1 else "",
            self._say("describes", helpers=helpers, finish=self._span(timeline.finish)),
        )

    def _more(self) -> PaperTable:
        rows = []
        before: int | None = None
        for one in self._plan.by_helpers:
            minutes = -(-one.seconds // 60)
            saves = "" if before is None else self._span((before - minutes) * 60) if before > minutes else "–"
            rows.append((str(one.helpers), self._span(one.seconds), saves))
            before = minutes
        columns = self._columns("helpers", "finish", "saves")
        return PaperTable(self._say("more"), columns, tuple(rows), frozenset({0, 1, 2}))

    def _reckoned(self) -> Iterator[str]:
        """What the times are made of, and what is not counted twice."""
        jobs = self._event.jobs
        kinds = {job.what for job in jobs.jobs}
        if What.SHEETS in kinds:
            yield self._say("takes-sheets", stop=SET_STOP, cut=CUT_THROUGH)
            yield self._say("trimmers", count=jobs.trimmers) if jobs.trimmers_said else self._say("trimmers-unsaid")
        if What.LENGTHS in kinds:
            yield self._say("takes-lengths", seconds=CUT_LENGTH)
        yield self._say("takes-bags", label=STICK_LABEL, bag=OPEN_BAG, thing=PUT_IN)
        for key, found in (("cut", jobs.cut), ("partly", jobs.partly_cut)):
            if found:
                yield self._say(key, steps=self._words.listed([self._jobs.step(*step) for step in found]))
        if self._plan.rate is not None:
            yield self._say("learning", rate=f"{float(self._plan.rate) * 100:g}%")
