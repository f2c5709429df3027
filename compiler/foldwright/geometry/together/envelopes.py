"""Envelopes that are called by a name everybody knows, and whether they are the size that is bought."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.measure.length import Length, Unit
from foldwright.measure.paper import named_sheet
from foldwright.recipe.model import Recipe, Supply
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary import kind_of

_NAMED = re.compile(r"(?P<name>(?:no\.? ?|#)\d+|[a-z][a-z0-9/]*)[ -](?:sized? )?envelopes?\b", re.IGNORECASE)
"""A bare number before `envelopes` is how many there are."""
_SAME = Unit.INCH.mm / 16
"""A sixteenth of an inch: envelopes of one name differ by that much (common practice, no source)."""


class _Envelope(Struct, frozen=True):
    name: str
    across: Length
    down: Length

    def is_like(self, other: _Envelope) -> bool:
        mine, its = (sorted((one.across.mm, one.down.mm)) for one in (self, other))
        return all(abs(one - two) <= _SAME for one, two in zip(mine, its, strict=True))


def check_envelopes(recipe: Recipe) -> Iterator[Finding]:
    """Names that mean another size than the one that is bought, in the facts and in the words."""
    bought: list[_Envelope] = []
    known: list[_Envelope] = []
    for supply in recipe.supplies:
        if not _is_envelope(supply):
            continue
        named = list(_named_in(supply.name.value, supply.kind.value if supply.kind else ""))
        known += named
        if supply.size is None or len(supply.size.value.lengths) < 2:
            bought += named
            continue
        own = _Envelope(supply.name.value, *supply.size.value.lengths[:2])
        bought.append(own)
        if named and not named[0].is_like(own):
            yield _differs("envelope-named-otherwise", Strength.MISFIT, supply.size.place, named[0], own)
    names = {supply.name.value.casefold() for supply in recipe.supplies}
    for piece in recipe.pieces:
        for said in piece.slides_in:
            wanted = next(_named_in(said.value.piece), None)
            if wanted is None or said.value.piece.casefold() in names:
                continue
            if bought and not any(map(wanted.is_like, bought)):
                yield _differs("envelope-not-the-one-bought", Strength.THOUGHT, said.place, wanted, bought[0])
            known.append(wanted)
    yield from _in_words(recipe, [*bought, *known])


def _in_words(recipe: Recipe, known: list[_Envelope]) -> Iterator[Finding]:
    """Each name that is no envelope of the recipe's once, at the heading it stands under."""
    told: set[str] = set()
    for place, text in _said(recipe) if known else ():
        for named in _named_in(text):
            if named.name not in told and not any(map(named.is_like, known)):
                told.add(named.name)
                yield _differs("words-name-another-envelope", Strength.THOUGHT, place, named, known[0])


def _said(recipe: Recipe) -> Iterator[tuple[Place, str]]:
    if recipe.summary:
        yield recipe.summary.place, recipe.summary.value
    for step in recipe.steps:
        yield step.heading.place, spoken_text(step.words)
    for section in recipe.sections:
        yield section.heading.place, spoken_text(section.words)


def _is_envelope(supply: Supply) -> bool:
    kind = kind_of(supply.kind.value if supply.kind else supply.name.value)
    return kind is not None and kind.name == "envelope"


def _named_in(*texts: str) -> Iterator[_Envelope]:
    for match in _found(texts):
        size = named_sheet(f"{match['name']} envelope")
        if size is not None:
            yield _Envelope(match["name"], *size)


def _found(texts: Iterable[str]) -> Iterator[re.Match[str]]:
    for text in texts:
        yield from _NAMED.finditer(text)


def _differs(code: str, strength: Strength, place: Place, named: _Envelope, own: _Envelope) -> Finding:
    return Finding.of(
        code,
        strength,
        place,
        name=named.name,
        across=named.across,
        down=named.down,
        envelope=own.name,
        wide=own.across,
        high=own.down,
    )
