"""Slow work beside the server: one process of low priority, which does the newest wish of each kind and drops the rest.

It is spawned, as a server with threads must not be forked. A thread of its own speaks to it, so that nobody who asks
ever waits on the event loop; a process that dies is followed by another, and the last one ends with the server.
"""

from __future__ import annotations

import asyncio
import gc
import os
import signal
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from multiprocessing import get_context
from threading import Condition, Thread
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import SpawnProcess

_POLITE = 5
"""How far behind the server papers are made (nice(2))."""
_PATIENCE = 3.0
"""Seconds that work for which nobody waits may take to its end: to begin a process anew, and load all it needs, costs
as much."""
_GRACE = 2.0
"""Seconds that a process has to clear up after itself."""
_GLANCE = 0.1
"""Seconds after which is looked whether somebody still waits for the work; what is done is noticed at once."""
_MOST_JOBS = 200
"""After so many a new process begins, with whatever libraries kept to themselves given back."""
_SELDOM = 500_000
"""After how many new objects to look for garbage in the midst of work: a quarter of a card's time went into that."""
_REST = 0.1
"""Seconds without work after which it is looked for instead."""


class Overtaken(Exception):  # noqa: N818
    """A newer wish of the same key came before this one was done."""


class WorkLost(Exception):  # noqa: N818
    """The work did not end: its process died, or it could not do it."""


type _Call = tuple[Callable[..., Any], tuple[Any, ...], dict[str, Any]]
"""The work, and what it is given."""


class _Job:
    """Something asked for."""

    def __init__(self, call: _Call) -> None:
        self.call = call
        self.loop = asyncio.get_running_loop()
        self.future: asyncio.Future[Any] = self.loop.create_future()

    def answer(self, value: Any) -> None:
        """From any thread. A trouble is raised where the answer is waited for."""
        with suppress(RuntimeError):  # The loop is closed: nobody waits any more.
            self.loop.call_soon_threadsafe(self._settle, value)

    def _settle(self, value: Any) -> None:
        if self.future.done():
            return
        if isinstance(value, Exception):
            self.future.set_exception(value)
        else:
            self.future.set_result(value)


class PaperWorker:
    """Asked by `ask`, from the event loop; ended by `close`. Its process stands `behind` the server, so far that typing
    goes before papers; what typing waits for stands beside it."""

    def __init__(self, behind: int = _POLITE) -> None:
        self._behind = behind
        self._news = Condition()
        self._waiting: dict[str, _Job] = {}
        self._running: tuple[str, _Job] | None = None
        self._closed = False
        self._thread: Thread | None = None
        self._process: SpawnProcess | None = None
        self._pipe: Connection | None = None
        self._done = 0

    async def ask[**P, T](self, key: str, work: Callable[P, T], *facts: P.args, **more: P.kwargs) -> T:
        """Have it done beside the server; an older wish of the same key is given up (`Overtaken`).

        `work` is a function of a module, and all that goes in and comes out can be pickled.
        """
        job = _Job((work, facts, more))
        with self._news:
            if self._closed:
                raise WorkLost
            self._overtake(key)
            self._waiting[key] = job
            if self._thread is None:
                self._thread = Thread(target=self._serve, name="papers", daemon=True)
                self._thread.start()
            self._news.notify()
        answer: T = await job.future
        return answer

    def close(self) -> None:
        """End the process, whatever it is at."""
        with self._news:
            self._closed = True
            for job in self._waiting.values():
                job.answer(WorkLost())
            self._waiting.clear()
            self._news.notify()
        if self._thread:
            self._thread.join()

    def _overtake(self, key: str) -> None:
        if older := self._waiting.pop(key, None):
            older.answer(Overtaken())
        if self._running and self._running[0] == key:
            self._running[1].answer(Overtaken())

    # --- in the thread ------------------------------------------------------------------------------------------------

    def _serve(self) -> None:
        while job := self._next():
            job.answer(self._worked(job))
            with self._news:
                self._running = None
            if self._done >= _MOST_JOBS:
                self._end()
        self._end()

    def _next(self) -> _Job | None:
        """The wish that has waited longest and is still waited for; None when all is over."""
        with self._news:
            while True:
                self._news.wait_for(lambda: self._waiting or self._closed)
                if self._closed:
                    return None
                key = next(iter(self._waiting))
                job = self._waiting.pop(key)
                if not job.future.done():
                    self._running = key, job
                    return job

    def _worked(self, job: _Job) -> Any:
        """What the process answers; a trouble where it does not."""
        try:
            pipe = self._ready()
            pipe.send(job.call)
            wanted = time.monotonic()
            while not pipe.poll(_GLANCE):
                if not job.future.done():
                    wanted = time.monotonic()
                if self._closed or time.monotonic() - wanted > _PATIENCE:
                    self._end()
                    return WorkLost()
            self._done += 1
            return pipe.recv()
        except (EOFError, OSError):
            self._end()
            return WorkLost()

    def _ready(self) -> Connection:
        """To the process, which is begun where there is none."""
        if self._pipe is None or self._process is None or not self._process.is_alive():
            self._end()
            context = get_context("spawn")
            self._pipe, theirs = context.Pipe()
            self._process = context.Process(target=_work, args=(theirs, self._behind), daemon=True)
            self._process.start()
            theirs.close()
        return self._pipe

    def _end(self) -> None:
        if self._pipe:
            self._pipe.close()
        if self._process:
            self._process.terminate()
            self._process.join(_GRACE)
            if self._process.is_alive():
                self._process.kill()
                self._process.join()
            self._process.close()
        self._pipe, self._process, self._done = None, None, 0


def _work(pipe: Connection, behind: int) -> None:
    """In the process: one thing after the other, until the server is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _ended)
    if hasattr(os, "nice"):
        os.nice(behind)
    gc.set_threshold(_SELDOM)
    with suppress(EOFError, OSError):
        while True:
            if not pipe.poll(_REST):
                gc.collect()
            work, facts, more = pipe.recv()
            try:
                answer = work(*facts, **more)
            except Exception:  # noqa: BLE001 - whatever the work stumbles on, whoever asked is told, and it goes on
                sys.excepthook(*sys.exc_info())
                answer = WorkLost()
            pipe.send(answer)
    signal.signal(signal.SIGTERM, signal.SIG_IGN)


def _ended(*_: object) -> None:
    """Told to end, it ends as programs do: what libraries left on the disk is cleared away, to the end."""
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    sys.exit(1)
