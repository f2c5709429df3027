"""kit.json and its schema: what events keep, and what is refused."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from jsonschema.exceptions import ValidationError

from foldwright.event.document.data import event_json
from foldwright.measure.length import System
from workbench.kit_schema import checked_kit, kit_validator
from workbench.practice_event import INCHES, METRIC, event_of

SHELF = "blue card: 2 sheets, scraps 3 of 150 x 140 mm"


@pytest.mark.parametrize("facts", [INCHES, METRIC], ids=["inches", "millimetres"])
@pytest.mark.parametrize("system", list(System))
def test_an_event_keeps_the_schema(facts: dict[str, str], system: System) -> None:
    data = checked_kit(event_json(event_of(facts, system, 23, 3, SHELF)))
    assert data["version"] == 3
    assert data["units"] == system.value
    assert data["spools"] and data["preparation"] and data["cutting"][0]["layouts"]


def test_what_cannot_be_had_keeps_it_too() -> None:
    data = checked_kit(event_json(event_of({**METRIC, "sheet": "100 x 100 mm"}, System.METRIC, 2)))
    assert data["missing"]


def test_nothing_unknown_missing_or_of_another_kind_passes() -> None:
    good = checked_kit(event_json(event_of(METRIC, System.METRIC, 5)))

    def tree(data: dict[str, Any]) -> dict[str, Any]:
        found: dict[str, Any] = data["cutting"][0]["layouts"][0]["tree"]
        return found

    for spoil in (
        lambda data: data.pop("people"),
        lambda data: data.update(guest="Ada"),
        lambda data: data.update(version=2),
        lambda data: data["costs"].update(whole=12.5),
        lambda data: data["cutting"][0].update(step="0.5"),
        lambda data: data["shopping"][0].update(shop="bakery"),
        lambda data: data["preparation"]["jobs"][0].update(seconds=-1),
        lambda data: tree(data).update(row="aslant"),
        lambda data: tree(data)["parts"][0].pop("across"),
    ):
        bad = copy.deepcopy(good)
        spoil(bad)
        with pytest.raises(ValidationError):
            kit_validator().validate(bad)
