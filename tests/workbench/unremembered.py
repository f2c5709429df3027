"""Work as it is from nothing: what the program remembers from one text to the next is left out."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from unittest import mock

from foldwright.memory import Memory
from foldwright.render.photos import PREPARED, REDUCED


@contextmanager
def nothing_remembered() -> Iterator[None]:
    """While it lasts, everything is worked out anew but photographs, which take longest."""
    remembered = Memory.of

    def of[Result](memory: Memory[Result], name: Hashable, made_of: object, make: Callable[[], Result]) -> Result:
        return remembered(memory, name, made_of, make) if memory in (PREPARED, REDUCED) else make()

    with mock.patch.object(Memory, "of", of), mock.patch.object(Memory, "known", return_value=None):
        yield
