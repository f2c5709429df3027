"""A recipe without the places of its words, so that two can be compared for what they say."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

from foldwright.finding import Place

_ASIDE = ("unread", "not_measured")
"""What could not be read or was passed over: remarks on the text, not on the recipe."""


def without_places(value: Any) -> Any:
    """The value as nested tuples: name of the class, then its fields, places left out."""
    if isinstance(value, Place):
        return None
    if isinstance(value, tuple):
        return tuple(without_places(one) for one in value)
    if is_dataclass(value):
        said = (getattr(value, field.name) for field in fields(value) if field.name not in _ASIDE)
        return (type(value).__name__, *map(without_places, said))
    return value
