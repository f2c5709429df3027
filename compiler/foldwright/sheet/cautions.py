"""Cautions: which hazards a recipe brings, where each is first met, and what is said about it.

A hazard is said once, before the first step in which it arises; what concerns the finished thing (food, small parts)
is said before everything. The order of a caution's texts follows IEC/IEEE 82079-1 as quoted in trade literature: what
can hurt, what comes of it, how to avoid it. Signal words follow ANSI Z535.4.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from foldwright.recipe.model import Recipe, Step, Supply
from foldwright.sheet.catalogue import Catalogue
from foldwright.sheet.measures import Measures
from foldwright.sheet.model import CautionText
from foldwright.sheet.prose import passage
from foldwright.vocabulary import HAZARDS, Signal, SupplyKind, ToolKind, act_of, kind_of, tools_in
from foldwright.vocabulary.audience import may_be_under_three

_OF_THE_WHOLE = frozenset({"wrapped-food", "food-contact", "allergen", "small-parts", "cord", "magnet", "flame"})
"""Hazards of the finished thing rather than of a step."""
_GLUING = (act_of("glue"), act_of("stick"))


class Cautions(Struct, frozen=True):
    """`before` belongs to no single step; `by_step` is keyed by the step's number."""

    before: tuple[CautionText, ...]
    by_step: dict[int, tuple[CautionText, ...]]


def cautions_of(recipe: Recipe, spoken: Mapping[int, str], measures: Measures, words: Catalogue) -> Cautions:
    """`spoken` is the plain text of every step's words, by its number."""
    young = bool(recipe.audience and may_be_under_three(recipe.audience.value))
    said: set[str] = set()

    def fresh(codes: Iterator[str]) -> tuple[CautionText, ...]:
        new = [code for code in dict.fromkeys(codes) if code not in said and (young or not HAZARDS[code].young)]
        said.update(new)
        return tuple(_caution(code, recipe, words) for code in new)

    before = fresh(_of_the_whole(recipe))
    tools = tuple(kind for tool in recipe.tools for kind in tools_in(tool.name.value))
    by_step: dict[int, tuple[CautionText, ...]] = {}
    for step in recipe.steps:
        codes = _of_step(step, spoken[step.number], recipe, tools)
        found = fresh(code for code in codes if code not in _OF_THE_WHOLE)
        if step.caution:
            own = passage(step.caution.value, measures)
            found = (CautionText("own", Signal.CAUTION, words.say("page.signal.caution"), own=own), *found)
        if found:
            by_step[step.number] = found
    return Cautions(before, by_step)


def _of_the_whole(recipe: Recipe) -> Iterator[str]:
    for supply in recipe.supplies:
        kind = _kind(supply)
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
        able = sorted((tool for tool in tools if tool.name in act.tools), key=lambda tool: act.tools.index(tool.name))
        chosen = [tool for tool in able if tool in named_tools] or able[:1]
        for tool in chosen:
            yield from tool.hazards
    for tool in named_tools:
        yield from tool.hazards
    used = {said.value for said in step.uses}
    spoken = f"{step.do.value if step.do else ''} {text}".casefold()
    supplies = [(supply, kind) for supply in recipe.supplies if (kind := _kind(supply))]
    named = [kind for supply, kind in supplies if supply.name.value in used or supply.name.value.casefold() in spoken]
    for kind in named:
        yield from kind.hazards
    if any(act_of(doing.act) in _GLUING for doing in step.doings) and not any(kind.adhesive for kind in named):
        yield from _of_any_glue([kind for _, kind in supplies if kind.adhesive], tools)


def _of_any_glue(adhesives: Sequence[SupplyKind], tools: tuple[ToolKind, ...]) -> Iterator[str]:
    """A step that glues and does not say with what may be done with whatever sticks."""
    for kind in adhesives:
        yield from kind.hazards
    for tool in tools:
        if tool.name == "hot glue gun":
            yield from tool.hazards


def _kind(supply: Supply) -> SupplyKind | None:
    return kind_of(supply.kind.value if supply.kind else supply.name.value)


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
