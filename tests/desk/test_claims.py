"""Two desks on one folder: the second is told where the first is, and a dead one holds nothing."""

from __future__ import annotations

import errno
import json
import os
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from desk.on_disk import told
from foldwright.desk.keeping.alive import Process, this_process
from foldwright.desk.keeping.claims import NOTE, Claimed, TakenBy, claim

HERE = "http://127.0.0.1:8001/"
OTHER = "http://127.0.0.1:8002/"
SIT = "import sys; from pathlib import Path; from foldwright.desk.keeping.claims import claim\n"
SIT += "print(type(claim(Path(sys.argv[1]), sys.argv[2])).__name__, flush=True); sys.stdin.read()"


def sitting(folder: Path, address: str = OTHER) -> subprocess.Popen[str]:
    """A process that claims the folder and waits."""
    words = [sys.executable, "-c", SIT, str(folder), address]
    return subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def said_by(process: subprocess.Popen[str]) -> str:
    assert process.stdout
    return process.stdout.readline().strip()


def end(process: subprocess.Popen[str]) -> None:
    process.send_signal(signal.SIGKILL)
    process.communicate()


def test_a_second_desk_is_told_where_the_first_is_until_that_is_killed(tmp_path: Path) -> None:
    first = sitting(tmp_path)
    try:
        assert said_by(first) == "Claimed"
        assert claim(tmp_path, HERE) == TakenBy(OTHER)
    finally:
        end(first)
    assert claim(tmp_path, HERE) == Claimed(tmp_path)


def test_of_several_that_start_at_once_one_gets_the_folder(tmp_path: Path) -> None:
    desks = [sitting(tmp_path, f"http://127.0.0.1:{9000 + number}/") for number in range(5)]
    try:
        assert sorted(map(said_by, desks)) == ["Claimed", *["TakenBy"] * 4]
    finally:
        for desk in desks:
            end(desk)


def test_what_is_released_is_free_and_nobody_releases_another_s(tmp_path: Path) -> None:
    claimed = claim(tmp_path, HERE)
    assert isinstance(claimed, Claimed)
    assert stat.S_IMODE((tmp_path / NOTE).stat().st_mode) == 0o600
    assert claim(tmp_path, HERE) == claimed
    claimed.release()
    assert list(tmp_path.iterdir()) == []
    first = sitting(tmp_path)
    try:
        assert said_by(first) == "Claimed"
        claimed.release()
        assert claim(tmp_path, HERE) == TakenBy(OTHER)
    finally:
        end(first)


@pytest.mark.parametrize("left", [b"", b"{", b"[]", b'{"process": {"number": 1e99}, "address": ""}', b"\xff" * 20_000])
def test_a_note_that_nobody_can_read_holds_nothing(tmp_path: Path, left: bytes) -> None:
    (tmp_path / NOTE).write_bytes(left)
    assert claim(tmp_path, HERE) == Claimed(tmp_path)


@pytest.mark.skipif(sys.platform != "linux", reason="only there the system tells when a process started")
def test_a_number_that_was_given_out_again_is_another_process(tmp_path: Path) -> None:
    me = this_process()
    assert me.runs and me.start
    assert not Process(me.number, "1").runs
    # The first process of all started long before; the number alone would say that it runs.
    note = {"process": {"number": os.getppid(), "start": "1"}, "address": "x"}
    (tmp_path / NOTE).write_text(json.dumps(note))
    assert claim(tmp_path, HERE) == Claimed(tmp_path)


@pytest.mark.parametrize("number", [0, -1, 2**40, 2**70])
def test_a_number_that_no_process_can_have(number: int) -> None:
    assert not Process(number).runs


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    answer = claim(tmp_path / "gone", HERE)
    assert "cannot find the folder" in told(answer)
    (tmp_path / "file").write_text("")
    assert "cannot find the folder" in told(claim(tmp_path / "file", HERE))


def test_a_folder_in_which_nothing_can_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(os, "fsync", full)
    assert "cannot write in" in told(claim(tmp_path, HERE))
    assert list(tmp_path.iterdir()) == []
