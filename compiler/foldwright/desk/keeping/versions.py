"""The last texts of a recipe, in a hidden folder beside it: each file is one of them, as it was, named by its time."""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from msgspec import Struct

from foldwright.desk.keeping.disk import remove, write_whole
from foldwright.finding import Wrong
from foldwright.surroundings import Folder, Refusal

KEPT = ".kept"
MOST_VERSIONS = 50
_LARGEST = 64 * 1024 * 1024
_STAMP = "%Y-%m-%d %H-%M-%S.%f"
_NAME = re.compile(r"(?P<stamp>\d{4}-\d\d-\d\d \d\d-\d\d-\d\d\.\d{6}) (?P<digest>[0-9a-f]{12})\.md", re.ASCII)

type Now = Callable[[], datetime]


class Version(Struct, frozen=True, order=True):
    """A text that was the recipe until `until` (in universal time)."""

    until: datetime
    digest: str

    @property
    def name(self) -> str:
        """The name of its file."""
        return f"{self.until.strftime(_STAMP)} {self.digest}.md"


def digest_of(data: bytes) -> str:
    """What tells one text from another."""
    return hashlib.sha256(data).hexdigest()


def versions_in(folder: Path) -> tuple[Version, ...]:
    """The versions of the recipe in a folder, the newest first."""
    try:
        names = os.listdir(folder / KEPT)
    except OSError:
        return ()
    return tuple(sorted(filter(None, map(_version, names)), reverse=True))


def read_version(folder: Path, name: str) -> bytes | Wrong:
    """The bytes of a version, by the name of its file."""
    data = Folder(folder / KEPT).read(name, _LARGEST) if _version(name) else Refusal.MISSING
    return Wrong.of("desk-keeping.no-such-version") if isinstance(data, Refusal) else data


def add_version(folder: Path, data: bytes, now: Now) -> None:
    """Put a text among the versions, unless it is the newest of them; the oldest go. Raises OSError."""
    known = versions_in(folder)
    digest = digest_of(data)[:12]
    if known and known[0].digest == digest:
        return
    # A clock that was put back would have the newest taken for the oldest.
    until = max([now().astimezone(UTC), *(version.until + timedelta(microseconds=1) for version in known[:1])])
    fresh = Version(until, digest)
    (folder / KEPT).mkdir(exist_ok=True)
    write_whole(folder / KEPT / fresh.name, data)
    for old in (fresh, *known)[MOST_VERSIONS:]:
        remove(folder / KEPT / old.name)


def _version(name: str) -> Version | None:
    found = _NAME.fullmatch(name)
    if found is None:
        return None
    try:
        until = datetime.strptime(found["stamp"], _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None
    return Version(until, found["digest"])
