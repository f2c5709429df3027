"""What is paid besides supplies, as the call says it: `hall 80, teacher 120, bags 0.10 each`."""

from __future__ import annotations

import re

from msgspec import Struct

from foldwright.event.plan.money import OtherCost
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.facts.amounts import read_price

_BETWEEN = re.compile(r"[;\n]|,(?![0-9])")
"""Digits on both sides make a decimal comma."""
_COST = re.compile(
    r"(?P<name>.*?[^\W\d_].*?)(?:\s*[:=]\s*|\s+)(?:at\s+)?"
    r"(?P<before>[£$€¥]|[A-Z]{3}\s)?\s*(?P<number>[0-9][0-9.,]*)(?:\s*(?P<after>[£$€¥]|[^\W\d_]+))??"
    r"(?P<each>\s+(?:each(?:\s+kit)?|(?:a|per)\s+kit|apiece))?"
)
_LONGEST = 200
"""Characters of one cost: a name and a number need no more."""


class SaidCost(Struct, frozen=True):
    """A cost, and the sign or word for money it was typed with, if any."""

    cost: OtherCost
    said: str
    money: str


def read_costs(text: str) -> tuple[SaidCost, ...] | str:
    """All of them, or the first that cannot be read, as it was typed."""
    found = []
    for part in (part.strip() for part in _BETWEEN.split(text) if part.strip()):
        match = _COST.fullmatch(part) if len(part) <= _LONGEST else None
        price = read_price(match["number"]) if match else None
        if match is None or price is None or isinstance(price, Unreadable) or price.amount <= 0:
            return part
        money = (match["before"] or match["after"] or "").strip()
        found.append(SaidCost(OtherCost(match["name"].strip(), price.amount, match["each"] is not None), part, money))
    return tuple(found)
