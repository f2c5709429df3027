"""Rows of panels: where each panel begins, what is left for `rest`, and whether they and the size of a piece agree."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import accumulate, pairwise
from math import inf

from msgspec import Struct

from foldwright.finding import Place
from foldwright.geometry.flat.blank import GLUE_FLAP, Strip
from foldwright.geometry.flat.forms.table import wants_finished
from foldwright.geometry.lengths import Equal, Ledger, LengthId, Sum
from foldwright.measure.length import Length, Unit
from foldwright.measure.writing import plain_cross, write_exact
from foldwright.recipe.model import Fold, PanelFact, Piece, Said

_OUTER_ROLES = {"across": ("left", "right"), "down": ("top", "bottom")}
_NOTHING = Fraction(0)


class Row(Struct, frozen=True):
    """`size` is the side's length as said, or the sum of the panels; None when neither is known."""

    strips: tuple[Strip, ...]
    size: Length | None
    doubtful: bool = False


def lay_row(
    piece: str, side: str, panels: Sequence[PanelFact], size: Length | None, place: Place | None, ledger: Ledger
) -> Row:
    """Lay the panels one after the other from the left or top edge. Lengths and relations go to the ledger.

    The size itself is noted down by the caller, before the panels, as authors mention it.
    """
    size_id = LengthId(piece, side, "size")
    if not panels:
        return Row((Strip("", _NOTHING, size.mm, size_id),) if size else (), size)
    lengths, known = _fill_in(piece, panels, size, ledger)
    edges = tuple(accumulate((length.mm for length in lengths), initial=_NOTHING))
    summed = size is None
    if size is None:
        size = Length(edges[-1], lengths[0].unit)
        ledger.lengths[size_id] = size
    fits = known and edges[-1] == size.mm
    if known and not fits:
        facts = {"piece": piece, "side": side, "sum_text": sum_text(lengths), "size": size}
        _tell_difference(facts, Length(edges[-1], size.unit), size, place, ledger)
    strips = _strips(piece, side, panels, edges, not fits)
    ledger.lengths.update(zip((strip.length for strip in strips), lengths, strict=True))
    scores = _note_relations(piece, side, strips, fits, ledger)
    left_over = {strip.length for strip, panel in zip(strips, panels, strict=True) if panel.length is None}
    if len({length.unit.system for length in lengths}) > 1:
        # Of parts from both systems of units nobody writes what they come to, or what is left over.
        ledger.worked_out |= scores | left_over | ({size_id} if summed else set())
    elif any(_endless(ledger.lengths[name].value.denominator) for name in left_over):
        ledger.worked_out |= left_over | scores
    return Row(strips, size, not fits)


def _endless(denominator: int) -> bool:
    """Whether a fraction is one no ruler is divided by, such as thirds: it never ends as halves of halves or tenths."""
    for factor in (2, 5):
        while denominator % factor == 0:
            denominator //= factor
    return denominator > 1


def _fill_in(piece: str, panels: Sequence[PanelFact], size: Length | None, ledger: Ledger) -> tuple[list[Length], bool]:
    """The length of every panel, `rest` filled in, and whether all of them are known."""
    said = [panel.length for panel in panels if panel.length is not None]
    resting = len(panels) - len(said)
    if not resting:
        return said, True
    unit = size.unit if size else (said[0].unit if said else Unit.MILLIMETRE)
    total = sum((length.mm for length in said), _NOTHING)
    where = next(panel.place for panel in panels if panel.length is None)
    left = _NOTHING if size is None else (size.mm - total) / resting
    # A panel that could not be read was complained of already.
    unread = any(panel.unread for panel in panels)
    if size is None and not unread:
        ledger.fault("rest-of-what", where, piece=piece)
    elif size is not None and left <= 0 and not unread:
        facts = {"piece": piece, "sum_text": sum_text(said), "sum": Length(total, unit), "size": size}
        ledger.misfit("nothing-left-for-rest", where, **facts, over=Length(total - size.mm, unit))
    # What cannot be worked out is drawn as wide as the panels are on the whole.
    width = left if left > 0 else (total / len(said) if said else (size.mm if size else Fraction(1)) / resting)
    return [panel.length or Length(width, unit) for panel in panels], left > 0 and not unread


def _tell_difference(
    facts: Mapping[str, object], total: Length, size: Length, place: Place | None, ledger: Ledger
) -> None:
    facts = {**facts, "sum": total}
    if total.mm < size.mm:
        ledger.misfit("panels-fall-short", place, **facts, difference=size - total)
    else:
        ledger.misfit("panels-run-over", place, **facts, difference=Length(total.mm - size.mm, size.unit))


def sum_text(lengths: Sequence[Length]) -> str:
    """`20 + 60 + 18`, in the author's own fractions; each with its unit when they do not share one."""
    printed = [write_exact(length) for length in lengths]
    alike = len({length.unit for length in lengths}) == 1
    return " + ".join(one.number if alike else one.plain for one in printed)


def _strips(
    piece: str, side: str, panels: Sequence[PanelFact], edges: Sequence[Fraction], doubtful: bool
) -> tuple[Strip, ...]:
    strips = []
    for number, (panel, (start, end)) in enumerate(zip(panels, pairwise(edges), strict=True), 1):
        name, role = LengthId(piece, side, "panel", number), _role_of(panel.name, side, number, len(panels))
        strips.append(Strip(panel.name, start, end, name, doubtful, role))
    return tuple(strips)


def _role_of(name: str, side: str, number: int, count: int) -> str:
    """What a panel answers to besides its name."""
    if name.lower() == GLUE_FLAP:
        return GLUE_FLAP
    first, last = _OUTER_ROLES[side]
    if count > 1 and number in (1, count):
        return first if number == 1 else last
    return "floor" if count == 3 else ""


