"""From the readings of a sample to the likeliest blank behind them, and how sure that is."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from math import ceil, exp
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import UNIT
from foldwright.begin.recover.contradiction import Contradiction, contradiction_in
from foldwright.begin.recover.model import RulerReading, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.near import unmeasured
from foldwright.begin.recover.weighing import WeighedSample, weigh
from foldwright.finding import Finding, Strength
from foldwright.measure.length import Length, System
from foldwright.measure.plainness import MARKS

MOST_READINGS = 300
"""More numbers than these are not weighed at once: it would take longer than anybody waits."""
SURE = 0.9
"""An answer that is so likely leaves little doubt: only another blank at least `_WORTH_TELLING` times as likely is
told."""
_WORTH_TELLING, _RIVAL = 1 / 8, 1 / 100
"""Where there is more doubt, one that is at least so likely by itself."""
_PLAIN_SLIP = 0.75
"""A slip is left out if it is this likely which reading it is; else the readings contradict each other."""


class Off(Struct, frozen=True):
    """A reading beside what the answer says there; `by` is signed (above nothing: the answer is longer)."""

    piece: str
    side: SampleSide
    reading: RulerReading
    answer: Length
    by: Length


class Doubt(Struct, frozen=True):
    """A blank that may be the right one as well, how likely (`chance`), and where one more measurement would tell.

    From line `start` to line `end` of a side one answer says `this` and the other `other`.
    """

    chance: float
    piece: str
    side: SampleSide
    start: int
    end: int
    this: Length
    other: Length


class RecoveredPiece(Struct, frozen=True):
    """A piece as recovered: the panels of both its sides, exactly."""

    piece: SamplePiece
    across: tuple[Length, ...]
    down: tuple[Length, ...]

    def row(self, side: str) -> tuple[Length, ...]:
        """The panels of a side (`across` or `down`)."""
        return self.across if side == "across" else self.down


class Recovered(Struct, frozen=True):
    """The answer, and how likely it is: of so many answers told with this `chance`, so many are right.

    `elsewhere` is how likely the maker worked in the other system of units; `zero` and `fold` (mm) are how far the
    nought of the ruler is off and what each fold takes, where the readings say so.
    """

    system: System
    pieces: tuple[RecoveredPiece, ...]
    chance: float
    elsewhere: float
    offs: tuple[Off, ...]
    doubt: Doubt | None
    zero: float
    fold: float


class Recovery(Struct, frozen=True):
    """`recovered` is None when the readings do not say enough, or contradict each other.

    They may then still be explained if each could be off by more: `nearest` is that, `read_to` by how much, and `sides`
    (piece and side) which of them would have to give way.
    """

    recovered: Recovered | None
    findings: tuple[Finding, ...]
    nearest: Recovered | None = None
    read_to: Length | None = None
    sides: tuple[tuple[str, str], ...] = ()


def recover(sample: Sample) -> Recovery:
    """The likeliest blanks behind a sample's readings, or why nobody can tell."""
    numbered = [(piece, side) for piece in sample.pieces for side in piece.sides]
    findings = [*_too_many(sample), *(finding for piece, side in numbered for finding in _unmeasured(piece, side))]
    if findings:
        return Recovery(None, tuple(findings))
    answer = _answer(sample)
    contradictions: dict[int, Contradiction] = {}
    for number, (piece, side) in enumerate(numbered):
        slips = answer.best.slips(answer.best.likeliest, number)
        found = contradiction_in(side.count, side.readings) if slips else None
        if found is None or _plain(answer.best, number, slips):
            findings += _slips(answer, number, piece, slips)
        else:
            contradictions[number] = found
            findings.append(_contradicting(found, piece, side))
    if not contradictions:
        return Recovery(_recovered(sample, answer), tuple(findings))
    wide = tuple((numbered[at][0].name, numbered[at][1].side) for at in contradictions)
    read_to = _how_wide([(numbered[at][1], found) for at, found in contradictions.items()])
    wider = given_way(sample, wide, read_to)
    return Recovery(None, tuple(findings), _recovered(wider, _answer(wider)), read_to, wide)


