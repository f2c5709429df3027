"""The rows of panels near what was read: whole multiples of a mark, laid line by line.

Taken as a system of normal errors, the readings of a side say where its lines lie on average and how surely. Line
after line is laid on the marks near the place that it has when those before it are known; of half-made rows only the
likeliest go on. What is found is weighed exactly afterwards (`weighing`): here it only matters that nothing likely is
lost.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.begin.recover.habits import Habits, coarsest
from foldwright.begin.recover.model import RulerReading, SampleSide

if TYPE_CHECKING:
    from foldwright.begin.recover.habits import Floats, Wholes

_HAND, _ZERO, _FOLD = 0.3, 0.5, 0.2
"""Standard deviations in millimetres: of a hand, of a ruler's nought, of what a fold takes (careful guesses)."""
_FAR = 4.0
"""No line is looked for farther from its place than so many standard deviations."""
_WINDOW = 12.0
"""A half-made row that is less likely than the likeliest by the exponential of this is left."""
_MOST_ROWS, _MOST_PANELS, _LEAST_ROWS = 150, 6000, 20
"""Half-made rows that go on, the likeliest of them: fewer where a sample has many panels, so that all
sides together have no more in them than that."""
_MOST_PLACES = 4000
"""Rows times places of their next line that are looked at in one step."""
_MIRRORED, _ALIKE = 0.7, 1.9
"""What a panel costs that is equal to its mirror image, or to another one (natural logarithms of a half, of one in
seven)."""
_SLIP, _SLIP_WINDOW = 9.0, 16.0
"""A reading may be a slip if leaving it out lowers the sum of squares by this much: three standard deviations, squared;
and by no less than the best one does, but for the second number."""
_MOST_SLIPS, _MOST_FITS, _FEWEST_FITS = 2, 12, 3
"""So many readings of a side are left out at most, and so many sets of them are tried: fewer where there are many."""
_NOTHING = 1e-6
"""What is left of a precision when nothing else says where a reading belongs."""


class LineFit(Struct, frozen=True):
    """Where the lines of a side lie by some of its readings: `middle`, and `spread` (the covariance's Cholesky factor).

    `gains` is by how much the sum of squares falls when each of the readings is left out.
    """

    middle: Floats
    spread: Floats
    gains: Floats


