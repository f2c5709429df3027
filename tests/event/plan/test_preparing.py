"""Preparations: no rule is broken when they are replayed, none is shorter than the least of all schedules."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.event.plan.balancing import Precedence, Task
from foldwright.event.plan.preparing import MOST_BATCHES, Preparation, Sharing, batch_sizes, plan_preparation
from foldwright.event.plan.timeline import Breaks
from verifiers.preparation import Data, WrongError, replay

NONE = Breaks(0, 0)


def as_data(plan: Preparation, tasks: list[Task]) -> Data:
    """As `kit.json` has it."""
    return {
        "jobs": [
            {
                "job": task.number,
                "count": task.count,
                "seconds": task.seconds,
                "get_ready": task.get_ready,
                "set_up": task.set_up,
                "wait": task.wait,
                "machine": task.machine,
                "machines": task.machines,
                "after": task.after,
                "needs": [{"job": need.task, "start": str(need.start), "each": str(need.each)} for need in task.needs],
            }
            for task in tasks
        ],
        "timeline": [
            {
                "helper": span.helper,
                "job": span.task,
                "start": span.start,
                "end": span.end,
                "first": span.first,
                "count": span.count,
            }
            for span in plan.timeline.spans
        ],
    }


@st.composite
def events(draw: st.DrawFn) -> list[Task]:
    """Sheets to cut at one or two trimmers, then steps of two recipes that need them, each with kits of its own."""
    trimmers = draw(st.integers(1, 2))
    tasks = [
        Task(
            number,
            draw(st.integers(10, 200)),
            count=draw(st.integers(1, 6)),
            set_up=draw(st.sampled_from([0, 40])),
            machine="trimmer",
            machines=trimmers,
        )
        for number in (1, 2)
    ]
    for kits in (draw(st.integers(1, 15)), draw(st.integers(1, 15))):
        first = len(tasks) + 1
        for number in range(first, first + draw(st.integers(1, 3))):
            cut = draw(st.sampled_from([(), (1,), (1, 2)]))
            half = Fraction(kits, 2)
            needs = tuple(Precedence(one, half * (one - 1), half / tasks[one - 1].count) for one in cut)
            after = tuple(earlier for earlier in range(first, number) if draw(st.booleans()))
            shared = draw(st.booleans())
            tasks.append(
                Task(
                    number,
                    draw(st.integers(0, 900)),
                    get_ready=draw(st.sampled_from([0, 120])),
                    wait=draw(st.sampled_from([0, 0, 700])),
                    after=after,
                    machine="punch" if shared else "",
                    machines=1 if shared else 0,
                    count=kits,
                    needs=needs,
                )
            )
    return tasks


@settings(max_examples=15)
@given(events(), st.integers(1, 4))
def test_a_preparation_keeps_every_rule_and_beats_no_bound(tasks: list[Task], helpers: int) -> None:
    plan = plan_preparation(tasks, helpers)
    assert plan is not None
    assert replay(as_data(plan, tasks)) == plan.timeline.finish >= plan.bound
    assert plan.timeline.finish in (plan.together, plan.stations)
    assert [one.helpers for one in plan.by_helpers] == list(range(1, helpers + 3))
    assert plan.by_helpers[helpers - 1].seconds == plan.timeline.finish
    assert all(fewer.seconds >= more.seconds for fewer, more in pairwise(plan.by_helpers))
    assert plan.by_helpers[0].seconds >= plan.work
    assert plan.work == sum(task.get_ready + task.set_up + task.count * task.seconds for task in tasks)
    assert plan == plan_preparation(tasks, helpers)


def test_the_verifier_finds_what_is_wrong() -> None:
    """Each rule broken by hand."""
    tasks = [Task(1, 60, count=2, machine="punch", machines=1), Task(2, 30, after=(1,), count=2, get_ready=5)]
    plan = plan_preparation(tasks, 2)
    assert plan is not None
    right = as_data(plan, tasks)
    assert replay(right) == plan.timeline.finish == 150

    def spoilt(*spans: tuple[int, int, int, int, int, int]) -> Data:
        names = ("helper", "job", "start", "end", "first", "count")
        return {**right, "timeline": [dict(zip(names, span, strict=True)) for span in spans]}

    with pytest.raises(WrongError, match="of 2"):
        replay(spoilt((1, 1, 0, 60, 1, 1), (1, 2, 60, 125, 1, 2)))
    with pytest.raises(WrongError, match="is dry at"):
        replay(spoilt((1, 1, 0, 120, 1, 2), (2, 2, 60, 125, 1, 2)))
    with pytest.raises(WrongError, match="2 at job 1"):
        replay(spoilt((1, 1, 0, 60, 1, 1), (2, 1, 0, 60, 2, 1), (1, 2, 60, 125, 1, 2)))
    with pytest.raises(WrongError, match="two things at once"):
        replay(spoilt((1, 1, 0, 120, 1, 2), (1, 2, 115, 180, 1, 2)))
    with pytest.raises(WrongError, match="more than it should"):
        replay(spoilt((1, 1, 0, 120, 1, 2), (1, 2, 120, 180, 1, 2)))


# --- every schedule of little ones ------------------------------------------------------------------------------------


@st.composite
def little(draw: st.DrawFn) -> list[Task]:
    """At most five things to do."""
    tasks: list[Task] = []
    left = 5
    for number in range(1, draw(st.integers(1, 3)) + 1):
        count = draw(st.integers(1, min(2, left - (3 - number))))
        left -= count
        after = tuple(earlier for earlier in range(1, number) if draw(st.booleans()))
        tasks.append(
            Task(
                number,
                draw(st.integers(1, 9)),
                get_ready=draw(st.sampled_from([0, 4])),
                wait=draw(st.sampled_from([0, 6])),
                after=after,
                machine=draw(st.sampled_from(["", "punch"])),
                machines=draw(st.integers(0, 1)),
                count=count,
            )
        )
    return tasks


def least_of_all(tasks: list[Task], helpers: int) -> int:
    """Everything in every order by everyone, each begun as soon as can be: one of these is as short as any."""
    things = [(task, one) for task in tasks for one in range(1, task.count + 1)]
    best = 10**9

    def go_on(
        done: dict[tuple[int, int], int], free: list[int], known: list[set[int]], machines: dict[object, int]
    ) -> None:
        nonlocal best
        if len(done) == len(things):
            best = min(best, max(done.values()))
            return
        for task, one in things:
            needed = [(earlier, at) for earlier in task.after for at in range(1, _count(tasks, earlier, one) + 1)]
            if (task.number, one) in done or not all(need in done for need in needed):
                continue
            machine = (task.machine or task.number) if task.machines else None
            for helper in range(helpers):
                start = max(
                    [free[helper], *(done[need] for need in needed), machines.get(machine, 0) if machine else 0]
                )
                end = start + task.seconds + (0 if task.number in known[helper] else task.get_ready)
                if end + task.wait >= best:
                    continue
                now = [*free]
                now[helper] = end
                knows = [who | {task.number} if at == helper else who for at, who in enumerate(known)]
                at_machine = {**machines, machine: end} if machine else machines
                go_on({**done, (task.number, one): end + task.wait}, now, knows, at_machine)

    go_on({}, [0] * helpers, [set() for _ in range(helpers)], {})
    return best


def _count(tasks: list[Task], number: int, one: int) -> int:
    """Kit by kit; of what there is less of, all."""
    return min(one, next(task.count for task in tasks if task.number == number))


@settings(max_examples=40)
@given(little(), st.integers(1, 2))
def test_the_bound_is_below_every_schedule_and_the_plan_is_one_of_them(tasks: list[Task], helpers: int) -> None:
    plan = plan_preparation(tasks, helpers, breaks=NONE)
    assert plan is not None
    assert plan.bound <= least_of_all(tasks, helpers) <= plan.timeline.finish


# --- by hand ----------------------------------------------------------------------------------------------------------


def test_two_recipes_share_the_helpers() -> None:
    """Ten kits of a minute and twenty of half a minute, two helpers: ten minutes each, whoever does what."""
    plan = plan_preparation([Task(1, 60, count=10), Task(2, 30, count=20)], 2)
    assert plan is not None
    assert plan.timeline.finish == plan.bound == 600
    assert [one.seconds for one in plan.by_helpers[:2]] == [1200, 600]


def test_one_trimmer_for_two_recipes_is_one() -> None:
    """Both at the trimmer: ten minutes, however many help."""
    tasks = [Task(number, 30, count=10, machine="trimmer", machines=1) for number in (1, 2)]
    plan = plan_preparation(tasks, 3)
    assert plan is not None
    assert plan.timeline.finish == plan.bound == 600


def test_a_break_goes_across_recipes() -> None:
    """An hour of each: the break comes in the second, after ninety minutes in all."""
    plan = plan_preparation([Task(1, 60, count=60), Task(2, 60, count=60)], 1)
    assert plan is not None
    assert [(span.task, span.start, span.end) for span in plan.timeline.spans] == [
        (1, 0, 3600),
        (2, 3600, 5400),
        (0, 5400, 6000),
        (2, 6000, 7800),
    ]
    assert plan.timeline.finish == plan.bound == 7800


def test_what_is_long_to_get_ready_goes_to_stations() -> None:
    """Two steps, each half an hour to get ready and a minute a kit, ten kits, two helpers: nobody gets ready twice."""
    tasks = [Task(number, 60, get_ready=1800, count=10) for number in (1, 2)]
    plan = plan_preparation(tasks, 2)
    assert plan is not None
    assert plan.bound == plan.timeline.finish == 2400
    assert {(span.helper, span.task) for span in plan.timeline.spans} == {(1, 1), (2, 2)}


def test_stacks_give_pieces_for_the_first_kits_first() -> None:
    """Two stacks of a quarter of an hour, each for five kits: the sixth kit waits for the second stack."""
    tasks = [
        Task(1, 900, count=2, set_up=1, machine="trimmer", machines=1),
        Task(2, 60, count=10, needs=(Precedence(1, Fraction(0), Fraction(5)),)),
    ]
    plan = plan_preparation(tasks, 2)
    assert plan is not None
    begun = {span.first: span.start for span in plan.timeline.spans if span.task == 2}
    assert min(begun.values()) >= 901
    assert plan.timeline.finish >= 1801 + 60
    assert [Precedence(1, Fraction(30), Fraction(12)).upto(kit) for kit in (1, 30, 31, 42, 43)] == [0, 0, 1, 1, 2]


def test_learning_is_least_work_when_one_does_all() -> None:
    """At 80 % four of 100 s take 2.56 times the first (Wright), and getting ready comes on top."""
    plan = plan_preparation([Task(1, 100, get_ready=7, count=4)], 1, Fraction(4, 5))
    assert plan is not None
    assert (plan.work, plan.timeline.finish, plan.bound) == (263, 263, 263)


def test_nothing_to_do_is_no_plan_and_nobody_to_do_it_is_refused() -> None:
    assert plan_preparation([], 2) is None
    assert plan_preparation([Task(1, 60, count=0)], 2) is None
    with pytest.raises(ValueError, match="0 helpers"):
        plan_preparation([Task(1, 60)], 0)


def test_one_helper_alone_has_one_way() -> None:
    plan = plan_preparation([Task(1, 60, count=3), Task(2, 60, after=(1,), count=3)], 1)
    assert plan is not None
    assert (plan.way, plan.together, plan.stations) == (Sharing.TOGETHER, 360, 360)


@given(st.integers(1, 100_000), st.integers(1, 12))
def test_batches_are_never_too_many(count: int, helpers: int) -> None:
    sizes = batch_sizes(count, helpers)
    assert sizes[0] == -(-count // helpers)
    assert list(sizes) == sorted(set(sizes), reverse=True)
    assert -(-count // sizes[-1]) <= max(MOST_BATCHES, helpers)
