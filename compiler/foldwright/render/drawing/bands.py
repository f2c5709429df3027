"""The dimensions along one side of a picture, in tiers outward from the piece.

A band is laid out in its own coordinates: `along` the side, and `out` from the edge of the piece. All in millimetres of
the finished picture.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.geometry.lengths import LengthId
from foldwright.render.drawing.label import EITHER, LINE_HEIGHT, Label, label_of

_GAP = 0.45
"""Between the piece and the first tier, and between tiers, in ems."""
_AROUND = 0.3
"""Kept free on either side of a label that stands in its dimension line (half of it above and below one)."""
_STUB = 0.3
"""The least length of dimension line that must show on either side of such a label."""
_OVERSHOOT = 0.32
_APART = 0.35
"""Between labels of one row."""
_LEAST_RUN = 3
"""So many equal panels in a row may share one label when they are too narrow for one each."""

_LONG_RUN = 6
"""So many share one however wide they are."""

type Segment = tuple[float, float, float, float]
"""From (along, out) to (along, out)."""


class ShownSpan(Struct, eq=False):
    """A length to show: where it begins and ends along the side, and how far inside the piece it is measured."""

    low: float
    high: float
    label: Label
    doubtful: bool = False
    deep_low: float = 0.0
    deep_high: float = 0.0
    rank: int = 0
    """Spans of a higher rank stand nearer the piece, in tiers of their own."""
    marks: tuple[float, ...] = ()
    """Inner ticks, where several equal spans share a label."""
    rhythm: str = ""
    """How several alike in a row are told as one, with `{length}` and `{count}` in their places."""
    lengths: tuple[LengthId, ...] = ()
    """Which it shows."""


class RunningPlace(Struct):
    """A place with its distance from where all of them are measured: the figure stands at it, across the band."""

    at: float
    origin: float
    label: Label
    lengths: tuple[LengthId, ...] = ()


class Pointer(Struct):
    """A name or size that found no room on the piece: it stands outside, a leader runs to `deep` inside."""

    at: float
    deep: float
    label: Label
    style: str
    scale: float = 1.0
    lengths: tuple[LengthId, ...] = ()


class BandText(Struct):
    """A label placed: its middle, its extents, its type size as a part of the picture's."""

    along: float
    out: float
    length: float
    breadth: float
    label: Label
    style: str
    scale: float = 1.0
    across: bool = False
    """Whether it stands across the band, whichever way the others stand."""
    lengths: tuple[LengthId, ...] = ()


class Band(Struct):
    """One side, placed. `thickness` is the room it takes; `low` and `high` the labels' reach along the side."""

    texts: list[BandText] = field(default_factory=list)
    extensions: list[Segment] = field(default_factory=list)
    lines: list[Segment] = field(default_factory=list)
    doubtful_lines: list[Segment] = field(default_factory=list)
    ticks: list[tuple[float, float]] = field(default_factory=list)
    dots: list[tuple[float, float]] = field(default_factory=list)
    thickness: float = 0.0
    low: float = 0.0
    high: float = 0.0


class LabelMeasure(Struct, frozen=True):
    """How labels are measured in a band: the type size, whether they stand across the band (upright beside the piece),
    and the bounds along the side that labels must keep."""

    size: float
    upright: bool
    low: float
    high: float
    shrinks: bool = True
    """Whether a label longer than the side may be set smaller; else it runs over."""

    def length(self, label: Label, scale: float = 1.0) -> float:
        """Along the band."""
        return (label.height if self.upright else label.width) * self.size * scale

    def breadth(self, label: Label, scale: float = 1.0) -> float:
        """Across the band."""
        return (label.width if self.upright else label.height) * self.size * scale


