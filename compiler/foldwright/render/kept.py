"""What takes long to make, kept between runs in the user's cache folder (`~/.cache/foldwright`, or what the system has
for it). Nothing depends on it: where the folder cannot be written, things are made anew in every process.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path


def kept_folder() -> Path:
    """Where copies are kept. It need not be there, and may be one that cannot be made."""
    from platformdirs import user_cache_path

    return user_cache_path("foldwright", appauthor=False)


def kept(name: str, make: Callable[[], bytes]) -> bytes:
    """What `make` makes, or the copy kept under the name. The name must tell all that goes into it, as a hash does.

    Processes may do this at once: a copy appears whole or not at all.
    """
    place = kept_folder() / name
    with suppress(OSError):
        return place.read_bytes()
    data = make()
    with suppress(OSError):
        _keep(place, data)
    return data


def _keep(place: Path, data: bytes) -> None:
    place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=place.parent, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        os.replace(temporary, place)
    except OSError:
        # A full disk: half a copy is not left lying.
        os.unlink(temporary)
        raise
