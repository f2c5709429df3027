"""From the readings of a sample to the plainest blanks that explain them, and how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import combinations
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from foldwright.begin.draft.model import UNIT
from foldwright.begin.recover.bounds import Bounds, Conflict, bounds_of, conflict_in, unmeasured
from foldwright.begin.recover.model import RulerReading, Sample, SamplePiece, SampleSide
from foldwright.begin.recover.search import CLOSE, PanelChoice, PlainestBlank, plainest
from foldwright.finding import Finding, Strength
from foldwright.measure.length import Length, System
from foldwright.measure.plainness import MARKS

OTHER_SYSTEM = Fraction(5)
"""The points of a maker who works in the other unit system than whoever measures: one in thirty (a reasoned guess)."""


class Off(Struct, frozen=True):
    """A reading beside what the answer says there; `by` is signed (above nothing: the answer is longer)."""

    piece: str
    side: SampleSide
    reading: RulerReading
    answer: Length
    by: Length


class Doubt(Struct, frozen=True):
    """A blank that is nearly as plain, by `more` points, and where one more measurement would tell them apart.

    From line `start` to line `end` of a side one answer says `this` and the other `other`.
    """

    more: Fraction
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
    """The answer. `against` is what the plainest blanks in the other unit system cost more (None: there are none).

    `proven` is whether every blank was looked at.
    """

    system: System
    pieces: tuple[RecoveredPiece, ...]
    points: Fraction
    against: Fraction | None
    offs: tuple[Off, ...]
    doubt: Doubt | None
    proven: bool = True


class Recovery(Struct, frozen=True):
    """`recovered` is None when the readings do not say enough, or contradict each other.

    They may then still be explained if each could be off by more: `nearest` is that, and `read_to` by how much.
    """

    recovered: Recovered | None
    findings: tuple[Finding, ...]
    nearest: Recovered | None = None
    read_to: Length | None = None


def recover(sample: Sample) -> Recovery:
    """The plainest blanks that explain a sample's readings, or why there are none."""
    findings: list[Finding] = []
    pieces: list[SamplePiece] = []
    widest = Fraction(1)
    for piece in sample.pieces:
        sides = []
        for side in piece.sides:
            conflict = conflict_in(side.count, side.readings)
            findings += _unmeasured(piece, side) if conflict is None else _told(conflict, piece, side)
            if conflict is not None and not conflict.slips:
                widest = max(widest, conflict.times)
            slips = conflict.slips if conflict else ()
            sides.append(replace(side, readings=tuple(one for one in side.readings if one not in slips)))
        pieces.append(replace(piece, sides=(sides[0], sides[1])))
    sample = replace(sample, pieces=tuple(pieces))
    wrong = any(finding.strength is Strength.FAULT for finding in findings)
    if not wrong and widest == 1:
        found = _recovered(sample)
        if found is not None:
            return Recovery(found, tuple(findings))
        findings.append(Finding.of("no-plain-blank", Strength.FAULT, sample.pieces[0].place))
    if any(finding.code == "not-measured" for finding in findings):
        return Recovery(None, tuple(findings))
    nearest, read_to = _widened(sample, widest)
    return Recovery(None, tuple(findings), nearest, read_to)


def _unmeasured(piece: SamplePiece, side: SampleSide) -> Iterator[Finding]:
    """The first panel that no reading says anything about."""
    for panel in unmeasured(side.count, side.readings)[:1]:
        name = side.names[panel - 1] or str(panel)
        facts = {"piece": piece.name, "side": side.side, "panel": name, "count": side.count}
        yield Finding.of("not-measured", Strength.FAULT, side.place, **facts)


def _told(conflict: Conflict, piece: SamplePiece, side: SampleSide) -> Iterator[Finding]:
    facts: dict[str, object] = {"piece": piece.name, "side": side.side}
    if conflict.slips:
        rest = bounds_of(side.count, [one for one in side.readings if one not in conflict.slips])
        assert rest is not None
        for slip in conflict.slips:
            low, high = (_shown(mm, slip) for mm in (rest.low(slip.start, slip.end), rest.high(slip.start, slip.end)))
            yield Finding.of(
                "reading-cannot-belong", Strength.MISFIT, slip.place, **facts, said=slip.length, low=low, high=high
            )
        return
    said = tuple(reading.said for reading in conflict.suspects)
    yield Finding.of("readings-contradict", Strength.FAULT, conflict.suspects[-1].place, **facts, readings=said)


def _shown(mm: Fraction | None, like: RulerReading) -> Length:
    """A bound on a mark of the reading's own ruler."""
    mark = MARKS[like.length.unit.system][-1].mm
    return Length(round((mm or Fraction(0)) / mark) * mark, like.length.unit)


