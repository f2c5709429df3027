"""One desk to a folder: it leaves a note of its process and its address. The note of a dead one is no hold."""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import msgspec
from msgspec import Struct

from foldwright.desk.keeping.alive import Process, this_process
from foldwright.desk.keeping.disk import laid, put, sweep
from foldwright.finding import Wrong

NOTE = ".foldwright-desk.json"
_LARGEST = 10_000
_TRIES = 50
_PAUSE = 0.02
_FOR_ME_ALONE = 0o600
"""The address may hold the session's secret."""


class _Note(Struct, frozen=True):
    process: Process
    address: str


class Claimed(Struct, frozen=True):
    """The folder is ours until `release`, or until this process ends, however it ends."""

    folder: Path

    def release(self) -> None:
        """Give the folder free again, if it is still ours."""
        with _one_at_a_time(self.folder), suppress(OSError):
            note = _read(self.folder)
            if note and note.process == this_process():
                (self.folder / NOTE).unlink()


class TakenBy(Struct, frozen=True):
    """Another desk has the folder; its page is at `address`."""

    address: str


def claim(folder: Path, address: str) -> Claimed | TakenBy | Wrong:
    """Take a folder for the desk whose page is at `address`. Never waits for one that is gone."""
    try:
        with _one_at_a_time(folder):
            sweep(folder)
            note = _read(folder)
            if note and note.process != this_process() and note.process.runs:
                return TakenBy(note.address)
            with laid(folder / NOTE, msgspec.json.encode(_Note(this_process(), address)), _FOR_ME_ALONE) as fresh:
                (folder / NOTE).unlink(missing_ok=True)
                put(fresh, folder / NOTE)
    except (FileNotFoundError, NotADirectoryError):
        return Wrong.of("desk-keeping.no-such-folder", folder=str(folder))
    except OSError:
        return Wrong.of("desk-keeping.cannot-work-there", folder=str(folder))
    return Claimed(folder)


def _read(folder: Path) -> _Note | None:
    """The note that lies there; None where there is none, or nothing that a desk wrote.

    Raises PermissionError where somebody else's may not be read.
    """
    try:
        path = folder / NOTE
        if not stat.S_ISREG(os.lstat(path).st_mode):
            return None
        with open(path, "rb") as stream:
            return msgspec.json.decode(stream.read(_LARGEST), type=_Note)
    except PermissionError:
        raise
    except (OSError, msgspec.DecodeError):
        return None


@contextmanager
def _one_at_a_time(folder: Path) -> Iterator[None]:
    """Of two that start at once, one goes first. The hold ends with the process; where there is none to be had, a hold
    that somebody keeps for another reason included, both go on: their notes still differ."""
    try:
        import fcntl
    except ImportError:  # no such holds on this system
        yield
        return
    opened = os.open(folder, os.O_RDONLY)
    try:
        for _ in range(_TRIES):
            try:
                fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
                break
            except BlockingIOError:
                time.sleep(_PAUSE)
            except OSError:
                break
        yield
    finally:
        os.close(opened)
