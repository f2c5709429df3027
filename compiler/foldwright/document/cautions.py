"""Cautions: what is said about the hazards a recipe brings, and where.

Each is said in full once, before everything, and in one short sentence at the first step in which it arises. The order
of a caution's texts follows IEC/IEEE 82079-1 as quoted in trade literature: what can hurt, what comes of it, how to
avoid it. Signal words follow ANSI Z535.4.
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
"""The code of an author's own caution."""
_LITTLE = frozenset(plain_words("a an the and or of to from in on it its your you that which with is are be always"))
"""Words that a caution may lack and yet say the same as another."""


class Cautions(Struct, frozen=True):
    """`full` are those of the whole and of every step, each once; `brought` are all that a step's work calls for, by
    the step's number.

    Of those `by_step` has the ones to be said there, since no step before it called for them.
    """

    full: tuple[CautionText, ...]
    by_step: dict[int, tuple[CautionText, ...]]
    brought: dict[int, tuple[CautionText, ...]]


def said_once(brought: Iterable[tuple[CautionText, ...]]) -> Iterator[tuple[CautionText, ...]]:
    """Of the cautions each step in turn calls for, those that no step before it called for.

    One is left out where the author's own beside it says all of its reminder.
    """
    said: set[str] = set()
    for cautions in brought:
        own = [caution for caution in cautions if caution.own]
        fresh = [caution for caution in cautions if not caution.own and caution.code not in said]
        said.update(caution.code for caution in fresh)
        yield (*own, *(one for one in fresh if not any(_says_all_of(other, one.reminder) for other in own)))


def said_in_full(whole: Iterable[CautionText], brought: Iterable[tuple[CautionText, ...]]) -> tuple[CautionText, ...]:
    """Those of the whole, and those the steps bring by themselves: the gravest first, then as they are first met."""
    of_steps = (caution for cautions in brought for caution in cautions if not caution.own)
    return tuple(sorted(dict.fromkeys((*whole, *of_steps)), key=lambda caution: -caution.signal))


def _says_all_of(own: CautionText, reminder: str) -> bool:
    said = set(plain_words(plain_passage(own.own, System.METRIC)))
    return set(plain_words(reminder)) - _LITTLE <= said


def cautions_of(recipe: Recipe, measures: Measures, words: Catalogue) -> Cautions:
    """The cautions of a recipe: all of them in full, and which of them each step brings."""
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
    whole = tuple(_caution(code, recipe, words) for code in found.whole)
    return Cautions(said_in_full(whole, brought.values()), by_step, brought)


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
        reminder="" if hazard.made else words.say(f"hazard.{code}.reminder"),
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