def place_band(
    spans: Sequence[ShownSpan],
    pointers: Sequence[Pointer],
    measure: LabelMeasure,
    start: float = 0.0,
    running: Sequence[RunningPlace] = (),
) -> Band:
    """Pointers nearest the piece, then running places, then spans, the higher ranks first.

    `start` keeps that much free at the piece.
    """
    band = Band(low=measure.high, high=measure.low)
    out = start
    if pointers:
        out = _place_pointers(pointers, measure, band, out)
    if running:
        out = _place_running(running, measure, band, out)
    for tier in _tiers(spans):
        out = _place_tier(tier, measure, band, out)
    band.thickness = out
    for text in band.texts:
        band.low = min(band.low, text.along - text.length / 2)
        band.high = max(band.high, text.along + text.length / 2)
    return band


def _tiers(spans: Sequence[ShownSpan]) -> list[list[ShownSpan]]:
    """Higher ranks and shorter spans nearer the piece; spans of one tier share a rank and do not overlap."""
    tiers: list[list[ShownSpan]] = []
    for span in sorted(spans, key=lambda span: (-span.rank, round(span.high - span.low, 6), span.low)):
        for tier in tiers:
            if tier[0].rank == span.rank and all(
                span.high <= other.low + 1e-6 or span.low >= other.high - 1e-6 for other in tier
            ):
                tier.append(span)
                break
        else:
            tiers.append([span])
    for tier in tiers:
        tier.sort(key=lambda span: span.low)
    return tiers


def _place_tier(tier: list[ShownSpan], measure: LabelMeasure, band: Band, out: float) -> float:
    size = measure.size
    around = _AROUND * size * (0.4 if measure.upright else 1.0)
    room = 2 * around + 2 * _STUB * size
    tier = _share_labels(tier, measure, room)
    inside = [span for span in tier if measure.length(span.label) + room <= span.high - span.low]
    # The line itself wants half a line of type, so that ticks stay clear of what is nearer the piece.
    breadth = max([measure.breadth(span.label) for span in inside], default=0.6 * size)
    line = out + _GAP * size + breadth / 2
    over = line + _OVERSHOOT * size
    for span in tier:
        lines = band.doubtful_lines if span.doubtful else band.lines
        if span in inside:
            middle, length = (span.low + span.high) / 2, measure.length(span.label)
            half = length / 2 + around
            lines += [(span.low, line, middle - half, line), (middle + half, line, span.high, line)]
            style = "doubt" if span.doubtful else "dim"
            breadth_of = measure.breadth(span.label)
            band.texts.append(BandText(middle, line, length, breadth_of, span.label, style, lengths=span.lengths))
            marks = [mark for mark in span.marks if abs(mark - middle) > half]
        else:
            lines.append((span.low, line, span.high, line))
            marks = list(span.marks)
        band.ticks += [(span.low, line), (span.high, line), *((mark, line) for mark in marks)]
        gap = 0.25 * size
        band.extensions += [
            (span.low, gap - span.deep_low, span.low, over),
            (span.high, gap - span.deep_high, span.high, over),
        ]
    end = line + breadth / 2
    outside = [span for span in tier if span not in inside]
    return _place_outside(outside, measure, band, line, end) if outside else end


def _share_labels(tier: list[ShownSpan], measure: LabelMeasure, room: float) -> list[ShownSpan]:
    """Equal neighbours that are too narrow for a label each get one between them: `10 × 1 1⁄2 in`."""
    shared: list[ShownSpan] = []
    at = 0
    while at < len(tier):
        end = at + 1
        first = tier[at]
        while (
            end < len(tier)
            and tier[end].label.text == first.label.text
            and abs(tier[end].low - tier[end - 1].high) < 1e-6
        ):
            end += 1
        count = end - at
        fits = measure.length(first.label) + room <= first.high - first.low
        if not first.rhythm and (count < _LEAST_RUN or (fits and count < _LONG_RUN)):
            shared += tier[at:end]
        else:
            told = (first.rhythm or "{count} \u00d7 {length}").replace("{count}", str(count))
            units = first.label.text.split(EITHER)
            label = label_of(EITHER.join(told.replace("{length}", text) for text in units), first.label.cut)
            marks = tuple(span.low for span in tier[at + 1 : end])
            last = tier[end - 1]
            named = tuple(length for span in tier[at:end] for length in span.lengths)
            deep = first.deep_low, last.deep_high
            span = ShownSpan(first.low, last.high, label, first.doubtful, *deep, first.rank, marks, lengths=named)
            shared.append(span)
        at = end
    return shared


