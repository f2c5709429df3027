"""How much is tried: a fair share of it, or, with `python3 compiler/start.py test --long`, all there is. Not a test."""

from __future__ import annotations

import os
from collections.abc import Sequence

LONG = bool(os.environ.get("FOLDWRIGHT_TESTS_LONG"))


def tries(usual: int, long: int) -> int:
    """How many cases made at random."""
    return long if LONG else usual


def every[T](cases: Sequence[T], nth: int) -> Sequence[T]:
    """All of them on a long run, else every so manieth, from the first on."""
    return cases if LONG else cases[::nth]
