"""Adding up the times of a recipe."""

from __future__ import annotations

from random import Random

from msgspec.structs import replace

from foldwright.plan.times import StepTime, Totals, add_up, timetable
from foldwright.recipe.model import When
from foldwright.vocabulary import act_of
from foldwright.vocabulary.acts import STEP_SECONDS
from plan.recipes import steps
from workbench.long import tries


def seconds(act: str) -> int:
    found = act_of(act)
    assert found is not None
    return found.seconds


def test_times_of_the_author_are_added_and_not_estimated():
    times = add_up(steps("One\ntime: 2 min\nget ready: 3 min", "Two\ntime: 90 s\nwait: 10 min"))
    assert times.whole == Totals(hands_on=210, get_ready=180, waiting=600, elapsed=990)
    assert not times.estimated
    assert [(step.hands_on, step.get_ready, step.waiting, step.estimated) for step in times.steps] == [
        (120, 180, 0, False),
        (90, 0, 600, False),
    ]


def test_a_step_without_a_time_is_estimated_from_its_acts_and_says_so():
    times = add_up(steps("One\ndo: cut and score base", "Two\ntime: 1 min"))
    assert times.steps[0].hands_on == seconds("cut") + seconds("score")
    assert times.steps[0].hands_on_estimated
    assert not times.steps[1].estimated
    assert times.estimated


def test_what_is_done_to_two_pieces_takes_twice_as_long():
    times = add_up(steps("One\ndo: cut front", "Two\ndo: cut base"))
    assert times.steps[0].hands_on == 2 * times.steps[1].hands_on


def test_a_heading_tells_the_act_when_nothing_else_does():
    times = add_up(steps("Fold it", "What now"))
    assert [step.hands_on for step in times.steps] == [seconds("fold"), STEP_SECONDS]


def test_drying_waits_even_when_nobody_says_how_long():
    times = add_up(steps("Let it dry\ndo: dry base", "Next\ntime: 1 min"))
    assert times.steps[0].waiting == 600
    assert times.steps[0].waiting_estimated
    assert times.whole.elapsed == 660


def test_a_wait_holds_up_the_next_step():
    times = add_up(steps("Glue\ntime: 2 min\nwait: 10 min", "Fold\ntime: 3 min"))
    assert times.whole.elapsed == (2 + 10 + 3) * 60


def test_meanwhile_lets_the_wait_overlap_the_step_it_names_and_no_other():
    overlapping = "Glue\ntime: 2 min\nwait: 10 min, meanwhile Sleeve"
    times = add_up(steps(overlapping, "Sleeve\ntime: 4 min", "Close\ntime: 1 min"))
    assert times.steps[0].meanwhile == 2
    assert times.whole.elapsed == (2 + 10 + 1) * 60
    times = add_up(steps(overlapping, "Close\ntime: 1 min", "Sleeve\ntime: 4 min"))
    assert times.whole.elapsed == (2 + 10 + 1 + 4) * 60


def test_a_step_longer_than_the_wait_swallows_it():
    times = add_up(steps("Glue\ntime: 2 min\nwait: 3 min, meanwhile Sleeve", "Sleeve\ntime: 4 min"))
    assert times.whole.elapsed == 6 * 60
    assert times.whole.waiting == 180


def test_what_is_done_in_class_is_counted_apart():
    times = add_up(
        steps(
            "Cut\ntime: 2 min\nget ready: 5 min\nwhen: before class",
            "Fold\ntime: 3 min\nwait: 4 min",
            "Tie\ntime: 1 min",
        )
    )
    assert times.in_class == Totals(hands_on=240, waiting=240, elapsed=480)
    assert times.whole == Totals(hands_on=360, get_ready=300, waiting=240, elapsed=900)


def test_an_optional_step_has_a_time_and_is_in_no_total():
    times = add_up(steps("Cut\ntime: 2 min", "Tie\ntime: 1 min\noptional: yes"))
    assert times.steps[1].hands_on == 60
    assert times.steps[1].optional
    assert times.whole.hands_on == 120


def test_what_was_measured_counts_where_no_time_is_given():
    """The average of 4:00, 3:40 and 4:20 is 4 min; a time that is given is the author's word."""
    measured = "measured: 4 min, 3 min 40 s, 4 min 20 s"
    times = add_up(steps(f"One\n{measured}", f"Two\ntime: 5 min\n{measured}"))
    assert [step.hands_on for step in times.steps] == [240, 300]
    assert not times.estimated


def _simulated(steps):
    """The plan again, second by second: a step begins once nothing rests but what rests for it."""
    clock, resting, spans = 0, [], []
    for step in steps:
        while any(until > clock for until, meanwhile in resting if meanwhile != step.number):
            clock += 1
        begins = clock
        clock += step.get_ready + step.hands_on
        spans.append((step.number, begins, clock, clock + step.waiting))
        if step.waiting:
            resting.append((clock + step.waiting, step.meanwhile))
    return spans


def test_random_plans_are_as_a_simulation_of_every_second_has_them():
    random = Random(21)
    for _ in range(tries(300, 5000)):
        count = random.randint(1, 7)
        planned = [
            StepTime(
                number=number,
                hands_on=random.randint(0, 20),
                get_ready=random.choice([0, random.randint(0, 9)]),
                waiting=random.choice([0, random.randint(1, 60)]),
                when=When.IN_CLASS,
                meanwhile=random.choice([0, random.randint(number, count)]),
            )
            for number in range(1, count + 1)
        ]
        planned = [replace(one, meanwhile=one.meanwhile if one.meanwhile > one.number else 0) for one in planned]
        found = [(one.number, one.begins, one.ends, one.rests) for one in timetable(planned)]
        assert found == _simulated(planned)


def test_the_end_of_the_timetable_is_the_time_the_whole_takes():
    times = add_up(
        steps(
            "Glue\ntime: 2 min\nget ready: 1 min\nwait: 10 min, meanwhile Sleeve",
            "Sleeve\ntime: 4 min",
            "Rest\ntime: 1 min\nwait: 3 min",
        )
    )
    # 1 + 2, then 10 of rest in which the sleeve is made, then 1 and 3 of rest.
    assert [(one.begins, one.ends, one.rests) for one in timetable(times.steps)] == [
        (0, 180, 780),
        (180, 420, 420),
        (780, 840, 1020),
    ]
    assert times.whole.elapsed == 1020
