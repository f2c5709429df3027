"""The words of the cutting plan: what to take, cuts as they are made, a count at the end; spools one by one."""

from __future__ import annotations

import json
import re
from collections import Counter
from fractions import Fraction
from typing import Any

import pytest

from foldwright.document.catalogue import catalogue
from foldwright.event.document.cutting import cutting_paper
from foldwright.event.document.data import event_json
from foldwright.event.document.model import CutWork, EventPart, PaperWords, Ticks
from foldwright.event.document.writing import EventSource
from foldwright.event.plan.planning import Event
from foldwright.measure.length import System
from verifiers.cutting import replay
from workbench.practice_event import INCHES, METRIC, event_of

SHELF = "jute twine: 2 of 5 yd"
LETTERS = System.IMPERIAL, 8


def told(event: Event) -> tuple[EventPart, ...]:
    return cutting_paper(EventSource(event, (), catalogue())).parts


@pytest.fixture(scope="module")
def ragged() -> Event:
    """Letter sheets in a metric folder, 3 mm of each edge ragged: nothing of it is a round number of millimetres."""
    return event_of({**INCHES, "label": "2 x 2 in"}, System.METRIC, 23, 3)


def test_each_supply_begins_with_what_to_take_and_how_many_at_once() -> None:
    """Four of 4 1/4 x 5 1/2 in are a letter sheet: eight kits take two for them, and five each for what is a sheet."""
    event = event_of(
        {**INCHES, "base": "4 1/4 x 5 1/2 in", "band": "8 1/2 x 11 in", "label": "8 1/2 x 11 in"}, *LETTERS
    )
    (card,) = (part for part in told(event) if isinstance(part, PaperWords) and part.heading == "blue card")
    assert card.paragraphs[0].replace("\u202f", " ") == "Take 42 sheets of 8 1/2 x 11 in: cardstock, 220 g/m²."
    assert card.paragraphs[1] == "With straight cuts, no plan needs fewer."
    assert card.paragraphs[2].startswith("Cut up to 3 sheets at a time")


def test_nobody_sets_the_stop_between_two_marks(ragged: Event) -> None:
    """Half millimetres at most, wherever a number stands."""
    lines = [f"{cut.text} {cut.aside}" for part in told(ragged) if isinstance(part, CutWork) for cut in part.cuts]
    numbers = [Fraction(number) for line in lines for number in re.findall(r"\d+(?:\.\d+)?(?= mm)", line)]
    assert len(numbers) > 40
    assert {number.denominator for number in numbers} <= {1, 2}


def test_edges_are_squared_up_first_and_turned_the_same_way(ragged: Event) -> None:
    for part in told(ragged):
        if isinstance(part, CutWork):
            first, second, third = (cut.text for cut in part.cuts[:3])
            assert re.fullmatch(
                r"Square up (?:the sheet|all \d+ sheets): lay the (?:216|279\.5) mm side along the fence, "
                r"with the end 3 mm past the blade and no stop\. Cut\.",
                first,
            )
            assert re.fullmatch(
                r"Turn (?:the sheet|all \d+ sheets) a quarter, with the fresh edge along the fence "
                r"and the end 3 mm past the blade\. Cut\.",
                second,
            )
            assert "a quarter again, so that the fresh edges lie against fence and stop. Set the stop to" in third


def test_the_count_at_the_end_is_what_the_cuts_give(ragged: Event) -> None:
    (plan,) = json.loads(event_json(ragged))["cutting"]
    works = [part for part in told(ragged) if isinstance(part, CutWork)]
    assert len(works) == len(plan["layouts"])
    for layout, work in zip(plan["layouts"], works, strict=True):
        came: Counter[str] = Counter()
        for (name, _, _), number in replay(layout, plan["sheets"][layout["sheet"]]).items():
            came[name] += number
        said = {name: int(number) for number, name in re.findall(r"(\d+) (\w+)", work.check)}
        assert said == {name if count == 1 else f"{name}s": count for name, count in came.items()}


def test_a_sheet_without_a_long_side_is_laid_as_its_pattern_runs() -> None:
    facts = {**INCHES, "sheet": "12 x 12 in, pattern one way"}
    for part in told(event_of(facts, System.IMPERIAL, 5)):
        if isinstance(part, CutWork):
            assert re.search(r"(top|left) edge \(pattern (upright|on its side)\) along the fence", part.cuts[0].text)


# --- spools -----------------------------------------------------------------------------------------------------------


def spools(event: Event) -> list[dict[str, Any]]:
    (twine,) = json.loads(event_json(event))["spools"]
    work: list[dict[str, Any]] = twine["work"]
    return work


def test_spools_are_told_one_by_one() -> None:
    """Reckoned by hand: 20 yd are 720 in, which is twenty of 36 in; five yards on the shelf give five."""
    event = event_of(INCHES, System.IMPERIAL, 70, shelf=SHELF)
    (twine,) = (part for part in told(event) if isinstance(part, Ticks))
    assert [line.text for line in twine.lines] == [
        "Stick two strips of tape on the edge of a table, 36 in apart. Measure every length between them.",
        "Spools 1 and 2, 5 yd each, from stock: cut 5 of 36 in from each; nothing is left.",
        "Spools 3 to 5, 20 yd each: cut 20 of 36 in from each; nothing is left.",
        "Count: 70 of 36 in.",
    ]


@pytest.mark.parametrize(("facts", "system"), [(INCHES, System.METRIC), (METRIC, System.IMPERIAL)])
def test_every_spool_holds_what_is_cut_off_it(facts: dict[str, str], system: System) -> None:
    work = spools(event_of(facts, system, 47, shelf=SHELF))
    came = 0
    for one in work:
        cut = sum(Fraction(each["length"]) * each["count"] for each in one["lengths"])
        assert cut + Fraction(one["left"]) == Fraction(one["length"])
        came += one["spools"] * sum(each["count"] for each in one["lengths"])
    assert came == 47
    assert [one["first"] for one in work] == [1 + sum(one["spools"] for one in work[:at]) for at in range(len(work))]
    owned = [one["owned"] for one in work]
    assert owned == sorted(owned, reverse=True)
