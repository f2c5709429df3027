"""The length of a class: by hand, and alone with everything to oneself as the recipe's own times have it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldwright.event.plan.class_length import ClassLength, ClassStep, ClassTime, class_length
from foldwright.plan.times import add_up
from plan.recipes import steps


def test_a_class_by_hand() -> None:
    """Seven people at three trimmers take three turns of 61 s; the slowest half as long again, rounded up."""
    length = class_length(
        [
            ClassStep(1, 61, get_ready=30, share=3),
            ClassStep(2, 40, waiting=300, meanwhile=3),
            ClassStep(3, 100),
            ClassStep(4, 500, optional=True),
            ClassStep(5, 20),
        ],
        7,
    )
    assert length == ClassLength(
        (
            ClassTime(1, 3, 0, 213, 0),
            ClassTime(2, 1, 213, 40, 305),
            ClassTime(3, 1, 253, 100, 365),
            ClassTime(5, 1, 553, 20, 665),
        ),
        usual=573,
        slow=695,
    )


@pytest.mark.parametrize(("people", "turns"), [(1, 1), (3, 1), (4, 2), (6, 2), (7, 3)])
def test_turns_are_people_by_tools_rounded_up(people: int, turns: int) -> None:
    assert class_length([ClassStep(1, 60, share=3)], people).steps[0].turns == turns


def test_no_steps_last_no_time_and_no_people_are_refused() -> None:
    assert class_length([], 5) == ClassLength((), 0, 0)
    with pytest.raises(ValueError, match="0 people"):
        class_length([], 0)


DRAWN = st.lists(
    st.tuples(st.integers(0, 9), st.integers(0, 9), st.integers(0, 20), st.booleans(), st.booleans()),
    min_size=1,
    max_size=5,
)


@settings(max_examples=25)
@given(DRAWN)
def test_without_sharing_the_usual_length_is_what_the_recipe_takes(
    rows: list[tuple[int, int, int, bool, bool]],
) -> None:
    names = ["Aye", "Bee", "Cee", "Dee", "Eee", "Eff"]
    facts = []
    for number, (hands_on, ready, wait, overlap, optional) in enumerate(rows, 1):
        meanwhile = f", meanwhile {names[number]}" if overlap and number < len(rows) else ""
        lines = [names[number - 1], f"time: {hands_on + 1} min", f"get ready: {ready + 1} min"]
        lines += [f"wait: {wait} min{meanwhile}"] * (wait > 0) + ["optional: yes"] * optional
        facts.append("\n".join(lines))
    times = add_up(steps(*facts))
    length = class_length(
        [
            ClassStep(one.number, one.hands_on, one.get_ready, one.waiting, one.meanwhile, 0, one.optional)
            for one in times.steps
        ],
        9,
    )
    assert length.usual == times.in_class.elapsed
    assert length.usual <= length.slow <= -(-length.usual * 3 // 2)
    assert len(length.steps) == sum(not row[-1] for row in rows)
