"""Every piece of a recipe that folds: its net, and all that does not work about it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from msgspec import Struct, field

from foldwright.finding import Finding
from foldwright.finding.unplaced import unplaced
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.thickness import check_scores
from foldwright.geometry.folding.alike import Alike, alike_when_folded
from foldwright.geometry.folding.checking import check_folding, unit_of
from foldwright.geometry.folding.folded import Folded, fold
from foldwright.geometry.folding.forms import Bends, bends_of
from foldwright.geometry.folding.free_box import free_box
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.unsaid import unsaid_fold
from foldwright.geometry.lengths import LengthId, Lengths, Relation
from foldwright.geometry.pieces import Flat
from foldwright.geometry.together.rooms import FreeRoom
from foldwright.measure.length import Length
from foldwright.memory import Memory
from foldwright.recipe.model import Recipe

type _Folded = tuple[Net, Folded, Alike]

_SOUND: Memory[bool] = Memory(64)
_FOLDED: Memory[_Folded] = Memory(64)


class Folding(Struct, frozen=True):
    """The nets of the pieces that fold, by name of piece; a piece that is flat or doubtful has none."""

    nets: dict[str, Net] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    lengths: dict[LengthId, Length] = field(default_factory=dict)
    relations: tuple[Relation, ...] = ()
    """What has to be equal because it meets when it is folded, and the lengths of edges that have no other."""
    worked_out: frozenset[LengthId] = frozenset()
    rooms: dict[str, FreeRoom] = field(default_factory=dict)
    """What is free between the walls of pieces that hold something and whose folds are drawn."""


def fold_pieces(recipe: Recipe, flat: Flat) -> Folding:
    """Fold every piece whose author says how it folds. Never raises for anything an author may write."""
    nets: dict[str, Net] = {}
    findings: list[Finding] = []
    free: dict[str, FreeRoom] = {}
    alike = Alike()
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    for piece in recipe.pieces:
        blank = flat.blank(piece.name.value)
        if blank is None or blank.doubtful:
            continue
        bends = bends_of(blank, piece.fold.value if piece.fold else None)
        if bends is not None:
            made_of = blank, bends, _of_piece(blank.piece, flat.lengths)
            nets[blank.piece], folded, found = _FOLDED.of(blank.piece, made_of, partial(_folded, *made_of))
            if piece.holds and not blank.form and (room := free_box(folded)):
                free[blank.piece] = room
            alike.lengths |= found.lengths
            alike.relations += found.relations
            alike.worked_out |= found.worked_out
        elif piece.fold is None and (asked := unsaid_fold(recipe, piece, blank)):
            findings.append(asked)
        supply = supplies.get(piece.supply.value.casefold()) if piece.supply else None
        findings += check_scores(piece, blank, flat.cards.get(blank.piece), supply)
        card = flat.cards.get(blank.piece)
        net, unit = nets.get(blank.piece), unit_of(blank, flat.lengths.by_id)
        check = partial(check_folding, piece, blank, net, unit, card)
        # Most are sound, wherever they stand in the text; of others the places have to be those of this text.
        if not _SOUND.of(blank.piece, (unplaced(piece), blank, net, unit, card), partial(_finds_nothing, check)):
            findings += check()
    return Folding(nets, tuple(findings), alike.lengths, tuple(alike.relations), frozenset(alike.worked_out), free)


def _of_piece(name: str, lengths: Lengths) -> Lengths:
    """The lengths of one piece, without what must hold between them."""
    own = {one: length for one, length in lengths.by_id.items() if one.piece == name}
    return Lengths(own, (), lengths.worked_out & own.keys())


def _finds_nothing(check: Callable[[], Iterable[Finding]]) -> bool:
    return next(iter(check()), None) is None


def _folded(blank: Blank, bends: Bends, lengths: Lengths) -> _Folded:
    # Nothing else in checking needs shapely, which costs a tenth of a second at every start.
    from foldwright.geometry.folding.subdividing import net_of

    net = net_of(blank, bends.angles, bends.root)
    folded = fold(net)
    return net, folded, alike_when_folded(blank, folded, lengths)
