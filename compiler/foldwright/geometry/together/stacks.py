"""How thick what lies on a panel is: several of one piece on one another, and what lies on those in turn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank, BlankFace
from foldwright.geometry.flat.panels import faces_meant
from foldwright.geometry.flat.silhouettes import footprint
from foldwright.geometry.flat.thickness import Thickness
from foldwright.recipe.model import Piece, Recipe

type Blanks = Mapping[str, Blank]
"""By name in small letters."""
type Cards = Mapping[str, Thickness | None]


class Stack(Struct, frozen=True):
    """What lies on a panel of a piece (its name in small letters), on its `inside` or `outside`, or where nobody says.

    `piece` lies lowest, `thick` is all of it together, in millimetres; `estimated` when a weight alone says so.
    """

    under: str
    face: str
    panel: BlankFace
    piece: str
    thick: Fraction
    estimated: bool
    from_rim: Fraction
    """How far from the nearer edge of the panel, along its shorter side, it begins where it lies in the middle."""


def stacks_in(recipe: Recipe, blanks: Blanks, cards: Cards) -> tuple[Stack, ...]:
    """Everything that goes on something, with all that goes on it in turn."""
    return tuple(_stacks(recipe, blanks, cards, ""))


def _stacks(
    recipe: Recipe, blanks: Blanks, cards: Cards, on: str, below: frozenset[str] = frozenset()
) -> Iterator[Stack]:
    """Those on one piece, or on every one where none is named; a piece that lies on itself is not followed."""
    for piece in recipe.pieces:
        name = piece.name.value.casefold()
        layer, card = blanks.get(name), cards.get(piece.name.value)
        lies = [said for said in piece.goes_on if not on or said.value.piece.casefold() == on]
        if not lies or layer is None or layer.doubtful or card is None or name in below:
            continue
        above = max(
            _stacks(recipe, blanks, cards, name, below | {name}),
            key=lambda one: one.thick,
            default=None,
        )
        thick = card.length.mm * levels_of(piece, layer, blanks) + (above.thick if above else 0)
        for said in lies:
            under = blanks.get(said.value.piece.casefold())
            if under is None or under.doubtful:
                continue
            for face in faces_meant(under, said.value.panel):
                estimated = card.estimated or (above is not None and above.estimated)
                on_it = said.value.piece.casefold(), said.value.face, face
                yield Stack(*on_it, piece.name.value, thick, estimated, _from_rim(layer, face))


def levels_of(piece: Piece, layer: Blank, blanks: Blanks) -> int:
    """How many of a piece lie on one another: those that do not go beside each other on the panels they are meant for.

    Where they are said to be centred or lined up, all of one panel lie in the same place.
    """
    faces = [
        (face, bool(said.value.remark))
        for said in piece.goes_on
        if (under := blanks.get(said.value.piece.casefold())) is not None
        for face in faces_meant(under, said.value.panel)
    ]
    # What is stacked is counted in how thick it is.
    count = layer.count // (piece.stacked.value if piece.stacked else 1)
    if count < 2 or not faces or layer.form:
        return 1
    each = -(-count // len(faces))
    face, fixed = faces[0]
    return each if fixed else -(-each // _beside(layer, face))


def _beside(layer: Blank, face: BlankFace) -> int:
    """How many go on a panel beside each other, lying either way; at least one."""
    own = footprint(layer)
    ways = ((own.wide, own.high), (own.high, own.wide))
    return max(1, *(int(face.wide // wide) * int(face.high // high) for wide, high in ways if wide and high))


def _from_rim(layer: Blank, face: BlankFace) -> Fraction:
    own = footprint(layer)
    return (face.high - own.high if face.high <= face.wide else face.wide - own.wide) / 2
