"""A recipe without the places of its words, so that two can be compared for what they say."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from foldwright.finding import Place

_ASIDE = ("unread", "assumed", "not_measured")
"""What could not be read or was passed over: remarks on the text, not on the recipe."""


def without_places(value: Any) -> Any:
    """The value as nested tuples: name of the class, then its fields, places left out."""
    if isinstance(value, Place):
        return None
    if isinstance(value, tuple):
        return tuple(without_places(one) for one in value)
    if isinstance(value, Struct):
        said = (getattr(value, field) for field in value.__struct_fields__ if field not in _ASIDE)
        return (type(value).__name__, *map(without_places, said))
    return value
