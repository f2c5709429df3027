"""Who does what when: helpers who each make whole kits, or stations that pass batches on, worked through move by move.

The rules, for both ways:

- A batch is taken through one step by one person, on end; its wait begins when the whole batch has been through.
- Who has nothing to do takes up whatever of theirs is ready and finds a machine free; of those who wait for a machine,
  the one who has waited longest. A machine stays with a batch until that is through, over a break too.
- Each person gets ready for a step once, before their first kit of it.
- A break comes as soon as so much has been worked, when the kit in hand is done. Idling as long counts as one.
- The last drying is part of the whole: it is finished when all could be packed.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from fractions import Fraction
from heapq import heappop, heappush

from msgspec import Struct

from foldwright.plan.event.balancing import Balance, Task, in_order
from foldwright.plan.event.learning import seconds_up_to


class Breaks(Struct, frozen=True):
    """Ten minutes after every ninety of work (common practice, no source), in seconds. Either nought: no breaks."""

    work: int = 5400
    rest: int = 600


USUAL_BREAKS = Breaks()


class Span(Struct, frozen=True):
    """Seconds from the beginning, getting ready within them. Helpers count from 1. Step 0 is a break, with no kits."""

    helper: int
    step: int
    start: int
    end: int
    kits: int


class Timeline(Struct, frozen=True):
    """Spans by start, then helper; work of the same step on end is one. `finish` has the last drying in it."""

    spans: tuple[Span, ...]
    finish: int
    batch: int


def whole_kits(
    tasks: Sequence[Task],
    count: int,
    helpers: int,
    batch: int,
    *,
    rate: Fraction | None = None,
    breaks: Breaks = USUAL_BREAKS,
) -> Timeline:
    """Kits shared out as evenly as can be, the first helpers one more; everyone takes theirs through every step.

    Of what is ready they take the step after which most is still to come for a batch (hands-on and waits), then the
    batch begun first: a step is done for all of theirs before the next as long as something is ready.
    """
    order = in_order(tasks)
    batches: list[_Batch] = []
    for helper in range(helpers):
        share = count // helpers + (helper < count % helpers)
        batches += [_Batch(kits, [helper] * len(order)) for kits in _batches(share, batch)]
    to_come = _to_come(order, batch)
    ranked = sorted(range(len(order)), key=lambda place: (-to_come[place], place))
    rank = {place: at for at, place in enumerate(ranked)}
    urgency = [[rank[place] * len(batches) + at for place in range(len(order))] for at in range(len(batches))]
    return _Floor(order, batches, urgency, helpers, rate, breaks).timeline(batch)


def by_stations(
    tasks: Sequence[Task],
    stations: Balance,
    count: int,
    batch: int,
    *,
    rate: Fraction | None = None,
    breaks: Breaks = USUAL_BREAKS,
) -> Timeline:
    """A helper to each station, who does its steps alone. Of what is ready they take the batch begun first."""
    order = in_order(tasks)
    station = {number: helper for helper, numbers in enumerate(stations.stations) for number in numbers}
    doers = [station[task.number] for task in order]
    batches = [_Batch(kits, doers) for kits in _batches(count, batch)]
    urgency = [[at * len(order) + place for place in range(len(order))] for at in range(len(batches))]
    return _Floor(order, batches, urgency, len(stations.stations), rate, breaks).timeline(batch)


def _batches(count: int, batch: int) -> list[int]:
    if batch < 1:
        raise ValueError(f"batches of {batch}")
    return [batch] * (count // batch) + [count % batch] * (count % batch > 0)


def _to_come(order: Sequence[Task], kits: int) -> list[int]:
    """From each task on, the longest way to the end for one batch."""
    to_come = [task.seconds * kits + task.wait for task in order]
    at = {task.number: place for place, task in enumerate(order)}
    later = [0] * len(order)
    for place in range(len(order) - 1, -1, -1):
        to_come[place] += later[place]
        for number in order[place].after:
            if number in at:
                later[at[number]] = max(later[at[number]], to_come[place])
    return to_come


class _Batch(Struct):
    kits: int
    doers: list[int]
    """Who does each task."""


class _Person:
    """One helper: since when free, how long at work since the last break, kits done of each task, and the spans."""

    def __init__(self, tasks: int, groups: int) -> None:
        self.free = 0
        self.worked = 0
        self.left = 0
        self.busy = False
        self.done = [0] * tasks
        self.waiting: list[list[tuple[int, int, int]]] = [[] for _ in range(groups)]
        self.spans: list[tuple[int, int, int, int]] = []

    def note(self, step: int, start: int, end: int, kits: int) -> None:
        if self.spans:
            last_step, began, ended, before = self.spans[-1]
            if last_step == step and ended == start:
                self.spans[-1] = (step, began, end, before + kits)
                return
        self.spans.append((step, start, end, kits))


class _Floor:
    """The room with everyone in it. Time goes from one moment at which something becomes ready or free to the next."""

    def __init__(
        self,
        order: Sequence[Task],
        batches: list[_Batch],
        urgency: list[list[int]],
        helpers: int,
        rate: Fraction | None,
        breaks: Breaks,
    ) -> None:
        self.order, self.batches, self.urgency = order, batches, urgency
        count = sum(batch.kits for batch in batches)
        self.seconds = [seconds_up_to(task.seconds, count, rate) for task in order]
        self.work = breaks.work if breaks.rest else 0
        self.rest = breaks.rest
        self.group, self.free_machines = _machines(order)
        self.people = [_Person(len(order), len(self.free_machines)) for _ in range(helpers)]
        for batch in batches:
            for doer in batch.doers:
                self.people[doer].left += 1
        at = {task.number: place for place, task in enumerate(order)}
        before = [{at[number] for number in task.after if number in at} for task in order]
        self.then = [[later for later, earlier in enumerate(before) if place in earlier] for place in range(len(order))]
        self.missing = [[len(earlier) for earlier in before] for _ in batches]
        self.ready = [[0] * len(order) for _ in batches]
        self.finish = 0
        self.events: list[tuple[int, int, int, int]] = []
        """When, what (_READY, _MACHINE, _PERSON), and which: batch and task, or group, or helper."""
        for number in range(len(batches)):
            for place, earlier in enumerate(before):
                if not earlier:
                    heappush(self.events, (0, _READY, number, place))

    def timeline(self, batch: int) -> Timeline:
        events = self.events
        while events:
            now = events[0][0]
            concerned: set[int] = set()
            while events and events[0][0] == now:
                concerned.update(self._happens(*heappop(events)[1:]))
            for helper in sorted(concerned, key=lambda helper: (self.people[helper].free, helper)):
                if not self.people[helper].busy:
                    self._next(helper, now)
        spans = [Span(helper + 1, *span) for helper, person in enumerate(self.people) for span in person.spans]
        return Timeline(tuple(sorted(spans, key=lambda span: (span.start, span.helper))), self.finish, batch)

    def _happens(self, what: int, number: int, place: int) -> Sequence[int]:
        """Note it, and say whom it may concern."""
        if what == _READY:
            helper = self.batches[number].doers[place]
            heappush(self.people[helper].waiting[self.group[place]], (self.urgency[number][place], number, place))
            return (helper,)
        if what == _MACHINE:
            self.free_machines[number] += 1
            return range(len(self.people))
        self.people[number].busy = False
        return (number,)

    def _next(self, helper: int, now: int) -> None:
        """Take up the most urgent of what is ready, if there is any for which there is a machine."""
        person = self.people[helper]
        free = [heap for heap, machines in zip(person.waiting, self.free_machines, strict=True) if heap and machines]
        if not free:
            return
        _, number, place = heappop(min(free))
        batch, group = self.batches[number], self.group[place]
        person.busy = True
        person.left -= 1
        end = self._do(person, place, batch.kits, now)
        heappush(self.events, (person.free, _PERSON, helper, 0))
        if group:
            self.free_machines[group] -= 1
            heappush(self.events, (end, _MACHINE, group, 0))
        dry = end + self.order[place].wait
        self.finish = max(self.finish, dry)
        for later in self.then[place]:
            self.missing[number][later] -= 1
            self.ready[number][later] = max(self.ready[number][later], dry)
            if not self.missing[number][later]:
                heappush(self.events, (self.ready[number][later], _READY, number, later))

    def _do(self, person: _Person, place: int, kits: int, now: int) -> int:
        """When the batch is through; breaks are taken on the way, and after it if more is to come."""
        task = self.order[place]
        if now - person.free >= self.rest:
            person.worked = 0
        while True:
            done = person.done[place]
            get_ready = 0 if done else task.get_ready
            some = self._before_break(person, place, kits, get_ready)
            seconds = get_ready + self.seconds[place][done + some] - self.seconds[place][done]
            end = now + seconds
            person.note(task.number, now, end, some)
            person.done[place] += some
            person.worked += seconds
            person.free = end
            kits -= some
            if self.work and person.worked >= self.work and (kits or person.left):
                person.free = now = end + self.rest
                person.note(0, end, now, 0)
                person.worked = 0
            if not kits:
                return end

    def _before_break(self, person: _Person, place: int, kits: int, get_ready: int) -> int:
        done, seconds = person.done[place], self.seconds[place]
        due = seconds[done] + self.work - person.worked - get_ready
        if not self.work or seconds[done + kits] < due:
            return kits
        return bisect_left(seconds, due, done + 1, done + kits) - done


_READY, _MACHINE, _PERSON = range(3)


def _machines(order: Sequence[Task]) -> tuple[list[int], list[int]]:
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
