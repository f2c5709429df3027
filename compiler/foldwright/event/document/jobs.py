"""What a job before class is called, and how much of it somebody does, in words."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.document.catalogue import Catalogue
from foldwright.event.document.writing import EventSource, SectionWriter
from foldwright.event.plan.jobs import PlannedJob, What, sheets_in
from foldwright.event.plan.timeline import TaskSpan


def called(supply: str, colour: str, words: Catalogue) -> str:
    """A supply, with its colour where it comes in several."""
    return words.say("event.shopping.colour", supply=supply, colour=colour) if colour else supply


MOST_RANGES = 3
"""Of numbers on one line."""


class JobWords(SectionWriter):
    """The jobs of an event, by their numbers."""

    section = "job"

    def __init__(self, source: EventSource) -> None:
        super().__init__(source)
        self._jobs = {job.number: job for job in source.event.jobs.jobs}

    def name(self, number: int) -> str:
        """`Cut slate card, layout 1`; whose it is where there are several recipes."""
        job = self._jobs[number]
        if job.what is What.SHEETS:
            plan = self._event.sheets[job.plan]
            return self._say("sheets", supply=called(plan.supply, plan.colour, self._words), layout=job.layout + 1)
        if job.what is What.STEP:
            return self.step(job.recipe, job.step)
        told = self._say(job.what.value, supply=job.supply)
        return self._say("of-recipe", job=told, recipe=self._recipe(job.recipe)) if self._many else told

    def step(self, recipe: int, step: int) -> str:
        """A step of a recipe, whose it is where there are several."""
        heading = self._event.makings[recipe].recipe.steps[step - 1].heading.value
        return self._say("step-of" if self._many else "step", step=step, heading=heading, recipe=self._recipe(recipe))

    @property
    def _many(self) -> bool:
        return len(self._event.makings) > 1

    def part(self, run: Sequence[TaskSpan]) -> str:
        """`sheets 9 to 16`, `kits 1 to 10 and 21 to 40`; only how many where there are too many runs of numbers."""
        job = self._jobs[run[0].task]
        ranges = [self._numbers(job, span) for span in run]
        count = sum(last - first + 1 for first, last in ranges)
        if len(ranges) > MOST_RANGES:
            return self._say(f"many-{job.what.value}", count=count)
        told = [self._say("range", count=last - first + 1, first=first, last=last) for first, last in ranges]
        return self._say(f"part-{job.what.value}", count=count, numbers=self._words.listed(told))

    def _numbers(self, job: PlannedJob, span: TaskSpan) -> tuple[int, int]:
        if job.what is not What.SHEETS:
            return span.first, span.first + span.count - 1
        plan = self._event.sheets[job.plan]
        return sheets_in(plan, plan.work[job.layout], span.first, span.count)

    def job(self, number: int) -> PlannedJob:
        return self._jobs[number]
