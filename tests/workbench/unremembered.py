"""Work as it is from nothing: what the program remembers from one text to the next is left out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from unittest import mock

from foldwright.memory import Memory


@contextmanager
def nothing_remembered() -> Iterator[None]:
    """While it lasts, everything is worked out anew."""

    def of[Result](_self: Memory[Result], _name: object, _made_of: object, make: Callable[[], Result]) -> Result:
        return make()

    with mock.patch.object(Memory, "of", of), mock.patch.object(Memory, "known", return_value=None):
        yield
