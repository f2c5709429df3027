"""Corner flaps: which panels they stay joined to, and the cuts that free them from the panels beside.

A flap that stays joined to the front is a part of the front's row; the cut that frees it runs from the short edge in
line with the fold between floor and front, up to the score of the end beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, Cut, Strip
from foldwright.geometry.flat.inside import TRAYS
from foldwright.geometry.flat.panels import names_of, plain_name
from foldwright.geometry.lengths import Equal, Ledger, LengthId, Sum
from foldwright.measure.length import Length
from foldwright.recipe.model import Flaps, Piece, Said

_REMOVED = ("cut", "away", "removed", "off", "out")
_ENDS = ("left", "right", "left side", "right side", "sides")
"""What the outer panels across are called before they are laid."""
_RULER = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may differ (half a millimetre or a thirty-second of an inch)."""


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
            ledger.misfit("flaps-missing", (piece.fold or piece.name).place, piece=blank.piece, **_pairs(blank))
        return _doubtful(blank)
    joined = _joined(blank, piece.flaps, ledger)
    if joined is None:
        return _doubtful(blank)
    side, names = joined
    trim = _note_flaps(blank, side, piece, ledger)
    return replace(
        blank,
        flap_cuts=_cuts(blank, side),
        flaps_joined=names,
        flap_side=side,
        flap_trim=trim,
        flap_trimmed=ledger.lengths[trim].mm if trim else Fraction(0),
        flaps_outside=piece.flaps.value.outside,
    )


def _doubtful(blank: Blank) -> Blank:
    """A blank whose corners nobody knows is not folded: that its walls do not close would only follow from it."""
    return replace(blank, doubtful=blank.doubtful | {"flaps"})


def flaps_inside(piece: Piece) -> str:
    """The row, by name alone, whose outer panels keep the flaps of a piece that is still to be laid; empty when none
    lie inside."""
    if piece.flaps is None or piece.flaps.value.outside:
        return ""
    wanted = {plain_name(name) for name in piece.flaps.value.joined}
    return "down" if wanted.isdisjoint(_ENDS) else "across"


def _corners_removed(piece: Piece) -> bool:
    return piece.corners is not None and any(word in _REMOVED for word in piece.corners.value.casefold().split())


def _pairs(blank: Blank) -> dict[str, object]:
    """The names of the outer panels of either row, for a message."""
    rows = (("one", blank.down), ("other", blank.across))
    return {fact: (strips[0].called, strips[-1].called) for fact, strips in rows}


def _joined(blank: Blank, said: Said[Flaps], ledger: Ledger) -> tuple[str, tuple[str, ...]] | None:
    """The row (`across` or `down`) whose outer panels keep the flaps, and their names as drawn."""
    found: dict[str, list[str]] = {"across": [], "down": []}
    for name in said.value.joined:
        rows = {"across": blank.across, "down": blank.down}
        hits = [(side, strip) for side, row in rows.items() for strip in row if _answers(strip, row, name)]
        outer = [(side, strip) for side, strip in hits if strip in (rows[side][0], rows[side][-1])]
        if not outer:
            code = "flaps-joined-to-floor" if hits else "flaps-joined-to-what"
            known: dict[str, object] = {} if hits else {"known": names_of(blank)}
            ledger.fault(code, said.place, piece=blank.piece, panel=name, **known, **_pairs(blank))
            return None
        for side, strip in outer:
            found[side].append(strip.called)
    sides = [side for side, names in found.items() if names]
    if len(sides) != 1 or len(set(found[sides[0]])) not in (1, 2):
        ledger.fault("flaps-joined-both-ways", said.place, piece=blank.piece, **_pairs(blank))
        return None
    return sides[0], tuple(dict.fromkeys(found[sides[0]]))


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
    long, wall = ledger.lengths[flap], Length(walls[1].long, depth.unit)
    if wall.mm <= long.mm <= wall.mm + _RULER:
        # It butts the opposite wall and bows it. What is longer stands out, which is told of the folded shape.
        ledger.thought("flap-as-long-as-end", piece.flaps.place, piece=blank.piece, flap=long, wall=wall)
    return trim_id
