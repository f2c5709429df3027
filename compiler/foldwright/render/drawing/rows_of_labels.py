"""Labels side by side in one or more rows, each as near as can be to where it wants to be, none on another."""

from __future__ import annotations

from collections.abc import Sequence


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
        cluster = _Cluster([length], length, middle - length / 2, 1)
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


class _Cluster:
    """Labels that touch: their lengths, their extent, and where the cluster would begin if it could."""

    __slots__ = ("count", "extent", "lengths", "start", "wish")

    def __init__(self, lengths: list[float], extent: float, wish: float, count: int) -> None:
        self.lengths = lengths
        self.extent = extent
        self.wish = wish
        self.count = count
        self.start = wish

    def settle(self, low: float, high: float) -> None:
        self.start = max(low, min(self.wish, high - self.extent))

    def joined(self, after: _Cluster, apart: float) -> _Cluster:
        """The mean of the wishes, each label weighing the same."""
        shift = self.extent + apart
        count = self.count + after.count
        wish = (self.wish * self.count + (after.wish - shift) * after.count) / count
        return _Cluster(self.lengths + after.lengths, shift + after.extent, wish, count)
