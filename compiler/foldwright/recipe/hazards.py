"""Which hazards a recipe brings, and where: codes of the vocabulary, from tools, supplies, acts and words.

What lies in the finished thing (food, small parts, a magnet) is a matter of the whole. So is what a listed tool or
supply can do when no step is seen to use it, and what tips and variations speak of: nothing is left unsaid because
nobody said where.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct

from foldwright.finding import Finding, Strength
from foldwright.recipe.model import Instead, Recipe, Said, Step, Supply
from foldwright.recipe.needs import acts_in, supplies_named, supply_kind
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary import HAZARDS, Signal, ToolKind, act_of, kind_of, tools_in
from foldwright.vocabulary.allergens import declares_nothing
from foldwright.vocabulary.dangers import dangers_in
from foldwright.vocabulary.hazards import may_be_under_three
from foldwright.vocabulary.work import GLUING

_TAPED = frozenset({"tape", "assemble"})
"""Ways to join that say themselves what holds, or that may need nothing that does."""
_TAPE = re.compile(r"\btap(?:e|es|ed|ing)\b", re.IGNORECASE)
"""What holds, said without the whole name of a supply: "Put tape round the window"."""

_ORDER = {code: (-one.signal, not one.made, number) for number, (code, one) in enumerate(HAZARDS.items())}
_GRAVEST_FIRST = _ORDER.__getitem__
_NOT_UNDER_THREE = frozenset({"small-parts", "cord", "magnet", "cell", "balloon"})


class Brought(Struct, frozen=True):
    """Codes of hazards: of the whole and of each step by its number, the gravest first."""

    whole: tuple[str, ...]
    by_step: dict[int, tuple[str, ...]]


def hazards_of(recipe: Recipe) -> Brought:
    """The hazards a recipe brings by itself: those told once, and those told at a step. Codes of `HAZARDS`."""
    own = (*(piece.name.value for piece in recipe.pieces), *(supply.name.value for supply in recipe.supplies))
    met = {step.number: tuple(_of_step(step, recipe, own)) for step in recipe.steps}
    by_step = {number: _graver(code for code in codes if not HAZARDS[code].made) for number, codes in met.items()}
    done = {code for codes in met.values() for code in codes if not HAZARDS[code].made}
    anywhere = (*_of_lists(recipe), *_of_sections(recipe, own), *(code for codes in met.values() for code in codes))
    whole = _uncovered(code for code in anywhere if code not in done)
    return Brought(tuple(sorted(whole, key=_GRAVEST_FIRST)), by_step)


def _graver(codes: Iterable[str]) -> tuple[str, ...]:
    """The gravest first, those as grave in the order met."""
    return tuple(sorted(_uncovered(codes), key=lambda code: -HAZARDS[code].signal))


def allergens_named(supply: Supply) -> tuple[str, ...]:
    """What it is said to contain that somebody cannot eat; nothing where that is what is said."""
    return tuple(said.value for said in supply.contains if not declares_nothing(said.value))


def contents_unsaid(supply: Supply) -> bool:
    """Whether it is food of which nobody says what it contains."""
    kind = supply_kind(supply)
    return kind is not None and kind.food and not supply.contains


def _uncovered(codes: Iterable[str]) -> tuple[str, ...]:
    """Each once, without those of which another says the same and more."""
    found = dict.fromkeys(codes)
    covered = {code for one in found for code in HAZARDS[one].covers}
    return tuple(code for code in found if code not in covered)


def check_receivers(recipe: Recipe) -> Iterator[Finding]:
    """What to ask for the sake of those who get it: what food contains, small parts for small children."""
    for supply in recipe.supplies:
        if contents_unsaid(supply):
            yield Finding.of("contains-unsaid", Strength.THOUGHT, supply.name.place, name=supply.name.value)
    if recipe.audience and may_be_under_three(recipe.audience.value):
        said, place = recipe.audience.value, recipe.audience.place
        if things := tuple(supply.name.value for supply in recipe.supplies if _NOT_UNDER_THREE & {*_of_supply(supply)}):
            yield Finding.of("under-three", Strength.THOUGHT, place, said=said, things=things)
        elif _NOT_UNDER_THREE & {*hazards_of(recipe).whole}:
            yield Finding.of("under-three-in-words", Strength.THOUGHT, place, said=said)


def _of_lists(recipe: Recipe) -> Iterator[str]:
    """What the lists of supplies and tools bring, whatever is done with them."""
    if any(allergens_named(supply) for supply in recipe.supplies):
        yield "allergen"
    if any(contents_unsaid(supply) for supply in recipe.supplies):
        yield "contents-unsaid"
    for supply in recipe.supplies:
        yield from _of_supply(supply)
    for tool in recipe.tools:
        yield from _of_names((tool.name.value, *_names(tool.instead)))


def _of_sections(recipe: Recipe, own: tuple[str, ...]) -> Iterator[str]:
    texts = (spoken_text(words) for words in (recipe.intro, *(section.words for section in recipe.sections)))
    for text in texts:
        # Who mentions scissors in a tip hands none out: only what is grave is told of words that are no step.
        yield from (code for code in dangers_in(text, own) if HAZARDS[code].signal is Signal.WARNING)


def _of_supply(supply: Supply) -> Iterator[str]:
    """What a supply brings by its kind, by its name, and by what may stand in for it."""
    kind = supply_kind(supply)
    spoken = dangers_in(f"{supply.name.value}. {supply.kind.value if supply.kind else ''}")
    if kind is None:
        yield from spoken
    else:
        yield from kind.hazards
        if kind.small:
            yield "small-parts"
        # `pearl ink` holds no pearl; but a glue called super is what it is called.
        if not kind.sheet:
            yield from (code for code in spoken if not HAZARDS[code].made)
    yield from dangers_in(supply.note.value) if supply.note else ()
    yield from _of_names(_names(supply.instead))


def _of_names(names: Iterable[str]) -> Iterator[str]:
    for name in names:
        kind = kind_of(name)
        yield from (kind.hazards if kind and not tools_in(name) else ())
        yield from dangers_in(name)


def _names(instead: Iterable[Said[Instead]]) -> tuple[str, ...]:
    return tuple(said.value.name for said in instead)


def _of_step(step: Step, recipe: Recipe, own: tuple[str, ...]) -> Iterator[str]:
    """Hazards of a step's acts, of the tools they are done with, of tools, supplies and acts its words name."""
    text = _text(step)
    tools = tuple(kind for tool in recipe.tools for kind in tools_in(tool.name.value))
    for act, used in acts_in(step, text, tools):
        yield from act.hazards
        for tool in used:
            yield from tool.hazards
    yield from dangers_in(text, own)
    supplies = supplies_named(step, text, recipe.supplies)
    for supply in supplies:
        yield from _of_supply(supply)
    if _glues(step) and not _TAPE.search(text) and not any(_sticks(supply) for supply in supplies):
        yield from _of_any_glue(recipe, tools)


def _text(step: Step) -> str:
    """All that is said in a step, a sentence to each saying; the author's own caution warns, and so brings nothing."""
    said = [step.heading.value, step.do.value if step.do else "", *(one.value for one in step.uses)]
    said += [spoken_text(step.words), *(spoken_text(one.value) for one in (step.tip, step.short) if one)]
    return ".\n".join(said)


def _glues(step: Step) -> bool:
    acts = {act.name for doing in step.doings if (act := act_of(doing.act))}
    return bool(acts & (GLUING - _TAPED))


def _sticks(supply: Supply) -> bool:
    kind = supply_kind(supply)
    return kind is not None and kind.adhesive


def _of_any_glue(recipe: Recipe, tools: Iterable[ToolKind]) -> Iterator[str]:
    """A step that glues and does not say with what may be done with whatever sticks."""
    for supply in recipe.supplies:
        if _sticks(supply):
            yield from _of_supply(supply)
    for tool in tools:
        if tool.name == "hot glue gun":
            yield from tool.hazards
