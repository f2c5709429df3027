"""Who does what when, worked through move by move: helpers share jobs of which there are so many of each.

The rules:

- A job is taken up in lots; a lot is one person's, on end. Its wait begins when the whole lot has been through.
- Who has nothing to do takes up whatever of theirs is ready and finds a machine free. A machine stays with a lot until
  that is through, over a break too.
- Each person gets ready for a job once, before their first lot of it, and sets up anew for each lot. Nobody gets ready
  for what those who are ready for it would have done sooner.
- A break comes as soon as so much has been worked, when the one in hand is done. Idling as long counts as one.
- The last drying is part of the whole: it is finished when all could be packed.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from enum import Enum
from fractions import Fraction
from heapq import heappop, heappush

from msgspec import Struct

from foldwright.event.plan.balancing import Task, in_order
from foldwright.event.plan.learning import seconds_up_to


class Breaks(Struct, frozen=True):
    """Ten minutes after every ninety of work (common practice, no source), in seconds. Either nought: no breaks."""

    work: int = 5400
    rest: int = 600


USUAL_BREAKS = Breaks()


class TaskSpan(Struct, frozen=True):
    """Seconds from the beginning, getting ready and setting up within them. Helpers count from 1, and so do those of
    a task: `count` of them, from the `first`. Task 0 is a break.
    """

    helper: int
    task: int
    start: int
    end: int
    first: int
    count: int


class Timeline(Struct, frozen=True):
    """Spans by start, then helper; those of a task that follow on, in time and by their numbers, are one.

    `finish` has the last drying in it.
    """

    spans: tuple[TaskSpan, ...]
    finish: int
    batch: int

    @property
    def changes(self) -> int:
        """How often somebody takes up something else."""
        last: dict[int, tuple[int, int]] = {}
        found = 0
        for span in self.spans:
            found += last.get(span.helper) != (span.task, span.start)
            last[span.helper] = span.task, span.end
        return found


def runs(timeline: Timeline, helper: int) -> tuple[tuple[TaskSpan, ...], ...]:
    """What one helper does in order; spans of one task on end together."""
    found: list[list[TaskSpan]] = []
    for span in timeline.spans:
        if span.helper == helper:
            if found and found[-1][-1].task == span.task and found[-1][-1].end == span.start:
                found[-1].append(span)
            else:
                found.append([span])
    return tuple(map(tuple, found))


class TakeUpRule(Enum):
    """What is taken up first of all that is ready."""

    MOST_TO_COME = "what most is still to come after"
    STAY = "more of the same"
    SCARCE = "what only few can do at a time"
    PASS_ON = "the lot begun first"


def work_through(
    tasks: Sequence[Task],
    helpers: int,
    batch: int,
    rule: TakeUpRule = TakeUpRule.MOST_TO_COME,
    *,
    whose: Sequence[tuple[frozenset[int], Sequence[int]]] = (),
    rate: Fraction | None = None,
    breaks: Breaks = USUAL_BREAKS,
) -> Timeline:
    """The same for the same. Lots are of `batch`; of what is set up for each lot there are about as many lots.

    `whose`: helpers (from 0) and the numbers of the tasks that are theirs alone; nobody named does anything.
    """
    if batch < 1:
        raise ValueError(f"batches of {batch}")
    return _Floor(in_order(tasks), helpers, batch, rule, whose, rate, breaks).timeline(batch)


def lots(task: Task, batch: int, most: int, helpers: int) -> list[int]:
    """How many are in each lot; `most` is how many there are of what there are most."""
    size = batch
    if task.set_up:
        at_once = min(task.machines or helpers, helpers)
        size = max(1, min(-(-batch * task.count // most), -(-task.count // at_once)))
    return [size] * (task.count // size) + [task.count % size] * (task.count % size > 0)


class _Lot(Struct):
    first: int
    count: int
    missing: int = 0
    """So many tasks before it have not got far enough."""
    ready: int = 0
    dry: int = -1
    """When it is through and dry; not done: below nought."""


class _FloorJob:
    """A task on the floor: its lots, how far they are through from the first on, and who waits for how many."""

    def __init__(self, task: Task, sizes: Sequence[int]) -> None:
        self.task = task
        self.lots: list[_Lot] = []
        first = 1
        for size in sizes:
            self.lots.append(_Lot(first, size))
            first += size
        self.ends = [lot.first + lot.count - 1 for lot in self.lots]
        self.open: list[int] = []
        """Lots that can be taken up, a heap."""
        self.left = task.count
        self.through = 0
        self.dry = 0
        self.waiting: list[list[tuple[int, int]]] = [[] for _ in self.lots]
        """For each lot who waits until all up to it are dry: job and lot."""
        self.people = 0


class _Person:
    """One helper: since when free, how long at work since the last break, how many done of each task, and the spans."""

    def __init__(self, jobs: int) -> None:
        self.free = 0
        self.worked = 0
        self.busy = False
        self.at = -1
        self.done = [0] * jobs
        self.mine: Sequence[int] = range(jobs)
        self.spans: list[tuple[int, int, int, int, int]] = []

    def note(self, task: int, start: int, end: int, first: int, count: int) -> None:
        if self.spans:
            last, began, ended, from_, before = self.spans[-1]
            if last == task and ended == start and from_ + before == first:
                self.spans[-1] = (task, began, end, from_, before + count)
                return
        self.spans.append((task, start, end, first, count))


class _Floor:
    """The room with everyone in it. Time goes from one moment at which something becomes ready or free to the next."""

    def __init__(
        self,
        order: Sequence[Task],
        helpers: int,
        batch: int,
        rule: TakeUpRule,
        whose: Sequence[tuple[frozenset[int], Sequence[int]]],
        rate: Fraction | None,
        breaks: Breaks,
    ) -> None:
        most = max((task.count for task in order if not task.set_up), default=batch)
        self.jobs = [_FloorJob(task, lots(task, batch, most, helpers)) for task in order]
        self.rule = rule
        self.seconds = [seconds_up_to(task.seconds, task.count, rate) for task in order]
        self.work = breaks.work if breaks.rest else 0
        self.rest = breaks.rest
        self.group, self.free_machines = machines_of(order)
        self.people = [_Person(len(order)) for _ in range(helpers)]
        at = {task.number: place for place, task in enumerate(order)}
        for people, numbers in whose:
            for helper in people:
                self.people[helper].mine = sorted(at[number] for number in numbers)
        self.before = [[at[number] for number in task.before if number in at] for task in order]
        self.to_come = [0] * len(order)
        self.finish = 0
        self.events: list[tuple[int, int, int, int]] = []
        """When, what (_READY, _MACHINE, _PERSON), and which: job and lot, or group, or helper."""
        for place, job in enumerate(self.jobs):
            self._wait(place, job, at)

    def _wait(self, place: int, job: _FloorJob, at: dict[int, int]) -> None:
        for number, lot in enumerate(job.lots):
            for earlier, needed in job.task.needed(job.ends[number]):
                if earlier not in at or needed < 1:
                    continue
                other = self.jobs[at[earlier]]
                upto = bisect_left(other.ends, min(needed, other.task.count))
                other.waiting[upto].append((place, number))
                lot.missing += 1
            if not lot.missing:
                heappush(self.events, (0, _READY, place, number))

    def timeline(self, batch: int) -> Timeline:
        events = self.events
        while events:
            now = events[0][0]
            while events and events[0][0] == now:
                self._happens(*heappop(events)[1:])
            if not any(job.open for job in self.jobs):
                continue
            self._look_ahead()
            idle = [helper for helper, person in enumerate(self.people) if not person.busy]
            for helper in sorted(idle, key=lambda helper: (self.people[helper].free, helper)):
                self._next(helper, now)
        spans = [
            TaskSpan(helper + 1, *span)
            for helper, person in enumerate(self.people)
            for span in (person.spans[:-1] if person.spans and not person.spans[-1][0] else person.spans)
        ]
        return Timeline(tuple(sorted(spans, key=lambda span: (span.start, span.helper))), self.finish, batch)

    def _look_ahead(self) -> None:
        """From each task on, the longest way to the end: what is left of it shared among all, and waits."""
        later = [0] * len(self.jobs)
        people = len(self.people)
        for place in range(len(later) - 1, -1, -1):
            job = self.jobs[place]
            self.to_come[place] = later[place] + job.left * job.task.seconds // people + job.task.wait
            for earlier in self.before[place]:
                later[earlier] = max(later[earlier], self.to_come[place])

    def _happens(self, what: int, number: int, place: int) -> None:
        if what == _READY:
            heappush(self.jobs[number].open, place)
        elif what == _MACHINE:
            self.free_machines[number] += 1
        else:
            self.people[number].busy = False

    def _next(self, helper: int, now: int) -> None:
        """Take up the first by the rule of what is ready, if there is any for which there is a machine."""
        person = self.people[helper]
        found = min(self._open(person), default=None)
        if found is None:
            return
        place = found[-1]
        job, group = self.jobs[place], self.group[place]
        number = heappop(job.open)
        lot = job.lots[number]
        person.busy = True
        person.at = place
        job.people += not person.done[place]
        job.left -= lot.count
        end = self._do(person, place, lot, now)
        heappush(self.events, (person.free, _PERSON, helper, 0))
        if group:
            self.free_machines[group] -= 1
            heappush(self.events, (end, _MACHINE, group, 0))
        lot.dry = end + job.task.wait
        self.finish = max(self.finish, lot.dry)
        self._through(job)

    def _open(self, person: _Person) -> Iterator[tuple[int, int, int]]:
        for place in person.mine:
            job, group = self.jobs[place], self.group[place]
            if not job.open or (group and not self.free_machines[group]):
                continue
            # Those who are ready for it do the rest before one more would have got ready.
            rest, ready = job.left * job.task.seconds, job.task.get_ready * job.people
            if not person.done[place] and job.people and rest <= ready:
                continue
            first = 0
            if self.rule is TakeUpRule.STAY:
                first = person.at != place
            elif self.rule is TakeUpRule.SCARCE:
                first = not group
            elif self.rule is TakeUpRule.PASS_ON:
                first = job.lots[job.open[0]].first * _FINE // job.task.count
            yield first, -self.to_come[place], place

    def _through(self, job: _FloorJob) -> None:
        while job.through < len(job.lots) and job.lots[job.through].dry >= 0:
            job.dry = max(job.dry, job.lots[job.through].dry)
            for place, number in job.waiting[job.through]:
                lot = self.jobs[place].lots[number]
                lot.missing -= 1
                lot.ready = max(lot.ready, job.dry)
                if not lot.missing:
                    heappush(self.events, (lot.ready, _READY, place, number))
            job.through += 1

    def _do(self, person: _Person, place: int, lot: _Lot, now: int) -> int:
        """When the lot is through; breaks are taken on the way, and after it."""
        task = self.jobs[place].task
        if now - person.free >= self.rest:
            person.worked = 0
        first, left, set_up = lot.first, lot.count, task.set_up
        while True:
            done = person.done[place]
            get_ready = set_up + (0 if done else task.get_ready)
            some = self._before_break(person, place, left, get_ready)
            seconds = get_ready + self.seconds[place][done + some] - self.seconds[place][done]
            end = now + seconds
            person.note(task.number, now, end, first, some)
            person.done[place] += some
            person.worked += seconds
            person.free = end
            first, left, set_up = first + some, left - some, 0
            if self.work and person.worked >= self.work:
                person.free = now = end + self.rest
                person.note(0, end, now, 0, 0)
                person.worked = 0
            if not left:
                return end

    def _before_break(self, person: _Person, place: int, count: int, get_ready: int) -> int:
        done, seconds = person.done[place], self.seconds[place]
        due = seconds[done] + self.work - person.worked - get_ready
        if not self.work or seconds[done + count] < due:
            return count
        return bisect_left(seconds, due, done + 1, done + count) - done


_READY, _MACHINE, _PERSON = range(3)
_FINE = 1 << 20
"""How far on a lot is, in parts of the whole."""


def machines_of(order: Sequence[Task]) -> tuple[list[int], list[int]]:
    """For each task the group whose machines it needs, and how many each group has; group 0 needs none.

    A step with a limit but no name is a group of its own; of several numbers for one machine the least holds.
    """
    groups: dict[tuple[str, int], int] = {}
    free = [1]
    needs: list[int] = []
    for task in order:
        if not task.machines:
            needs.append(0)
            continue
        group = groups.setdefault((task.machine, 0 if task.machine else task.number), len(free))
        if group == len(free):
            free.append(task.machines)
        free[group] = min(free[group], task.machines)
        needs.append(group)
    return needs, free
