"""sheet.json: what the schema says, for every demo; exact lengths as fractions."""

from __future__ import annotations

import copy
import json
from fractions import Fraction

import pytest
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from foldwright.document.data import VERSION, as_data, as_json, schema
from workbench.compiled import DEMOS, compiled, demo
from workbench.handmade import birdhouse


def validator() -> Draft202012Validator:
    Draft202012Validator.check_schema(schema())
    return Draft202012Validator(schema())


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_keeps_the_schema(name):
    data = json.loads(as_json(demo(name)))
    validator().validate(data)
    assert data["version"] == VERSION == 4


def test_the_schema_lets_nothing_unknown_and_nothing_missing_pass():
    good = as_data(birdhouse())
    validator().validate(good)
    for spoil in (
        lambda data: data.pop("title"),
        lambda data: data.update(colour="blue"),
        lambda data: data["steps"][0].update(hands_on="2 min"),
        lambda data: data["pieces"][0]["size"]["across"].update(exact_mm="104.775"),
        lambda data: data["findings"].append({"code": "x"}),
        lambda data: data.update(version=1),
    ):
        bad = copy.deepcopy(good)
        spoil(bad)
        with pytest.raises(ValidationError):
            validator().validate(bad)


def test_a_length_is_exact_and_printed_in_both_systems():
    data = as_data(demo("birdhouse"))
    base = data["pieces"][0]
    assert base["size"]["down"]["exact_mm"] == "2159/20"
    assert base["size"]["down"]["imperial"] == "4 1/4 in"
    assert base["size"]["down"]["metric"].endswith(" mm")
    assert sum(Fraction(panel["exact_mm"]) for panel in base["across"]) == Fraction(base["size"]["across"]["exact_mm"])
    assert [panel["name"] for panel in base["across"]] == ["left end", "floor", "right end"]
    assert (base["name"], base["count"], base["from"]) == ("base", 1, "charcoal card")


def test_times_are_whole_seconds():
    data = as_data(demo("drawer-box"))
    step = data["steps"][4]
    assert (step["hands_on"], step["get_ready"], step["waiting"]) == (120, 0, 600)
    assert data["time"] == {"hands_on": 1140, "get_ready": 180, "waiting": 600, "elapsed": 1740, "estimated": False}


def test_findings_carry_their_place():
    text = "---\ntitle: Card\nlevel: wobbly\npieces:\n  base:\n    size: 5 x 7 in\n---\n\n## Cut\n"
    sheet, _ = compiled(text)
    found = [finding for finding in as_data(sheet)["findings"] if finding["line"]]
    assert found
    assert all(finding["says"] and finding["code"] and finding["strength"] == "thought" for finding in found)
