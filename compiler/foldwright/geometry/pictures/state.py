"""What has been done to every piece by now: what a picture may show of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.geometry.pictures.standing import Standing, signs_between
from foldwright.geometry.scene import Sign
from foldwright.recipe.model import Placement, Supply


class Bond(Struct, frozen=True):
    """One piece that goes on another, and how its author says it lies there."""

    piece: str
    placement: Placement
    under: Supply | None = None
    """The foam or tape between the two."""

    @property
    def onto(self) -> str:
        return self.placement.piece


class PieceState(Struct, frozen=True):
    """One piece by now. `scored` are the sides whose scores are there (see `lines.LineSource`)."""

    cut_out: bool = False
    scored: frozenset[str] = frozenset()
    freed: bool = False
    """Its corner flaps are cut free and trimmed, or its corners cut away."""
    opened: bool = False
    """Its holes, windows, notches and the cuts of its `lines` are cut."""
    through: int = 0
    """How many groups of its folds were made when it was punched: the holes go through all layers there."""
    folds: int = 0
    """How many groups of its folds are made (see `folding.order`)."""
    glued: bool = False
    """What is glued of it is glued."""
    folded: bool = False
    """It is as it will be."""
    stands: Standing = Standing.GOOD_UP
    """How it stood in the picture before."""

    @property
    def bent(self) -> bool:
        """Whether any of its folds is made."""
        return self.folds > 0


class Added(Struct, frozen=True):
    """What hands have put on, in or round a piece: `how` (the names of `handwork`), and the supply or piece it is."""

    how: str
    piece: str
    thing: str = ""
    through: bool = False
    """Whether a cord goes through the holes of the piece, and not round it."""


_UNTOUCHED = PieceState()


class State(Struct, frozen=True):
    """Everything on the workbench: each piece that was touched, and what has been put on what."""

    pieces: Mapping[str, PieceState] = field(default_factory=dict)
    bonds: tuple[Bond, ...] = ()
    added: tuple[Added, ...] = ()

    def of(self, piece: str) -> PieceState:
        """A piece by now, one nobody has touched too."""
        return self.pieces.get(piece, _UNTOUCHED)

    def put(self, piece: str, now: PieceState) -> State:
        """The same, with one piece changed."""
        return replace(self, pieces={**self.pieces, piece: now})

    def bonded(self, bonds: Iterable[Bond]) -> State:
        """The same, with more put on."""
        return replace(self, bonds=(*self.bonds, *bonds))

    def stood(self, piece: str, standing: Standing) -> tuple[tuple[Sign, ...], State]:
        """The signs a picture needs that shows a piece so, and the state after it."""
        before = self.of(piece)
        return signs_between(before.stands, standing), self.put(piece, replace(before, stands=standing))

    def adding(self, added: Added) -> State:
        """The same, with one more thing at a piece; nothing is added twice."""
        return self if added in self.added else replace(self, added=(*self.added, added))

    def has(self, how: str, piece: str) -> tuple[str, ...]:
        """The things that were added to a piece in one way."""
        return tuple(one.thing for one in self.added if one.how == how and one.piece == piece)

    @property
    def bent(self) -> frozenset[str]:
        return frozenset(name for name, piece in self.pieces.items() if piece.bent)
