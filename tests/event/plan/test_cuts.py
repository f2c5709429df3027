"""The numbered cuts of an event, replayed from its data alone, end with exactly the right pieces."""

from __future__ import annotations

import json
from collections import Counter
from fractions import Fraction

import pytest

from foldwright.event.document.cutting_data import cuttings_in
from foldwright.event.document.data import event_json
from foldwright.measure.length import System
from verifiers.cutting import ImpossibleError, replay
from workbench.practice_event import INCHES, METRIC, event_of


def planned(facts: dict[str, str], system: System, kits: int, trim: int = 0, shelf: str = "") -> str:
    return event_json(event_of(facts, system, kits, trim, shelf))


@pytest.mark.parametrize("facts", [INCHES, METRIC], ids=["inches", "millimetres"])
@pytest.mark.parametrize("system", list(System))
@pytest.mark.parametrize(("kits", "trim"), [(1, 0), (23, 0), (100, 3)])
def test_every_cut_can_be_made_and_all_pieces_come_of_them(
    facts: dict[str, str], system: System, kits: int, trim: int
) -> None:
    (plan,) = json.loads(planned(facts, system, kits, trim, "blue card: 2 sheets, scraps 3 of 150 x 140 mm"))["cutting"]
    stops = [Fraction(cut["stop"]) for one in plan["layouts"] for cut in one["cuts"] if not cut["trim"]]
    assert stops and not any(stop % Fraction(plan["step"]) for stop in stops)
    came: Counter[tuple[str, Fraction, Fraction]] = Counter()
    for layout in plan["layouts"]:
        came += replay(layout, plan["sheets"][layout["sheet"]])
    for piece in plan["pieces"]:
        across, down = Fraction(piece["across"]), Fraction(piece["down"])
        ways = {(across, down), (down, across)}
        assert sum(came[piece["piece"], *way] for way in ways) == piece["count"]
    assert sum(came.values()) == sum(piece["count"] for piece in plan["pieces"])
    assert plan["sheets"][0]["used"] <= 3


def test_the_verifier_refuses_cuts_that_cannot_be_made() -> None:
    (plan,) = json.loads(planned(INCHES, System.IMPERIAL, 23))["cutting"]
    layout = plan["layouts"][0]
    for change in ({"stop": "400"}, {"count": 10**6}, {"of": {"letter": "Z", "squared": 0, "rest": 0}}):
        cuts = [{**layout["cuts"][0], **change}, *layout["cuts"][1:]]
        with pytest.raises((ImpossibleError, ValueError)):
            replay({**layout, "cuts": cuts}, plan["sheets"][layout["sheet"]])


def test_an_earlier_plan_is_read_back_as_it_was() -> None:
    text = planned(METRIC, System.METRIC, 23)
    (plan,) = json.loads(text)["cutting"]
    (cutting,) = cuttings_in(text).values()
    assert (str(cutting.cost), cutting.proven) == (plan["cost"], plan["proven"])
    assert [one.copies for one in cutting.layouts] == [one["copies"] for one in plan["layouts"]]
    assert cuttings_in("{}") == {}
    assert cuttings_in("no data") == {}
