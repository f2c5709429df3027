"""What has been worked out, remembered by what it was worked out from: while a recipe is typed, most stays as it was.

`functools.lru_cache` finds by hash, and what is large or holds a dict has none, or takes longer to hash than to
compare: most of what is compared here is the very same object as before, or differs at its first word.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from threading import Lock

_EACH = 2
"""Results kept under one name."""


class Memory[Result]:
    """The last results under each of so many names; one is used again where it was worked out from equal things.

    A name says which of its kind it is (a picture's, a unit system); what it is made of may be anything that compares,
    and has to be all the result depends on. Results are handed out again as they are: nobody may change one.
    """

    def __init__(self, most: int = 1) -> None:
        self._most = most
        self._kept: dict[Hashable, list[tuple[object, Result]]] = {}
        self._putting_away = Lock()

    def known(self, name: Hashable, made_of: object) -> Result | None:
        """A result that is kept, for whoever makes several at once where they are not; no result may be None."""
        found = self._found(name, made_of)
        return found[1] if found else None

    def _found(self, name: Hashable, made_of: object) -> tuple[object, Result] | None:
        return next((one for one in self._kept.get(name, []) if one[0] == made_of), None)

    def of(self, name: Hashable, made_of: object, make: Callable[[], Result]) -> Result:
        found = self._found(name, made_of) or (made_of, make())
        # Threads of the desk work at the same time: two may make the same, none may find it half put away.
        with self._putting_away:
            kept = self._kept.pop(name, [])
            # The name and what was found under it come last, so that what is longest unused is what goes.
            self._kept[name] = [*[one for one in kept if one[0] is not found[0]][1 - _EACH :], found]
            while len(self._kept) > self._most:
                del self._kept[next(iter(self._kept))]
        return found[1]
