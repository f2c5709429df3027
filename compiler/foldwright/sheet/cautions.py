"""Cautions: which hazards a recipe brings, where each is first met, and what is said about it.

A hazard is said once, before the first step in which it arises; what concerns the finished thing (food, small parts)
is said before everything. The order of a caution's texts follows IEC/IEEE 82079-1 as quoted in trade literature: what
can hurt, what comes of it, how to avoid it. Signal words follow ANSI Z535.4.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from foldwright.recipe.model import Recipe, Step, Supply
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.measures import Measures
from foldwright.sheet.model import CautionText
from foldwright.sheet.needs import supplies_named, supply_kind, tools_for
from foldwright.sheet.prose import passage
from foldwright.vocabulary import HAZARDS, Signal, SupplyKind, ToolKind, act_of, tools_in
from foldwright.vocabulary.audience import may_be_under_three

_OF_THE_WHOLE = frozenset({"wrapped-food", "food-contact", "allergen", "small-parts", "cord", "magnet", "flame"})
"""Hazards of the finished thing rather than of a step."""
_GLUING = (act_of("glue"), act_of("stick"))


_OWN = "own"
"""The code of an author's own caution, which is never the same as another."""


class Cautions(Struct, frozen=True):
    """`before` belongs to no single step; `brought` are all that a step's work calls for, by the step's number.

    Of those `by_step` has the ones to be said there, since they were not said before.
    """

    before: tuple[CautionText, ...]
    by_step: dict[int, tuple[CautionText, ...]]
    brought: dict[int, tuple[CautionText, ...]]


def said_once(brought: Iterable[tuple[CautionText, ...]]) -> Iterator[tuple[CautionText, ...]]:
    """Of the cautions each step in turn calls for, those that no step before it called for."""
    said: set[str] = set()
    for cautions in brought:
        fresh = tuple(caution for caution in cautions if caution.code == _OWN or caution.code not in said)
        said.update(caution.code for caution in cautions)
        yield fresh


def cautions_of(recipe: Recipe, spoken: Mapping[int, str], measures: Measures, words: Catalogue) -> Cautions:
    """`spoken` is the plain text of every step's words, by its number."""
    young = bool(recipe.audience and may_be_under_three(recipe.audience.value))

    def texts(codes: Iterable[str]) -> tuple[CautionText, ...]:
        told = [code for code in dict.fromkeys(codes) if young or not HAZARDS[code].young]
        return tuple(_caution(code, recipe, words) for code in told)

    tools = tuple(kind for tool in recipe.tools for kind in tools_in(tool.name.value))
    brought: dict[int, tuple[CautionText, ...]] = {}
    for step in recipe.steps:
        codes = _of_step(step, spoken[step.number], recipe, tools)
        found = texts(code for code in codes if code not in _OF_THE_WHOLE)
        if step.caution:
            own = passage(step.caution.value, measures)
            found = (CautionText(_OWN, Signal.CAUTION, words.say("page.signal.caution"), own=own), *found)
        if found:
            brought[step.number] = found
    by_step = dict(zip(brought, said_once(brought.values()), strict=True))
    return Cautions(texts(_of_the_whole(recipe)), by_step, brought)


def _of_the_whole(recipe: Recipe) -> Iterator[str]:
    for supply in recipe.supplies:
        kind = supply_kind(supply)
        if supply.contains:
            yield "allergen"
        if kind:
            if kind.small and not kind.food:
                yield "small-parts"
            yield from (code for code in kind.hazards if code in _OF_THE_WHOLE)


def _of_step(step: Step, text: str, recipe: Recipe, tools: tuple[ToolKind, ...]) -> Iterator[str]:
    """Hazards of a step's acts, of the tools they are done with, of tools and supplies its words name."""
    named_tools = tools_in(text) if text else ()
    for doing in step.doings:
        act = act_of(doing.act)
        if act is None:
            continue
        yield from act.hazards
        for tool in tools_for(act, named_tools, tools):
            yield from tool.hazards
    for tool in named_tools:
        yield from tool.hazards
    named = _kinds(supplies_named(step, text, recipe.supplies))
    for kind in named:
        yield from kind.hazards
    if any(act_of(doing.act) in _GLUING for doing in step.doings) and not any(kind.adhesive for kind in named):
        yield from _of_any_glue([kind for kind in _kinds(recipe.supplies) if kind.adhesive], tools)


def _of_any_glue(adhesives: Sequence[SupplyKind], tools: tuple[ToolKind, ...]) -> Iterator[str]:
    """A step that glues and does not say with what may be done with whatever sticks."""
    for kind in adhesives:
        yield from kind.hazards
    for tool in tools:
        if tool.name == "hot glue gun":
            yield from tool.hazards


def _kinds(supplies: Iterable[Supply]) -> list[SupplyKind]:
    return [kind for supply in supplies if (kind := supply_kind(supply))]


def _caution(code: str, recipe: Recipe, words: Catalogue) -> CautionText:
    hazard = HAZARDS[code]
    facts = {"holders": _allergens(recipe, words)} if code == "allergen" else {}
    return CautionText(
        code,
        hazard.signal,
        words.say(f"page.signal.{hazard.signal.name.lower()}"),
        words.say(f"hazard.{code}.hazard", **facts),
        words.say(f"hazard.{code}.consequence"),
        words.say(f"hazard.{code}.avoid"),
    )


def _allergens(recipe: Recipe, words: Catalogue) -> str:
    """`the caramel contains milk and soya`, for every supply that contains anything."""
    holders = [
        words.say("page.supply.holds", supply=supply.name.value, contents=tuple(said.value for said in supply.contains))
        for supply in recipe.supplies
        if supply.contains
    ]
    return words.listed(holders)
