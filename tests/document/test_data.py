"""sheet.json and its schema: what every demo keeps, what is refused; exact lengths as fractions."""

from __future__ import annotations

import copy
import json
from fractions import Fraction
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from foldwright.document.data import as_json
from foldwright.document.model import Document
from foldwright.schemas import schemas
from workbench.compiled import DEMOS, compiled, demo
from workbench.handmade import birdhouse


def data_of(document: Document) -> dict[str, Any]:
    data: dict[str, Any] = json.loads(as_json(document))
    return data


def validator() -> Draft202012Validator:
    (text,) = (text for path, text in schemas().items() if path.name == "sheet.schema.json")
    Draft202012Validator.check_schema(json.loads(text))
    return Draft202012Validator(json.loads(text))


def test_the_schemas_that_are_shipped_are_made_of_the_types():
    for path, text in schemas().items():
        assert path.read_text(encoding="utf-8") == text, path.name


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_keeps_the_schema(name):
    data = data_of(demo(name))
    validator().validate(data)
    assert data["version"] == 7


def test_the_schema_lets_nothing_unknown_and_nothing_missing_pass():
    good = data_of(birdhouse())
    validator().validate(good)
    for spoil in (
        lambda data: data.pop("title"),
        lambda data: data.update(colour="blue"),
        lambda data: data["steps"][0].update(hands_on="2 min"),
        lambda data: data["steps"][0].pop("tip"),
        lambda data: data["pieces"][0]["size"]["across"].update(exact_mm="104.775"),
        lambda data: data["pieces"][0]["size"]["across"].update(inches="4 1/8"),
        lambda data: data["findings"].append({"code": "x"}),
        lambda data: data.update(version=1),
    ):
        bad = copy.deepcopy(good)
        spoil(bad)
        with pytest.raises(ValidationError):
            validator().validate(bad)


def test_a_length_is_exact_and_printed_in_both_systems():
    data = data_of(demo("birdhouse"))
    base = data["pieces"][0]
    assert base["size"]["down"]["exact_mm"] == "2159/20"
    assert base["size"]["down"]["imperial"] == "4 1/4 in"
    assert base["size"]["down"]["metric"].endswith(" mm")
    assert sum(Fraction(panel["exact_mm"]) for panel in base["across"]) == Fraction(base["size"]["across"]["exact_mm"])
    assert [panel["name"] for panel in base["across"]] == ["left end", "floor", "right end"]
    assert (base["name"], base["count"], base["from"]) == ("base", 1, "charcoal card")


def test_times_are_whole_seconds():
    data = data_of(demo("drawer-box"))
    step = data["steps"][4]
    assert (step["hands_on"], step["get_ready"], step["waiting"]) == (120, 0, 600)
    assert data["time"] == {"hands_on": 1140, "get_ready": 180, "waiting": 600, "elapsed": 1740, "estimated": False}


def test_findings_carry_their_place():
    text = "---\ntitle: Card\nlevel: wobbly\npieces:\n  base:\n    size: 5 x 7 in\n---\n\n## Cut\n"
    sheet, _ = compiled(text)
    found = [finding for finding in data_of(sheet)["findings"] if finding["line"]]
    assert found
    assert all(finding["says"] and finding["code"] and finding["strength"] == "thought" for finding in found)
