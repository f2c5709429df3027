"""A recipe as it is made: all that stays the same from the first picture to the last."""

from __future__ import annotations

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.pieces import Folding
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pictures.joining import Bench
from foldwright.geometry.pictures.state import Bond, State
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pieces import Flat
from foldwright.recipe.model import Piece, Recipe


class Workshop(Struct, frozen=True):
    """What painters of pictures look things up in. `spoken` are the lengths the words of the recipe name."""

    recipe: Recipe
    flat: Flat
    folding: Folding
    view: View
    papers: dict[str, int]
    """The supply each piece is cut from, numbered in order of mention."""
    nets: dict[str, Net]
    """Filled as it is asked for: a piece that does not fold is one panel, or what its cuts leave of it."""
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

    def net(self, name: str) -> Net | None:
        """Its panels and creases; None where it has no blank to go by."""
        from foldwright.geometry.folding.subdividing import net_of

        if name not in self.nets and (blank := self.blank(name)):
            self.nets[name] = net_of(blank, {})
        return self.nets.get(name)

    def bench(self, state: State, coming: tuple[Bond, ...] = ()) -> Bench:
        """Everything as it is by now, and what is being put on."""
        for piece in self.recipe.pieces:
            self.net(piece.name.value)
        return Bench(self.flat, self.nets, state.bent, state.bonds, coming, self.papers)


def workshop_of(recipe: Recipe, flat: Flat, folding: Folding, spoken: frozenset[LengthId]) -> Workshop:
    """A recipe before its first step."""
    names = {piece.name.value: piece.supply.value if piece.supply else "" for piece in recipe.pieces}
    order = list(dict.fromkeys(names.values()))
    papers = {piece: order.index(supply) for piece, supply in names.items()}
    return Workshop(recipe, flat, folding, View(left_handed(recipe)), papers, dict(folding.nets), spoken)


def left_handed(recipe: Recipe) -> bool:
    """Whether the studio asks for pictures for left-handed people (`hand: left`)."""
    hand = recipe.studio.hand
    return hand is not None and "left" in hand.value.casefold()