def _place_outside(spans: list[ShownSpan], measure: LabelMeasure, band: Band, line: float, end: float) -> float:
    """Labels that do not fit in their line stand beyond it, moved apart, with a leader where that is not plain."""
    size = measure.size
    wanted = [(span.low + span.high) / 2 for span in spans]
    scales = [_scale(span.label, measure) for span in spans]
    lengths = [measure.length(span.label, scale) for span, scale in zip(spans, scales, strict=True)]
    start = end + 0.1 * size
    for row in _rows(wanted, lengths, measure):
        leaders = any(
            abs(middle - wanted[i]) > 0.3 * size or lengths[i] > spans[i].high - spans[i].low + size
            for i, middle in row
        )
        near = start + (0.45 * size if leaders else 0.0)
        start = near
        for i, middle in row:
            span, breadth = spans[i], measure.breadth(spans[i].label, scales[i])
            style = "doubt" if span.doubtful else "dim"
            text = BandText(middle, near + breadth / 2, lengths[i], breadth, span.label, style, scales[i])
            text.lengths = span.lengths
            band.texts.append(text)
            if leaders:
                lines = band.doubtful_lines if span.doubtful else band.lines
                lines.append((wanted[i], line, _nearest(text, wanted[i], 0.4 * size), near - 0.05 * size))
            start = max(start, near + breadth)
    return start


def _rows(
    wanted: Sequence[float], lengths: Sequence[float], measure: LabelMeasure
) -> Iterator[list[tuple[int, float]]]:
    """Labels in rows, each by its number with the middle at which it stands clear of the others."""
    low, high, apart = measure.low, measure.high, _APART * measure.size
    for row in in_rows(wanted, lengths, low, high, apart):
        middles = side_by_side([wanted[i] for i in row], [lengths[i] for i in row], low, high, apart)
        yield list(zip(row, middles, strict=True))


def _nearest(text: BandText, wanted: float, inset: float) -> float:
    """Where along a label its leader ends: as near as can be to where it points, so far from the label's ends."""
    reach = max(text.length / 2 - inset, 0.0)
    return max(text.along - reach, min(wanted, text.along + reach))


def _scale(label: Label, measure: LabelMeasure) -> float:
    """A label longer than the whole side is set smaller, if it may be."""
    return min(1.0, (measure.high - measure.low) / measure.length(label)) if measure.shrinks else 1.0


def _place_pointers(pointers: Sequence[Pointer], measure: LabelMeasure, band: Band, out: float) -> float:
    size = measure.size
    ordered = sorted(pointers, key=lambda pointer: (pointer.at, pointer.label.text))
    wanted = [pointer.at for pointer in ordered]
    scales = [min(pointer.scale, _scale(pointer.label, measure)) for pointer in ordered]
    lengths = [measure.length(pointer.label, scale) for pointer, scale in zip(ordered, scales, strict=True)]
    start = out + 0.8 * size
    for row in _rows(wanted, lengths, measure):
        breadths = [measure.breadth(ordered[i].label, scales[i]) for i, _ in row]
        for (i, middle), breadth in zip(row, breadths, strict=True):
            pointer = ordered[i]
            text = BandText(middle, start + breadth / 2, lengths[i], breadth, pointer.label, pointer.style, scales[i])
            text.lengths = pointer.lengths
            band.texts.append(text)
            to = _nearest(text, pointer.at, 0.3 * size)
            # Straight out of the piece, broken where a text stands in the way; then aslant to the label.
            edge = out + 0.3 * size
            band.extensions.append((pointer.at, -pointer.deep, pointer.at, edge))
            band.lines.append((pointer.at, edge, to, start - 0.1 * size))
            band.dots.append((pointer.at, -pointer.deep))
        start += max(breadths) + 0.2 * size
    return start


