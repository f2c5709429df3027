"""Cautions: what is said about the hazards a recipe brings, and where.

A hazard is said once, before the first step in which it arises; what concerns the finished thing (food, small parts)
is said before everything. The order of a caution's texts follows IEC/IEEE 82079-1 as quoted in trade literature: what
can hurt, what comes of it, how to avoid it. Signal words follow ANSI Z535.4.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from foldwright.document.catalogue import Catalogue
from foldwright.document.measures import Measures
from foldwright.document.model import CautionText
from foldwright.document.words import plain_passage
from foldwright.measure.length import System
from foldwright.recipe.hazards import allergens_named, contents_unsaid, hazards_of
from foldwright.recipe.model import Recipe
from foldwright.vocabulary import HAZARDS, Signal
from foldwright.vocabulary.names import plain_words

_OWN = "own"
"""The code of an author's own caution, which is never the same as another."""
_LITTLE = frozenset(plain_words("a an the and or of to from in on it its your you that which with is are be always"))
"""Words that two cautions may have or lack and yet say the same."""


class Cautions(Struct, frozen=True):
    """`before` belongs to no single step; `brought` are all that a step's work calls for, by the step's number.

    Of those `by_step` has the ones to be said there, since they were not said before.
    """

    before: tuple[CautionText, ...]
    by_step: dict[int, tuple[CautionText, ...]]
    brought: dict[int, tuple[CautionText, ...]]


def said_once(brought: Iterable[tuple[CautionText, ...]]) -> Iterator[tuple[CautionText, ...]]:
    """Of the cautions each step in turn calls for, those that no step before it called for.

    An author's own caution is left out where one beside it says all of it.
    """
    said: set[str] = set()
    for cautions in brought:
        fresh = tuple(caution for caution in cautions if caution.code == _OWN or caution.code not in said)
        said.update(caution.code for caution in cautions)
        yield tuple(one for one in fresh if one.code != _OWN or not any(_says_all_of(other, one) for other in fresh))


def _says_all_of(caution: CautionText, own: CautionText) -> bool:
    said = set(plain_words(f"{caution.hazard} {caution.consequence} {caution.avoid}"))
    meant = set(plain_words(plain_passage(own.own, System.METRIC))) - _LITTLE
    return bool(meant) and meant <= said


def cautions_of(recipe: Recipe, measures: Measures, words: Catalogue) -> Cautions:
    """The cautions of a recipe, each said once: of the whole and of each step by its number."""
    found = hazards_of(recipe)
    brought: dict[int, tuple[CautionText, ...]] = {}
    for step in recipe.steps:
        cautions = tuple(_caution(code, recipe, words) for code in found.by_step[step.number])
        if step.caution:
            own = measures.passage(step.caution.value)
            cautions = (CautionText(_OWN, Signal.CAUTION, words.say("page.signal.caution"), own=own), *cautions)
        if cautions:
            brought[step.number] = cautions
    by_step = dict(zip(brought, said_once(brought.values()), strict=True))
    return Cautions(tuple(_caution(code, recipe, words) for code in found.whole), by_step, brought)


def _caution(code: str, recipe: Recipe, words: Catalogue) -> CautionText:
    hazard = HAZARDS[code]
    facts = {"holders": _holders(code, recipe, words)} if hazard.whole else {}
    avoid = words.say(f"hazard.{code}.avoid")
    return CautionText(
        code,
        hazard.signal,
        words.say(f"page.signal.{hazard.signal.name.lower()}"),
        words.say(f"hazard.{code}.hazard", **facts),
        words.say(f"hazard.{code}.consequence"),
        avoid,
        brief=words.say(f"hazard.{code}.brief", **facts) if hazard.whole else avoid,
    )


def _holders(code: str, recipe: Recipe, words: Catalogue) -> str:
    """`caramel (milk and soya)`, for every supply that contains anything; or the food of which nobody knows that."""
    if code == "contents-unsaid":
        return words.listed([supply.name.value for supply in recipe.supplies if contents_unsaid(supply)])
    holders = [
        words.say("page.supply.holds", supply=supply.name.value, contents=contents)
        for supply in recipe.supplies
        if (contents := allergens_named(supply))
    ]
    return words.listed(holders)
