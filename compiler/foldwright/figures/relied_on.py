"""What people rely on, looked at as it is printed in either unit system, of which the worse is told.

Whoever cuts by the page cuts the printed sizes: what a piece holds has to go into those, a lid over those. Where the
author's own numbers will not do either, it is they that are told.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from msgspec.structs import replace

from foldwright.figures.as_printed import as_printed
from foldwright.figures.model import Figures
from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat
from foldwright.geometry.together.contents import Contents, Held, pack_contents
from foldwright.geometry.together.hands import Chance, chances_of
from foldwright.geometry.together.mating import Gap
from foldwright.geometry.together.rooms import FreeRoom
from foldwright.measure.length import Length, System
from foldwright.memory import Memory
from foldwright.recipe.model import Recipe

_BLANKS: Memory[tuple[Blank, ...]] = Memory(len(System))
_OFTEN_ENOUGH = 75
"""Of a hundred made by hand: where every fourth does not go together, that is worth a word (a reasoned guess)."""


def with_what_is_relied_on(
    recipe: Recipe, flat: Flat, figures: Mapping[System, Figures], free: Mapping[str, FreeRoom] | None = None
) -> Flat:
    """The flat pieces with what they hold, how sure they are to go together, and what is the matter with either.

    `free` is what is free between walls whose folds are drawn, by piece.
    """
    contents: dict[System, Contents] = {}
    chances: list[tuple[Chance, ...]] = []
    gaps: list[list[Gap]] = []
    error = recipe.studio.hand_error
    for system, printed in figures.items():
        made_of = flat.blanks, printed, flat.lengths.by_id
        blanks = _BLANKS.of(system, made_of, partial(_all_as_printed, *made_of))
        by_name = {blank.piece.casefold(): blank for blank in blanks}
        contents[system] = pack_contents(recipe, by_name, flat.cards, flat.stacks, free)
        gaps.append([_as_printed(gap, printed) for gap in flat.gaps])
        chances.append(chances_of(gaps[-1], blanks, recipe.system, error.value.mm if error else None))
    held, told = _worse_contents(contents, recipe.system, flat.blanks)
    less_sure = tuple(_less_sure(chances))
    findings = (*flat.findings, *told, *_filled(recipe, flat.gaps, gaps), *_seldom(recipe, less_sure))
    return replace(flat, findings=findings, chances=less_sure, held=held)


def _all_as_printed(blanks: Sequence[Blank], printed: Figures, exact: Mapping[LengthId, Length]) -> tuple[Blank, ...]:
    return tuple(blank if blank.doubtful else as_printed(blank, printed, exact) for blank in blanks)


# --- what lies in the pieces ------------------------------------------------------------------------------------------


def _worse_contents(
    contents: Mapping[System, Contents], own: System, blanks: Sequence[Blank]
) -> tuple[tuple[Held, ...], tuple[Finding, ...]]:
    """Piece by piece: what is the matter by the author's own numbers; else what only the other page makes of them."""
    held: list[Held] = []
    findings: list[Finding] = []
    for blank in blanks:
        told, told_there = (
            [one for one in contents[system].findings if dict(one.facts).get("piece") == blank.piece]
            for system in (own, own.other)
        )
        lying, lying_there = (
            [one for one in contents[system].held if one.piece == blank.piece] for system in (own, own.other)
        )
        if told:
            findings += told
            held += lying
        elif told_there:
            findings += (_only_there(one, own.other) for one in told_there)
            held += lying_there
        else:
            held += map(_least, zip(lying, lying_there, strict=True))
    return tuple(held), tuple(findings)


def _only_there(finding: Finding, system: System) -> Finding:
    """What goes in, or lies under the rim, by the author's own numbers and not by the other page."""
    facts = {name: fact for name, fact in finding.facts if name in ("piece", "things")}
    return Finding.of("does-not-go-in-as-printed", finding.strength, finding.place, system=system.value, **facts)


def _least(alike: Sequence[Held]) -> Held:
    left = [min(room, key=lambda length: length.mm) for room in zip(*(one.left for one in alike), strict=True)]
    return replace(alike[0], left=(left[0], left[1], left[2]))


# --- what goes over or into another -----------------------------------------------------------------------------------


def _as_printed(gap: Gap, figures: Figures) -> Gap:
    between = Length(figures[gap.outer].mm - figures[gap.inner].mm, gap.between_scores.unit)
    card = gap.with_card
    moved = between.mm - gap.between_scores.mm
    return replace(gap, between_scores=between, with_card=Length(card.mm + moved, card.unit) if card else None)


def _less_sure(chances: Sequence[Sequence[Chance]]) -> Iterator[Chance]:
    """Each pair in the system in which it is less sure; one that cannot go together in one is told of by its gap."""
    by_pair = [{(one.outer, one.inner, one.how): one for one in some} for some in chances]
    for pair in by_pair[0]:
        if all(pair in some for some in by_pair):
            yield min((some[pair] for some in by_pair), key=lambda one: one.share)


def _filled(recipe: Recipe, exact: Sequence[Gap], printed: Sequence[Sequence[Gap]]) -> Iterator[Finding]:
    """A gap the card leaves open as designed and fills as it is printed."""
    for gap, *both in zip(exact, *printed, strict=True):
        known = [(one.with_card.mm, one) for one in both if one.with_card is not None]
        if gap.with_card is None or gap.with_card.mm <= 0 or not known:
            continue
        room, worst = min(known, key=lambda pair: pair[0])
        if room > 0:
            continue
        code = "gap-less-than-the-card" if gap.how == "over" else "room-less-than-the-card"
        strength = Strength.THOUGHT if gap.estimated else Strength.MISFIT
        for place in _said(recipe, gap.outer.piece, gap.inner.piece):
            facts = {"outer": gap.outer.piece, "inner": gap.inner.piece, "gap": worst.between_scores}
            yield Finding.of(f"printed-{code}", strength, place, **facts)


def _seldom(recipe: Recipe, chances: Iterable[Chance]) -> Iterator[Finding]:
    """A pair that too often does not go together is a thought, told where the two are said to."""
    for chance in chances:
        if chance.share < _OFTEN_ENOUGH and chance.more is not None:
            facts = {"outer": chance.outer, "inner": chance.inner, "share": chance.share, "more": chance.more}
            for place in _said(recipe, chance.outer, chance.inner):
                yield Finding.of(f"seldom-goes-{chance.how}", Strength.THOUGHT, place, **facts)


def _said(recipe: Recipe, outer: str, inner: str) -> Iterator[Place]:
    """Where the author says that two things go together."""
    names = {outer.casefold(), inner.casefold()}
    for piece in recipe.pieces:
        for said in (*piece.fits_over, *piece.slides_in):
            if {piece.name.value.casefold(), said.value.piece.casefold()} == names:
                yield said.place