def _place_running(places: Sequence[RunningPlace], measure: LabelMeasure, band: Band, out: float) -> float:
    """One line from the place all are measured from, which is marked, a tick at each, and the figures beyond, aside
    where they would touch."""
    size = measure.size
    line, half = out + _GAP * size + _OVERSHOOT * size, 0.22 * size
    origin = places[0].origin
    nought = RunningPlace(origin, origin, label_of("0", places[0].label.cut))
    ordered = sorted((nought, *places), key=lambda place: place.at)
    ends = [place.at for place in ordered]
    band.lines.append((min(ends), line, max(ends), line))
    band.dots.append((origin, line))
    wanted = [place.at for place in ordered]
    start = line + 0.8 * size
    # The first and the last figure reach half a line past the ends.
    room = replace(measure, low=measure.low - size / 2, high=measure.high + size / 2)
    for row in _rows(wanted, [LINE_HEIGHT * size] * len(ordered), room):
        for i, middle in row:
            label = ordered[i].label
            breadth = label.width * size
            text = BandText(middle, start + breadth / 2, LINE_HEIGHT * size, breadth, label, "dim", across=True)
            text.lengths = ordered[i].lengths
            band.texts.append(text)
            band.extensions.append((wanted[i], 0.25 * size, wanted[i], line + half))
            band.lines.append((wanted[i], line + half, middle, start - 0.1 * size))
        start += max(ordered[i].label.width * size for i, _ in row) + 0.4 * size
    return start - 0.4 * size


def in_rows(
    wanted: Sequence[float], lengths: Sequence[float], low: float, high: float, apart: float
) -> list[list[int]]:
    """Deal the labels (by index, in order of `wanted`) into as few rows as hold them between `low` and `high`."""
    count = len(wanted)
    for rows in range(1, count + 1):
        dealt = [list(range(row, count, rows)) for row in range(rows)]
        if all(sum(lengths[i] for i in row) + apart * (len(row) - 1) <= high - low for row in dealt):
            return dealt
    return [[index] for index in range(count)]


def side_by_side(
    wanted: Sequence[float], lengths: Sequence[float], low: float, high: float, apart: float
) -> list[float]:
    """Middles of labels that stand in this order without overlap, the sum of squared moves least.

    `wanted` are the middles they would like, ascending; they are known to fit between `low` and `high`.
    """
    clusters: list[_Cluster] = []
    for middle, length in zip(wanted, lengths, strict=True):
        cluster = _Cluster([length], length, middle - length / 2)
        cluster.settle(low, high)
        while clusters and clusters[-1].start + clusters[-1].extent + apart > cluster.start:
            cluster = clusters.pop().joined(cluster, apart)
            cluster.settle(low, high)
        clusters.append(cluster)
    middles: list[float] = []
    for cluster in clusters:
        at = cluster.start
        for length in cluster.lengths:
            middles.append(at + length / 2)
            at += length + apart
    return middles


class _Cluster(Struct):
    """Labels that touch: their lengths, their extent, and where the cluster would begin if it could."""

    lengths: list[float]
    extent: float
    wish: float
    start: float = 0.0

    def settle(self, low: float, high: float) -> None:
        self.start = max(low, min(self.wish, high - self.extent))

    def joined(self, after: _Cluster, apart: float) -> _Cluster:
        """The mean of the wishes, each label weighing the same."""
        shift = self.extent + apart
        ours, theirs = len(self.lengths), len(after.lengths)
        wish = (self.wish * ours + (after.wish - shift) * theirs) / (ours + theirs)
        return _Cluster(self.lengths + after.lengths, shift + after.extent, wish)
