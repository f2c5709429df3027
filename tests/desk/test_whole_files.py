"""Disks that will not, and desks that are killed: each file is the old one or the new one, whole."""

from __future__ import annotations

import errno
import os
import random
import signal
import sys
import time
import warnings
from collections.abc import Callable
from pathlib import Path

import pytest

from desk.on_disk import NEW, OLD, made, opened, text_in, told
from foldwright.desk.keeping.disk import laid
from foldwright.desk.keeping.on_disk import Choice, Outside, RecipeOnDisk
from foldwright.outputs.texts import RECIPE

FAILURES = {
    errno.ENOSPC: "disk is full",
    errno.EDQUOT: "all the space",
    errno.EACCES: "not allowed",
    errno.EROFS: "only be read",
    errno.ENOENT: "is gone",
    errno.ENAMETOOLONG: "too long",
    errno.EIO: "Try again",
}


@pytest.mark.parametrize("number", FAILURES)
@pytest.mark.parametrize("call", ["open", "fsync", "replace", "mkdir"])
def test_a_disk_that_will_not_is_told_in_words_and_the_next_try_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, call: str
) -> None:
    folder = made(tmp_path / "box")
    recipe, _ = opened(folder)

    def fail(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as broken:
        broken.setattr(os, call, fail)
        answers = [recipe.save_draft(NEW), recipe.keep(NEW)]
    for answer in answers:
        assert FAILURES[number] in told(answer)
    assert text_in(folder) == OLD
    assert not list(folder.rglob("*.new"))
    assert recipe.save_draft(NEW) is None
    assert recipe.keep(NEW) is None
    assert text_in(folder) == NEW


@pytest.mark.skipif(sys.platform != "linux", reason="a device that is always full")
def test_a_disk_that_is_really_full() -> None:
    with pytest.raises(OSError, match="No space") as full, open("/dev/full", "wb", buffering=0) as stream:
        stream.write(b"x")
    assert full.value.errno == errno.ENOSPC


def forked() -> int:
    """A process of its own that works on from here, to which zero is told; other tests' threads are no matter."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        return os.fork()


def killed_at(step: int, work: Callable[[], object], folder: Path) -> bool:
    """Do the work in a process of its own that is killed before its `step`th dealing with the disk; whether it was."""
    child = forked()
    if child == 0:
        left = step

        def watch(event: str, args: tuple[object, ...]) -> None:
            nonlocal left
            ours = args and isinstance(args[0], str | os.PathLike) and str(folder) in os.fspath(args[0])
            if ours or event == "fsync":
                left -= 1
                if not left:
                    os.kill(os.getpid(), signal.SIGKILL)

        sync = os.fsync

        def watched_sync(number: int) -> None:
            watch("fsync", ())
            sync(number)

        os.fsync = watched_sync
        sys.addaudithook(watch)
        work()
        os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="a process of its own")
@pytest.mark.parametrize("what", ["draft", "keep", "settle", "photograph"])
def test_killed_at_any_moment_each_file_is_whole_and_nothing_is_left_about(tmp_path: Path, what: str) -> None:
    for step in range(1, 1000):
        folder = made(tmp_path / f"box-{step}")
        recipe, _ = opened(folder)
        assert recipe.save_draft("typed") is None
        works: dict[str, Callable[[], object]] = {
            "draft": lambda recipe=recipe: recipe.save_draft(NEW),
            "keep": lambda recipe=recipe: recipe.keep(NEW),
            "settle": lambda recipe=recipe: recipe.settle(Outside(NEW, OLD, "", recipe._seen), Choice.BOTH, NEW),
            "photograph": lambda recipe=recipe: recipe.add_file("lid", ".jpg", b"picture" * 1000),
        }
        was_killed = killed_at(step, works[what], folder)
        assert text_in(folder) in (OLD, NEW)
        again, seen = opened(folder)
        # What was typed is there, as the draft or as the recipe.
        assert seen.text in ("typed", NEW) or (what == "settle" and (folder / "recipe.mine.md").exists())
        assert seen.outside is None or what == "settle"
        assert not list(folder.rglob("*.new"))
        for beside in folder.glob("lid*"):
            assert beside.read_bytes() == b"picture" * 1000
        assert all(again.version(one.name) in (OLD, NEW) for one in again.versions())
        if what == "keep" and text_in(folder) == NEW:
            assert [again.version(one.name) for one in again.versions()] == [OLD]
        if not was_killed:
            break
    assert step > 5, "the work was never interrupted"


@pytest.mark.skipif(not hasattr(os, "fork"), reason="a process of its own")
def test_killed_again_and_again_while_typing(tmp_path: Path) -> None:
    """Each desk goes on where the last one was killed, wherever that was: what comes back was typed, and is whole."""
    chance = random.Random(19)
    folder = made(tmp_path / "box", "0 ")
    for _ in range(25):
        recipe, seen = opened(folder)
        assert seen.outside is None
        number, _, rest = seen.text.partition(" ")
        assert rest == LONG * (int(number) % 3)
        assert not list(folder.rglob("*.new"))
        told, tell = os.pipe()
        child = forked()
        if child == 0:
            type_for_ever(recipe, int(number), tell)
        os.close(tell)
        # On a busy machine it may take long until the first words are on disk.
        assert os.read(told, 1)
        time.sleep(chance.uniform(0, 0.03))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(told)
        assert opened(folder)[1].text != seen.text, "no word was typed"


LONG = "word " * 40_000


def type_for_ever(recipe: RecipeOnDisk, number: int, tell: int) -> None:
    """Words on words, until it is killed; after the first ones it says so."""
    begun = number
    try:
        while True:
            number += 1
            text = f"{number} " + LONG * (number % 3)
            if (recipe.keep if number % 5 == 0 else recipe.save_draft)(text) is not None:
                break
            if number == begun + 1:
                os.write(tell, b"x")
    finally:
        os._exit(1)


def test_a_file_on_its_way_is_not_swept_up_by_a_second_opening(tmp_path: Path) -> None:
    folder = made(tmp_path / "box")
    with laid(folder / RECIPE, b"new") as fresh:
        opened(folder)
        assert fresh.exists()
