"""The case of a book box: a cover of front board, spine and back board, in which a tray is glued by floor and wall.

The boards stand over the tray at the three edges that open by a square, as those of a book do (3 mm, 1/8 in:
bookbinding, common practice, no source). The spine is as wide as the tray is high: the front lies level on it.
"""

from __future__ import annotations

from fractions import Fraction

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.forms.making import STEP
from foldwright.geometry.flat.inside import InsideSize, rooms
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.lengths import Clearance, Ledger, LengthId
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import PanelFact

CASE = "case"
_SQUARE = {System.METRIC: Fraction(3), System.IMPERIAL: Unit.INCH.mm / 8}
_SLACK = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may be apart."""


def case_round(
    tray: Blank, cards: tuple[Thickness | None, Thickness | None], unit: Unit, place: Place
) -> tuple[tuple[PanelFact, ...], Length] | None:
    """The row across of a case for a tray, and how far down it reaches; None where the tray is no box. `cards` are how
    thick its own card is and that of the tray."""
    outer = _outside(tray, cards[1])
    if outer is None:
        return None
    (across, down, high), own = (room.outside for room in outer), _thick(cards[0])
    square = _SQUARE[unit.system]
    board, spine = (_up(mm, unit) for mm in (across + own / 2 + square, high + own))
    names = (("front", board), ("spine", spine), ("back", board))
    return tuple(PanelFact(name, length, place) for name, length in names), _up(down + 2 * square, unit)


def check_case(
    case: Blank, tray: Blank, cards: tuple[Thickness | None, Thickness | None], place: Place, ledger: Ledger
) -> None:
    """The tray lies between the boards and does not stand out of them, however both are printed."""
    outer, (side, row) = _outside(tray, cards[1]), case.main_row
    if outer is None or len(row) != 3:
        return
    (across, down, high), own = outer, _thick(cards[0])
    other = "down" if side == "across" else "across"
    long = LengthId(case.piece, other, "size"), case.height if side == "across" else case.width
    for length, size, room, layers in (
        *((board.length, board.long, across, own / 2) for board in (row[0], row[2])),
        (row[1].length, row[1].long, high, own),
        (*long, down, Fraction(0)),
    ):
        if size < room.outside + layers - _SLACK:
            unit = ledger.lengths[length].unit
            name = next((board.called for board in row if board.length == length), other)
            facts = {"piece": case.piece, "other": tray.piece, "panel": name, "size": Length(size, unit)}
            ledger.misfit("case-too-small", place, **facts, least=_up(room.outside + layers, unit))
        elif size > ledger.lengths[room.score_to_score].mm:
            ledger.relations.append(Clearance(length, room.score_to_score))


def _outside(tray: Blank, card: Thickness | None) -> tuple[InsideSize, InsideSize, InsideSize] | None:
    known = {room.side: room for room in rooms(tray, _thick(card))}
    return (known["across"], known["down"], known["deep"]) if {"across", "down", "deep"} <= known.keys() else None


def _thick(card: Thickness | None) -> Fraction:
    return card.length.mm if card else Fraction(0)


def _up(mm: Fraction, unit: Unit) -> Length:
    step = STEP[unit.system]
    return Length(-(-mm // step) * step, unit)
