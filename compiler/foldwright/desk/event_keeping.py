"""What was typed for an event, kept on the disk, so that a closed tab or a killed desk loses nothing of it."""

from __future__ import annotations

import hashlib
import os
from contextlib import suppress
from pathlib import Path

import msgspec

from foldwright.desk.event_form import Typed

_FOLDER = ".plans"
"""Among the recipes; it begins with a dot, so that nobody takes it for one of them."""
_LONG = 100
_MOST = 4 * 1024 * 1024


def plan_name(slugs: tuple[str, ...]) -> str:
    """What an event of these recipes is kept as: their names, or what stands for them where they are too long."""
    name = "+".join(slugs)
    return name if len(name.encode()) <= _LONG else hashlib.sha256(name.encode()).hexdigest()


def keep_typed(folder: Path, name: str, typed: Typed) -> bool:
    """Write it, whole or not at all; whether that could be done."""
    file = folder / _FOLDER / f"{name}.json"
    fresh = file.with_suffix(".new")
    try:
        file.parent.mkdir(exist_ok=True)
        fresh.write_bytes(msgspec.json.format(msgspec.json.encode(typed)))
        os.replace(fresh, file)
    except OSError:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)
        return False
    return True


def kept_typed(folder: Path, name: str) -> Typed:
    """What was typed; nothing where there is none, or no sense in it."""
    try:
        with (folder / _FOLDER / f"{name}.json").open("rb") as file:
            return msgspec.json.decode(file.read(_MOST), type=dict[str, str])
    except (OSError, msgspec.MsgspecError):
        return {}
