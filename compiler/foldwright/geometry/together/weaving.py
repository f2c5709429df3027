"""Woven strips: two sets that lie over one and under the next, or strips through the cuts of a sheet.

A mat of loose strips is as long each way as the strips of the other set are wide together; its strips reach across it,
and past it by what is said to hang over. Strips that go through cuts are together no wider than the cuts are long.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank, ExactPoint, Opening
from foldwright.geometry.lengths import Ledger, LengthId, Rest, Sum
from foldwright.geometry.together.sliding import slits_of
from foldwright.measure.length import Length
from foldwright.measure.reading import read_length
from foldwright.recipe.model import Piece, Placement, Recipe, Said

_HANGS = re.compile(
    r"(?:hang\w*|stick\w*|stand\w*)?\s*(?:over|out)?\s*(?:by\s+)?(?P<by>[0-9].*?)"
    r"(?:\s+(?:over|out|longer|hang\w*|at|on)\b.*)?",
    re.IGNORECASE,
)
"""`10 mm over at each end`, `hanging over by 10 mm`."""
_WEAVING = "weave"
_RULER = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may differ (half a millimetre or a thirty-second of an inch)."""


class Strips(Struct, frozen=True):
    """Strips side by side: how wide each is and how long all are (mm).

    Those of a sheet with cuts in it hang together: `cut` is where its cuts begin and end along them.
    """

    piece: str
    widths: tuple[Fraction, ...]
    long: Fraction
    cut: tuple[Fraction, Fraction] | None = None
    size: tuple[LengthId, LengthId] | None = None
    """How wide and how long one is, by identity, where they are loose."""
    folded: bool = False
    """Whether the cuts run over a fold, so that each is a loop half as long."""

    @property
    def together(self) -> Fraction:
        return sum(self.widths, Fraction(0))

    @property
    def room(self) -> Fraction:
        """How wide what is woven through them may be: as long as they are."""
        free = self.cut[1] - self.cut[0] if self.cut else self.long
        return free / 2 if self.folded else free

    @property
    def needed(self) -> Fraction:
        """How long what is woven through them has to be: to reach past the outermost cuts, or across loose strips."""
        return self.together - self.widths[0] - self.widths[-1] if self.cut else self.together


class Weave(Struct, frozen=True):
    """Two sets that are woven; `mat` is how far loose ones reach along the first and along the other, by identity.

    `ends` are how far the strips of a set stand out on either side, by its piece.
    """

    one: Strips
    other: Strips
    mat: tuple[LengthId, LengthId] | None = None
    ends: tuple[tuple[str, LengthId], ...] = ()

    @property
    def pieces(self) -> tuple[str, str]:
        return self.one.piece, self.other.piece


def strips_of(blank: Blank) -> Strips:
    """The strips a piece makes: copies of it, or what its straight cuts leave between them."""
    drawn = (line for line in blank.drawn if line.kind == "cut" and line.number and len(line.points) == 2)
    cuts = [*(line.points for line in drawn), *map(_along, slits_of(blank))]
    for axis, wide, long in ((0, blank.width, blank.height), (1, blank.height, blank.width)):
        alike = sorted(points for points in cuts if points[0][axis] == points[1][axis])
        if alike:
            places = sorted({start[axis] for start, _ in alike})
            spans = [sorted(point[1 - axis] for point in points) for points in alike]
            cut = max(span[0] for span in spans), min(span[1] for span in spans)
            widths = tuple(end - start for start, end in pairwise((Fraction(0), *places, wide)))
            return Strips(blank.piece, widths, long, cut, folded=blank.form == "card")
    sides = sorted(((blank.width, "across"), (blank.height, "down")))
    (wide, _), (long, _) = sides
    names = (LengthId(blank.piece, sides[0][1], "size"), LengthId(blank.piece, sides[1][1], "size"))
    return Strips(blank.piece, (wide,) * blank.count, long, None, names)


def _along(slit: Opening) -> tuple[ExactPoint, ExactPoint]:
    """A slit as the cut along its middle."""
    x, y = slit.left + slit.width / 2, slit.top + slit.height / 2
    if slit.width < slit.height:
        return (x, slit.top), (x, slit.top + slit.height)
    return (slit.left, y), (slit.left + slit.width, y)


