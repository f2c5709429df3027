"""From what goes inside to blanks that hold it: every form, every way the things lie, the best numbers, in order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache, partial
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.design.drafting import TOLD_IN_THE_TABLE, draft_of_proposal
from foldwright.begin.design.made import MADE, bands_round, blank_with, insides_round, no_larger
from foldwright.begin.design.model import THICKEST, DesignWish, Proposal, ThingsLying, ways_to_lie
from foldwright.begin.design.ranking import (
    OPEN,
    Candidate,
    at_most,
    best_first,
    looseness,
    oddness,
    sets_of,
    sizes_of,
    worth_counting,
)
from foldwright.begin.draft.begun import ASKED_OF_THE_AUTHOR
from foldwright.begin.draft.blanks import (
    STEPS,
    BlankRules,
    card_of,
    envelope_round,
    flaps_on_floor,
    lid_over,
    sleeve_round,
    tray_round,
)
from foldwright.begin.draft.model import Panels
from foldwright.begin.draft.writing import write_draft
from foldwright.document.catalogue import catalogue
from foldwright.finding import Wrong
from foldwright.geometry.together.post import ENVELOPE_ROOM
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.paper import envelopes_in
from foldwright.measure.plainness import points_of
from foldwright.pack.model import Size
from foldwright.pipeline import check_recipe
from foldwright.recipe.facts.amounts import read_sheet
from foldwright.recipe.model import NamedSheet, Studio

_CARD_LOOSE = {System.IMPERIAL: Unit.INCH.mm / 4, System.METRIC: Fraction(8)}
"""A card that is smaller by more than this slides about in its envelope (common practice, no source)."""
_LARGER_SHEETS = {
    System.IMPERIAL: ("12 x 12 in", "11 x 17 in", "12 x 18 in", "18 x 24 in", "22 x 28 in", "24 x 36 in"),
    System.METRIC: ("305 x 305 mm", "A3", "A2", "500 x 700 mm", "A1", "700 x 1000 mm"),
}
"""Sheets card is sold in, the smallest first (common practice, no source)."""
_BY_LYING = frozenset({"tray", "lid", "drawer", "envelope", *MADE})
"""Forms of which one is shown for each way the things lie."""
_UNKNOWN = Fraction(100)
"""The points of a length that is on no mark of the ruler; steps are such that there is none."""


class Designed(Struct, frozen=True):
    """Proposals by form, the best first, each of them checked as any recipe is.

    `why_not` says why there is none, for each form of the wish of which there is none.
    """

    proposals: Mapping[str, tuple[Proposal, ...]]
    why_not: Mapping[str, Wrong]

    @property
    def all(self) -> tuple[Proposal, ...]:
        """The proposals of every form, in the order of the forms."""
        return tuple(proposal for found in self.proposals.values() for proposal in found)


def design(wish: DesignWish, most: int, studio: Studio | None = None) -> Designed:
    """Up to `most` proposals of each form. What is proposed has passed every check."""
    things = tuple(one for one in wish.things if not one.envelope)
    ways = {shut: ways_to_lie(things, shut) for shut in {form not in OPEN for form in wish.forms}}
    proposals: dict[str, tuple[Proposal, ...]] = {}
    why_not: dict[str, Wrong] = {}
    for form in wish.forms:
        lying = ways[form not in OPEN]
        if reason := _no_use(form, wish, lying):
            why_not[form] = reason
            continue
        made = list(_MAKERS.get(form, partial(_boxes, form))(wish, lying))
        proposals[form] = tuple(_well(wish, best_first(wish, made), most, studio))
        if not proposals[form]:
            why_not[form] = _why_none(form, wish, made)
    return Designed({form: found for form, found in proposals.items() if found}, why_not)


def _well(wish: DesignWish, candidates: Iterable[Proposal], most: int, studio: Studio | None) -> Iterator[Proposal]:
    """The first so many that pass every check, no two with the same blanks, or with things that lie alike."""
    found: set[tuple[Panels, ...]] = set()
    ways: set[ThingsLying] = set()
    for proposal in candidates:
        if len(found) == most:
            return
        alike = proposal.form in _BY_LYING and proposal.lying in ways
        if not alike and proposal.blanks not in found and passes(wish, proposal, studio):
            found.add(proposal.blanks)
            if proposal.lying:
                ways.add(proposal.lying)
            yield proposal


def passes(wish: DesignWish, proposal: Proposal, studio: Studio | None = None) -> bool:
    """Whether a recipe of the proposal has nothing the matter with it but what the table of proposals says itself."""
    text = write_draft(draft_of_proposal(wish, proposal, catalogue()), catalogue())
    found = check_recipe(text, "proposal", "proposal", studio).findings
    return all(one.code in TOLD_IN_THE_TABLE or one.code in ASKED_OF_THE_AUTHOR for one in found)


# --- the forms ------------------------------------------------------------------------------------------------------


def _with_cover(form: str, rules: BlankRules, tray: Panels) -> tuple[Panels, ...]:
    """The tray, as the base of a lid, or as the drawer of a sleeve, with that."""
    if form == "lid":
        base = replace(tray, name="base")
        return base, lid_over(rules, base)
    if form == "drawer":
        drawer = replace(tray, name="drawer", facts=(*tray.facts, ("slides in", "sleeve")))
        return drawer, sleeve_round(rules, drawer)
    return (tray,)


def _boxes(form: str, wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Candidate]:
    """For each way the things lie, the trays that are rounded up more or less."""

    def tried(lying: ThingsLying) -> Iterator[Candidate]:
        for tray in _trays_round(wish.rules, lying.box):
            inside, room = (tray.across[1], tray.down[1], tray.across[0]), room_in(wish.rules, tray, lying)
            yield _candidate(wish, form, lying, _with_cover(form, wish.rules, tray), inside, room)

    for lying in ways:
        yield from worth_counting(tried(lying))


@lru_cache(maxsize=256)
def _trays_round(rules: BlankRules, box: Size) -> tuple[Panels, ...]:
    """The trays round a box, rounded up more or less; many come out the same. Three forms begin with them.

    The coarsest rounding would leave more room than a close fit has, which counts for more than easy numbers.
    """
    return tuple(dict.fromkeys(tray_round(rules, box, times) for times in product(_easier(rules)[:2], repeat=3)))


def _easier(rules: BlankRules) -> tuple[int, ...]:
    """How many steps numbers are rounded up to, in turn: bigger blanks, but easier numbers."""
    return (1, 5, 10) if rules.step == STEPS[System.METRIC] else (1, 2, 4)


def room_in(rules: BlankRules, tray: Panels, lying: ThingsLying) -> tuple[Fraction, ...]:
    """What is left round the things, across, down and high (mm)."""
    across, down = (
        row[1].mm - rules.thickness * (1 + 2 * layers)
        for row, layers in zip((tray.across, tray.down), flaps_on_floor(tray), strict=True)
    )
    free = across, down, tray.across[0].mm - rules.thickness / 2
    return tuple(one - taken for one, taken in zip(free, lying.box, strict=True))


def _envelopes(wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Candidate]:
    for lying in ways:
        if lying.box[2] > THICKEST[wish.rules.system].mm:
            continue
        for times in _easier(wish.rules):
            blank = envelope_round(wish.rules, lying.box, times)
            body = blank.across[1], blank.down[1]
            room = tuple(side.mm - taken for side, taken in zip(body, lying.box[:2], strict=True))
            yield _candidate(wish, "envelope", lying, (blank,), body, room)


def _cards(wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Candidate]:
    """Cards for the envelope that was named, or for every one that is sold in whose card the things go on."""
    named = [one for one in wish.things if one.envelope]
    known = [(f"{name} envelope", one, other) for name, one, other in envelopes_in(wish.rules.system)]
    envelopes = [(one.envelope, one.size[0], one.size[1]) for one in named] or known
    flat = [lying for lying in ways if lying.box[2] <= THICKEST[wish.rules.system].mm]
    least = min((lying.box for lying in flat), default=None)
    for name, one_side, other_side in envelopes:
        short, long = sorted((one_side.mm, other_side.mm))
        for front in _fronts(wish.rules, short, long):
            # The long side of the thing lies along the long side of the card.
            if least and (front[0].mm < least[1] or front[1].mm < least[0]):
                continue
            card = card_of(front)
            card = replace(card, facts=(*card.facts, ("slides in", name)))
            room = (short - front[0].mm, long - front[1].mm)
            yield _candidate(wish, "card", flat[0] if flat else None, (card,), front, room, name)


def _fronts(rules: BlankRules, short: Fraction, long: Fraction) -> Iterator[tuple[Length, Length]]:
    step, least = rules.step.mm, max(ENVELOPE_ROOM[rules.system], rules.clearance.mm)
    sides = []
    for side in (short, long):
        largest = (side - least) // step * step
        smallest = side - max(_CARD_LOOSE[rules.system], least + step)
        sides.append([largest - number * step for number in range(8) if largest - number * step >= smallest])
    for across, down in product(*sides):
        if across > 0:
            yield Length(across, rules.unit), Length(down, rules.unit)


def _worked_out(form: str, wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Candidate]:
    """For each way the things lie, those whose inside is rounded up more or less; their blanks only when asked for."""

    def tried(lying: ThingsLying) -> Iterator[Candidate]:
        for inside in dict.fromkeys(insides_round(form, wish.rules, lying, _easier(wish.rules))):
            room = tuple(side.mm - taken for side, taken in zip(inside, lying.box, strict=True))
            a_sheet = at_most(wish, [no_larger(form, inside)])
            proposal = _proposal(wish, form, lying, (), inside, room)
            yield Candidate(replace(proposal, a_sheet=a_sheet), partial(blank_with, form, wish.rules, inside))

    for lying in ways:
        yield from worth_counting(tried(lying))


def _bands(wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Iterator[Candidate]:
    for one in bands_round(wish, wish.things[0]):
        # Only the band's own numbers are looked for on a ruler.
        yield _candidate(wish, "band", ways[0], (one.panels,), one.inside, ())


_MAKERS: dict[str, Callable[[DesignWish, tuple[ThingsLying, ...]], Iterator[Candidate]]] = {
    "envelope": _envelopes,
    "card": _cards,
    "band": _bands,
    **{form: partial(_worked_out, form) for form in MADE},
}


# --- what it is worth -----------------------------------------------------------------------------------------------


@lru_cache(maxsize=4096)
def _points(mm: Fraction, system: System) -> Fraction:
    """What a number is to name; the same few come again and again."""
    return points_of(mm, system) or _UNKNOWN


def _candidate(
    wish: DesignWish,
    form: str,
    lying: ThingsLying | None,
    blanks: tuple[Panels, ...],
    inside: tuple[Length, ...],
    room: tuple[Fraction, ...],
    envelope: str = "",
) -> Candidate:
    proposal = _proposal(wish, form, lying, blanks, inside, room)
    return Candidate(replace(proposal, a_sheet=at_most(wish, sizes_of(blanks)), envelope=envelope))


def _proposal(
    wish: DesignWish,
    form: str,
    lying: ThingsLying | None,
    blanks: tuple[Panels, ...],
    inside: tuple[Length, ...],
    room: tuple[Fraction, ...],
) -> Proposal:
    """What it is worth but for the sheets."""
    # Of what is not laid yet, the sizes it is given by are its numbers.
    rows = [row for blank in blanks for row in (blank.across, blank.down)] or [inside]
    lengths = {length.mm for row in rows for length in row}
    lengths = {
        length.mm
        for length in ((one for blank in blanks for one in (*blank.across, *blank.down)) if blanks else inside)
    }
    points = sum((_points(mm, wish.rules.system) for mm in lengths), Fraction(0))
    sides = [length.mm for length in inside]
    odd = oddness(form, wish.things, lying) if form not in ("band", "card") else 0
    proportion = max(sides) / min(sides)
    return Proposal(form, lying, blanks, (), points, proportion, inside, room, odd=odd, loose=looseness(form, room))


# --- why there is none ----------------------------------------------------------------------------------------------


def _no_use(form: str, wish: DesignWish, ways: tuple[ThingsLying, ...]) -> Wrong | None:
    named = [one for one in wish.things if one.envelope]
    if named and not ways:
        return None if form == "card" else Wrong.of("design.envelope-holds-cards", name=named[0].envelope)
    if form == "band" and (len(wish.things) > 1 or wish.things[0].count > 1):
        return Wrong.of("design.band-one-thing")
    most, thinnest = THICKEST[wish.rules.system], min(lying.box[2] for lying in ways)
    if form in ("envelope", "card") and thinnest > most.mm:
        return Wrong.of("design.too-thick-for-an-envelope", thick=Length(thinnest, wish.rules.unit), most=most)
    return None


def _why_none(form: str, wish: DesignWish, made: Sequence[Candidate]) -> Wrong:
    """The blank that would come nearest to the sheets there are, of those that come out of none; or why there is no
    blank at all."""
    every = [blanks for one in made if (blanks := _blanks_of(one))]
    sizes = []
    for blanks in every:
        outside = [one.size for one in blanks if not any(at_most(wish, sizes_of((one,))))]
        sizes += [max(outside, key=lambda size: size[0].mm * size[1].mm)] if outside else []
    if not sizes:
        if form == "card" and not every:
            return Wrong.of("design.no-envelope-so-large")
        return Wrong.of("design.none-passes" if every else "design.not-of-this-shape")
    size = min(sizes, key=lambda one: (max(one).mm, min(one).mm))
    sheets = tuple(sheet.name for sheet in wish.sheets)
    if larger := _sheet_for(wish, every):
        return Wrong.of("design.larger-than-these-sheets", size=size, sheets=sheets, larger=larger)
    return Wrong.of("design.larger-than-any-sheet", size=size)


def _blanks_of(candidate: Candidate) -> tuple[Panels, ...]:
    if candidate.blanks is None:
        return candidate.proposal.blanks
    blank = candidate.blanks()
    return (blank,) if blank else ()


def _sheet_for(wish: DesignWish, every: Sequence[tuple[Panels, ...]]) -> str:
    """The smallest sheet sold out of which some proposal's blanks come, in as many sheets as they take."""
    for name in _LARGER_SHEETS[wish.rules.system]:
        sheet = read_sheet(name)
        assert isinstance(sheet, NamedSheet)
        if any(sets_of(blanks, sheet) for blanks in every):
            return name
    return ""
