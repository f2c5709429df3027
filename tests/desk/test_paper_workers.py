"""The process beside the server: what it is asked, what it drops, and that it comes back when it dies."""

from __future__ import annotations

import asyncio
import os
import signal
from collections.abc import Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from foldwright.desk.paper_workers import Overtaken, PaperWorker, WorkLost
from foldwright.render.paper.page_pictures import page_pictures


def with_worker[T](work: Callable[[PaperWorker], Awaitable[T]]) -> T:
    """Do something with a worker, which is ended afterwards."""

    async def whole() -> T:
        worker = PaperWorker()
        try:
            return await work(worker)
        finally:
            worker.close()

    # In a thread of its own: where a browser is open, this one has a loop already.
    with ThreadPoolExecutor(1) as threads:
        return threads.submit(lambda: asyncio.run(whole())).result()


async def outcome(asked: Awaitable[object]) -> object:
    """What came of it: an answer, or what kind of trouble."""
    try:
        return await asked
    except (Overtaken, WorkLost) as trouble:
        return type(trouble)


def test_it_works_in_another_process_of_low_priority() -> None:
    async def work(worker: PaperWorker) -> None:
        process = await worker.ask("who", os.getpid)
        assert process != os.getpid()
        assert await worker.ask("who", os.getpriority, os.PRIO_PROCESS, process) > os.getpriority(os.PRIO_PROCESS, 0)
        assert await worker.ask("who", int, "ff", base=16) == 255

    with_worker(work)


def test_of_wishes_of_one_key_the_newest_is_done_and_those_of_others_are_kept() -> None:
    async def work(worker: PaperWorker) -> None:
        asked = [worker.ask(key, sum, (number,)) for number, key in enumerate("abaab")]
        assert await asyncio.gather(*map(outcome, asked)) == [Overtaken, Overtaken, Overtaken, 3, 4]

    with_worker(work)


def test_a_process_that_hangs_is_given_up_when_something_newer_is_wanted(tmp_path: Path) -> None:
    async def work(worker: PaperWorker) -> None:
        pipe = tmp_path / "nobody-writes"
        os.mkfifo(pipe)
        hanging = asyncio.ensure_future(outcome(worker.ask("paper", Path.read_text, pipe)))
        other = asyncio.ensure_future(worker.ask("other", sum, (1, 2)))
        await asyncio.sleep(0)
        assert await worker.ask("paper", sum, (3, 4)) == 7
        assert await hanging is Overtaken
        assert await other == 3

    with_worker(work)


def test_what_nobody_waits_for_any_more_is_not_begun(tmp_path: Path) -> None:
    async def work(worker: PaperWorker) -> None:
        pipe, mark = tmp_path / "nobody-writes-yet", tmp_path / "begun"
        os.mkfifo(pipe)
        busy = asyncio.ensure_future(worker.ask("busy", Path.read_text, pipe))
        await asyncio.sleep(0)
        left = asyncio.ensure_future(worker.ask("left", Path.touch, mark))
        await asyncio.sleep(0)
        left.cancel()
        await asyncio.to_thread(pipe.write_text, "go on")
        assert await busy == "go on"
        assert await worker.ask("other", sum, (1, 2)) == 3
        assert not mark.exists()

    with_worker(work)


def test_a_process_that_dies_loses_its_work_and_another_takes_its_place() -> None:
    async def work(worker: PaperWorker) -> None:
        process = await worker.ask("who", os.getpid)
        assert await outcome(worker.ask("end", os._exit, 3)) is WorkLost
        after = await worker.ask("who", os.getpid)
        assert after != process
        os.kill(after, signal.SIGKILL)
        # Killed between two jobs, whoever asks next may be the one who finds out.
        assert await outcome(worker.ask("sum", sum, (1, 1))) in (2, WorkLost)
        assert await worker.ask("sum", sum, (1, 1)) == 2

    with_worker(work)


def test_work_that_fails_is_lost_alone(capfd: pytest.CaptureFixture[str]) -> None:
    async def work(worker: PaperWorker) -> None:
        process = await worker.ask("who", os.getpid)
        assert await outcome(worker.ask("pages", page_pictures, b"no pdf", 100)) is WorkLost
        assert await worker.ask("who", os.getpid) == process

    with_worker(work)
    assert "Failed to load document" in capfd.readouterr().err


def test_at_the_end_no_process_is_left_and_nobody_waits_for_ever() -> None:
    async def whole() -> int:
        worker = PaperWorker()
        process = await worker.ask("who", os.getpid)
        left = asyncio.ensure_future(outcome(worker.ask("long", signal.pause)))
        await asyncio.sleep(0)
        worker.close()
        assert await left is WorkLost
        assert await outcome(worker.ask("who", os.getpid)) is WorkLost
        return process

    with ThreadPoolExecutor(1) as threads:
        process = threads.submit(lambda: asyncio.run(whole())).result()
    with pytest.raises(ProcessLookupError):
        os.kill(process, 0)