def check_weaves(recipe: Recipe, blanks: Mapping[str, Blank], ledger: Ledger) -> Iterator[Weave]:
    """Everything that is woven, noted; strips that are too short, or too many for their cuts, told. `blanks` by name in
    small letters."""
    seen: set[frozenset[str]] = set()
    for name, said in _said(recipe):
        own, other = (blanks.get(one.casefold()) for one in (name, said.value.piece))
        if own is None or other is None or own is other or own.doubtful or other.doubtful:
            continue
        names = frozenset((own.piece, other.piece))
        if names not in seen:
            seen.add(names)
            pieces = [one for one in recipe.pieces if one.name.value in names]
            yield _woven((strips_of(own), strips_of(other)), said, pieces, ledger)


def _said(recipe: Recipe) -> Iterator[tuple[str, Said[Placement]]]:
    """What the pieces say, and then what steps do with two of them."""
    for piece in recipe.pieces:
        yield from ((piece.name.value, said) for said in piece.woven_with)
    for step in recipe.steps:
        for doing in step.doings:
            if doing.act == _WEAVING and len(doing.subjects) == 2:
                one, other = doing.subjects
                yield one, Said(Placement("", other), (step.do or step.heading).place)


def _woven(sets: tuple[Strips, Strips], said: Said[Placement], pieces: Sequence[Piece], ledger: Ledger) -> Weave:
    unit = ledger.lengths[LengthId(sets[0].piece, "across", "size")].unit
    over = _hanging_over(sets[0].piece, said, ledger)
    for one, other in (sets, sets[::-1]):
        names = {"piece": one.piece, "other": other.piece}
        if one.cut is None:
            if len(one.widths) == 1 and other.cut is None:
                ledger.misfit("one-strip-to-weave", said.place, **names)
            need = other.needed + 2 * over
            if one.long < need or (other.cut and one.long == need):
                facts = {"long": Length(one.long, unit), "need": Length(need, unit)}
                ledger.misfit("strips-too-short", said.place, **names, **facts)
        if other.cut is not None and one.together > other.room:
            facts = {"wide": Length(one.together, unit), "room": Length(other.room, unit)}
            ledger.misfit("strips-too-wide", said.place, **names, count=len(one.widths), **facts)
    first, second = sets
    if first.size is None or second.size is None:
        return Weave(first, second)
    mat = _noted(first, second, ledger), _noted(second, first, ledger)
    _compare(first, second, pieces, mat, ledger)
    return Weave(first, second, mat, tuple(_ends(sets, mat, ledger)))


def _hanging_over(piece: str, said: Said[Placement], ledger: Ledger) -> Fraction:
    """How far strips are to stand out at either end (mm)."""
    remark = said.value.remark
    match = _HANGS.fullmatch(remark.strip())
    by = read_length(match["by"]) if match else None
    if remark and not isinstance(by, Length):
        ledger.misfit("weaving-unclear", said.place, piece=piece, said=remark)
    return by.mm if isinstance(by, Length) else Fraction(0)


def _noted(along: Strips, other: Strips, ledger: Ledger) -> LengthId:
    """How long the mat is along the strips of one set: as the others are wide together."""
    assert other.size is not None
    name, wide = LengthId(along.piece, "woven", "along", of=other.piece), other.size[0]
    ledger.note(name, Length(other.together, ledger.lengths[wide].unit), wide)
    ledger.relations.append(Sum(name, (wide,) * len(other.widths)))
    return name


def _ends(
    sets: tuple[Strips, Strips], mat: tuple[LengthId, LengthId], ledger: Ledger
) -> Iterator[tuple[str, LengthId]]:
    for one, along in zip(sets, mat, strict=True):
        spare = (one.long - ledger.lengths[along].mm) / 2
        if spare > 0 and one.size is not None:
            name = LengthId(one.piece, "woven", "end", of=along.of)
            ledger.note(name, Length(spare, ledger.lengths[along].unit), along)
            ledger.relations.append(Rest(name, one.size[1], along, 2))
            yield one.piece, name


def _compare(
    one: Strips, other: Strips, pieces: Sequence[Piece], mat: tuple[LengthId, LengthId], ledger: Ledger
) -> None:
    """The finished size, in any order: that of what is woven, or with the ends that stand out."""
    woven = [ledger.lengths[name] for name in mat]
    sizes = [sorted(length.mm for length in woven), sorted((one.long, other.long))]
    for piece in pieces:
        if piece.finished is None:
            continue
        said = sorted(length.mm for length in piece.finished.value.lengths)
        if not any(
            len(said) == 2 and all(abs(a - b) <= _RULER for a, b in zip(said, own, strict=True)) for own in sizes
        ):
            facts = {"across": woven[0], "down": woven[1]}
            ledger.misfit("woven-to-another-size", piece.finished.place, piece=piece.name.value, **facts)
