"""Every piece of a recipe laid flat: its blank, all its lengths, and what must hold between them.

One slip never hides the rest: a piece whose numbers disagree still gets a blank, with the doubtful side marked.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.finding import Finding
from foldwright.geometry.flat.blank import Blank, Strip
from foldwright.geometry.flat.casing import CASE, check_case
from foldwright.geometry.flat.forms.turned_in import turned_in_by_a_step
from foldwright.geometry.flat.inside import Working
from foldwright.geometry.flat.laying import LaidPiece, Layer
from foldwright.geometry.flat.panels import faces_called, fits_form, tell_no_panel
from foldwright.geometry.flat.rolling import rolled_up
from foldwright.geometry.flat.thickness import Thickness, thickness_of
from foldwright.geometry.flat.wrapping import Wrap, girths_by_name, go_round, wraps_of
from foldwright.geometry.lengths import Ledger, LengthId, Lengths, Within
from foldwright.geometry.outlines.svg import Outline
from foldwright.geometry.together.bulk import bulk_of
from foldwright.geometry.together.contents import Held
from foldwright.geometry.together.hands import Chance
from foldwright.geometry.together.layers import check_layers, check_openings
from foldwright.geometry.together.lying import lie_on
from foldwright.geometry.together.mating import Gap, fit_over, slide_in
from foldwright.geometry.together.nesting import check_nesting
from foldwright.geometry.together.post import check_envelopes, check_post
from foldwright.geometry.together.sliding import Slide, check_slides
from foldwright.geometry.together.stacks import Stack, stacks_in
from foldwright.geometry.together.straps import check_straps
from foldwright.geometry.together.weaving import Weave, check_weaves
from foldwright.measure.length import Length
from foldwright.measure.paper import named_sheet
from foldwright.recipe.model import Gluing, NamedSheet, Piece, Placement, Recipe, Said, Supply
from foldwright.vocabulary import kind_of


class Flat(Struct, frozen=True):
    """What the geometry of flat pieces knows of a recipe.

    `workings` show how sizes that follow from an inside came about; `gaps` the room left wherever one thing goes over
    or into another, in pairs; `cards` how thick the card of every piece is (None when nobody knows). What lies in the
    pieces and how sure they are to go together is known once it is known what is printed (`figures.relied_on`).
    """

    blanks: tuple[Blank, ...]
    lengths: Lengths
    findings: tuple[Finding, ...]
    workings: tuple[Working, ...] = ()
    gaps: tuple[Gap, ...] = ()
    cards: dict[str, Thickness | None] = field(default_factory=dict)
    chances: tuple[Chance, ...] = ()
    """How sure pieces made by hand are to go together."""
    wraps: tuple[Wrap, ...] = ()
    """What goes round something and reaches."""
    slides: tuple[Slide, ...] = ()
    """What slides along a slot or through slits."""
    weaves: tuple[Weave, ...] = ()
    """Strips that are woven."""
    held: tuple[Held, ...] = ()
    """What lies in the pieces, and the room left."""
    stacks: tuple[Stack, ...] = ()
    """What lies on panels, and how thick it is."""

    def blank(self, piece: str) -> Blank | None:
        return next((blank for blank in self.blanks if blank.piece == piece), None)


def lay_flat(recipe: Recipe, outlines: Mapping[str, Outline] | None = None) -> Flat:
    """Lay every piece of the recipe flat. Never raises for anything an author may write.

    `outlines` are those that were read from files, by piece.
    """
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    cards = {piece.name.value: thickness_of(piece, supplies, recipe.studio) for piece in recipe.pieces}
    laid = Layer(recipe.pieces, cards, outlines or {}, supplies).lay_all()
    ledger, blanks, workings = _merged(laid)
    turned = {piece.name.value for piece in recipe.pieces if turned_in_by_a_step(piece, recipe)}
    blanks = tuple(replace(blank, turned_in=True) if blank.piece in turned else blank for blank in blanks)
    blanks = rolled_up(recipe, blanks, cards, ledger)
    holders = _supplies_that_hold(recipe, ledger)
    by_name = {blank.piece.casefold(): blank for blank in blanks}
    stacks = stacks_in(recipe, by_name, cards)
    gaps = _mate(recipe, {**holders, **by_name}, cards, stacks, ledger)
    wraps = tuple(_wrap(recipe, by_name, cards, supplies, ledger))
    slides = tuple(check_slides(recipe, by_name, cards, ledger))
    weaves = tuple(check_weaves(recipe, by_name, ledger))
    _keep_within_sheets(recipe.pieces, supplies, ledger)
    lengths = Lengths(ledger.lengths, tuple(ledger.relations), frozenset(ledger.worked_out))
    posted = (*check_post(recipe, {**holders, **by_name}, cards), *check_envelopes(recipe))
    findings = (*ledger.findings, *posted, *check_layers(recipe, by_name), *check_openings(recipe, by_name))
    findings = (*findings, *check_nesting(recipe, by_name), *check_straps(recipe, by_name))
    flat = Flat(blanks, lengths, findings, workings, tuple(gaps), cards, wraps=wraps, stacks=stacks, slides=slides)
    return replace(flat, weaves=weaves)


def _merged(laid: Sequence[LaidPiece]) -> tuple[Ledger, tuple[Blank, ...], tuple[Working, ...]]:
    """All that was noted piece by piece, in order of mention."""
    whole = Ledger()
    blanks: list[Blank] = []
    workings: list[Working] = []
    for one in laid:
        whole.lengths.update(one.ledger.lengths)
        whole.relations += one.ledger.relations
        whole.findings += one.ledger.findings
        whole.worked_out |= one.ledger.worked_out
        workings += one.workings
        if one.blank is not None:
            blanks.append(one.blank)
    return whole, tuple(blanks), tuple(workings)


# --- supplies that pieces go into -----------------------------------------------------------------------------------


def _supplies_that_hold(recipe: Recipe, ledger: Ledger) -> dict[str, Blank]:
    """Envelopes, and whatever else a piece slides into or fits over, by name in small letters."""
    said_names = [said.value.piece for piece in recipe.pieces for said in (*piece.slides_in, *piece.fits_over)]
    wanted = {name.casefold(): name for name in reversed(said_names)}
    holders: dict[str, Blank] = {}
    for supply in recipe.supplies:
        name, sizes = supply.name.value, supply.size.value.lengths if supply.size else ()
        if len(sizes) > 1 and (name.casefold() in wanted or _is_envelope(supply)):
            holders[name.casefold()] = _blank_of(name, sizes[0], sizes[1], ledger)
    pieces = {piece.name.value.casefold() for piece in recipe.pieces}
    for name in sorted(wanted.keys() - holders.keys() - pieces):
        size = named_sheet(name) if "envelope" in name else None
        if size is not None:
            holders[name] = _blank_of(wanted[name], size[0], size[1], ledger)
    return holders


def _is_envelope(supply: Supply) -> bool:
    kind = kind_of(supply.kind.value) if supply.kind else None
    return kind is not None and kind.name == "envelope"


def _blank_of(name: str, across: Length, down: Length, ledger: Ledger) -> Blank:
    strips = []
    for side, length in (("across", across), ("down", down)):
        own = LengthId(name, side, "size")
        ledger.lengths.setdefault(own, length)
        strips.append((Strip("", Fraction(0), length.mm, own),))
    return Blank(name, 1, across.mm, down.mm, strips[0], strips[1], bought=True)


# --- what belongs together ------------------------------------------------------------------------------------------


type _Cards = Mapping[str, Thickness | None]


def _mate(
    recipe: Recipe, blanks: Mapping[str, Blank], cards: _Cards, stacks: tuple[Stack, ...], ledger: Ledger
) -> list[Gap]:
    gaps: list[Gap] = []
    for piece in recipe.pieces:
        blank = blanks.get(piece.name.value.casefold())
        for gluing in piece.glued:
            _check_gluing(gluing, piece, blanks, ledger)
        if blank is None:
            continue
        lie_on(blank, piece.goes_on, piece.relative is not None and piece.relative.value.every_side, blanks, ledger)
        for said in () if _is_band(piece, blank, blanks) else piece.fits_over:
            if other := _sound(blank, said, blanks):
                lid, tray = (other, blank) if _other_way_round(blank, other, "lid") else (blank, other)
                gaps += fit_over(lid, tray, (cards.get(lid.piece), cards.get(tray.piece)), said.place, ledger, stacks)
        for said in piece.slides_in:
            if other := _sound(blank, said, blanks):
                sleeve, drawer = (blank, other) if _other_way_round(other, blank, "sleeve") else (other, blank)
                pair = cards.get(sleeve.piece), cards.get(drawer.piece)
                gaps += slide_in(
                    drawer, sleeve, pair, said.place, ledger, bulk_of(drawer, recipe, blanks, cards), stacks
                )
    return gaps


def _is_band(piece: Piece, blank: Blank, blanks: Mapping[str, Blank]) -> bool:
    """A sleeve over what is no box, and flat: it goes round it and leaves its ends free."""
    others = [blanks.get(said.value.piece.casefold()) for said in piece.fits_over]
    return blank.form == "sleeve" and any(other is not None and not other.boxed and not other.made for other in others)


def _wrap(
    recipe: Recipe, blanks: Mapping[str, Blank], cards: _Cards, supplies: Mapping[str, Supply], ledger: Ledger
) -> Iterator[Wrap]:
    for piece in recipe.pieces:
        band = blanks.get(piece.name.value.casefold())
        if band is None or band.doubtful:
            continue
        round_ = wraps_of(piece, recipe) or (piece.fits_over if _is_band(piece, band, blanks) else ())
        for said in round_:
            name = said.value.piece.casefold()
            if band.form == CASE:
                if name in blanks and not blanks[name].doubtful:
                    pair = cards.get(band.piece), cards.get(blanks[name].piece)
                    check_case(band, blanks[name], pair, said.place, ledger)
            elif not blanks[name].doubtful if name in blanks else name in supplies:
                girths = girths_by_name(name, blanks, cards, supplies, band.count)
                yield from go_round(band, said, girths, cards.get(band.piece), ledger)


def _other_way_round(inner: Blank, outer: Blank, form: str) -> bool:
    """Said on the box of its lid, or on the sleeve of its drawer: only the one with that form can be outside."""
    return outer.form == form and inner.form != form and inner.boxed


def _sound(blank: Blank, said: Said[Placement], blanks: Mapping[str, Blank]) -> Blank | None:
    """The other blank, when both are known and add up."""
    other = blanks.get(said.value.piece.casefold())
    sound = other is not None and not any(one.doubtful or not fits_form(one) for one in (other, blank))
    return other if sound else None


def _check_gluing(gluing: Said[Gluing], piece: Piece, blanks: Mapping[str, Blank], ledger: Ledger) -> None:
    """The panels named must be there; whether the pieces are is looked after with all other names."""
    glue = gluing.value
    for name, panel in ((piece.name.value, glue.own_panel), (glue.to.piece, glue.to.panel)):
        blank = blanks.get(name.casefold())
        if blank is not None and panel and not faces_called(blank, panel):
            tell_no_panel(blank, panel, gluing.place, ledger)


def _keep_within_sheets(pieces: Sequence[Piece], supplies: Mapping[str, Supply], ledger: Ledger) -> None:
    """No piece may print larger than a sheet it comes out of, in the orientation that leaves it more room."""
    for piece in pieces:
        supply = supplies.get(piece.supply.value.casefold()) if piece.supply else None
        ids = LengthId(piece.name.value, "across", "size"), LengthId(piece.name.value, "down", "size")
        if supply is None or ids[0] not in ledger.lengths or ids[1] not in ledger.lengths:
            continue
        size = float(ledger.lengths[ids[0]].mm), float(ledger.lengths[ids[1]].mm)
        for sheet in supply.sheets:
            ledger.relations += _within(ids, size, sheet.value)


def _within(ids: tuple[LengthId, LengthId], size: tuple[float, float], sheet: NamedSheet) -> tuple[Within, ...]:
    """Plain numbers will do to compare: equal lengths are equal in them too, and the limits kept are exact."""
    wide, high = float(sheet.across.mm), float(sheet.down.mm)
    straight = min(wide - size[0], high - size[1])
    turned = min(high - size[0], wide - size[1])
    if max(straight, turned) < 0:
        return ()
    across, down = (sheet.across, sheet.down) if straight >= turned else (sheet.down, sheet.across)
    return Within(ids[0], across.mm), Within(ids[1], down.mm)
