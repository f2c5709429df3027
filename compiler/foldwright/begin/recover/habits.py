"""What makers do: which marks of a ruler they cut to, and which panels they make alike.

A maker keeps to one mark for a whole sample: panels are multiples of it, now and then of a coarser one, very seldom
only of a finer one. Which mark that is, and how readily panels are made alike, is not known: each way has its share.
The shares are reasoned guesses (common practice, no source); the guide states them, and how true the answers are that
come of them.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import product
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.begin.recover.model import MakerHabit
from foldwright.measure.length import System
from foldwright.measure.plainness import MARKS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    type Floats = NDArray[np.float64]
    type Wholes = NDArray[np.int64]

_SHARES = {
    System.IMPERIAL: (0.03, 0.07, 0.2, 0.4, 0.26, 0.03, 0.01),
    System.METRIC: (0.12, 0.33, 0.5, 0.04, 0.01),
}
"""How many makers keep to each mark of `measure.plainness.MARKS`, coarsest first."""
_OWN, _COARSER, _FINER = 0.9, 0.09, 0.01
"""Of a maker's panels, those that are any multiple of the maker's mark; of a coarser mark; only of a finer one."""
_PATTERNS = ((0.05, 0.02, 0.25), (0.5, 0.1, 0.3), (0.95, 0.1, 0.35), (0.4, 0.6, 0.1))
"""How many panels are made equal to their mirror image, and how many of the others like one before them; the share
of makers who do so."""
_LONGEST = 300.0
"""Millimetres: panels are taken to be of any length up to this; another one changes all blanks of a row alike."""


class Habits(Struct, frozen=True):
    """All that a maker may do in one system: `marks` (mm, coarsest first), and how likely each habit is.

    A habit is a pattern and a mark, in this order on one axis; `chances[mark][coarsest]` is how likely a maker with a
    mark makes a panel of a given length, by the coarsest mark that the length lies on.
    """

    marks: tuple[Fraction, ...]
    chances: Floats
    shares: Floats

    @property
    def sizes(self) -> tuple[int, ...]:
        """How many of the finest mark each mark has."""
        return tuple(int(mark / self.marks[-1]) for mark in self.marks)


def habits_of(system: System, made_in: MakerHabit | None, narrowest: Fraction) -> Habits | None:
    """The habits of makers in a system; None when the maker is known to work in the other.

    Marks finer than half of `narrowest`, by which a reading may be off (mm), cannot be told and are left out.
    """
    if made_in is not None and made_in.system is not system:
        return None
    own = made_in.mark if made_in else None
    marks = [mark.mm for mark in MARKS[system]]
    if own is not None:
        marks = [own, *(mark for mark in marks if mark < own and not own % mark)]
    told = [mark for mark in marks if 2 * mark >= narrowest]
    return _habits(tuple(told or marks[:1]), None if own is not None else system)


@cache
def _habits(marks: tuple[Fraction, ...], system: System | None) -> Habits:
    """The habits on these marks; without a system the maker keeps to the first of them."""
    import numpy as np

    count = len(marks)
    chances = np.zeros((count, count))
    for maker, other in product(range(count), repeat=2):
        coarser, finer = maker, count - 1 - maker
        weight = _OWN if other == maker else _COARSER / coarser if other < maker else _FINER / finer
        # A length on a coarse mark lies on every finer one as well.
        chances[maker, : other + 1] += weight * float(marks[other]) / _LONGEST
    own = np.array(_SHARES[system][:count] if system else (1.0, *(0.0,) * (count - 1)))
    patterns = np.array([[share] for _, _, share in _PATTERNS])
    return Habits(marks, chances, (patterns * own).ravel())


def coarsest(panels: Wholes, habits: Habits) -> Wholes:
    """The place of the coarsest mark that each panel (in parts of the finest) lies on."""
    import numpy as np

    sizes = habits.sizes
    found = np.full(panels.shape, len(sizes) - 1)
    for at in range(len(sizes) - 2, -1, -1):
        found[panels % sizes[at] == 0] = at
    return found


def log_priors(rows: Wholes, habits: Habits) -> Floats:
    """The logarithm of how likely each row of panels (in parts of the finest mark) is made: rows by habits."""
    import numpy as np

    count = rows.shape[1]
    fresh = habits.chances[:, coarsest(rows, habits)]
    mirrored, alike = (np.array([pattern[at] for pattern in _PATTERNS])[:, None, None] for at in (0, 1))
    prior = np.zeros((len(_PATTERNS), len(habits.marks), len(rows)))
    for panel in range(count):
        chance = fresh[:, :, panel]
        if panel:
            # One that is made like another is made like any of those before it.
            same = (rows[:, :panel] == rows[:, panel, None]).mean(axis=1)
            chance = (1 - alike) * chance + alike * same
        mirror = count - 1 - panel
        if mirror < panel:
            chance = (1 - mirrored) * chance + mirrored * (rows[:, mirror] == rows[:, panel])
        prior += np.log(chance)
    return prior.reshape(-1, len(rows)).T
