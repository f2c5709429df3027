"""The outside world as one small object: the files of one folder, and themes of the user's own.

The compiler opens nothing by itself. What it may read is what `Surroundings.read` hands it: files of the recipe's own
folder, and nothing a link or a `..` leads to outside it.
"""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, date, datetime
from enum import Enum
from pathlib import Path
from typing import Protocol

from msgspec import Struct


class Refusal(Enum):
    """Why a file was not read."""

    MISSING = "missing"
    OUTSIDE = "outside"
    """The path, or a link on its way, leads out of the folder."""
    NOT_A_FILE = "not a file"
    UNREADABLE = "unreadable"
    """The system would not let us."""
    TOO_LARGE = "too large"


class Surroundings(Protocol):
    """What a compilation may ask of the world."""

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        """The bytes of a file of the folder, named relative to it; refused above `at_most` bytes."""

    def theme(self, name: str) -> str | None:
        """The folder of a theme that a studio names and that is none of ours; None where there are no such themes."""


class Folder(Struct, frozen=True):
    """The real world, as far as it is one folder. Themes of the user's own lie in the folder `themes`."""

    root: Path
    themes: Path | None = None

    def read(self, path: str, at_most: int) -> bytes | Refusal:
        try:
            root = os.path.realpath(self.root, strict=True)
            file = os.path.realpath(os.path.join(root, path), strict=True)
            return _bytes_of(file, at_most) if _is_in(file, root) else Refusal.OUTSIDE
        except (FileNotFoundError, NotADirectoryError, ValueError):
            # ValueError: a NUL in the name, which no file can have.
            return Refusal.MISSING if self._inside(path) else Refusal.OUTSIDE
        except OSError:
            return Refusal.UNREADABLE

    def theme(self, name: str) -> str | None:
        return str(self.themes / name) if self.themes else None

    def _inside(self, path: str) -> bool:
        """Whether a path that leads nowhere at least does not lead out."""
        try:
            return lies_in(os.path.join(self.root, path), self.root)
        except (OSError, ValueError):
            return True


def today() -> date:
    """The day it is; the one that SOURCE_DATE_EPOCH names where somebody wants the same files again (by the
    specification of that name, reproducible-builds.org)."""
    said = os.environ.get("SOURCE_DATE_EPOCH", "")
    with suppress(ValueError, OverflowError, OSError):
        return datetime.fromtimestamp(int(said), UTC).date()
    return datetime.now().astimezone().date()


def is_look(folder: str | Path) -> bool:
    """Whether a folder may be a look of somebody's own: it holds theme.toml, a stylesheet or a template."""
    try:
        return any(name == "theme.toml" or name.endswith((".css", ".html")) for name in os.listdir(folder))
    except OSError:
        return False


def files_of_look(folder: str | Path) -> Iterator[str]:
    """The files of a look. Of any other folder there are none: it may hold a whole disk."""
    return files_below(folder) if is_look(folder) else iter(())


def digest_of_look(folder: str | Path) -> bytes:
    """A digest of all files of a look, and of their names. One that may not be read counts as empty."""
    mark = hashlib.blake2b(digest_size=16)
    for file in files_of_look(folder):
        try:
            data = Path(file).read_bytes()
        except OSError:
            data = b""
        mark.update(b"%s\0%d\0" % (os.fsencode(os.path.relpath(file, folder)), len(data)) + data)
    return mark.digest()


def files_below(folder: str | Path) -> Iterator[str]:
    """The files of a folder and all below it, in the order of their names; what Python compiles is left out."""
    for home, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if name != "__pycache__")
        yield from (path for name in sorted(files) if os.path.isfile(path := os.path.join(home, name)))


def lies_in(path: str | Path, folder: Path) -> bool:
    """Whether a path is the folder or lies in it, once all links are followed."""
    return _is_in(os.path.realpath(path), os.path.realpath(folder))


def _is_in(path: str, folder: str) -> bool:
    return os.path.commonpath([path, folder]) == folder


def _bytes_of(file: str, at_most: int) -> bytes | Refusal:
    # Asked before opening, so that a pipe cannot make us wait for ever.
    if not stat.S_ISREG(os.stat(file).st_mode):
        return Refusal.NOT_A_FILE
    with open(file, "rb") as stream:
        data = stream.read(at_most + 1)
    return data if len(data) <= at_most else Refusal.TOO_LARGE