def _widened(sample: Sample, times: Fraction) -> tuple[Recovered | None, Length | None]:
    """The answer if every reading might be off by more: the least whole mark of a ruler at which there is one."""
    first = sample.pieces[0].sides[0].readings[0]
    mark = MARKS[first.length.unit.system][-1].mm
    for _ in range(8):
        wide = ceil(times * first.bound.mm / mark) * mark
        factor = wide / first.bound.mm
        found = _recovered(_with_bounds(sample, factor))
        if found is not None:
            return found, Length(wide, first.length.unit)
        times = factor * 2
    return None, None


def _with_bounds(sample: Sample, times: Fraction) -> Sample:
    def wider(side: SampleSide) -> SampleSide:
        return replace(side, readings=tuple(replace(one, bound=one.bound * times) for one in side.readings))

    pieces = (replace(piece, sides=tuple(map(wider, piece.sides))) for piece in sample.pieces)
    return replace(sample, pieces=tuple(pieces))


# --- the two systems ------------------------------------------------------------------------------------------------


class _InSystem(Struct, frozen=True):
    """The plainest blanks of all pieces in one system, and what they cost together."""

    system: System
    found: tuple[tuple[PlainestBlank, PanelChoice], ...]
    points: Fraction


def _recovered(sample: Sample) -> Recovered | None:
    bounds: list[tuple[Bounds, Bounds]] = []
    for piece in sample.pieces:
        across, down = (bounds_of(side.count, side.readings) for side in piece.sides)
        if across is None or down is None:
            return None
        bounds.append((across, down))
    answers = [answer for system in System if (answer := _in_system(sample, bounds, system))]
    if not answers:
        return None
    best, other = (*sorted(answers, key=lambda answer: answer.points), None)[:2]
    assert best is not None
    unit = UNIT[best.system]
    pieces = tuple(
        RecoveredPiece(piece, *(tuple(Length(mm, unit) for mm in row) for row in blank.panels))
        for piece, (_, blank) in zip(sample.pieces, best.found, strict=True)
    )
    proven = all(found.proven for found, _ in best.found)
    against = other.points - best.points if other else None
    offs = tuple(_offs(pieces))
    return Recovered(best.system, pieces, best.points, against, offs, _doubt(sample, best, other), proven)


def _in_system(sample: Sample, bounds: Sequence[tuple[Bounds, Bounds]], system: System) -> _InSystem | None:
    points = OTHER_SYSTEM * (1 - sample.share_in(system))
    all_found: list[tuple[PlainestBlank, PanelChoice]] = []
    for piece, between in zip(sample.pieces, bounds, strict=True):
        found = plainest(piece, between, system)
        if found.best is None:
            return None
        all_found.append((found, found.best))
        points += found.best.points
    return _InSystem(system, tuple(all_found), points)


def _offs(pieces: Sequence[RecoveredPiece]) -> Iterator[Off]:
    for known in pieces:
        for side in known.piece.sides:
            for reading in side.readings:
                first, *rest = known.row(side.side)[reading.start : reading.end]
                answer = sum(rest, start=first)
                by = Length(answer.mm - reading.length.mm, reading.length.unit)
                yield Off(known.piece.name, side, reading, answer, by)


# --- how sure -------------------------------------------------------------------------------------------------------


def _doubt(sample: Sample, best: _InSystem, other: _InSystem | None) -> Doubt | None:
    """The closest blank that is nearly as plain: of one piece in the same system, or of all in the other."""
    rivals = [
        (found.next_best.points - blank.points, {number: found.next_best}, best.system)
        for number, (found, blank) in enumerate(best.found)
        if found.next_best is not None
    ]
    if other is not None:
        others = {number: blank for number, (_, blank) in enumerate(other.found)}
        rivals.append((other.points - best.points, others, other.system))
    close = sorted((rival for rival in rivals if rival[0] <= CLOSE), key=lambda rival: rival[0])
    apart = (_farthest_apart(sample, best, blanks, system, more) for more, blanks, system in close)
    return next(filter(None, apart), None)


def _farthest_apart(
    sample: Sample, best: _InSystem, blanks: Mapping[int, PanelChoice], system: System, more: Fraction
) -> Doubt | None:
    """Between which two lines the answers differ most; a single panel where that tells as much."""
    found: tuple[tuple[Fraction, int], Doubt] | None = None
    for number, blank in blanks.items():
        for side, (this, other) in enumerate(zip(best.found[number][1].panels, blank.panels, strict=True)):
            for start, end in combinations(range(len(this) + 1), 2):
                one, two = sum(this[start:end], Fraction(0)), sum(other[start:end], Fraction(0))
                merit = abs(one - two), start - end
                if one != two and (found is None or merit > found[0]):
                    piece = sample.pieces[number]
                    lengths = Length(one, UNIT[best.system]), Length(two, UNIT[system])
                    found = merit, Doubt(more, piece.name, piece.sides[side], start, end, *lengths)
    return found[1] if found else None
