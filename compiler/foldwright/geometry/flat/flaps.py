"""Corner flaps: which panels they stay joined to, and the cuts that free them from the panels beside.

A flap that stays joined to the front is a part of the front's row; the cut that frees it runs from the short edge in
line with the fold between floor and front, up to the score of the end beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, Cut, Strip
from foldwright.geometry.flat.inside import TRAYS
from foldwright.geometry.flat.ledger import Ledger
from foldwright.geometry.flat.panels import names_of, plain_name
from foldwright.geometry.lengths import Equal, LengthId, Sum
from foldwright.measure.length import Length
from foldwright.recipe.model import Piece

_REMOVED = ("cut", "away", "removed", "off", "out")


class _Joined(Struct, frozen=True):
    """The row (`across` or `down`) whose outer panels keep the flaps, and their names as drawn."""

    side: str
    names: tuple[str, ...]


def with_flaps(blank: Blank, piece: Piece, ledger: Ledger) -> Blank:
    """The blank with its corner flaps cut free, or its corners away; a tray that says neither is asked."""
    if _corners_removed(piece) and len(blank.across) > 1 and len(blank.down) > 1:
        return replace(blank, corners_removed=True)
    if not blank.boxed:
        return blank
    if piece.flaps is None:
        if blank.form not in TRAYS:
            return blank
        if not piece.unread & {"flaps", "corners"}:
            _ask(blank, piece, ledger)
        return _doubtful(blank)
    joined = _joined(blank, piece, ledger)
    if joined is None:
        return _doubtful(blank)
    trim = _note_flaps(blank, joined.side, piece, ledger)
    return replace(
        blank,
        flap_cuts=_cuts(blank, joined.side),
        flaps_joined=joined.names,
        flap_side=joined.side,
        flap_trim=trim,
        flap_trimmed=ledger.lengths[trim].mm if trim else Fraction(0),
        flaps_outside=piece.flaps.value.outside,
    )


def _doubtful(blank: Blank) -> Blank:
    """A blank whose corners nobody knows is not folded: that its walls do not close would only follow from it."""
    return replace(blank, doubtful=blank.doubtful | {"flaps"})


def flap_side(piece: Piece, blank_names: Sequence[Sequence[str]]) -> str:
    """The row the flaps belong to by name alone, for a piece whose blank is still to be worked out.

    `blank_names` are the names the outer panels across, and those down, will answer to.
    """
    if piece.flaps is None:
        return ""
    wanted = {plain_name(name) for name in piece.flaps.value.joined}
    return "across" if wanted & set(blank_names[0]) else "down"


def _corners_removed(piece: Piece) -> bool:
    return piece.corners is not None and any(word in _REMOVED for word in piece.corners.value.casefold().split())


def _ask(blank: Blank, piece: Piece, ledger: Ledger) -> None:
    place = piece.fold.place if piece.fold else piece.name.place
    ledger.misfit("flaps-missing", place, piece=blank.piece, one=_pair(blank.down), other=_pair(blank.across))


def _pair(strips: Sequence[Strip]) -> tuple[str, ...]:
    return tuple(_called(strip) for strip in (strips[0], strips[-1]))


def _called(strip: Strip) -> str:
    return strip.name or strip.role


def _joined(blank: Blank, piece: Piece, ledger: Ledger) -> _Joined | None:
    assert piece.flaps is not None
    said = piece.flaps
    found: dict[str, list[str]] = {"across": [], "down": []}
    for name in said.value.joined:
        hits = [
            (side, strip)
            for side, row in (("across", blank.across), ("down", blank.down))
            for strip in (row[0], row[-1])
            if _answers(strip, row, name)
        ]
        if not hits:
            known = names_of(blank)
            pairs = {"one": _pair(blank.down), "other": _pair(blank.across)}
            is_floor = any(_answers(strip, row, name) for row in (blank.across, blank.down) for strip in row)
            if is_floor:
                ledger.fault("flaps-joined-to-floor", said.place, piece=blank.piece, panel=name, **pairs)
            else:
                ledger.fault("flaps-joined-to-what", said.place, piece=blank.piece, panel=name, known=known, **pairs)
            return None
        for side, strip in hits:
            found[side].append(_called(strip))
    sides = [side for side, names in found.items() if names]
    if len(sides) != 1 or len(set(found[sides[0]])) not in (1, 2):
        ledger.fault(
            "flaps-joined-both-ways", said.place, piece=blank.piece, one=_pair(blank.down), other=_pair(blank.across)
        )
        return None
    return _Joined(sides[0], tuple(dict.fromkeys(found[sides[0]])))


def _answers(strip: Strip, row: Sequence[Strip], name: str) -> bool:
    wanted = plain_name(name)
    own = plain_name(strip.name)
    if own == wanted or (own and own.rsplit(" ", 1)[-1] == wanted):
        return True
    taken = any(plain_name(other.name) == wanted for other in row)
    return not taken and strip.role == wanted


def _cuts(blank: Blank, side: str) -> tuple[Cut, ...]:
    """Four cuts, from the edges beside the joined panels in line with the folds of those panels."""
    x1, x2 = blank.across[0].end, blank.across[2].start
    y1, y2 = blank.down[0].end, blank.down[2].start
    zero, width, height = Fraction(0), blank.across[2].end, blank.down[2].end
    if side == "down":
        ends = ((zero, x1), (width, x2))
        return tuple(Cut((edge, y), (score, y)) for y in (y1, y2) for edge, score in ends)
    ends = ((zero, y1), (height, y2))
    return tuple(Cut((x, edge), (x, score)) for x in (x1, x2) for edge, score in ends)


def _note_flaps(blank: Blank, side: str, piece: Piece, ledger: Ledger) -> LengthId | None:
    """A flap is as long as the end it lies on is deep, less what is trimmed off; returns the trim's identity."""
    assert piece.flaps is not None
    ends, walls = (blank.across, blank.down) if side == "down" else (blank.down, blank.across)
    trim = piece.flaps.value.trim
    end = ends[0]
    depth = ledger.lengths[end.length]
    flap = LengthId(blank.piece, "flap", "length")
    trim_id = LengthId(blank.piece, "flap", "trim") if trim else None
    if trim is not None and trim_id is not None:
        if trim.mm >= depth.mm or trim.mm <= 0:
            ledger.misfit("flap-trimmed-away", piece.flaps.place, piece=blank.piece, trim=trim, flap=depth)
            return None
        ledger.lengths[trim_id] = trim
        ledger.note(flap, Length(depth.mm - trim.mm, depth.unit), end.length)
        ledger.relations.append(Sum(end.length, (flap, trim_id), held=True))
    else:
        ledger.note(flap, depth, end.length)
        ledger.relations.append(Equal(flap, end.length))
    _think_of_relief(blank, piece, ledger.lengths[flap], Length(walls[1].long, depth.unit), ledger)
    return trim_id


def _think_of_relief(blank: Blank, piece: Piece, flap: Length, wall: Length, ledger: Ledger) -> None:
    """A flap as long as the end is wide butts the opposite wall and bows it."""
    assert piece.flaps is not None
    if flap.mm >= wall.mm:
        ledger.thought("flap-as-long-as-end", piece.flaps.place, piece=blank.piece, flap=flap, wall=wall)
