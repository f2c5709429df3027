"""A recipe without the places of its words, so that two can be compared for what they say."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

from foldwright.finding import Place


def without_places(value: Any) -> Any:
    """The value as nested tuples: name of the class, then its fields. Places are left out, and what could not be read."""
    if isinstance(value, Place):
        return None
    if isinstance(value, tuple):
        return tuple(without_places(one) for one in value)
    if is_dataclass(value):
        return (
            type(value).__name__,
            *(without_places(getattr(value, field.name)) for field in fields(value) if field.name != "unread"),
        )
    return value
