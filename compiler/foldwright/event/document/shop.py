"""The kinds of shop a list is grouped by."""

from __future__ import annotations

from typing import Literal

from foldwright.recipe.model import Supply
from foldwright.vocabulary import kind_of

type Shop = Literal["paper", "stationer", "haberdasher", "grocer", "craft", "other"]
SHOPS: tuple[Shop, ...] = ("paper", "stationer", "haberdasher", "grocer", "craft", "other")
_HABERDASHERY = frozenset({"twine", "ribbon", "elastic", "wire", "bow", "button"})
_STATIONERY = frozenset(
    {"ink", "paint", "embossing powder", "varnish", "spray paint", "glitter", "envelope", "sticker", "tag"}
)


def shop_of(supply: Supply) -> Shop:
    """The kind of shop a supply is bought in."""
    kind = kind_of(supply.kind.value if supply.kind else supply.name.value)
    if supply.sheets or (kind and kind.sheet):
        return "paper"
    if kind is None or kind.name == "other":
        return "other"
    if kind.food:
        return "grocer"
    if kind.name in _HABERDASHERY:
        return "haberdasher"
    if kind.adhesive or kind.name in _STATIONERY:
        return "stationer"
    return "craft"
