"""Holes, slots, windows and notches: where they stand on the blank, and whether they stay on it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank, BlankFace, ExactPoint, Offset, Opening
from foldwright.geometry.flat.panels import every_panel, faces_called, tell_no_panel, tell_which_panels, whole_face
from foldwright.geometry.flat.places import Lines, place_on, tell_no_place
from foldwright.geometry.flat.points import floats
from foldwright.geometry.flat.repeating import note_repeat, shifts
from foldwright.geometry.flat.silhouettes import corners_cut_away, silhouette, with_notch
from foldwright.geometry.flat.slots import SLOTTED
from foldwright.geometry.lengths import Ledger, LengthId
from foldwright.measure.length import Length
from foldwright.recipe.model import Hole, HolePosition, PlaceBeside, Repeat, Said

_FAR_EDGES = frozenset({"right", "bottom"})
_EDGES_OF = {"across": ("left", "right"), "down": ("top", "bottom")}


def lay_holes(blank: Blank, holes: Sequence[Said[Hole]], lines: Lines, ledger: Ledger) -> tuple[Opening, ...]:
    """Every hole of the piece; one that stands on every panel is laid once on each, and one that is repeated as often
    as that is said. Notches are laid by `with_notches`.
    """
    openings: list[Opening] = []
    for number, said in enumerate(holes, 1):
        if said.value.position.edge or not said.value.size:
            continue
        faces = _faces_of(blank, said, ledger)
        sizes = _note_sizes(blank.piece, number, said.value, ledger)
        laid = [_lay(blank, number, said, face, sizes, lines, ledger) for face in faces]
        if repeat := said.value.position.repeat:
            copies = _repeated(blank, number, repeat, laid, ledger)
            laid = [replace(one, doubtful=_outside(blank, one)) for one in copies]
        if said.value.position.mirrored:
            laid += _mirrored(blank, said, laid, ledger)
        openings += laid
        # Where nobody says where it is, that is what must be said first.
        if not said.value.position.assumed and said.value.shape not in SLOTTED:
            _look_over(blank, said.place, laid, ledger)
    return tuple(openings)


def _faces_of(blank: Blank, said: Said[Hole], ledger: Ledger) -> tuple[BlankFace, ...]:
    """The panels it stands on, or the whole piece; a panel that is not there is told, or that nobody knows which."""
    position, place = said.value.position, said.place
    if position.every_panel:
        faces = every_panel(blank)
        if not faces:
            tell_which_panels(blank, place, ledger)
        return faces
    if not position.panel:
        return (whole_face(blank),)
    faces = faces_called(blank, position.panel)
    if not faces:
        tell_no_panel(blank, position.panel, place, ledger)
    return faces or (whole_face(blank),)


def _note_sizes(piece: str, number: int, hole: Hole, ledger: Ledger) -> tuple[LengthId, ...]:
    """Note the one or two lengths of a hole in the ledger; their identities, across first."""
    sides = ("across", "down")[: len(hole.size)]
    ids = tuple(LengthId(piece, "hole", side, number) for side in sides)
    for name, length in zip(ids, hole.size, strict=False):
        ledger.lengths[name] = length
    return ids


def _lay(
    blank: Blank,
    number: int,
    said: Said[Hole],
    face: BlankFace,
    sizes: tuple[LengthId, ...],
    lines: Lines,
    ledger: Ledger,
) -> Opening:
    hole = said.value
    width = hole.size[0].mm
    height = hole.size[1].mm if len(hole.size) > 1 else width
    where = LengthId(blank.piece, "hole", "", number)
    left, offsets = _along(where, hole.position, "across", (face.left, face.right), width, ledger)
    top, more = _along(where, hole.position, "down", (face.top, face.bottom), height, ledger)
    offsets += more
    if hole.position.at:
        middle, offsets = _beside(blank, where, said, hole.position.at, face, lines, ledger)
        left, top = middle[0] - width / 2, middle[1] - height / 2
    at = hole.position.at.of if hole.position.at else ""
    opening = Opening(hole.shape, left, top, width, height, sizes, offsets, hole.position.panel, at=at)
    return replace(opening, doubtful=_outside(blank, opening))


def _beside(
    blank: Blank, where: LengthId, said: Said[Hole], at: PlaceBeside, face: BlankFace, lines: Lines, ledger: Ledger
) -> tuple[ExactPoint, tuple[Offset, ...]]:
    """The middle of a hole that is at or beside a place with a name, and how far from it, which is noted."""
    box = face.left, face.top, face.wide, face.high
    start = place_on(blank, PlaceBeside(at.of), box, lines)
    if start is None:
        tell_no_place(blank, at.of, said.place, lines, ledger)
        return face.middle, ()
    middle = place_on(blank, at, box, lines) or start
    offsets = []
    for way, length in at.away:
        name = replace(where, place=way, of=at.of)
        ledger.lengths[name] = length
        begin = start[way in ("above", "below")]
        edge, sign = {"right": ("left", 1), "left": ("right", -1), "below": ("top", 1), "above": ("bottom", -1)}[way]
        ends = sorted((begin, begin + sign * length.mm))
        offsets.append(Offset(edge, "middle", name, ends[0], ends[1], at.of))
    return middle, tuple(offsets)


def _outside(blank: Blank, hole: Opening) -> bool:
    """Whether it leaves the piece."""
    left, top, right, bottom = hole.left, hole.top, hole.left + hole.width, hole.top + hole.height
    if left < 0 or top < 0 or right > blank.width or bottom > blank.height:
        return True
    if any(left < box[1] and right > box[0] and top < box[3] and bottom > box[2] for box in corners_cut_away(blank)):
        return True
    if not blank.outline:
        return False
    x, y = left + hole.width / 2, top + hole.height / 2
    corners = [(x, y) for x in (left, right) for y in (top, bottom)]
    middles = [(x, top), (x, bottom), (left, y), (right, y)]
    return not all(_inside(point, blank.outline) for point in (middles if hole.shape == "round" else corners))


def _repeated(blank: Blank, number: int, repeat: Repeat, laid: Sequence[Opening], ledger: Ledger) -> list[Opening]:
    """Each hole or notch and its copies."""
    apart = note_repeat(blank.piece, "hole", number, repeat, ledger)
    return [
        replace(one, left=one.left + x, top=one.top + y, copy=copy, apart=apart)
        for copy, (x, y) in enumerate(shifts(repeat))
        for one in laid
    ]


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
            twins.append(replace(opening, left=left, top=top, offsets=(), mirror=side, copy=0, apart=None, at=""))
    if not twins:
        ledger.thought("hole-mirrors-itself", said.place, piece=blank.piece, shape=said.value.shape, side=side)
    return twins


def _along(
    hole: LengthId, position: HolePosition, side: str, ends: tuple[Fraction, Fraction], size: Fraction, ledger: Ledger
) -> tuple[Fraction, tuple[Offset, ...]]:
    """Where along one side, between two ends in millimetres, a hole of a size begins, and the offset that says so (none
    when it is centred), which is noted."""
    low, high = ends
    for edge, length, of in position.offsets:
        if edge not in _EDGES_OF[side]:
            continue
        name = replace(hole, place=edge, of=of or "middle")
        ledger.lengths[name] = length
        reach = length.mm + (size / 2 if of == "edge" else 0)
        if edge in _FAR_EDGES:
            return high - reach - size / 2, (Offset(edge, name.of, name, high - length.mm, high),)
        return low + reach - size / 2, (Offset(edge, name.of, name, low, low + length.mm),)
    return (low + high - size) / 2, ()


def _look_over(blank: Blank, place: Place, openings: Sequence[Opening], ledger: Ledger) -> None:
    """At most one complaint a hole, however many panels it stands on."""
    off = next((opening for opening in openings if opening.doubtful), None)
    if off is not None and off.copy:
        count = 1 + max(opening.copy for opening in openings)
        facts = {"shape": off.shape, "fits": off.copy, "count": count}
        ledger.misfit("holes-repeated-off-the-piece", place, piece=blank.piece, **facts)
        return
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


_LEVEL = frozenset({"top", "bottom"})
_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


def with_notches(blank: Blank, holes: Sequence[Said[Hole]], ledger: Ledger) -> Blank:
    """The blank with those of its holes cut out that are notches. One whose edge is not there is told and left out."""
    for number, said in enumerate(holes, 1):
        if not said.value.position.edge:
            continue
        sizes = _note_sizes(blank.piece, number, said.value, ledger)
        laid = [_lay_notch(blank, number, said.value, face, sizes, ledger) for face in _faces_of(blank, said, ledger)]
        repeat = said.value.position.repeat
        laid = _repeated(blank, number, repeat, laid, ledger) if repeat else laid
        if said.value.position.mirrored:
            laid += [_notch_mirrored(blank, notch) for notch in laid]
        alike = tuple(dict.fromkeys(laid))
        along = repeat is None or (repeat.side == "across") is (said.value.position.edge in _LEVEL)
        if along and _fit(blank, alike):
            blank = replace(blank, notches=(*blank.notches, *alike))
        else:
            edge = said.value.position.edge
            ledger.misfit("notch-not-in-the-edge", said.place, piece=blank.piece, shape=said.value.shape, edge=edge)
    return blank


def _fit(blank: Blank, notches: Sequence[Opening]) -> bool:
    """Whether every one lies in a straight stretch of the edge that is still there, and goes through nothing else."""
    ring = () if blank.round else silhouette(blank)
    for notch in notches:
        ring = (with_notch(ring, notch) if ring else None) or ()
    if not ring:
        return False
    # Few pieces have notches, and shapely takes a tenth of a second to load.
    from shapely.geometry import Polygon

    return bool(Polygon(floats(ring)).is_valid)


def _lay_notch(
    blank: Blank, number: int, hole: Hole, face: BlankFace, sizes: tuple[LengthId, ...], ledger: Ledger
) -> Opening:
    edge = hole.position.edge
    level = edge in _LEVEL
    along = hole.size[0].mm
    deep = hole.size[1].mm if len(hole.size) > 1 else along / 2
    low, high = (face.left, face.right) if level else (face.top, face.bottom)
    name, side = LengthId(blank.piece, "hole", "", number), "across" if level else "down"
    start, offsets = _along(name, hole.position, side, (low, high), along, ledger)
    far = {"right": blank.width - deep, "bottom": blank.height - deep}.get(edge, deep * 0)
    box = (start, far, along, deep) if level else (far, start, deep, along)
    return Opening(hole.shape, *box, sizes, offsets, hole.position.panel, edge=edge)


def _notch_mirrored(blank: Blank, notch: Opening) -> Opening:
    """On the other side of the piece's middle along its edge; in the very middle, in the edge opposite."""
    notch = replace(notch, offsets=(), copy=0, apart=None)
    level = notch.edge in _LEVEL
    left = blank.width - notch.left - notch.width
    top = blank.height - notch.top - notch.height
    if (notch.left == left) if level else (notch.top == top):
        side = "down" if level else "across"
        return replace(
            notch, left=left, top=top, edge=_OPPOSITE[notch.edge], offsets=(), mirror=side, copy=0, apart=None
        )
    side = "across" if level else "down"
    return replace(notch, mirror=side, **({"left": left} if level else {"top": top}))
