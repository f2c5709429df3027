"""Holes, slots and windows: where they stand on the blank, and whether they stay on it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank, BlankFace, ExactPoint, Offset, Opening, Strip
from foldwright.geometry.flat.ledger import Ledger
from foldwright.geometry.flat.panels import faces_called, tell_no_panel, whole_face
from foldwright.geometry.flat.silhouettes import corners_cut_away
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length
from foldwright.recipe.model import Hole, HolePosition, Said

_FAR_EDGES = frozenset({"right", "bottom"})
_EDGES_OF = {"across": ("left", "right"), "down": ("top", "bottom")}


class Along(Struct, frozen=True):
    """Where a hole begins on one side, and the offset that said so (None when it is centred)."""

    start: Fraction
    offset: tuple[str, str, Length, Fraction, Fraction] | None
    """Edge, `middle` or `edge`, the length, and the two places it lies between."""


def lay_holes(blank: Blank, holes: Sequence[Said[Hole]], ledger: Ledger) -> tuple[Opening, ...]:
    """Every hole of the piece; one that stands on every panel is laid once on each. Notches are laid by `notches`."""
    openings: list[Opening] = []
    for number, said in enumerate(holes, 1):
        if said.value.position.edge:
            continue
        faces = faces_of_hole(blank, said, ledger)
        sizes = note_sizes(blank.piece, number, said.value, ledger)
        laid = [_lay(blank, number, said, face, sizes, ledger) for face in faces]
        if said.value.position.mirrored:
            laid += _mirrored(blank, said, laid, ledger)
        openings += laid
        # Where nobody says where it is, that is what must be said first.
        if not said.value.position.assumed:
            _look_over(blank, said.place, laid, ledger)
    return tuple(openings)


def faces_of_hole(blank: Blank, said: Said[Hole], ledger: Ledger) -> tuple[BlankFace, ...]:
    """The panels it stands on, or the whole piece; a panel that is not there is told."""
    position, place = said.value.position, said.place
    if position.every_panel:
        return _every_panel(blank)
    if not position.panel:
        return (whole_face(blank),)
    faces = faces_called(blank, position.panel)
    if faces:
        return faces
    tell_no_panel(blank, position.panel, place, ledger)
    return (whole_face(blank),)


def _every_panel(blank: Blank) -> tuple[BlankFace, ...]:
    whole = whole_face(blank)
    if len(blank.across) == 1 and len(blank.down) == 1:
        return (whole,)
    return tuple(
        BlankFace(one.start, one.end, other.start, other.end, one.length, other.length)
        for other in blank.down
        for one in blank.across
        if not (blank.boxed and _outer(one, blank.across) and _outer(other, blank.down))
    )


def _outer(strip: Strip, strips: Sequence[Strip]) -> bool:
    return strip is strips[0] or strip is strips[-1]


def note_sizes(piece: str, number: int, hole: Hole, ledger: Ledger) -> tuple[LengthId, ...]:
    """Note the one or two lengths of a hole in the ledger; their identities, across first."""
    sides = ("across", "down")[: len(hole.size)]
    ids = tuple(LengthId(piece, "hole", side, number) for side in sides)
    for name, length in zip(ids, hole.size, strict=False):
        ledger.lengths[name] = length
    return ids


def _lay(
    blank: Blank, number: int, said: Said[Hole], face: BlankFace, sizes: tuple[LengthId, ...], ledger: Ledger
) -> Opening:
    hole = said.value
    width = hole.size[0].mm
    height = hole.size[1].mm if len(hole.size) > 1 else width
    across = span_along(hole.position, "across", face.left, face.right, width)
    down = span_along(hole.position, "down", face.top, face.bottom, height)
    offsets = tuple(
        note_offset(blank.piece, number, span.offset, ledger) for span in (across, down) if span.offset is not None
    )
    right, bottom = across.start + width, down.start + height
    outside = across.start < 0 or down.start < 0 or right > blank.width or bottom > blank.height
    outside = outside or any(
        across.start < box[1] and right > box[0] and down.start < box[3] and bottom > box[2]
        for box in corners_cut_away(blank)
    )
    if blank.outline and not outside:
        corners = [(x, y) for x in (across.start, right) for y in (down.start, bottom)]
        middles = [(across.start + width / 2, y) for y in (down.start, bottom)]
        middles += [(x, down.start + height / 2) for x in (across.start, right)]
        outside = not all(_inside(point, blank.outline) for point in (middles if hole.shape == "round" else corners))
    return Opening(
        hole.shape, across.start, down.start, width, height, sizes, offsets, hole.position.panel, doubtful=outside
    )


def _inside(point: ExactPoint, ring: Sequence[ExactPoint]) -> bool:
    """Whether a place lies in a closed line: a level line from it crosses that an odd number of times."""
    x, y = point
    crossed = False
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            crossed = not crossed
    return crossed


def _mirrored(blank: Blank, said: Said[Hole], laid: Sequence[Opening], ledger: Ledger) -> list[Opening]:
    """The same holes on the other side of the piece's middle: top to bottom when their place says only how far down
    they are, else left to right. A hole in the very middle is its own mirror image, and stays one.
    """
    edges = {edge for edge, _, _ in said.value.position.offsets}
    down = bool(edges) and edges.isdisjoint(_EDGES_OF["across"])
    side = "down" if down else "across"
    known = {(opening.left, opening.top) for opening in laid}
    twins = []
    for opening in laid:
        left = opening.left if down else blank.width - opening.left - opening.width
        top = blank.height - opening.top - opening.height if down else opening.top
        if (left, top) not in known:
            twins.append(replace(opening, left=left, top=top, offsets=(), mirror=side))
    if not twins:
        ledger.thought("hole-mirrors-itself", said.place, piece=blank.piece, shape=said.value.shape, side=side)
    return twins


def span_along(position: HolePosition, side: str, low: Fraction, high: Fraction, size: Fraction) -> Along:
    """Where along one side, between `low` and `high` in millimetres, a hole of a size begins, and what says so."""
    for edge, length, of in position.offsets:
        if edge not in _EDGES_OF[side]:
            continue
        reach = length.mm + (size / 2 if of == "edge" else 0)
        middle = high - reach if edge in _FAR_EDGES else low + reach
        start = middle - size / 2
        if edge in _FAR_EDGES:
            return Along(start, (edge, of, length, high - length.mm, high))
        return Along(start, (edge, of, length, low, low + length.mm))
    return Along((low + high - size) / 2, None)


def note_offset(piece: str, number: int, offset: tuple[str, str, Length, Fraction, Fraction], ledger: Ledger) -> Offset:
    """Note in the ledger how far a hole is from an edge; the offset with that length's identity."""
    edge, of, length, start, end = offset
    name = LengthId(piece, "hole", edge, number, of or "middle")
    ledger.lengths[name] = length
    return Offset(edge, of or "middle", name, start, end)