def given_way(sample: Sample, wide: Container[tuple[str, str]], bound: Length) -> Sample:
    """The sample if all readings of some sides (piece and side) may be off by so much."""

    def wider(piece: SamplePiece, side: SampleSide) -> SampleSide:
        if (piece.name, side.side) not in wide:
            return side
        return replace(side, readings=tuple(replace(one, bound=max(one.bound, bound)) for one in side.readings))

    pieces = (replace(one, sides=(wider(one, one.sides[0]), wider(one, one.sides[1]))) for one in sample.pieces)
    return replace(sample, pieces=tuple(pieces))


def _too_many(sample: Sample) -> Iterator[Finding]:
    readings = [reading for piece in sample.pieces for side in piece.sides for reading in side.readings]
    for first in readings[MOST_READINGS : MOST_READINGS + 1]:
        yield Finding.of("too-many-readings", Strength.FAULT, first.place, count=len(readings), most=MOST_READINGS)


def _unmeasured(piece: SamplePiece, side: SampleSide) -> Iterator[Finding]:
    """The first panel that no reading says anything about."""
    for panel in unmeasured(side.count, side.readings)[:1]:
        name = side.names[panel - 1] or str(panel)
        facts = {"piece": piece.name, "side": side.side, "panel": name, "count": side.count}
        yield Finding.of("not-measured", Strength.FAULT, side.place, **facts)


# --- slips and contradictions -----------------------------------------------------------------------------------------


def _plain(weighed: WeighedSample, number: int, slips: Sequence[int]) -> bool:
    """Whether it is plain which readings of a side are the slips: most of the likely blanks agree about it."""
    best = weighed.likeliest
    ways = [(*best[:number], row, *best[number + 1 :]) for row in weighed.orders[number]]
    chances = [(weighed.together(rows), weighed.slips(rows, number) == slips) for rows in ways]
    return sum(chance for chance, same in chances if same) >= _PLAIN_SLIP * sum(chance for chance, _ in chances)


def _slips(answer: _Answer, number: int, piece: SamplePiece, slips: Sequence[int]) -> Iterator[Finding]:
    side = answer.best.sides[number].side
    row = answer.best.panels(answer.best.likeliest)[number]
    for at in slips:
        slip = side.readings[at]
        mm = sum(row[slip.start : slip.end], Fraction(0))
        low, high = (_shown(mm + way * slip.bound.mm, slip) for way in (-1, 1))
        facts: dict[str, object] = {"piece": piece.name, "side": side.side, "said": slip.length}
        yield Finding.of("reading-cannot-belong", Strength.MISFIT, slip.place, **facts, low=low, high=high)


def _shown(mm: Fraction, like: RulerReading) -> Length:
    """A bound on a mark of the reading's own ruler."""
    mark = MARKS[like.length.unit.system][-1].mm
    return Length(round(mm / mark) * mark, like.length.unit)


def _contradicting(found: Contradiction, piece: SamplePiece, side: SampleSide) -> Finding:
    said = tuple(reading.said for reading in found.suspects)
    facts: dict[str, object] = {"piece": piece.name, "side": side.side, "readings": said}
    return Finding.of("readings-contradict", Strength.FAULT, found.suspects[-1].place, **facts)


def _how_wide(contradictions: Sequence[tuple[SampleSide, Contradiction]]) -> Length:
    """By how much readings must be off to contradict each other no longer: the least whole mark of a ruler."""
    first = contradictions[0][0].readings[0]
    mark = MARKS[first.length.unit.system][-1].mm
    times = max(found.times for _, found in contradictions)
    return Length(ceil(times * first.bound.mm / mark) * mark, first.length.unit)


# --- the answer -------------------------------------------------------------------------------------------------------


class _Answer(NamedTuple):
    """The blanks of both systems as they were weighed, the likelier system first; `whole` is the chance of everything
    that was read, as a part of the exponential of `scale`."""

    best: WeighedSample
    other: WeighedSample | None
    whole: float
    scale: float

    def chance(self, weighed: WeighedSample, rows: Sequence[int]) -> float:
        """How likely a blank is."""
        return weighed.together(rows) * exp(weighed.scale - self.scale) / self.whole


