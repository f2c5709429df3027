"""Notches: what is cut into the edge of a piece, where it stands, and whether that edge is there."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, BlankFace, ExactPoint, Opening
from foldwright.geometry.flat.holes import faces_of_hole, note_offset, note_sizes, span_along
from foldwright.geometry.flat.ledger import Ledger
from foldwright.geometry.flat.silhouettes import silhouette, with_notch
from foldwright.geometry.lengths import LengthId
from foldwright.recipe.model import Hole, Said

_LEVEL = frozenset({"top", "bottom"})
_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


def with_notches(blank: Blank, holes: Sequence[Said[Hole]], ledger: Ledger) -> Blank:
    """The blank with those of its holes cut out that are notches. One whose edge is not there is told and left out."""
    for number, said in enumerate(holes, 1):
        if not said.value.position.edge:
            continue
        sizes = note_sizes(blank.piece, number, said.value, ledger)
        laid = [_lay(blank, number, said.value, face, sizes, ledger) for face in faces_of_hole(blank, said, ledger)]
        if said.value.position.mirrored:
            laid += [_mirrored(blank, notch) for notch in laid]
        alike = tuple(dict.fromkeys(laid))
        if _fit(blank, alike):
            blank = replace(blank, notches=(*blank.notches, *alike))
        else:
            edge = said.value.position.edge
            ledger.misfit("notch-not-in-the-edge", said.place, piece=blank.piece, shape=said.value.shape, edge=edge)
    return blank


def _fit(blank: Blank, notches: Sequence[Opening]) -> bool:
    """Whether every one lies in a straight stretch of the edge that is still there, and goes through nothing else."""
    ring: tuple[ExactPoint, ...] | None = () if blank.round else silhouette(blank)
    for notch in notches:
        ring = with_notch(ring, notch) if ring else None
    if not ring:
        return False
    # Few pieces have notches, and shapely takes a tenth of a second to load.
    from shapely.geometry import Polygon

    return bool(Polygon([(float(x), float(y)) for x, y in ring]).is_valid)


def _lay(
    blank: Blank, number: int, hole: Hole, face: BlankFace, sizes: tuple[LengthId, ...], ledger: Ledger
) -> Opening:
    edge = hole.position.edge
    level = edge in _LEVEL
    along = hole.size[0].mm
    deep = hole.size[1].mm if len(hole.size) > 1 else along / 2
    low, high = (face.left, face.right) if level else (face.top, face.bottom)
    place = span_along(hole.position, "across" if level else "down", low, high, along)
    offsets = (note_offset(blank.piece, number, place.offset, ledger),) if place.offset else ()
    far = {"right": blank.width - deep, "bottom": blank.height - deep}.get(edge, deep * 0)
    box = (place.start, far, along, deep) if level else (far, place.start, deep, along)
    return Opening(hole.shape, *box, sizes, offsets, hole.position.panel, edge=edge)


def _mirrored(blank: Blank, notch: Opening) -> Opening:
    """On the other side of the piece's middle along its edge; in the very middle, in the edge opposite."""
    level = notch.edge in _LEVEL
    left = blank.width - notch.left - notch.width
    top = blank.height - notch.top - notch.height
    if (notch.left == left) if level else (notch.top == top):
        side = "down" if level else "across"
        return replace(notch, left=left, top=top, edge=_OPPOSITE[notch.edge], offsets=(), mirror=side)
    side = "across" if level else "down"
    return replace(notch, offsets=(), mirror=side, **({"left": left} if level else {"top": top}))
