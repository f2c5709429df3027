"""Files written whole or not at all, what a killed desk left half-made swept up, and what to tell when a disk will not.

A new text is laid in a hidden file beside the old one, made sure of, and put in its place by renaming: at any moment
the name leads to the old text or to the new one.
"""

from __future__ import annotations

import errno
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path

from foldwright.desk.keeping.alive import Process, this_process
from foldwright.finding import Wrong

_FRESH = re.compile(r"\.foldwright-desk-(?P<number>[0-9]+)-(?P<start>[0-9]*)-[0-9]+\.new")
_REASONS = {
    errno.ENOSPC: "disk-full",
    errno.EDQUOT: "no-room-left",
    errno.EACCES: "may-not",
    errno.EPERM: "may-not",
    errno.EROFS: "read-only",
    errno.ENOENT: "folder-gone",
    errno.ENOTDIR: "folder-gone",
    errno.ENAMETOOLONG: "name-too-long",
}
_USUAL_MODE = 0o666
_numbers = count()


@contextmanager
def laid(path: Path, data: bytes, mode: int = _USUAL_MODE) -> Iterator[Path]:
    """The data in a hidden file beside `path`, made sure of, for `put`; taken away if it is not put anywhere."""
    me = this_process()
    fresh = path.with_name(f".foldwright-desk-{me.number}-{me.start}-{next(_numbers)}.new")
    try:
        with open(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        yield fresh
    finally:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)


def put(fresh: Path, path: Path) -> None:
    """Have `path` lead to what was laid; what lay there goes, unless it is write-protected."""
    if os.path.lexists(path):
        if not os.access(path, os.W_OK):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
        with suppress(OSError):
            os.chmod(fresh, os.stat(path).st_mode & 0o7777)
    os.replace(fresh, path)
    _make_sure_of(path.parent)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file in one go. Raises OSError, and then it is what it was."""
    with laid(path, data) as fresh:
        put(fresh, path)


def remove(path: Path) -> None:
    """Take a file away if it is there."""
    path.unlink(missing_ok=True)
    _make_sure_of(path.parent)


def sweep(folder: Path) -> None:
    """Take away the half-made files of desks that run no more."""
    with suppress(OSError):
        for name in os.listdir(folder):
            left = _FRESH.fullmatch(name)
            if left and not Process(int(left["number"]), left["start"]).runs:
                with suppress(OSError):
                    (folder / name).unlink()


def cannot_write(path: Path, trouble: OSError) -> Wrong:
    """What to tell when a file cannot be written."""
    reason = _REASONS.get(trouble.errno or 0, "cannot-write")
    return Wrong.of(f"desk-keeping.{reason}", name=path.name, folder=str(path.parent))


def _make_sure_of(folder: Path) -> None:
    """Have the disk remember the names in a folder too. Where that cannot be asked for, they are soon remembered."""
    with suppress(OSError):
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)
