"""From what goes inside to blanks that hold it: every form, every way the things lie, the best numbers, in order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.blanks import card_for, easier, envelope_round, lid_over, room_in, sleeve_round, tray_round
from foldwright.begin.design.drafting import TOLD_IN_THE_TABLE, draft_of
from foldwright.begin.design.lying import ways_to_lie
from foldwright.begin.design.model import DesignWish, Panels, Proposal, ThingsLying
from foldwright.begin.draft.model import ASKED_OF_THE_AUTHOR
from foldwright.begin.draft.writing import write_draft
from foldwright.document.catalogue import catalogue
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import envelopes_in
from foldwright.measure.plainness import points_of
from foldwright.pipeline import check_recipe
from foldwright.plan.sets import sets_on_sheet
from foldwright.recipe.facts.amounts import read_sheet
from foldwright.recipe.model import NamedSheet, Studio

THICKEST = {System.IMPERIAL: Length.of(Fraction(1, 4), Unit.INCH), System.METRIC: Length.of(6, Unit.MILLIMETRE)}
"""What goes into an envelope or onto a card is no thicker: thicker is no letter (Domestic Mail Manual 101.1, 2010)."""
_CARD_ROOM = {System.IMPERIAL: Unit.INCH.mm / 8, System.METRIC: Fraction(2)}
"""What a card is smaller than its envelope by at least (as `geometry.post` has it)."""
_CARD_LOOSE = {System.IMPERIAL: Unit.INCH.mm / 4, System.METRIC: Fraction(8)}
"""A card that is smaller by more than this slides about in its envelope (common practice, no source)."""
_LARGER_SHEETS = {
    System.IMPERIAL: ("12 x 12 in", "11 x 17 in", "12 x 18 in", "18 x 24 in", "22 x 28 in", "24 x 36 in"),
    System.METRIC: ("305 x 305 mm", "A3", "A2", "500 x 700 mm", "A1", "700 x 1000 mm"),
}
"""Sheets card is sold in, the smallest first (common practice, no source)."""
_UNKNOWN = Fraction(100)
"""The points of a length that is on no mark of the ruler; steps are such that there is none."""


class Designed(Struct, frozen=True):
    """Proposals by form, the best first, each of them checked as any recipe is.

    `why_not` has a code for each form of the wish of which there is none, with the facts of its message.
    """

    proposals: Mapping[str, tuple[Proposal, ...]]
    why_not: Mapping[str, tuple[str, Mapping[str, object]]]

    @property
    def all(self) -> tuple[Proposal, ...]:
        return tuple(proposal for found in self.proposals.values() for proposal in found)


def design(wish: DesignWish, most: int, studio: Studio | None = None) -> Designed:
    """Up to `most` proposals of each form. What is proposed has passed every check."""
    things = tuple(one for one in wish.things if not one.envelope)
    lying = ways_to_lie(things)
    proposals: dict[str, tuple[Proposal, ...]] = {}
    why_not: dict[str, tuple[str, Mapping[str, object]]] = {}
    for form in wish.forms:
        reason = _no_use(form, wish, lying)
        if reason:
            why_not[form] = reason
            continue
        made = list(_FORMS[form](wish, lying))
        candidates = sorted((one for one in made if any(one.a_sheet)), key=lambda one: one.merit)
        proposals[form] = tuple(_well(wish, candidates, most, studio))
        if not proposals[form]:
            why_not[form] = _too_large(wish, made)
    return Designed({form: found for form, found in proposals.items() if found}, why_not)


def _well(wish: DesignWish, candidates: Iterable[Proposal], most: int, studio: Studio | None) -> Iterator[Proposal]:
    """The first so many that pass every check, no two with the same blanks."""
    found: set[tuple[Panels, ...]] = set()
    for proposal in candidates:
        if len(found) == most:
            return
        if proposal.blanks not in found and passes(wish, proposal, studio):
            found.add(proposal.blanks)
            yield proposal


def passes(wish: DesignWish, proposal: Proposal, studio: Studio | None = None) -> bool:
    """Whether a recipe of the proposal has nothing the matter with it but what the table of proposals says itself."""
    text = write_draft(draft_of(wish, proposal, "A proposal", ""), catalogue())
    found = check_recipe(text, "proposal", "proposal", studio).findings
    return all(one.code in TOLD_IN_THE_TABLE or one.code in ASKED_OF_THE_AUTHOR for one in found)


# --- the forms ------------------------------------------------------------------------------------------------------


def _trays(wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Proposal]:
    yield from _best_of_each(wish, ways, lambda tray: (tray,), "tray")


def _with_lids(wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Proposal]:
    def with_lid(tray: Panels) -> tuple[Panels, ...]:
        base = replace(tray, name="base")
        return base, lid_over(wish, base)

    yield from _best_of_each(wish, ways, with_lid, "lid")


def _drawers(wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Proposal]:
    def with_sleeve(tray: Panels) -> tuple[Panels, ...]:
        drawer = replace(tray, name="drawer", facts=(*tray.facts, ("slides in", "sleeve")))
        return drawer, sleeve_round(wish, drawer)

    yield from _best_of_each(wish, ways, with_sleeve, "drawer")


def _best_of_each(
    wish: DesignWish, ways: tuple[ThingsLying, ...], blanks_of: Callable[[Panels], tuple[Panels, ...]], form: str
) -> Iterator[Proposal]:
    """For each way the things lie, the best of the trays that are rounded up more or less."""
    for lying in ways:
        variants = []
        for tray in _trays_round(wish, lying):
            inside = (tray.across[1], tray.down[1], tray.across[0])
            variants.append(_proposal(wish, form, lying, blanks_of(tray), inside, room_in(wish, tray, lying)))
        yield min(variants, key=lambda one: (one.merit, sum(one.room)))


@lru_cache(maxsize=256)
def _trays_round(wish: DesignWish, lying: ThingsLying) -> tuple[Panels, ...]:
    """The trays round some things, rounded up more or less; many come out the same. Three forms begin with them."""
    return tuple(dict.fromkeys(tray_round(wish, lying.box, times) for times in product(easier(wish), repeat=3)))


def _envelopes(wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Proposal]:
    for lying in ways:
        if lying.box[2] > THICKEST[wish.system].mm:
            continue
        for times in easier(wish):
            blank = envelope_round(wish, lying.box, times)
            body = blank.across[1], blank.down[1]
            room = tuple(side.mm - taken for side, taken in zip(body, lying.box[:2], strict=True))
            yield _proposal(wish, "envelope", lying, (blank,), body, room)


def _cards(wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Proposal]:
    """Cards for the envelope that was named, or for every one that is sold in whose card the things go on."""
    named = [one for one in wish.things if one.envelope]
    envelopes = [(one.envelope, one.size[0], one.size[1]) for one in named]
    envelopes = envelopes or [(_called(name), across, down) for name, across, down in envelopes_in(wish.system)]
    flat = [lying for lying in ways if lying.box[2] <= THICKEST[wish.system].mm]
    least = min((lying.box for lying in flat), default=None)
    for name, one_side, other_side in envelopes:
        short, long = sorted((one_side.mm, other_side.mm))
        for front in _fronts(wish, short, long):
            # The long side of the thing lies along the long side of the card.
            if least and (front[0].mm < least[1] or front[1].mm < least[0]):
                continue
            card = card_for(name, front)
            room = (short - front[0].mm, long - front[1].mm)
            yield replace(_proposal(wish, "card", flat[0] if flat else None, (card,), front, room), envelope=name)


def _fronts(wish: DesignWish, short: Fraction, long: Fraction) -> Iterator[tuple[Length, Length]]:
    step, least = wish.step.mm, max(_CARD_ROOM[wish.system], wish.clearance.mm)
    sides = []
    for side in (short, long):
        largest = (side - least) // step * step
        smallest = side - max(_CARD_LOOSE[wish.system], least + step)
        sides.append([largest - number * step for number in range(8) if largest - number * step >= smallest])
    for across in sides[0]:
        for down in sides[1]:
            if across > 0:
                yield Length(across, wish.unit), Length(down, wish.unit)


def _called(name: str) -> str:
    return f"{name} envelope"


_FORMS: Mapping[str, Callable[[DesignWish, tuple[ThingsLying, ...]], Iterator[Proposal]]] = {
    "tray": _trays,
    "lid": _with_lids,
    "drawer": _drawers,
    "envelope": _envelopes,
    "card": _cards,
}


# --- what it is worth -----------------------------------------------------------------------------------------------


def _proposal(
    wish: DesignWish,
    form: str,
    lying: ThingsLying | None,
    blanks: tuple[Panels, ...],
    inside: tuple[Length, ...],
    room: tuple[Fraction, ...],
) -> Proposal:
    sizes = [(blank.size[0].mm, blank.size[1].mm) for blank in blanks]
    sheets = tuple(sets_on_sheet(sizes, (sheet.across.mm, sheet.down.mm)) for sheet in wish.sheets)
    lengths = {length for blank in blanks for length in blank.lengths}
    points = sum((points_of(length.mm, wish.system) or _UNKNOWN for length in lengths), Fraction(0))
    sides = [length.mm for length in inside]
    return Proposal(form, lying, blanks, sheets, points, max(sides) / min(sides), inside, room)


# --- why there is none ----------------------------------------------------------------------------------------------


def _no_use(form: str, wish: DesignWish, ways: tuple[ThingsLying, ...]) -> tuple[str, Mapping[str, object]] | None:
    named = [one for one in wish.things if one.envelope]
    if named and not ways:
        return None if form == "card" else ("envelope-holds-cards", {"name": named[0].envelope})
    if form in ("envelope", "card"):
        thinnest = min(lying.box[2] for lying in ways)
        if thinnest > THICKEST[wish.system].mm:
            thick = Length(thinnest, wish.unit)
            return "too-thick-for-an-envelope", {"thick": thick, "most": THICKEST[wish.system]}
    return None


def _too_large(wish: DesignWish, made: Sequence[Proposal]) -> tuple[str, Mapping[str, object]]:
    """The blank that would come nearest to the sheets there are."""
    sizes = [max((blank.size for blank in one.blanks), key=lambda size: size[0].mm * size[1].mm) for one in made]
    if not sizes:
        return "no-envelope-so-large", {}
    size = min(sizes, key=lambda one: (max(one).mm, min(one).mm))
    facts = {"size": size, "sheets": tuple(sheet.name for sheet in wish.sheets)}
    larger = _sheet_for(wish, made)
    return ("larger-than-these-sheets", {**facts, "larger": larger}) if larger else ("larger-than-any-sheet", facts)


def _sheet_for(wish: DesignWish, made: Sequence[Proposal]) -> str:
    """The smallest sheet sold out of which some proposal's blanks come, in as many sheets as they take."""
    for name in _LARGER_SHEETS[wish.system]:
        sheet = read_sheet(name)
        assert isinstance(sheet, NamedSheet)
        sides = sheet.across.mm, sheet.down.mm
        if any(sets_on_sheet([(one.mm, other.mm) for one, other in _sizes(proposal)], sides) for proposal in made):
            return name
    return ""


def _sizes(proposal: Proposal) -> Iterator[tuple[Length, Length]]:
    return (blank.size for blank in proposal.blanks)
