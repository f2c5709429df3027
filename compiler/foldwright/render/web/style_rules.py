"""What a stylesheet says of drawings, for a drawing that is a file of its own and knows no page round it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from msgspec import Struct

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE = re.compile(r"([^{}]*)\{([^{}]*)\}|([^{}]*)\{|\}")
"""A rule, or where a group of rules begins or ends."""
_INSIDE = re.compile(r"\.drawing ([.\w-]+)")
_CLASS = re.compile(r"\.([\w-]+)")
_PROPERTY = re.compile(r"(--[\w-]+)\s*:\s*([^;]+)")
_ASKED = re.compile(r"var\((--[\w-]+)")


class Rule(Struct, frozen=True):
    """One rule, and the condition it stands under (`@media …`, or none)."""

    under: str
    selector: str
    says: str
    inside: tuple[frozenset[str], ...] = ()
    """The classes of shapes inside whatever drawing that it is about, selector by selector."""

    @property
    def text(self) -> str:
        rule = f"{self.selector}{{{self.says}}}"
        return f"{self.under}{{{rule}}}" if self.under else rule


@lru_cache(maxsize=32)
def _rules(style: str) -> tuple[Rule, ...]:
    """All rules that stand alone or under one condition: looks have no others."""
    found: list[Rule] = []
    under: list[str] = []
    for selector, says, group in _RULE.findall(_COMMENT.sub("", style)):
        if group:
            under.append(group.strip())
        elif not selector:
            under = under[:-1]
        elif len(under) < 2:
            selectors = (_INSIDE.fullmatch(one.strip()) for one in selector.split(","))
            inside = tuple(frozenset(_CLASS.findall(one[1])) for one in selectors if one)
            found.append(Rule(under[0] if under else "", selector.strip(), says.strip(), inside))
    return tuple(found)


@lru_cache(maxsize=1024)
def about_drawings(style: str, classes: frozenset[str]) -> str:
    """The rules about shapes of these classes inside a drawing, and the colours they ask for, in their order."""
    rules = _rules(style)
    shapes = [rule for rule in rules if rule.selector == ".drawing" or any(map(classes.issuperset, rule.inside))]
    asked = {name for rule in shapes for name in _ASKED.findall(rule.says)}
    colours = [rule for rule in rules if rule.selector == ":root"]
    while (
        more := {
            deeper
            for rule in colours
            for name, value in _PROPERTY.findall(rule.says)
            if name in asked
            for deeper in _ASKED.findall(value)
        }
        - asked
    ):
        asked |= more
    return "".join(rule.text for rule in (*_only(colours, asked), *shapes))


def _only(colours: list[Rule], asked: set[str]) -> Iterator[Rule]:
    for rule in colours:
        says = ";".join(f"{name}:{value.strip()}" for name, value in _PROPERTY.findall(rule.says) if name in asked)
        if says:
            yield Rule(rule.under, rule.selector, says)
