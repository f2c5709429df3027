"""What is done before class in words: which way of sharing the work, who does what, and when it is finished."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.plan.event.model import Making
from foldwright.plan.event.planning import Event
from foldwright.plan.event.preparing import Preparation, Way
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.event.missing import not_whole
from foldwright.sheet.event.model import EventPaper, EventPart, Lanes, LaneSpan, Table, Tick, Ticks, Words
from foldwright.sheet.wording import span_words

_MARKS = (60, 300, 600, 900, 1800, 3600, 7200, 14400, 28800, 86400)
"""How far apart times are written under a timeline, in seconds: the first that gives no more than twelve."""


def preparing_paper(event: Event, words: Catalogue) -> EventPaper:
    """One part after another for each recipe that has steps before class."""
    parts: list[EventPart] = []
    for making, preparation in zip(event.makings, event.preparations, strict=True):
        if preparation is not None:
            parts += _Told(making, preparation, event.wishes.helpers, words).parts(len(event.makings) > 1)
    helpers = words.say("event.preparing.helpers", count=event.wishes.helpers)
    kits = sum(making.all_kits for making in event.makings)
    summary = words.say("event.preparing.summary", kits=kits, helpers=helpers)
    if not parts:
        parts = [Words("", (words.say("event.preparing.nothing"),))]
    told = (*not_whole(event, words), *parts)
    return EventPaper("before-class", words.say("event.preparing.title"), summary, told)


class _Told:
    """One recipe's preparation."""

    def __init__(self, making: Making, preparation: Preparation, helpers: int, words: Catalogue) -> None:
        self._recipe, self._plan, self._helpers, self._words = making.understood.recipe, preparation, helpers, words

    def _say(self, key: str, **facts: object) -> str:
        return self._words.say(f"event.preparing.{key}", **facts)

    def _span(self, seconds: int) -> str:
        """To the minute, upwards: nobody plans helpers by the second."""
        return span_words(self._words, -(-seconds // 60) * 60)

    def parts(self, many: bool) -> Iterator[EventPart]:
        plan = self._plan
        heading = self._recipe.title.value if many else ""
        told = [
            self._way(),
            self._say("bound", bound=self._span(plan.bound)),
            self._say("work", work=self._span(plan.work)),
        ]
        if plan.timeline.batch > 1 or plan.way is Way.STATIONS:
            told.append(self._say("batch", count=plan.timeline.batch))
        if plan.way is Way.STATIONS:
            told.append(self._balance())
        if plan.rate is not None:
            told.append(self._say("learning", rate=f"{float(plan.rate) * 100:g}%"))
        if any(span.step == 0 for span in plan.timeline.spans):
            told.append(self._say("breaks"))
        yield Words(heading, tuple(told))
        yield Ticks(self._say("shares"), tuple(self._shares()))
        yield self._lanes()
        yield self._more()

    def _way(self) -> str:
        plan = self._plan
        finish = self._span(plan.timeline.finish)
        if self._helpers == 1:
            return self._say("way-same", finish=finish)
        if plan.way is Way.STATIONS:
            return self._say("way-stations", finish=finish, other=self._span(plan.whole_kits))
        return self._say("way-whole", finish=finish, other=self._span(plan.stations))

    def _balance(self) -> str:
        stations = tuple(
            self._say("station", number=number, steps=self._words.listed([str(step) for step in steps]))
            for number, steps in enumerate(self._plan.balance.stations, 1)
            if steps
        )
        cycle = span_words(self._words, max(self._plan.balance.times))
        return self._say("balance", stations="; ".join(stations), cycle=cycle)

    def _shares(self) -> Iterator[Tick]:
        for share in self._plan.shares:
            steps = [
                self._say("share-steps", count=kits, step=step, heading=self._heading(step))
                for step, kits in share.steps
            ]
            aside = "; ".join(steps) if steps else self._say("share-none")
            yield Tick(self._say("share", number=share.helper), aside)

    def _heading(self, step: int) -> str:
        return self._recipe.steps[step - 1].heading.value

    def _lanes(self) -> Lanes:
        timeline = self._plan.timeline
        names = tuple(self._say("lane", number=number) for number in range(1, self._helpers + 1))
        lanes = tuple(
            tuple(
                LaneSpan(span.start, span.end, str(span.step) if span.step else "", span.step)
                for span in timeline.spans
                if span.helper == helper
            )
            for helper in self._numbers()
        )
        apart = next(step for step in _MARKS if timeline.finish <= 12 * step or step == _MARKS[-1])
        marks = tuple((at, span_words(self._words, at)) for at in range(0, timeline.finish + 1, apart))
        steps = sorted({span.step for span in timeline.spans if span.step})
        key = tuple((step, self._say("step-key", step=step, heading=self._heading(step))) for step in steps)
        helpers = self._say("helpers", count=self._helpers)
        describes = self._say("describes", helpers=helpers, finish=self._span(timeline.finish))
        return Lanes(self._say("lanes"), names, lanes, timeline.finish, marks, key, describes)

    def _numbers(self) -> range:
        """Helpers are counted from one or from nought, as their shares are."""
        first = self._plan.shares[0].helper if self._plan.shares else 1
        return range(first, first + self._helpers)

    def _more(self) -> Table:
        rows = []
        before: int | None = None
        for one in self._plan.by_helpers:
            saves = "" if before is None else self._span(before - one.seconds) if before > one.seconds else "–"
            rows.append((str(one.helpers), self._span(one.seconds), saves))
            before = one.seconds
        columns = (self._say("column-helpers"), self._say("column-finish"), self._say("column-saves"))
        return Table(self._say("more"), columns, tuple(rows), frozenset({0, 1, 2}))
