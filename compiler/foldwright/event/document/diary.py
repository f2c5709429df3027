"""The event in a diary: the class, and each helper's work before it, as entries that a phone takes in.

Times are local to wherever the event is: no time zone is said, so none is guessed.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from msgspec import Struct

from foldwright.document.wording import since_words, span_words
from foldwright.event.document.day import WELCOME, run_of_day
from foldwright.event.document.model import Occasion
from foldwright.event.document.preparing import start_for
from foldwright.event.document.writing import EventSource, JobWords, SectionWriter
from foldwright.event.plan.preparing import Preparation
from foldwright.event.plan.timeline import TaskSpan, runs
from foldwright.recipe.facts.clocks import write_clock


class DiaryEntry(Struct, frozen=True):
    """One entry; days alone where no time is known, `ends` then the day after. `uid` is the same whenever it is made of
    the same event, day and work, so that a diary takes it for the one it has."""

    uid: str
    summary: str
    description: str
    place: str
    starts: date | datetime
    ends: date | datetime


def diary_of(source: EventSource, occasion: Occasion) -> tuple[DiaryEntry, ...]:
    """All entries, the class first; none where no day is said."""
    return tuple(_Diary(source, occasion).entries()) if occasion.day else ()


class _Diary(SectionWriter):
    section = "diary"

    def __init__(self, source: EventSource, occasion: Occasion) -> None:
        super().__init__(source)
        self._source, self._occasion, self._jobs = source, occasion, JobWords(source)
        self._day = date.fromisoformat(occasion.day)
        self._begins = source.event.wishes.begins
        self._title = occasion.called or self._words.listed([making.title for making in source.event.makings])

    def entries(self) -> Iterator[DiaryEntry]:
        yield self._class()
        plan = self._event.preparation
        for helper in range(1, self._event.wishes.helpers + 1) if plan else ():
            if plan and (mine := runs(plan.timeline, helper)):
                yield self._helper(plan, helper, mine)

    def _class(self) -> DiaryEntry:
        """From its beginning until slower makers are done; the whole day where nothing is made in class."""
        slowest = max((length.slow for length in self._event.classes if length), default=None)
        people = self._say("people", count=self._event.people)
        moments = run_of_day(self._source)
        lines = [self._say("line", time=write_clock(one.at), what=_told(one.who, one.what)) for one in moments]
        if slowest is None:
            return self._entry("class", self._title, (people,), self._day, self._day + timedelta(days=1))
        ends = self._begins + WELCOME + _minutes(slowest)
        return self._entry("class", self._title, (people, *lines), self._at(self._begins), self._at(ends))

    def _helper(self, plan: Preparation, helper: int, mine: tuple[tuple[TaskSpan, ...], ...]) -> DiaryEntry:
        """By the clock where there is time enough on the day itself, as the paper says; else on the day before."""
        start = start_for(plan, self._begins)
        title = self._say("helper", number=helper, event=self._title)
        worked = sum(run[-1].end - run[0].start for run in mine if run[0].task)
        whole = self._say("worked", span=span_words(self._words, _minutes(worked)))
        name = f"helper-{helper}"
        if start < 0:
            lines = [self._line(run, *(since_words(self._words, at) for at in _ends(run))) for run in mine]
            before = self._day - timedelta(days=1)
            return self._entry(name, title, (whole, self._say("day-before"), *lines), before, self._day)
        lines = [self._line(run, *(write_clock(start + _minutes(at)) for at in _ends(run))) for run in mine]
        first, last = mine[0][0].start, mine[-1][-1].end
        begins, ends = (self._at(start + _minutes(at)) for at in (first, last))
        return self._entry(name, title, (whole, *lines), begins, ends)

    def _line(self, run: tuple[TaskSpan, ...], starts: str, ends: str) -> str:
        task = run[0].task
        job = self._say("job", job=self._jobs.name(task), part=self._jobs.part(run)) if task else self._say("break")
        return self._say("from-to", starts=starts, ends=ends, job=job)

    def _at(self, seconds: int) -> datetime:
        """A time of the event's day; past midnight, of the next."""
        return datetime.combine(self._day, time()) + timedelta(seconds=seconds)

    def _entry(
        self, name: str, summary: str, lines: tuple[str, ...], starts: date | datetime, ends: date | datetime
    ) -> DiaryEntry:
        known = (self._title, self._occasion.day, *(making.recipe.slug for making in self._event.makings), name)
        mark = hashlib.blake2b("\n".join(known).encode("utf-8"), digest_size=16).hexdigest()
        return DiaryEntry(f"{mark}@foldwright", summary, "\n".join(lines), self._occasion.place, starts, ends)


def _told(who: str, what: str) -> str:
    return f"{who}: {what}" if who else what


def _ends(run: tuple[TaskSpan, ...]) -> tuple[int, int]:
    return run[0].start, run[-1].end


def _minutes(seconds: int) -> int:
    """Seconds up to the next whole minute, as the papers tell them."""
    return -(-seconds // 60) * 60
