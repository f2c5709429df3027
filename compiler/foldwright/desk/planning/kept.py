"""What was typed for an event, kept on the disk, so that a closed tab or a killed desk loses nothing of it."""

from __future__ import annotations

import hashlib
from pathlib import Path

import msgspec

from foldwright.desk.keeping.disk import cannot_write, sweep, write_whole
from foldwright.desk.planning.form import Typed
from foldwright.finding import Wrong
from foldwright.surroundings import Folder

_FOLDER = ".plans"
"""Among the recipes; it begins with a dot, so that nobody takes it for one of them."""
_LONG = 100
_MOST = 4 * 1024 * 1024


def plan_name(slugs: tuple[str, ...]) -> str:
    """What an event of these recipes is kept as: their names, or what stands for them where they are too long."""
    name = "+".join(slugs)
    return name if len(name.encode()) <= _LONG else hashlib.sha256(name.encode()).hexdigest()


def keep_typed(folder: Path, name: str, typed: Typed) -> Wrong | None:
    """Write it, whole or not at all; what is wrong where that cannot be done."""
    file = folder / _FOLDER / f"{name}.json"
    try:
        file.parent.mkdir(exist_ok=True)
        sweep(file.parent)
        write_whole(file, msgspec.json.format(msgspec.json.encode(typed)))
    except OSError as trouble:
        return cannot_write(file, trouble)
    return None


def kept_typed(folder: Path, name: str) -> Typed:
    """What was typed; nothing where there is none, or no sense in it."""
    data = Folder(folder / _FOLDER).read(f"{name}.json", _MOST)
    try:
        return msgspec.json.decode(data, type=dict[str, str]) if isinstance(data, bytes) else {}
    except msgspec.MsgspecError:
        return {}
