"""Writing what was made: each recipe's folder appears whole or not at all.

New files are laid in a hidden folder beside the old ones and swapped in by renaming; while the old ones make way, they
are hidden in the same manner. Files that stay are in both for that moment. A folder that foldwright did not make is
never touched: it is known by the list of its files that foldwright leaves in it.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from pathlib import Path

from msgspec import Struct

from foldwright.cli.inputs import digest_of_bytes
from foldwright.finding import Wrong
from foldwright.outputs.new_folders import cannot_write
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import RECIPE

LIST = ".made-by-foldwright"
RECORD = ".foldwright-record"
"""What is remembered of a folder for the next build (`cli/records`)."""
BOOKLETS = ".foldwright-booklets"
"""What is remembered of booklets, at the root of the output (`cli/booklet`)."""
_AT_WORK = ".foldwright-at-work-"
_HIDDEN = re.compile(re.escape(_AT_WORK) + r"(?P<process>[0-9]+)-(?P<slug>.*)\.(?P<age>new|old)")
"""A folder or file on its way in or out, with the number of the process that moves it."""


class FileMark(Struct, frozen=True, array_like=True):
    """A file we wrote: its size, when it was written (in nanoseconds), a digest of what stands in it."""

    size: int
    time: int
    digest: str


def lies_inside(name: str) -> bool:
    """Whether a file lies in its folder by what a record calls it: records travel with pages, and may be anybody's."""
    return not os.path.isabs(name) and ".." not in name.replace(os.sep, "/").split("/")


type Seal = Callable[[Mapping[str, FileMark]], bytes]


def mark_of(file: Path, data: bytes) -> FileMark:
    """The mark of a file that holds these bytes."""
    return FileMark(len(data), file.stat().st_mtime_ns, digest_of_bytes(data))


def open_output(out: Path, sources: Iterable[Source]) -> Wrong | None:
    """Make the output folder ready, or say why it cannot be one. Clears up after builds that were killed."""
    there = os.path.realpath(out)
    real = cache(os.path.realpath)
    for source in sources:
        home = _real_path(str(source.folder), real)
        # A recipe must never be swapped away, and its own folder is no place for what is made of it.
        inside = source.text == RECIPE and f"{there}{os.sep}".startswith(f"{home}{os.sep}")
        if inside or f"{home}{os.sep}".startswith(f"{os.path.join(there, source.slug)}{os.sep}"):
            return Wrong.of("output-in-recipe", out=str(out), recipe=str(source.folder))
    try:
        out.mkdir(parents=True, exist_ok=True)
        _clear_up(out)
        trial = _hidden(out, "trial", "new")
        trial.mkdir()
        trial.rmdir()
    except OSError as trouble:
        return cannot_write(out, trouble)
    return None


def _real_path(folder: str, real: Callable[[str], str]) -> str:
    """The path of a folder, all links followed; `real` gives that of the folder it lies in, which many share."""
    head, name = os.path.split(folder)
    ordinary = name not in ("", ".", "..") and not os.path.islink(folder)
    return os.path.join(real(head), name) if ordinary else os.path.realpath(folder)


def swap_in(
    out: Path, slug: str, files: Mapping[str, bytes], stays: Iterable[str] = (), seal: Seal | None = None
) -> Wrong | None:
    """Make `out/slug` hold exactly `files`, and of what it held before what `stays`. On failure it stays as it was.

    `seal` gives what is to be remembered of it, once all files have their times.
    """
    target = out / slug
    if not ours(target):
        return Wrong.of("output-not-ours", folder=str(target))
    fresh, old = _hidden(out, slug, "new"), _hidden(out, slug, "old")
    try:
        _lay(fresh, files)
        _bring_over(target, fresh, stays)
        _note(fresh, [*files, *stays], {name: mark_of(fresh / name, data) for name, data in files.items()}, seal)
        _swap(fresh, target, old)
    except OSError as trouble:
        shutil.rmtree(fresh, ignore_errors=True)
        return cannot_write(target, trouble)
    return None


def take_away(out: Path, slug: str) -> Wrong | None:
    """Remove `out/slug`, unless anything in it is not ours."""
    target = out / slug
    if not ours(target):
        return Wrong.of("output-not-ours", folder=str(target))
    old = _hidden(out, slug, "old")
    try:
        target.rename(old)
    except OSError as trouble:
        return cannot_write(target, trouble)
    shutil.rmtree(old, ignore_errors=True)
    return None


def put_file(out: Path, path: Path, data: bytes) -> None:
    """Write one file, whole or not at all."""
    fresh = _hidden(out, path.name, "new")
    try:
        fresh.write_bytes(data)
        fresh.replace(path)
    except OSError:
        fresh.unlink(missing_ok=True)
        raise


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


def _lay(folder: Path, files: Mapping[str, bytes]) -> None:
    folder.mkdir()
    for within in sorted({name.rpartition("/")[0] for name in files}):
        (folder / within).mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        (folder / name).write_bytes(content)


def _bring_over(target: Path, fresh: Path, names: Iterable[str]) -> None:
    """Have files of one folder in another as well: as second names of theirs, or as copies where there are none."""
    for name in names:
        if "/" in name:
            (fresh / name).parent.mkdir(parents=True, exist_ok=True)
        try:
            os.link(target / name, fresh / name)
        except OSError:
            shutil.copy2(target / name, fresh / name)


def _note(fresh: Path, names: Iterable[str], marks: Mapping[str, FileMark], seal: Seal | None) -> None:
    """Leave the list of all files, and what is to be remembered."""
    (fresh / LIST).write_bytes("".join(f"{name}\n" for name in sorted(names)).encode())
    if seal:
        (fresh / RECORD).write_bytes(seal(marks))


def ours(target: Path) -> bool:
    """Whether a folder may be replaced: it is not there, is empty, or holds only what its list says we made."""
    if target.is_symlink() or not target.is_dir():
        return not os.path.lexists(target)
    try:
        made = set((target / LIST).read_text(encoding="utf-8").splitlines()) | {LIST, RECORD}
    except (OSError, UnicodeDecodeError):
        made = set()
    held = {file.relative_to(target).as_posix() for file in target.rglob("*") if not file.is_dir()}
    return held <= made


def _hidden(out: Path, slug: str, age: str) -> Path:
    """Where this process keeps a folder that is not yet, or no longer, in its place."""
    return out / f"{_AT_WORK}{os.getpid()}-{slug}.{age}"


def _clear_up(out: Path) -> None:
    """Put back what a killed build had moved aside, and take away what it left half-made."""
    for folder in out.glob(f"{_AT_WORK}*"):
        left = _HIDDEN.fullmatch(folder.name)
        if left is None or _alive(int(left["process"])):
            continue
        target = out / left["slug"]
        if folder.is_file():
            folder.unlink()
        elif left["age"] == "old" and not os.path.lexists(target):
            folder.rename(target)
        else:
            shutil.rmtree(folder, ignore_errors=True)


def _alive(number: int) -> bool:
    """Whether a process of that number runs (on this machine, as far as we may know)."""
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return number != os.getpid()