def rows_near(side: SampleSide, habits: Habits, panels: int) -> Wholes:
    """Rows of panels, in parts of the finest mark, that the readings of a side may come from.

    Every panel is measured; the whole sample has so many `panels`.
    """
    import numpy as np

    most = min(_MOST_ROWS, max(_MOST_PANELS // panels, _LEAST_ROWS))
    tries = _MOST_FITS if panels <= _MOST_PANELS // _MOST_ROWS else _FEWEST_FITS
    return np.unique(np.concatenate([_laid(fit, habits, most) for fit in _fits(side, tries)]), axis=0)


def _fits(side: SampleSide, tries: int) -> Iterator[LineFit]:
    """The fit of all readings, then those without the ones that may be slips."""
    waiting: list[tuple[RulerReading, ...]] = [side.readings]
    tried = 0
    while waiting and tried < tries:
        readings = waiting.pop(0)
        fit = fit_lines(side.count, readings)
        tried += 1
        yield fit
        if len(side.readings) - len(readings) == _MOST_SLIPS or not len(fit.gains):
            continue
        least = max(_SLIP, float(fit.gains.max()) - _SLIP_WINDOW)
        for at in sorted(range(len(readings)), key=lambda at: -fit.gains[at]):
            rest = readings[:at] + readings[at + 1 :]
            if fit.gains[at] >= least and rest not in waiting and not unmeasured(side.count, rest):
                waiting.append(rest)


def unmeasured(count: int, readings: Sequence[RulerReading]) -> tuple[int, ...]:
    """The panels (counted from 1) that no reading, and no sum or difference of readings, says anything about."""
    group = list(range(count + 1))
    for reading in readings:
        one, other = group[reading.start], group[reading.end]
        group = [one if number == other else number for number in group]
    return tuple(line for line in range(1, count + 1) if group[line] != group[line - 1])


def fit_lines(count: int, readings: Sequence[RulerReading]) -> LineFit:
    """Generalised least squares; what is common to all readings (nought and folds) is part of their covariance."""
    import numpy as np

    design = np.zeros((len(readings), count + 1))
    for at, one in enumerate(readings):
        design[at, one.start], design[at, one.end] = -1.0, 1.0
    design = design[:, 1:]
    read = np.array([float(one.length.mm) for one in readings])
    bounds = np.array([float(one.bound.mm) for one in readings])
    folds = np.array([float(one.end - one.start - 1) for one in readings])
    # An even error of so much either way has a third of its square for a variance.
    own = 1 / (bounds**2 / 3 + _HAND**2)
    common = np.column_stack([np.full(len(readings), _ZERO), _FOLD * folds])
    weighed = _Precision(own, common)
    covariance = np.linalg.inv(design.T @ weighed.times(design))
    middle = covariance @ (design.T @ weighed.times(read))
    off = weighed.times(read - design @ middle)
    tilted = weighed.times(design)
    left = weighed.diagonal() - ((tilted @ covariance) * tilted).sum(axis=1)
    gains = np.where(left > _NOTHING, off**2 / np.maximum(left, _NOTHING), 0.0)
    return LineFit(middle, np.linalg.cholesky((covariance + covariance.T) / 2), gains)


class _Precision:
    """The inverse of a covariance that is a diagonal (`own` is its inverse) and what is common to all readings.

    By the identity of Sherman, Morrison and Woodbury, which needs no matrix as broad as there are readings.
    """

    def __init__(self, own: Floats, common: Floats) -> None:
        import numpy as np

        self._own = own
        self._weighed = own[:, None] * common
        self._inner: Floats = np.linalg.inv(np.eye(common.shape[1]) + common.T @ self._weighed)

    def times(self, other: Floats) -> Floats:
        """The inverse times a vector or a matrix."""
        own: Floats = (self._own * other.T).T
        found: Floats = own - self._weighed @ (self._inner @ (self._weighed.T @ other))
        return found

    def diagonal(self) -> Floats:
        """What stands on the diagonal of the inverse."""
        found: Floats = self._own - ((self._weighed @ self._inner) * self._weighed).sum(axis=1)
        return found


class _Half(Struct, frozen=True):
    """Half-made rows: their panels, how far each line is off its place, where the last one lies, and what they cost.

    `spent` is the cost by the marks that makers keep to (natural logarithms).
    """

    panels: Wholes
    offs: Floats
    line: Wholes
    spent: Floats


def _laid(fit: LineFit, habits: Habits, most: int) -> Wholes:
    import numpy as np

    count = len(habits.marks)
    with np.errstate(divide="ignore"):
        own = -np.log(habits.shares.reshape(-1, count).sum(axis=0))
    nothing = np.zeros((1, 0))
    half = _Half(nothing.astype(np.int64), nothing, np.zeros(1, dtype=np.int64), own[None, :])
    costs = -np.log(habits.chances).T
    for _ in range(len(fit.middle)):
        half = _next_line(half, fit, habits, costs, most)
    return half.panels


def _next_line(half: _Half, fit: LineFit, habits: Habits, costs: Floats, most: int) -> _Half:
    """Every half-made row with its next line on every mark near its place; the likeliest of all these."""
    import numpy as np

    line, finest = half.panels.shape[1], float(habits.marks[-1])
    deviation = fit.spread[line, line]
    place = fit.middle[line] + half.offs @ fit.spread[line, :line]
    width = min(int(2 * _FAR * deviation / finest) + 2, max(_MOST_PLACES // len(place), 3))
    at = np.round(place / finest).astype(np.int64)[:, None] - width // 2 + np.arange(width)
    off = (at * finest - place[:, None]) / deviation
    panels = at - half.line[:, None]
    cost = costs[coarsest(panels, habits)]
    if line:
        alike = (half.panels[:, None, :] == panels[:, :, None]).any(axis=2)
        cost = np.where(alike[:, :, None], np.minimum(cost, _ALIKE), cost)
    mirror = len(fit.middle) - 1 - line
    if mirror < line:
        mirrored = half.panels[:, mirror, None] == panels
        cost = np.where(mirrored[:, :, None], _MIRRORED, cost)
    spent = half.spent[:, None, :] + cost + off[:, :, None] ** 2 / 2
    worth = np.where(panels > 0, spent.min(axis=2), np.inf)
    order = np.argsort(worth, axis=None)[:most]
    least = worth.ravel()[order]
    row, which = np.divmod(order[least <= least[0] + _WINDOW], width)
    return _Half(
        np.column_stack([half.panels[row], panels[row, which]]),
        np.column_stack([half.offs[row], off[row, which]]),
        at[row, which],
        spent[row, which],
    )
