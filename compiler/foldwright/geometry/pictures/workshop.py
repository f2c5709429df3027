"""A recipe as it is made: all that stays the same from the first picture to the last."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, ExactPoint
from foldwright.geometry.flat.panels import faces_meant
from foldwright.geometry.flat.points import floats
from foldwright.geometry.flat.rosettes import in_triangles
from foldwright.geometry.folding.forms import bends_of
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.pieces import Folding
from foldwright.geometry.folding.said import order_in_words
from foldwright.geometry.folding.space import Spot
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.bending import Bending, bending_of, standing_of
from foldwright.geometry.pictures.joining import Bench, panel_at
from foldwright.geometry.pictures.layered import punched_through
from foldwright.geometry.pictures.schedule import Schedule, schedule_of
from foldwright.geometry.pictures.standing import turn_of
from foldwright.geometry.pictures.state import Bond, PieceState, State
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pictures.viewing import view_of
from foldwright.geometry.pictures.weaving import Laid, laid_out
from foldwright.geometry.pieces import Flat
from foldwright.geometry.together.weaving import Weave
from foldwright.recipe.model import Piece, Recipe


class Workshop(Struct, frozen=True):
    """What painters of pictures look things up in. `spoken` are the lengths the words of the recipe name."""

    recipe: Recipe
    flat: Flat
    folding: Folding
    view: View
    papers: dict[str, int]
    """The supply each piece is cut from, numbered in order of mention."""
    schedules: dict[str, Schedule]
    orders: dict[str, tuple[tuple[str, ...], ...]]
    """The panels of each piece in the order in which the words fold them."""
    lids: frozenset[str]
    """The pieces that go over others with their open side down."""
    nets: dict[tuple[str, bool, int], Net]
    """Filled as it is asked for: by name, whether what is open in it is cut by then, and through how many folds."""
    spoken: frozenset[LengthId] = frozenset()

    def piece(self, name: str) -> Piece | None:
        """The piece of a name, as its author wrote it."""
        return next((piece for piece in self.recipe.pieces if piece.name.value == name), None)

    def named(self, name: str) -> str:
        """The name of a piece as it stands in `pieces:`, whatever its capitals."""
        own = (piece.name.value for piece in self.recipe.pieces)
        return next((one for one in own if one.casefold() == name.casefold()), name)

    def blank(self, name: str) -> Blank | None:
        """Its blank, unless it is doubtful or no piece of this recipe."""
        blank = self.flat.blank(name) if self.piece(name) else None
        return None if blank is None or blank.doubtful else blank

    def net(self, name: str, opened: bool = True, through: int = 0) -> Net | None:
        """Its panels and creases, before or after its holes, notches and the cuts of its `lines` are cut (punched
        `through` so many groups of folds); None where it has no blank to go by. A piece that does not fold is one
        panel, or what its cuts leave of it."""
        from foldwright.geometry.folding.subdividing import net_of

        blank, piece = self.blank(name), self.piece(name)
        if blank is None or piece is None:
            return None
        key = name, opened or not is_opened(blank), through
        if through and key not in self.nets:
            bending = self.bending(name)
            if bending is not None:
                self.nets[key] = punched_through(bending, through)
        if key not in self.nets:
            shown = blank if key[1] else unopened(blank)
            if blank.pressed:
                shown = in_triangles(shown)
            bends = bends_of(shown, piece.fold.value if piece.fold else None) if name in self.folding.nets else None
            self.nets[key] = net_of(shown, bends.angles if bends else {}, bends.root if bends else "")
        return self.nets[key]

    def bending(self, name: str, opened: bool = True, through: int = 0) -> Bending | None:
        """How it is folded, opened as `net` says."""
        net, blank = self.net(name, opened, through), self.blank(name)
        return (
            None
            if net is None or blank is None
            else bending_of(net, blank.form, self.orders[name], blank.flaps_outside)
        )

    def strips(self, weave: Weave) -> tuple[Laid, Laid]:
        """The two sets of a weave on the table."""
        outlined = frozenset(blank.piece for blank in self.flat.blanks if blank.outline)
        return laid_out(weave, self.papers, outlined)

    def untouched(self) -> State:
        """Everything before the first step. What no step cuts is as it will be."""
        bought = {name for name, schedule in self.schedules.items() if not schedule.cut}
        return State({name: PieceState(cut_out=True, freed=True, opened=True) for name in bought})

    def bench(
        self,
        state: State,
        coming: tuple[Bond, ...] = (),
        opened_out: frozenset[str] = frozenset(),
    ) -> Bench:
        """Everything as it is by now, and what is being put on."""
        names = [piece.name.value for piece in self.recipe.pieces]
        now = {name: state.of(name) for name in names}
        bendings = {
            name: bending
            for name, one in now.items()
            if (bending := self.bending(name, one.opened, one.through)) is not None
        }
        return Bench(self.flat, bendings, state, coming, self.papers, self.lids, opened_out)


def is_opened(blank: Blank) -> bool:
    """Whether something is open in it: a hole, a notch, a cut among its `lines`."""
    return bool(blank.openings or blank.notches) or any(line.kind == "cut" and line.number for line in blank.drawn)


def unopened(blank: Blank) -> Blank:
    """The blank before its holes, notches and the cuts of its `lines` are cut. Cuts of its form stay."""
    drawn = tuple(line for line in blank.drawn if line.kind != "cut" or not line.number)
    return replace(blank, openings=(), notches=(), drawn=drawn)


def workshop_of(recipe: Recipe, flat: Flat, folding: Folding, spoken: frozenset[LengthId]) -> Workshop:
    """A recipe before its first step."""
    names = {piece.name.value: piece.supply.value if piece.supply else "" for piece in recipe.pieces}
    order = list(dict.fromkeys(names.values()))
    papers = {piece: order.index(supply) for piece, supply in names.items()}
    schedules = {blank.piece: schedule_of(blank, recipe.steps) for blank in flat.blanks if blank.piece in names}
    orders = {blank.piece: order_in_words(blank, recipe.steps) for blank in flat.blanks if blank.piece in names}
    nets = {(name, True, 0): net for name, net in folding.nets.items() if not net.pressed}
    lids = frozenset(_lids(recipe, flat))
    workshop = Workshop(recipe, flat, folding, View(left_handed(recipe)), papers, schedules, orders, lids, nets, spoken)
    bendings = [bending for name in folding.nets if (bending := workshop.bending(name))]
    return replace(workshop, view=view_of(bendings, _outsides(workshop), workshop.view.left_handed))


def _outsides(workshop: Workshop) -> Iterator[Spot]:
    """The way every face looks in the end that something is put on the outside of, or a window is cut into."""
    for piece in workshop.recipe.pieces:
        own = workshop.blank(piece.name.value)
        if own is not None and own.openings:
            windows = [one for one in own.openings if one.shape == "window"]
            middles = [(one.left + one.width / 2, one.top + one.height / 2) for one in windows]
            yield from _facing_of(workshop, own, middles)
        for said in piece.goes_on:
            blank = workshop.blank(workshop.named(said.value.piece))
            if blank is not None and said.value.face != "inside":
                yield from _facing_of(workshop, blank, [face.middle for face in faces_meant(blank, said.value.panel)])


def _facing_of(workshop: Workshop, blank: Blank, places: Iterable[ExactPoint]) -> Iterator[Spot]:
    """The way the panels look in the end on which these places of a blank lie."""
    bending = workshop.bending(blank.piece)
    if bending is None or not bending.last:
        return
    finished = bending.posed(bending.last)
    turn = turn_of(standing_of(bending, made=True, lid=blank.piece in workshop.lids))
    for place in floats(places):
        panel = panel_at(bending.net, place)
        if panel is not None:
            yield turn(finished.normal(panel))


def _lids(recipe: Recipe, flat: Flat) -> set[str]:
    """What fits over something, unless its name says that the other is the lid."""
    forms = {blank.piece.casefold(): blank.form for blank in flat.blanks}
    found = {piece for piece, form in forms.items() if form == "lid"}
    for piece in recipe.pieces:
        name = piece.name.value.casefold()
        for said in piece.fits_over:
            other = said.value.piece.casefold()
            if forms.get(name) not in ("sleeve", "") and forms.get(other) and not {name, other} & found:
                found.add(name)
    return {blank.piece for blank in flat.blanks if blank.piece.casefold() in found}


def left_handed(recipe: Recipe) -> bool:
    """Whether the studio asks for pictures for left-handed people (`hand: left`)."""
    hand = recipe.studio.hand
    return hand is not None and "left" in hand.value.casefold()
