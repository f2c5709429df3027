"""A `kit.json` held against the schema that is shipped, by a validator that had no part in making it. No test."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator

from foldwright.schemas import schemas


@cache
def kit_validator() -> Draft202012Validator:
    """What validates the data of a `kit.json`."""
    (text,) = (text for path, text in schemas().items() if path.name == "kit.schema.json")
    schema = json.loads(text)
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def checked_kit(text: str) -> dict[str, Any]:
    """The data of a `kit.json`; jsonschema's ValidationError when it is not what the schema says."""
    data: dict[str, Any] = json.loads(text)
    kit_validator().validate(data)
    return data
