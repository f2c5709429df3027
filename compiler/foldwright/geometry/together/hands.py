"""Hands are not machines: which joints still work when every cut and score is a little off.

Every score and cut edge lies somewhere within the error on either side of where it should, all places there equally
likely and each independent of the others. A length between two of them is off by the difference of two such errors: up
to twice the error, the middle likelier than the ends (the triangular distribution). What was bought has no such error.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.forms.sided import SIDES_OF_TRAYS
from foldwright.geometry.together.mating import Gap
from foldwright.measure.length import Length, System, Unit

ERROR = {System.METRIC: Fraction(1, 2), System.IMPERIAL: Unit.INCH.mm / 32}
"""Half a millimetre, a thirty-second of an inch (common practice, no source)."""
_STEP = {System.METRIC: Fraction(1, 2), System.IMPERIAL: Unit.INCH.mm / 32}
"""What a gap that is too small is widened by: whole steps of a ruler."""
_MADE = 20_000
"""How many are made in thought; the share of a hundred is then right to half a one."""
_SEED = 1


class Chance(Struct, frozen=True):
    """Of a hundred made by hand, `share` go together; `more` added to the gap and all do (None when all do as it is).

    `outer` and `inner` name what goes over or into what, `how` is `over` or `into`.
    """

    outer: str
    inner: str
    how: str
    share: int
    more: Length | None
    estimated: bool


def chances_of(
    gaps: Sequence[Gap], blanks: Sequence[Blank], system: System, error: Fraction | None
) -> tuple[Chance, ...]:
    """How sure each pair is to go together, but for those that cannot anyhow; `gaps` come in pairs, across and down."""
    made_by_hand = {blank.piece for blank in blanks}
    off = ERROR[system] if error is None else error
    found: list[Chance] = []
    for one, other in zip(gaps[::2], gaps[1::2], strict=True):
        pair = (one, other)
        rooms = [gap.with_card.mm if gap.with_card else gap.between_scores.mm for gap in pair]
        if min(rooms) <= 0:
            continue
        # Two scores of each piece that is made by hand take part in every direction.
        edges = sum(2 for name in (one.outer.piece, one.inner.piece) if name in made_by_hand)
        missing = max(edges * off - room for room in rooms)
        unit = Unit.INCH if system is System.IMPERIAL else Unit.MILLIMETRE
        more = None if missing <= 0 else Length(-(-missing // _STEP[system]) * _STEP[system], unit)
        forms = {blank.form for blank in blanks if blank.piece in (one.outer.piece, one.inner.piece)}
        # A hexagon goes over another in three directions, an octagon in four, all alike.
        sided = [SIDES_OF_TRAYS.get(form, 0) for form in forms]
        tried = rooms[:1] * (sided[0] // 2) if len(sided) == 1 and sided[0] else rooms
        share = 100 if more is None else _share(tuple(float(room) for room in tried), edges, float(off))
        found.append(Chance(one.outer.piece, one.inner.piece, one.how, share, more, one.estimated))
    return tuple(found)


@lru_cache(maxsize=256)
def _share(rooms: tuple[float, ...], edges: int, off: float) -> int:
    """The part of a hundred whose errors, in both directions, take no more than the room; the same every time."""
    # A piece that goes with another is folded, so that shapely has brought numpy anyway.
    from numpy.random import default_rng

    errors = default_rng(_SEED).uniform(-off, off, (_MADE, len(rooms), edges)).sum(axis=2)
    work = int((errors <= list(rooms)).all(axis=1).sum())
    # Never "100 of 100" where it is not certain.
    return min(99, int(100 * work / _MADE))
