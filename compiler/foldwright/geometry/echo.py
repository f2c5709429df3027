"""What was understood of a piece, said back as facts: its cuts and scores, flaps, holes, borders and gaps.

"Four cuts, 3/4 in long, from the left and right edges, in line with the scores at 1 3/4 and 2 1/2 in" is one fact.
Every length is named by identity, so that a sheet can word the fact in either unit system.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from foldwright.geometry.blank import Blank
from foldwright.geometry.flat import Flat
from foldwright.geometry.lengths import LengthId

_BORDER, _OVERHANG = "border on ", "overhang on "


class Echo(Struct, frozen=True):
    """One fact. What the fields hold depends on `code`:

    - `cut`: `lengths` the size across and down, `count` how many;
    - `circle`: `lengths` the diameter, `count` how many;
    - `scores`: `lengths` their distances from the `edges` (left or top), `count` how many;
    - `flap-cuts`: `count` cuts, as long as `lengths` (one, or one for each edge), from the `edges`, in line with the
      scores at `along`; `names` are the panels the flaps stay joined to;
    - `flaps-trimmed`: `lengths` what is taken off each free edge;
    - `corners-away`: `count` corners;
    - `hole`: `names` its shape and the panel it was measured on (may be empty), `lengths` its size, `along` its
      distances from the `edges`;
    - `border`, `overhang`: `lengths` on the piece in `names`, each at its `edges` (across and down when centred);
    - `gap`: `lengths` the outer and the inner one, `names` the pieces they belong to.
    """

    code: str
    lengths: tuple[LengthId, ...]
    count: int = 1
    edges: tuple[str, ...] = ()
    along: tuple[LengthId, ...] = ()
    names: tuple[str, ...] = ()


def echo(blank: Blank, flat: Flat) -> tuple[Echo, ...]:
    """Everything understood of one piece, in the order it would be worked."""
    return (
        *_cuts_and_scores(blank),
        *_flaps(blank, flat),
        *_holes(blank),
        *_borders(blank.piece, flat),
        *_gaps(blank.piece, flat),
    )


def _cuts_and_scores(blank: Blank) -> Iterator[Echo]:
    across, down = LengthId(blank.piece, "across", "size"), LengthId(blank.piece, "down", "size")
    if blank.round:
        yield Echo("circle", (across,), blank.count)
    else:
        yield Echo("cut", (across, down), blank.count)
    for side, edge, strips in (("down", "top", blank.down), ("across", "left", blank.across)):
        if len(strips) > 1:
            yield Echo("scores", _scores(blank, side), len(strips) - 1, (edge,))


def _scores(blank: Blank, side: str) -> tuple[LengthId, ...]:
    strips = blank.across if side == "across" else blank.down
    return tuple(LengthId(blank.piece, side, f"score {number}") for number in range(1, len(strips)))


def _flaps(blank: Blank, flat: Flat) -> Iterator[Echo]:
    if blank.corners_removed:
        yield Echo("corners-away", (), 4)
    if not blank.flap_cuts:
        return
    joined_down = blank.flap_side == "down"
    ends = blank.across if joined_down else blank.down
    first, last = ends[0].length, ends[-1].length
    known = flat.lengths.by_id
    lengths = (first,) if known[first].mm == known[last].mm else (first, last)
    edges = ("left", "right") if joined_down else ("top", "bottom")
    along = _scores(blank, blank.flap_side)
    yield Echo("flap-cuts", lengths, len(blank.flap_cuts), edges, along, blank.flaps_joined)
    if blank.flap_trim:
        yield Echo("flaps-trimmed", (blank.flap_trim,), len(blank.flap_cuts))


def _holes(blank: Blank) -> Iterator[Echo]:
    for opening in blank.openings:
        edges = tuple(offset.edge for offset in opening.offsets)
        along = tuple(offset.length for offset in opening.offsets)
        yield Echo("hole", opening.sizes, 1, edges, along, (opening.shape, opening.panel))


def _borders(piece: str, flat: Flat) -> Iterator[Echo]:
    found: dict[tuple[str, str], list[LengthId]] = {}
    for name in flat.lengths.by_id:
        if name.piece != piece:
            continue
        for code, opening in (("border", _BORDER), ("overhang", _OVERHANG)):
            if name.side.startswith(opening):
                found.setdefault((code, name.side.removeprefix(opening)), []).append(name)
    for (code, under), names in found.items():
        yield Echo(code, tuple(names), len(names), tuple(name.place for name in names), names=(under,))


def _gaps(piece: str, flat: Flat) -> Iterator[Echo]:
    for gap in flat.gaps:
        if piece in (gap.outer.piece, gap.inner.piece):
            yield Echo("gap", (gap.outer, gap.inner), names=(gap.outer.piece, gap.inner.piece))