def _look_over(blank: Blank, place: Place, openings: Sequence[Opening], ledger: Ledger) -> None:
    """At most one complaint a hole, however many panels it stands on."""
    off = next((opening for opening in openings if opening.doubtful), None)
    if off is not None:
        code = "hole-off-the-piece-unless-turned" if _stays_turned(blank, off) else "hole-off-the-piece"
        sizes = [Length(side, ledger.lengths[off.sizes[0]].unit) for side in (off.width, off.height)]
        ledger.misfit(code, place, piece=blank.piece, shape=off.shape, across=sizes[0], down=sizes[1])
        return
    for opening in openings:
        score = _score_under(blank, opening)
        if score is not None:
            where = ledger.lengths[score]
            ledger.thought("hole-across-a-score", place, piece=blank.piece, shape=opening.shape, score=where)
            return


def _stays_turned(blank: Blank, opening: Opening) -> bool:
    """Whether it stays on the piece with its numbers the other way round: many write what lies along a wall first."""
    x, y = opening.left + opening.width / 2, opening.top + opening.height / 2
    straight, turned = (
        wide <= x <= blank.width - wide and high <= y <= blank.height - high
        for wide, high in ((opening.width / 2, opening.height / 2), (opening.height / 2, opening.width / 2))
    )
    return turned and not straight


def _score_under(blank: Blank, opening: Opening) -> LengthId | None:
    """The score that runs through the hole."""
    sides = (("across", blank.across, opening.left, opening.width), ("down", blank.down, opening.top, opening.height))
    for side, strips, low, size in sides:
        for number, strip in enumerate(strips[:-1], 1):
            if low < strip.end < low + size:
                return LengthId(blank.piece, side, "score", number)
    return None
