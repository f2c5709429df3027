"""How a piece lies on a face: lined up, centred, with even borders."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, BlankFace
from foldwright.geometry.flat.panels import faces_meant, tell_no_panel
from foldwright.geometry.flat.silhouettes import footprint
from foldwright.geometry.lengths import Equal, Ledger, LengthId, Sum
from foldwright.measure.length import Length
from foldwright.measure.reading import read_length
from foldwright.measure.unreadable import Unreadable
from foldwright.recipe.model import Placement, Said

_LINED_UP = re.compile(
    r"(?:lined up|flush|level|aligned)?\s*(?P<by>\S.*?)?\s*(?:from|at|with|along|to|above|below)\s+(?:the\s+)?"
    r"(?P<edge>top|bottom|left|right)\b",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r",(?![0-9])|(?<![0-9]),|;|\n|\s+and\s+(?!(?:an?\s+)?(?:[0-9]+/|half|quarter))", re.IGNORECASE)
_EDGES_OF = {"across": ("left", "right"), "down": ("top", "bottom")}
_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
_ZERO = Fraction(0)


class Lying(Struct, frozen=True):
    """How a piece lies on a face: lined up with an edge of a side and how far from it; centred along any other.

    `unclear` are parts in which a number stands that could not be read.
    """

    edges: tuple[tuple[str, Length | None], ...]
    unclear: tuple[str, ...] = ()


@lru_cache(maxsize=1024)
def read_lying(remark: str) -> Lying:
    """The words after a face's name: `centred`, `lined up at the bottom`, `lined up 1/8 in from the left`."""
    edges: list[tuple[str, Length | None]] = []
    unclear: list[str] = []
    for part in _BETWEEN.split(remark):
        for match in _LINED_UP.finditer(part):
            by = (match["by"] or "").casefold().removeprefix("lined up").strip(" ,")
            length = read_length(by) if by else None
            if isinstance(length, Unreadable) and any(character.isdigit() for character in by):
                unclear.append(part.strip())
                continue
            edges.append((match["edge"].lower(), None if isinstance(length, Unreadable) else length))
    return Lying(tuple(edges), tuple(unclear))


def with_distances(remark: str, distances: Mapping[str, str]) -> str:
    """The words after a face's name with other distances from edges, by the edge; all else stays as it is."""

    def anew(match: re.Match[str]) -> str:
        said = re.sub(r"^lined up\b", "", match["by"] or "", flags=re.IGNORECASE).strip(" ,")
        new = distances.get(match["edge"].lower())
        return match[0].replace(said, new, 1) if new and said else match[0]

    parts = re.split(f"({_BETWEEN.pattern})", remark, flags=re.IGNORECASE)
    return "".join(_LINED_UP.sub(anew, part) for part in parts)


def lie_on(
    mat: Blank, placements: Sequence[Said[Placement]], even: bool, blanks: Mapping[str, Blank], ledger: Ledger
) -> None:
    """Borders and overhangs of a piece on the faces it lies on. `even` when its size was given relative to the face.

    Nothing is said of a piece whose author does not say how it lies, unless it is smaller all round by design.
    """
    noted: set[tuple[str, str]] = set()
    for said in placements:
        under = blanks.get(said.value.piece.casefold())
        if under is None or under.doubtful or mat.doubtful:
            continue
        faces = faces_meant(under, said.value.panel)
        if not faces:
            tell_no_panel(under, said.value.panel, said.place, ledger)
            continue
        if not said.value.remark and not even and not mat.turned_in:
            continue
        lying = read_lying(said.value.remark)
        if lying.unclear:
            ledger.misfit("lying-unclear", said.place, piece=mat.piece, said=lying.unclear[0])
            continue
        for face in faces:
            _note_borders(mat, under.piece, face, lying, noted, ledger)


def _note_borders(
    mat: Blank, under: str, face: BlankFace, lying: Lying, noted: set[tuple[str, str]], ledger: Ledger
) -> None:
    own = footprint(mat)
    evens: list[LengthId] = []
    for side, below, above, room in (
        ("across", face.across, own.across, face.wide - own.wide),
        ("down", face.down, own.down, face.high - own.high),
    ):
        if (below.side + below.place, side) in noted or above not in ledger.lengths:
            continue
        noted.add((below.side + below.place, side))
        edge = next((edge for edge in lying.edges if edge[0] in _EDGES_OF[side]), None)
        if edge is not None:
            _lined_up(LengthId(mat.piece, "border", edge[0], of=under), below, above, room, edge[1], ledger)
            continue
        beyond = "turn-in" if mat.turned_in else "overhang"
        border = _centred(LengthId(mat.piece, "border", side, of=under), below, above, room, ledger, beyond)
        if border is not None:
            evens.append(border)
    if len(evens) == 2 and ledger.lengths[evens[0]].mm == ledger.lengths[evens[1]].mm:
        ledger.relations.append(Equal(evens[0], evens[1]))


def _centred(
    border: LengthId, below: LengthId, above: LengthId, room: Fraction, ledger: Ledger, beyond: str
) -> LengthId | None:
    """The same border at both ends, or the same length `beyond` them; returns the border."""
    if not room:
        ledger.relations.append(Equal(below, above))
        return None
    unit = ledger.lengths[above].unit
    if room < 0:
        name = replace(border, side=beyond)
        ledger.note(name, Length(-room / 2, unit), below, above)
        ledger.relations.append(Sum(above, (name, below, name), held=True))
        return None
    if ledger.note(border, Length(room / 2, unit), below, above).mm != room / 2:
        return None
    ledger.relations.append(Sum(below, (border, above, border), held=True))
    return border


def _lined_up(
    border: LengthId, below: LengthId, above: LengthId, room: Fraction, said: Length | None, ledger: Ledger
) -> None:
    """Nothing (or the said length) at one edge, what is left at the other."""
    beyond = replace(border, place=_OPPOSITE[border.place])
    unit = ledger.lengths[above].unit
    offset = said.mm if said else _ZERO
    rest = room - offset
    if said is not None and offset > 0:
        ledger.lengths.setdefault(border, said)
    parts = ((border,) if offset > 0 else ()) + (above,)
    if rest > 0:
        ledger.note(beyond, Length(rest, unit), below, above)
        ledger.relations.append(Sum(below, (*parts, beyond), held=True))
    elif rest == 0:
        ledger.relations.append(Sum(below, parts, held=True))
    elif not offset:
        overhang = replace(beyond, side="overhang")
        ledger.note(overhang, Length(-rest, unit), below, above)
        ledger.relations.append(Sum(above, (below, overhang), held=True))