def _note_relations(piece: str, side: str, strips: Sequence[Strip], fits: bool, ledger: Ledger) -> set[LengthId]:
    """The row adds up; every score stands where the panels before (and after) it end; equal panels stay equal.

    Returns the places of the scores.
    """
    ids = tuple(strip.length for strip in strips)
    relations, lengths = ledger.relations, ledger.lengths
    total = LengthId(piece, side, "size")
    if fits:
        relations.append(Sum(total, ids))
    unit = lengths[ids[0]].unit
    end = strips[-1].end
    scores = set[LengthId]()
    for number, (strip, following) in enumerate(pairwise(strips), 1):
        score = LengthId(piece, side, "score", number)
        back = LengthId(piece, side, "score back", number)
        lengths[score] = Length(strip.end, unit)
        lengths[back] = Length(end - following.start, unit)
        relations += (Sum(score, ids[:number]), Sum(back, ids[number:]))
        scores |= {score, back}
    # Pairs of whole numbers: to hash a fraction takes longer than all else here.
    first_of: dict[tuple[int, int], LengthId] = {}
    for name in ids:
        other = first_of.setdefault(lengths[name].mm.as_integer_ratio(), name)
        if other is not name:
            relations.append(Equal(other, name))
    return scores


_NEAR_ENOUGH = 1e-6
"""Millimetres: far less than any author writes."""
SIZED = frozenset({"size", "inside", "across", "down"})
"""Facts that say how large a piece is; its size does not follow where one of them could not be read."""


class Given(Struct, frozen=True):
    """What a piece is laid from: its size (either side may be unknown) and its rows."""

    across: Length | None
    down: Length | None
    row_across: Sequence[PanelFact]
    row_down: Sequence[PanelFact]
    round: bool = False
    guessed: bool = False
    """A side was not said, and is taken to be as long as the other."""


def from_rows(piece: Piece, ledger: Ledger) -> Given | None:
    """Without a size the rows must say it; a side nobody speaks of is guessed so that the piece can be drawn."""
    across, down = known_sum(piece.across), known_sum(piece.down)
    if across is None and down is None:
        said = piece.unread & SIZED or wants_finished(piece)
        if not said and not any((piece.inside, piece.inside_relative, piece.relative)):
            ledger.fault("no-size", piece.name.place, piece=piece.name.value)
        return None
    if (across is None or down is None) and not piece.unread & SIZED:
        side = "across" if across is None else "down"
        ledger.fault("half-a-size", piece.name.place, piece=piece.name.value, side=side)
    sizes = None if piece.across else across or down, None if piece.down else down or across
    return Given(*sizes, piece.across, piece.down, guessed=across is None or down is None)


def known_sum(panels: Sequence[PanelFact]) -> Length | None:
    """The sum of a row without rests; None when there is no row or it cannot be known."""
    said = [panel.length for panel in panels if panel.length is not None]
    if not said or len(said) < len(panels):
        return None
    return Length(sum((length.mm for length in said), Fraction(0)), said[0].unit)


def fits_swapped(piece: Piece, across: Length, down: Length) -> bool:
    """Whether the rows disagree with the size as written and agree with it the other way round."""
    if across == down or not (piece.across or piece.down) or _fits_plainly(piece, across, down):
        return False
    sums = known_sum(piece.across), known_sum(piece.down)
    if any(known is None and panels for known, panels in zip(sums, (piece.across, piece.down), strict=True)):
        return False
    sizes = [(known, size, other) for known, size, other in zip(sums, (across, down), (down, across), strict=True)]
    told = [one for one in sizes if one[0]]
    return any(known != size for known, size, _ in told) and all(known == other for known, _, other in told)


def _fits_plainly(piece: Piece, across: Length, down: Length) -> bool:
    """Whether the rows add up to the size as written, near enough to look no further; exact sums come later."""
    for panels, size in ((piece.across, across), (piece.down, down)):
        total = sum(float(panel.length.mm) if panel.length else inf for panel in panels)
        if panels and abs(total - float(size.mm)) > _NEAR_ENOUGH:
            return False
    return True


def tell_swapped(piece: Piece, across: Length, down: Length, ledger: Ledger) -> None:
    """Tell that the panels of one side come to the size of the other. The piece has a size."""
    assert piece.size is not None
    sums = [(known_sum(row), row) for row in (piece.across, piece.down)]
    side = "across" if sums[0][0] else "down"
    total, row = sums[0] if sums[0][0] else sums[1]
    one, other = write_exact(across), write_exact(down)
    text = sum_text([panel.length for panel in row if panel.length])
    sizes = {"size": plain_cross((one, other)), "swapped": plain_cross((other, one))}
    facts = {"piece": piece.name.value, "side": side, "sum_text": text, "sum": total}
    ledger.misfit("size-the-other-way-round", piece.size.place, **facts, **sizes)


def folds_of(fold: Said[Fold] | None, count: int) -> tuple[str, ...]:
    """What each score of a row is, seen from the good side: angles above nothing fold up (a valley)."""
    if fold is None or count == 0:
        return ("score",) * count
    said = fold.value
    if said.angles and len(said.angles) == count:
        return tuple("valley" if angle > 0 else "mountain" if angle < 0 else "score" for angle in said.angles)
    if said.form == "accordion":
        first_down = any("first fold down" in remark.casefold() for remark in said.remarks)
        return tuple("mountain" if (number % 2 == 0) is first_down else "valley" for number in range(count))
    return ("score",) * count
