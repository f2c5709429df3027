"""What was understood of a piece, as facts: its cuts and scores, flaps, holes, sums, borders and gaps.

"Four cuts, 3/4 in long, from the left and right edges, in line with the scores at 1 3/4 and 2 1/2 in" is one fact.
Every length is named by identity, so that whoever words the fact can do so in either unit system.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from math import degrees

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank, ExactPoint, Opening
from foldwright.geometry.flat.forms.round import ROLLED
from foldwright.geometry.flat.silhouettes import corners_cut_away
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat
from foldwright.geometry.together.mating import Gap

_HALF_TURN = 180
"""Degrees of a half circle."""
_HARDLY = 0.1
"""Degrees no protractor shows."""

type MarkedPoint = tuple[LengthId | None, LengthId | None]
"""A place on a blank, by how far across and down it is; None on its left or top edge."""


class BlankFact(Struct, frozen=True):
    """One fact. What the fields hold depends on `code`:

    - `cut`: `lengths` the size across and down, `count` how many;
    - `circle`: `lengths` the diameter, `count` how many;
    - `scores`: `lengths` their distances from the `edges` (left or top), `count` how many; `along` the
      panels before them, where they are many and equally far apart;
    - `flap-cuts`: `count` cuts, as long as `lengths` (one for each of the `edges`), in line with the scores at `along`;
      `names` are the panels the flaps stay joined to;
    - `flaps-trimmed`: `lengths` what is taken off each free edge;
    - `corners-away`: `count` corners;
    - `hole`: `count` holes alike, `lengths` the size, `opening` the first of them, `along` how far it is from each edge
      its place is measured from; `edges` the side it is mirrored along, if it is; where they are repeated, the last of
      `lengths` is how far apart they are;
    - `tie-holes`: `lengths` how wide the holes near the tips of a pyramid are, and how far from the tips;
    - `handles`: `lengths` how wide the holes for handles are, how far from the top edge and from the sides;
    - `slit`, `half-moon`: a slot for a card, `points` its two ends, with the middle of its round between them;
    - `corner-off`: how a corner is cut off, `points` the ends of the cut; `board`: `lengths` how far a board is laid
      from the left and top edges of what is turned in over it;
    - `slots`: `count` slots that hold a card, `lengths` how large it is, `names` what it is called;
    - `drawn`: `count` lines of the long form;
    - `marks`: `lengths` how far from the corners the folds of an envelope meet the edges of its square;
    - `marks-across`, `marks-down`: `lengths` how far from the left or top edge the straight folds of a form that is
      worked out lie; `slant`: one of its slanting folds, `points` its two ends; `curves`: `count` curved folds;
    - `sector`, `sector-half`, `sector-cut-off`: the `lengths` to draw a sector by: radius and chord, of one that is cut
      off the radius of the inner arc as well; `degrees` its angle;
    - `flap-along`: `lengths` how wide the glue flap of a cone is; `lap`: the same of what overlaps at the end;
    - `rolls-tube`, `rolls-cone`: what it measures when it is rolled, of what was given flat;
    - `rosette`: how wide it is;
    - `to-outline`: it is cut to a free outline;
    - `row`: `lengths` the panels of the side in `edges`, then what they add up to: only where a room inside was given;
    - `stacked`: `count` of them are glued on one another;
    - `border`, `overhang`, `turn-in`: `lengths` on the piece in `names`, each at its `edges` (across and
      down when centred);
    - `round`, `round-flap`: `lengths` of the band and round the thing in `names`, with what is over;
    - `slides-along`: how far (`lengths`) it slides along the slot of the piece in `names`; `slides`: that it does, or
      through slits;
    - `woven`: `count` strips as wide as the first of `lengths`, woven with `others` of the piece in `names`, and
      how large that mat is; `woven-ends`: how far (`lengths`) they stand out on either side; `woven-through`: the
      same through so many cuts; `woven-sheets`: strips that hang together with such of another sheet;
    - `over`, `into`: `names` the outer and the inner thing, `gaps` the room left across and down.
    """

    code: str
    lengths: tuple[LengthId, ...]
    count: int = 1
    edges: tuple[str, ...] = ()
    along: tuple[LengthId, ...] = ()
    names: tuple[str, ...] = ()
    gaps: tuple[Gap, ...] = ()
    opening: Opening | None = None
    points: tuple[MarkedPoint, ...] = ()
    degrees: float = 0.0
    others: int = 0


def work_on(blank: Blank, flat: Flat) -> tuple[BlankFact, ...]:
    """The cuts, scores and holes of a piece, in the order they would be worked."""
    return (*_cuts_and_scores(blank), *_flaps(blank), *_holes(blank), *_slots(blank), *_drawn(blank, flat))


def rows_of(blank: Blank, flat: Flat) -> tuple[BlankFact, ...]:
    """How the blank adds up, where its author gave the room inside and not the blank."""
    if all(working.length.piece != blank.piece for working in flat.workings):
        return ()
    rows = [(side, strips) for side, strips in (("across", blank.across), ("down", blank.down)) if len(strips) > 1]
    lengths = [(*(strip.length for strip in strips), LengthId(blank.piece, side, "size")) for side, strips in rows]
    return tuple(BlankFact("row", row, len(row) - 1, (side,)) for row, (side, _) in zip(lengths, rows, strict=True))


def fit_of(blank: Blank, flat: Flat) -> tuple[BlankFact, ...]:
    """How a piece lies on others, and the room it leaves or takes. A gap is told of the piece that goes over or in."""
    stack = (BlankFact("stacked", (), blank.stacked),) if blank.stacked > 1 else ()
    return (
        *stack,
        *_borders(blank.piece, flat),
        *_gaps(blank.piece, flat.gaps),
        *_rounds(blank.piece, flat),
        *_slides(blank.piece, flat),
        *_woven(blank.piece, flat),
    )


def _cuts_and_scores(blank: Blank) -> Iterator[BlankFact]:
    sizes = LengthId(blank.piece, "across", "size"), LengthId(blank.piece, "down", "size")
    yield BlankFact("circle", sizes[:1], blank.count) if blank.round else BlankFact("cut", sizes, blank.count)
    for side, edge in (("down", "top"), ("across", "left")):
        if scores := _scores(blank, side):
            yield BlankFact("scores", scores, len(scores), (edge,), blank.rhythm(side))


def _scores(blank: Blank, side: str) -> tuple[LengthId, ...]:
    _, strips, _ = blank.row(side == "across")
    return tuple(LengthId(blank.piece, side, "score", number) for number in range(1, len(strips)))


def _flaps(blank: Blank) -> Iterator[BlankFact]:
    if corners := corners_cut_away(blank):
        yield BlankFact("corners-away", (), len(corners))
    if not blank.flap_cuts:
        return
    side, count = blank.flap_side, len(blank.flap_cuts)
    ends, edges = (blank.across, ("left", "right")) if side == "down" else (blank.down, ("top", "bottom"))
    lengths = (ends[0].length, ends[-1].length)
    yield BlankFact("flap-cuts", lengths, count, edges, _scores(blank, side), blank.flaps_joined)
    if blank.flap_trim:
        yield BlankFact("flaps-trimmed", (blank.flap_trim,), count)


def _holes(blank: Blank) -> Iterator[BlankFact]:
    """Holes of one size are one fact: one on every panel, or one and its mirror image."""
    for sizes, group in groupby((*blank.openings, *blank.notches), key=lambda one: one.sizes):
        if sizes == (LengthId(blank.piece, "tie hole", "wide"),):
            yield BlankFact("tie-holes", (*sizes, LengthId(blank.piece, "tie hole", "tip")))
            continue
        if sizes == (LengthId(blank.piece, "handles", "wide"),):
            yield BlankFact("handles", (*sizes, *(LengthId(blank.piece, "handles", at) for at in ("top", "side"))))
            continue
        alike = list(group)
        mirrored = tuple(dict.fromkeys(opening.mirror for opening in alike if opening.mirror))
        along = tuple(offset.length for offset in alike[0].offsets)
        apart = (alike[0].apart,) if alike[0].apart else ()
        count = sum(not one.mirror for one in alike)
        yield BlankFact("hole", (*sizes, *apart), count, mirrored, along, opening=alike[0])


def _form_scores(blank: Blank, flat: Flat) -> Iterator[BlankFact]:
    """The numbers to score a form by: its straight folds by how far they lie from an edge, the slanting ones by their
    ends."""
    places = _SetOut(blank, flat)
    folds = [line for line in blank.drawn if line.number == 0 and line.kind not in ("cut", "glue area")]
    straight = [line for line in folds if not line.arc and len(line.points) == 2]
    slanting = list[BlankFact]()
    found: dict[str, set[LengthId]] = {"across": set(), "down": set()}
    for line in straight:
        start, end = (places.at(point) for point in line.points)
        axis = next((axis for axis in (0, 1) if start[axis] == end[axis]), None)
        if axis is None:
            slanting.append(BlankFact("slant", (), points=(start, end)))
        elif (mark := start[axis]) is not None:
            found[("across", "down")[axis]].add(mark)
    for side in ("down", "across"):
        if marks := tuple(sorted(found[side])):
            yield BlankFact(f"marks-{side}", marks, len(marks))
    yield from slanting
    if curves := len(folds) - len(straight):
        yield BlankFact("curves", (), curves)


class _SetOut:
    """The places of a worked-out blank, by the lengths they are set out with."""

    def __init__(self, blank: Blank, flat: Flat) -> None:
        self._places = [[(mm, name) for name, mm in _from_edge(blank, side, flat)] for side in ("across", "down")]

    def at(self, point: ExactPoint) -> MarkedPoint:
        across, down = (self._nearest(axis, at) for axis, at in enumerate(point))
        return across, down

    def _nearest(self, axis: int, at: Fraction) -> LengthId | None:
        mm, name = min(self._places[axis], key=lambda place: abs(place[0] - at))
        return name if abs(mm - at) <= at else None


def _from_edge(blank: Blank, side: str, flat: Flat) -> Iterator[tuple[LengthId, Fraction]]:
    for name, length in flat.lengths.by_id.items():
        if name.piece == blank.piece and name.side == side and name.place in ("mark", "size"):
            yield name, length.mm


def _slots(blank: Blank) -> Iterator[BlankFact]:
    """The cuts that hold a card, each by its ends."""
    lines = {line.number: line for line in blank.drawn}
    for slots in blank.slots:
        for number in slots.lines:
            points = tuple(_of_line(blank.piece, number, at) for at, _ in enumerate(lines[number].points, 1))
            yield BlankFact("half-moon" if len(points) > 2 else "slit", (), points=points)
        yield BlankFact("slots", slots.sizes, len(slots.lines), names=(slots.name,) if slots.name else ())


def _of_line(piece: str, number: int, at: int) -> MarkedPoint:
    across, down = (LengthId(piece, "line", side, number, f"point {at}") for side in ("across", "down"))
    return across, down


def _turned_in(blank: Blank, flat: Flat) -> Iterator[BlankFact]:
    """Nobody scores cloth: its corners are cut off, and the board is laid on it."""
    places, board = _SetOut(blank, flat), blank.faces[0]
    if len(blank.outline) > 4:
        off, _ = blank.outline[0]
        ends = (off, Fraction(0)), (Fraction(0), off)
        yield BlankFact("corner-off", (), points=tuple(map(places.at, ends)))
    across, down = places.at((board.left, board.top))
    if across and down:
        yield BlankFact("board", (across, down))


def _rolled(blank: Blank, flat: Flat) -> Iterator[BlankFact]:
    """What is rolled has no folds: how its outline is drawn, and what is kept for glue."""
    radius, chord, inner = (LengthId(blank.piece, "sector", place) for place in ("radius", "chord", "inner"))
    glue = (LengthId(blank.piece, "glue", "wide"),)
    if glue[0] not in flat.lengths.by_id:
        yield BlankFact(f"rolls-{blank.form}", tuple(length for length, _ in blank.made[1:]))
        return
    if blank.form == "tube":
        yield BlankFact("lap", glue)
        return
    angle = degrees(blank.sector.angle) if blank.sector else 0.0
    if inner in flat.lengths.by_id:
        yield BlankFact("sector-cut-off", (radius, inner, chord), degrees=angle)
    elif abs(angle - _HALF_TURN) < _HARDLY:
        yield BlankFact("sector-half", (radius,))
    else:
        yield BlankFact("sector", (radius, chord), degrees=angle)
    yield BlankFact("flap-along", glue)


def _drawn(blank: Blank, flat: Flat) -> Iterator[BlankFact]:
    slots = {number for one in blank.slots for number in one.lines}
    form = sum(line.number == 0 for line in blank.drawn)
    own = sum(line.number > 0 and line.number not in slots for line in blank.drawn)
    if blank.form in ROLLED and blank.made:
        if blank.sector is None and blank.outline and blank.form == "cone":
            yield BlankFact("to-outline", ())
        yield from _rolled(blank, flat)
    elif blank.pressed:
        yield BlankFact("rosette", (LengthId(blank.piece, "rosette", "diameter"),))
    elif form and blank.form == "envelope":
        # The square's notches: how far its folds begin from the top right corner, and from the top left one.
        places = _SetOut(blank, flat)
        marks = places.at(blank.outline[5])[1], places.at(blank.outline[1])[0]
        yield BlankFact("marks", tuple(mark for mark in marks if mark))
    elif blank.form == "turned in":
        yield from _turned_in(blank, flat)
    elif form:
        yield BlankFact("to-outline", ())
        yield from _form_scores(blank, flat)
    elif blank.outline:
        yield BlankFact("to-outline", ())
    if own:
        yield BlankFact("drawn", (), own)


def _borders(piece: str, flat: Flat) -> Iterator[BlankFact]:
    found: dict[tuple[str, str], list[LengthId]] = {}
    for name in flat.lengths.by_id:
        if name.piece == piece and name.side in ("border", "overhang", "turn-in"):
            found.setdefault((name.side, name.of), []).append(name)
    for (code, under), names in found.items():
        yield BlankFact(code, tuple(names), len(names), tuple(name.place for name in names), names=(under,))


def _gaps(piece: str, gaps: Sequence[Gap]) -> Iterator[BlankFact]:
    for pair in zip(gaps[::2], gaps[1::2], strict=True):
        outer, inner = pair[0].outer.piece, pair[0].inner.piece
        if piece == (outer if pair[0].how == "over" else inner):
            yield BlankFact(pair[0].how, (), 1, names=(outer, inner), gaps=pair)


def _rounds(piece: str, flat: Flat) -> Iterator[BlankFact]:
    for wrap in flat.wraps:
        if wrap.band == piece:
            yield BlankFact("round-flap" if wrap.lap else "round", (wrap.length, wrap.girth), names=(wrap.other,))


def _slides(piece: str, flat: Flat) -> Iterator[BlankFact]:
    for slide in flat.slides:
        if slide.piece == piece and slide.travel:
            yield BlankFact("slides-along", (slide.travel,), names=(slide.under,))
        elif slide.piece == piece:
            yield BlankFact("slides", (), names=(slide.under,))


def _woven(piece: str, flat: Flat) -> Iterator[BlankFact]:
    """A weave is told once, of its loose strips; how far they stand out, of each set."""
    for weave in flat.weaves:
        one, other = (weave.one, weave.other) if weave.one.size else (weave.other, weave.one)
        if piece == one.piece:
            count, names = len(one.widths), (other.piece,)
            if one.size is None:
                yield BlankFact("woven-sheets", (), count, names=names, others=len(other.widths))
            elif other.size is None:
                yield BlankFact("woven-through", one.size[:1], count, names=names, others=len(other.widths) - 1)
            elif weave.mat:
                lengths = (one.size[0], *weave.mat)
                yield BlankFact("woven", lengths, count, names=names, others=len(other.widths))
        if piece in weave.pieces:
            yield from (BlankFact("woven-ends", (end,)) for name, end in weave.ends if name == piece)
