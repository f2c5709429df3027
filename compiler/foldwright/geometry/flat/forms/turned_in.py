"""Paper or cloth that covers a board and is turned in over its edges, its corners cut off at 45 degrees.

So much of every corner stays as reaches over the corner of the board: twice the board's thickness, measured at a right
angle to the cut (bookbinders leave 1 1/2 to 2 times; common practice, no source). What is left there is folded in with
the first two edges, as a small pleat.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, BlankFace, Drawn, ExactPoint
from foldwright.geometry.flat.forms.making import FLAT, ROOT_2, Asked, blank_of, fold, remark_length, round_ring
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import Piece, Recipe
from foldwright.recipe.words import spoken_text

_TURN = {System.METRIC: Fraction(15), System.IMPERIAL: Unit.INCH.mm * 5 / 8}
"""How much lies on the back of the board along every edge when nobody says (common practice, no source)."""
_STEP = {System.METRIC: Fraction(1), System.IMPERIAL: Unit.INCH.mm / 16}
"""What it stands over the board by is taken up to whole millimetres, or sixteenths of an inch."""
_PLEAT = 2
_THIN = {System.METRIC: Fraction(2), System.IMPERIAL: Unit.INCH.mm / 16}
"""How thick a board is taken to be whose thickness nobody knows, or that is thinner, where its corners are cut."""
_ZERO = Fraction(0)
_SAID = re.compile(
    r"\bturn(?:s|ed|ing)?[- ]ins?\b|\b(?:turn|fold)(?:s|ed|ing)? (?:\w+ ){0,6}(?:in|over)\b", re.IGNORECASE
)


def turned_in_by_a_step(piece: Piece, recipe: Recipe) -> bool:
    """Whether what lies on something larger than that is turned in over its edges, as a step says."""
    name = piece.name.value
    if piece.fold is not None or not piece.goes_on:
        return False
    steps = [step for step in recipe.steps if any(name in doing.subjects for doing in step.doings)]
    acts = {doing.act for step in steps for doing in step.doings if name in doing.subjects}
    return "fold" in acts or any(_SAID.search(spoken_text(step.words)) for step in steps)


def turned_in(asked: Asked) -> Blank | None:
    """The board's place in the middle, as much all round as is turned in and the board is thick."""
    (wide, high), board = asked.sizes, asked.under
    said = remark_length(asked, "turn-in")
    turn = said.mm if said else _TURN[asked.system]
    piece = asked.piece
    if piece.size:
        lengths = piece.size.value.lengths
        edges: tuple[Fraction, Fraction] = (lengths[0].mm - wide) / 2, (lengths[-1].mm - high) / 2
    else:
        step = _STEP[asked.system]
        edges = (ceil((turn + board) / step) * step,) * 2
    if min(edges) <= board or max(edges) - board > min(wide, high) / 2:
        code = "turn-in-too-narrow" if min(edges) <= board else "turn-in-too-wide"
        place = (piece.size or piece.fold or piece.name).place
        least = min(wide, high) / 2 if code == "turn-in-too-wide" else 2 * board
        asked.ledger.misfit(code, place, piece=asked.name, limit=Length(least, asked.unit))
        return None
    x, y = edges
    across, down = wide + 2 * x, high + 2 * y
    off = x + y - max(_PLEAT * board, _THIN[asked.system]) * ROOT_2
    outline = tuple(_without_corners((across, down), off, edges)) if off > 0 else ()
    (own_across, _), (own_down, _) = asked.made
    front = BlankFace(x, x + wide, y, y + high, own_across, own_down, "front")
    corners = tuple(one for one in outline if 0 in one or across == one[0] or down == one[1])
    board_lines = round_ring(((x, y), (x + wide, y), (x + wide, y + high), (x, y + high)), FLAT)
    rectangle = ((_ZERO, _ZERO), (across, _ZERO), (across, down), (_ZERO, down))
    whole = across, down
    # Where the pleats end is not set out with a ruler.
    blank = blank_of(asked, whole, outline or rectangle, board_lines, (front,), corners, piece.size is not None)
    return replace(blank, drawn=tuple(_folds((x, x + wide), (y, y + high), whole, off)), turned_in=True)


def _without_corners(
    size: tuple[Fraction, Fraction], off: Fraction, edges: tuple[Fraction, Fraction]
) -> Iterator[ExactPoint]:
    """A rectangle without its corners, from the upper left one clockwise, with the places where folds end on a cut."""
    (across, down), (x, y), zero = size, edges, Fraction(0)
    pleat = [(at, off - at) for at in sorted((x, off - y), reverse=True) if 0 < at < off]
    yield off, zero
    yield across - off, zero
    yield from ((across - a, b) for a, b in pleat)
    yield from ((across, off), (across, down - off))
    yield from ((across - a, down - b) for a, b in reversed(pleat))
    yield from ((across - off, down), (off, down))
    yield from ((a, down - b) for a, b in pleat)
    yield from ((zero, down - off), (zero, off))
    yield from reversed(pleat)


def _folds(
    xs: tuple[Fraction, Fraction], ys: tuple[Fraction, Fraction], size: tuple[Fraction, Fraction], off: Fraction
) -> Iterator[Drawn]:
    """The board's four edges from cut to cut: at the corners the upright folds go the other way and make a pleat."""
    for y in ys:
        near = y if y == ys[0] else size[1] - y
        start = max(off - near, Fraction(0))
        yield fold((start, y), (size[0] - start, y), FLAT)
    for x in xs:
        near = x if x == xs[0] else size[0] - x
        start = max(off - near, Fraction(0))
        yield fold((x, ys[0]), (x, ys[1]), FLAT)
        if start < ys[0]:
            yield fold((x, start), (x, ys[0]), -FLAT)
            yield fold((x, ys[1]), (x, size[1] - start), -FLAT)