def _answer(sample: Sample) -> _Answer:
    both = [weighed for system in System if (weighed := weigh(sample, system))]
    scale = max(weighed.scale for weighed in both)
    whole = sum(weighed.chance * exp(weighed.scale - scale) for weighed in both)
    both.sort(key=lambda weighed: -weighed.together(weighed.likeliest) * exp(weighed.scale - scale))
    return _Answer(both[0], both[1] if len(both) > 1 else None, whole, scale)


def _recovered(sample: Sample, answer: _Answer) -> Recovered:
    best = answer.best
    unit = UNIT[best.system]
    rows = [tuple(Length(mm, unit) for mm in row) for row in best.panels(best.likeliest)]
    sides = [_without_slips(best, number) for number in range(len(best.sides))]
    pieces = tuple(
        RecoveredPiece(replace(piece, sides=(sides[2 * at], sides[2 * at + 1])), rows[2 * at], rows[2 * at + 1])
        for at, piece in enumerate(sample.pieces)
    )
    chance = answer.chance(best, best.likeliest)
    other = answer.other
    elsewhere = other.chance * exp(other.scale - answer.scale) / answer.whole if other else 0.0
    doubt = _doubt(sample, answer, chance)
    return Recovered(best.system, pieces, chance, elsewhere, tuple(_offs(pieces)), doubt, *best.ruler(best.likeliest))


def _without_slips(weighed: WeighedSample, number: int) -> SampleSide:
    side = weighed.sides[number].side
    slips = weighed.slips(weighed.likeliest, number)
    return replace(side, readings=tuple(one for at, one in enumerate(side.readings) if at not in slips))


def _offs(pieces: Sequence[RecoveredPiece]) -> Iterator[Off]:
    for known in pieces:
        for side in known.piece.sides:
            for reading in side.readings:
                first, *rest = known.row(side.side)[reading.start : reading.end]
                answer = sum(rest, start=first)
                by = Length(answer.mm - reading.length.mm, reading.length.unit)
                yield Off(known.piece.name, side, reading, answer, by)


def _doubt(sample: Sample, answer: _Answer, chance: float) -> Doubt | None:
    """The likeliest other blank, if it is likely enough to be told: in the same system, or the likeliest in the
    other."""
    best = answer.best
    rivals = [(answer.chance(best, rows), best, rows) for rows in best.others(best.likeliest)]
    if answer.other:
        rivals.append((answer.chance(answer.other, answer.other.likeliest), answer.other, answer.other.likeliest))
    own = best.panels(best.likeliest)
    for other, weighed, rows in sorted(rivals, key=lambda rival: -rival[0]):
        panels = weighed.panels(rows)
        if other < (_WORTH_TELLING * chance if chance >= SURE else _RIVAL):
            return None
        if panels != own:
            return _farthest_apart(sample, own, panels, (best.system, weighed.system), other)
    return None


def _farthest_apart(
    sample: Sample,
    own: Sequence[tuple[Fraction, ...]],
    others: Sequence[tuple[Fraction, ...]],
    systems: tuple[System, System],
    chance: float,
) -> Doubt:
    """Between which two lines the answers differ most; a single panel where that tells as much."""
    spans = [
        (abs(one - two), start - end, -number, start, end, one, two)
        for number, (this, other) in enumerate(zip(own, others, strict=True))
        for start, end in combinations(range(len(this) + 1), 2)
        for one, two in [(sum(this[start:end], Fraction(0)), sum(other[start:end], Fraction(0)))]
    ]
    *_, number, start, end, one, two = max(spans)
    piece = sample.pieces[-number // 2]
    lengths = (Length(mm, UNIT[system]) for mm, system in zip((one, two), systems, strict=True))
    return Doubt(chance, piece.name, piece.sides[-number % 2], start, end, *lengths)
