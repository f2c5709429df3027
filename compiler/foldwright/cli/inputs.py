"""What went into a recipe's pages: every file that was read for them, so that next time one can see whether it changed.

What counts is what stands in a file. Size, times and number of a file are only a short cut: where all are as they were,
it is not read again. That is sound where the clock had moved on when they were noted (`_CALM`), for a change of content
or a file put in the place of another then shows in the time of its last change of state, which no program can set back.
"""

from __future__ import annotations

import hashlib
import os
import stat
import time
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from foldwright.surroundings import Folder, Refusal, digest_of_look

_CALM = 2_000_000_000
"""Nanoseconds that a file must have rested: the coarsest clock of a file system still in use (FAT: 2 s)."""

type Stamp = tuple[int, int, int, int]
"""Size, time of writing, time of the last change of state, number."""


class Input(Struct, frozen=True, array_like=True):
    """A file that was read, or asked for in vain: its folder from the recipe's, its path there, how large it may be.

    `digest` is that of what was read, or the name of why it was not. A folder of a look is one input without a path.
    """

    folder: str
    path: str
    most: int
    digest: str
    stamp: Stamp | None = None


def digest_of_bytes(data: bytes) -> str:
    """What bytes are known by."""
    return hashlib.blake2b(data, digest_size=16).hexdigest()


class WentIn:
    """Notes what is read for what lies in one folder."""

    def __init__(self, home: Path) -> None:
        self._home = os.path.abspath(home)
        self._noted: dict[tuple[str, str], Input] = {}

    def opened(self, folder: Path, themes: Path | None = None) -> NotedFolder:
        """A folder as the compiler sees it, everything that is read there noted."""
        return NotedFolder(Folder(folder, themes), self)

    def note(self, folder: Path, path: str, most: int, stamp: Stamp | None, data: bytes | Refusal) -> None:
        """A file was read, after it had this stamp."""
        known_by = data.name if isinstance(data, Refusal) else digest_of_bytes(data)
        self._put(Input(self._from_home(folder), path, most, known_by, stamp))

    def note_look(self, folder: str) -> None:
        """A look of the user's own was asked for."""
        self._put(Input(self._from_home(Path(folder)), "", 0, _digest_of_look(folder)))

    def all(self) -> tuple[Input, ...]:
        """Everything so far."""
        return tuple(self._noted.values())

    def _put(self, one: Input) -> None:
        self._noted[one.folder, one.path] = one

    def _from_home(self, folder: Path) -> str:
        return os.path.relpath(os.path.abspath(folder), self._home)


class NotedFolder(Struct, frozen=True):
    """A folder (`surroundings.Folder`) of which it is noted what was read."""

    folder: Folder
    log: WentIn

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        # The stamp first: a file that changes in between then looks changed, and is read again next time.
        stamp = _stamp_of(os.path.join(self.folder.root, path))
        data = self.folder.read(path, at_most)
        self.log.note(self.folder.root, path, at_most, stamp, data)
        return data

    def theme(self, name: str) -> str | None:
        found = self.folder.theme(name)
        if found is not None:
            self.log.note_look(found)
        return found


class AsBefore:
    """Sees whether inputs hold what they held. What many recipes share is looked at once: it is good for one build."""

    def __init__(self) -> None:
        self._stamp = cache(_stamp_of)
        self._look = cache(_digest_of_look)

    def inputs(self, inputs: Sequence[Input], home: str) -> tuple[Input, ...] | None:
        """The inputs of a recipe's folder, stamped as they stand now, if all hold what they held; else None."""
        now = []
        for one in inputs:
            known = self._now(one, home if one.folder == "." else os.path.normpath(os.path.join(home, one.folder)))
            if known.digest != one.digest:
                return None
            now.append(known)
        return tuple(now)

    def _now(self, one: Input, folder: str) -> Input:
        if not one.path:
            return replace(one, digest=self._look(folder))
        stamp = self._stamp(f"{folder}{os.sep}{one.path}")
        if stamp and stamp == one.stamp:
            return one
        data = Folder(Path(folder)).read(one.path, one.most)
        return replace(one, stamp=stamp, digest=data.name if isinstance(data, Refusal) else digest_of_bytes(data))


def _digest_of_look(folder: str) -> str:
    return digest_of_look(folder).hex()


def _stamp_of(file: str) -> Stamp | None:
    """What a file looks like from outside; None where that would not tell: of a link, or when it was just written."""
    try:
        facts = os.lstat(file)
    except (OSError, ValueError):
        return None
    newest = max(facts.st_mtime_ns, facts.st_ctime_ns)
    if not stat.S_ISREG(facts.st_mode) or time.time_ns() - newest < _CALM:
        return None
    return facts.st_size, facts.st_mtime_ns, facts.st_ctime_ns, facts.st_ino
