"""Writing what was made: each recipe's folder appears whole or not at all.

New files are laid in a hidden folder beside the old ones and swapped in by renaming. A folder that foldwright did not
make is never touched: it is known by the list of its files that foldwright leaves in it.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
from collections.abc import Iterable, Mapping
from pathlib import Path

from foldwright.cli.sources import RECIPE, Source, Wrong

LIST = ".made-by-foldwright"
_STAGE = ".foldwright-at-work-"


def open_output(out: Path, sources: Iterable[Source]) -> Wrong | None:
    """Make the output folder ready, or say why it cannot be one. Clears up after builds that were killed."""
    there = out.resolve()
    for source in sources:
        home = source.folder.resolve()
        # A recipe must never be swapped away, and its own folder is no place for what is made of it.
        inside = source.text == RECIPE and there.is_relative_to(home)
        if inside or home.is_relative_to(there / source.slug):
            return Wrong.of("output-in-recipe", out=str(out), recipe=str(source.folder))
    try:
        out.mkdir(parents=True, exist_ok=True)
        _clear_up(out)
        stage = _stage(out)
        stage.mkdir()
        stage.rmdir()
    except OSError as trouble:
        return cannot_write(out, trouble)
    return None


def swap_in(out: Path, slug: str, files: Mapping[str, bytes]) -> Wrong | None:
    """Make `out/slug` hold exactly `files`; what it held before goes. On failure it stays as it was."""
    target = out / slug
    if not _ours(target):
        return Wrong.of("output-not-ours", folder=str(target))
    stage = _stage(out)
    fresh, old = stage / f"{slug}.new", stage / f"{slug}.old"
    try:
        _lay(fresh, files)
        _swap(fresh, target, old)
    except OSError as trouble:
        shutil.rmtree(fresh, ignore_errors=True)
        return cannot_write(target, trouble)
    finally:
        with contextlib.suppress(OSError):
            stage.rmdir()
    return None


def _swap(fresh: Path, target: Path, old: Path) -> None:
    """Put `fresh` in the place of `target`; if that fails, `target` is what it was."""
    if not os.path.lexists(target):
        fresh.rename(target)
        return
    target.rename(old)
    try:
        fresh.rename(target)
    except OSError:
        old.rename(target)
        raise
    shutil.rmtree(old, ignore_errors=True)


def cannot_write(path: Path, trouble: OSError) -> Wrong:
    reasons = {
        errno.EACCES: "may-not",
        errno.EPERM: "may-not",
        errno.EROFS: "read-only",
        errno.ENOSPC: "disk-full",
        errno.EDQUOT: "disk-full",
        errno.EEXIST: "not-a-folder",
        errno.ENOTDIR: "not-a-folder",
        errno.ENAMETOOLONG: "name-too-long",
    }
    return Wrong.of("cannot-write-" + reasons.get(trouble.errno or 0, "here"), path=str(path))


def _lay(folder: Path, files: Mapping[str, bytes]) -> None:
    if folder.exists():
        shutil.rmtree(folder)
    folder.mkdir(parents=True)
    listed = "".join(f"{name}\n" for name in sorted(files))
    for name, content in {**files, LIST: listed.encode()}.items():
        path = folder / name
        if "/" in name:
            path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _ours(target: Path) -> bool:
    """Whether a folder may be replaced: it is not there, is empty, or holds only what its list says we made."""
    if not os.path.lexists(target):
        return True
    if target.is_symlink() or not target.is_dir():
        return False
    try:
        made = set((target / LIST).read_text(encoding="utf-8").splitlines()) | {LIST}
    except (OSError, UnicodeDecodeError):
        made = set()
    held = {file.relative_to(target).as_posix() for file in target.rglob("*") if not file.is_dir()}
    return held <= made


def _stage(out: Path) -> Path:
    """The hidden folder this process works in."""
    return out / f"{_STAGE}{os.getpid()}"


def _clear_up(out: Path) -> None:
    """Put back what a killed build had moved aside, and take away what it left half-made."""
    for stage in out.glob(f"{_STAGE}*"):
        if _alive(stage.name.removeprefix(_STAGE)):
            continue
        for old in stage.glob("*.old"):
            target = out / old.name.removesuffix(".old")
            if not os.path.lexists(target):
                old.rename(target)
        shutil.rmtree(stage, ignore_errors=True)


def _alive(number: str) -> bool:
    """Whether a process of that number runs (on this machine, as far as we may know)."""
    if not number.isdecimal():
        return True
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return int(number) != os.getpid()
