"""What a step is known to need: the tools its acts are done with, the tools and supplies its words name.

A step that does not say which of several able tools it wants is taken to want the first the vocabulary has for the act.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from foldwright.recipe.model import Recipe, Step, Supply
from foldwright.vocabulary import SupplyKind, ToolKind, act_of, kind_of, tools_in
from foldwright.vocabulary.acts import Act, Phase

_FOLDER = "bone folder"
"""Fingers can fold, so that no act of folding asks for it; who has one folds with it."""
_TOLD_TO_CUT = re.compile(
    r"(?:^|[.;:,]|\b(?:and|then|or|again))\s*(cut|trim|slice|slit|snip|notch|punch)\b", re.IGNORECASE | re.MULTILINE
)
"""Acts with sharp tools where a sentence tells to do them: `the cut edge` tells nothing."""


def needs_of(step: Step, text: str, recipe: Recipe) -> tuple[str, ...]:
    """Names of supplies, then of tools, as the recipe's lists have them. `text` is the plain text of the step's words.

    What pieces are cut from is needed where they are cut, however often its name falls: to fold the red card is to fold
    a piece of it.
    """
    used = {said.value for said in step.uses}
    cut_from = {piece.supply.value for piece in recipe.pieces if piece.supply}
    named = (supply.name.value for supply in supplies_named(step, text, recipe.supplies))
    wanted = set(_tools(step, text, recipe))
    tools = (
        tool.name.value
        for tool in recipe.tools
        if tool.name.value in used or wanted.intersection(tools_in(tool.name.value))
    )
    supplies = (name for name in named if name in used or name not in cut_from)
    return tuple(dict.fromkeys((*supplies, *_sheets(step, recipe), *tools)))


def _sheets(step: Step, recipe: Recipe) -> Iterator[str]:
    """What the step parts pieces from: where they are first cut, or where they are worked on if no step cuts them."""
    cut: dict[str, int] = {}
    for one in recipe.steps:
        for doing in one.doings:
            if (act := act_of(doing.act)) and act.phase is Phase.CUT:
                cut |= {name: one.number for name in doing.subjects if name not in cut}
    here = {name for doing in step.doings for name in doing.subjects if cut.get(name, step.number) == step.number}
    yield from (piece.supply.value for piece in recipe.pieces if piece.supply and piece.name.value in here)


def supplies_named(step: Step, text: str, supplies: Iterable[Supply]) -> list[Supply]:
    """Those whose whole name stands in the step's words, its `do:` or its `with:`."""
    used = {said.value for said in step.uses}
    spoken = _folded(f"{step.do.value if step.do else ''} {text}")
    return [one for one in supplies if one.name.value in used or _folded(one.name.value) in spoken]


def _folded(text: str) -> str:
    """Small letters, and straight apostrophes for printed ones."""
    return text.casefold().replace("’", "'")


def supply_kind(supply: Supply) -> SupplyKind | None:
    """What it is said to be; what its name says when nothing known is said."""
    return (kind_of(supply.kind.value) if supply.kind else None) or kind_of(supply.name.value)


def acts_in(step: Step, text: str, tools: Sequence[ToolKind]) -> Iterator[tuple[Act, list[ToolKind]]]:
    """What is done in a step and with which of the recipe's `tools`: acts of its `do:`, then those its words tell.

    Words tell to do something with sharp tools. Who has the scissors in hand, to slit, trims with them too.
    """
    named = tools_in(text) if text else ()
    taken: list[ToolKind] = []
    acts = list(dict.fromkeys(act for doing in step.doings if (act := act_of(doing.act))))
    for act in acts:
        found = tools_for(act, named, tools)
        taken += found
        yield act, found
    for act in dict.fromkeys(act for word in _TOLD_TO_CUT.findall(text) if (act := act_of(word))):
        if act not in acts:
            yield act, tools_for(act, (*named, *taken) if act.phase is Phase.CUT else named, tools)


def tools_for(act: Act, named: Sequence[ToolKind], tools: Iterable[ToolKind]) -> list[ToolKind]:
    """Of the recipe's `tools` those the act is done with: the ones `named` with it, or the first that is able."""
    able = sorted((tool for tool in tools if tool.name in act.tools), key=lambda tool: act.tools.index(tool.name))
    return [tool for tool in able if tool in named] or able[:1]


def _tools(step: Step, text: str, recipe: Recipe) -> Iterator[ToolKind]:
    named = tools_in(text) if text else ()
    yield from named
    kinds = [kind for tool in recipe.tools for kind in tools_in(tool.name.value)]
    for act, used in acts_in(step, text, kinds):
        yield from used
        if act.phase is Phase.FOLD:
            yield from (kind for kind in kinds if kind.name == _FOLDER)
