"""A build that is killed hard: its workers end with it, and the next build sweeps up what it left."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from workbench.command_line import GOOD, HANG, contents, foldwright, until, write

MANY = 40
"""More than are made before the first of them is seen, however busy the machine is: only a few are."""

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="processes are looked for in /proc")


def of_session(number: int) -> set[int]:
    """The processes of a session that run; those that ended and were not fetched yet do not."""
    found = set()
    for folder in Path("/proc").iterdir():
        if not folder.name.isdecimal():
            continue
        try:
            state, _, _, session = (folder / "stat").read_text().rpartition(")")[2].split()[:4]
        except OSError:
            continue
        if int(session) == number and state not in "ZX":
            found.add(int(folder.name))
    return found


def test_workers_end_with_their_parent_and_the_next_build_sweeps_up(tmp_path: Path) -> None:
    for number in range(MANY):
        write(tmp_path / "recipes", f"card-{number:02}", GOOD)
    out = tmp_path / "out"
    words = ("build", "recipes", "--out", "out", "--only", "card", "--jobs", "2")
    command = [sys.executable, "-m", "foldwright", *words]
    nowhere = subprocess.DEVNULL
    running = subprocess.Popen(command, cwd=tmp_path, start_new_session=True, stdout=nowhere, stderr=nowhere)
    try:
        until(lambda: out.is_dir() and any(out.glob("card-*")), "the first card is there")
        assert running.poll() is None, "the build was over before it could be killed"
        assert len(of_session(running.pid)) > 1
        os.kill(running.pid, signal.SIGKILL)
        running.wait(HANG)
        until(lambda: not of_session(running.pid), "every worker has ended")
    finally:
        if left := of_session(running.pid):
            os.killpg(running.pid, signal.SIGKILL)
        running.wait(HANG)
    assert not left
    made = contents(out)
    assert len({Path(name).parts[0] for name in made}) < MANY
    # What a worker was at when it was killed.
    (out / f".foldwright-at-work-{running.pid}-card-00.new").mkdir()
    done = foldwright("build", "recipes/card-00", "--out", "out", cwd=tmp_path)
    assert done.status == 0, done.out + done.err
    assert [name for name in os.listdir(out) if name.startswith(".")] == []
    assert (out / "card-00" / "tutorial.html").is_file()


def test_a_build_that_was_killed_and_run_again_is_what_one_build_writes(tmp_path: Path) -> None:
    for number in range(MANY):
        write(tmp_path / "recipes", f"card-{number:02}", GOOD)
    words = ("build", "recipes", "--only", "tutorial,sheet", "--jobs", "2")
    command = [sys.executable, "-m", "foldwright", *words, "--out", "out"]
    running = subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    out = tmp_path / "out"
    until(lambda: out.is_dir() and any(out.glob("card-*")), "the first page is there")
    running.kill()
    running.wait(HANG)
    for folder in ("out", "fresh"):
        done = foldwright(*words, "--out", folder, cwd=tmp_path)
        assert done.status == 0, done.out + done.err
    assert contents(out) == contents(tmp_path / "fresh")
