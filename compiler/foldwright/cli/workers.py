"""Processes that work beside this one: forked where what is loaded can be shared, and ended with it, come what may."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Self

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing.context import BaseContext

_PR_SET_PDEATHSIG = 1
"""Has the system send a signal when the parent is gone (prctl(2), linux/prctl.h)."""
_MOST_HANDS = 4
"""An event has some ten papers; more processes take longer to begin than they save."""


def cores() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def pool_of(workers: int, on_paper: bool, forked: bool = True) -> ProcessPoolExecutor:
    """Processes that have begun to load what a build needs; `on_paper` when it prints. `forked` where that is safe."""
    from concurrent.futures import ProcessPoolExecutor

    return ProcessPoolExecutor(workers, _context(forked), _begin_work, (on_paper,))


class Hands:
    """Who sets papers: some processes beside this one, which begin to load the typesetter at once; with one core, this
    one itself, when it is waited for."""

    def __init__(self) -> None:
        workers = min(cores(), _MOST_HANDS)
        self._pool = pool_of(workers, True) if workers > 1 else None
        for _ in range(workers if self._pool else 0):
            self.ask(_load)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_trouble: object) -> None:
        if self._pool:
            self._pool.shutdown(cancel_futures=True)

    def ask[**P, T](self, work: Callable[P, T], *facts: P.args, **more: P.kwargs) -> Callable[[], T]:
        """Have something done; what comes back waits for it."""
        if self._pool:
            return self._pool.submit(work, *facts, **more).result
        return lambda: work(*facts, **more)


def _load() -> None:
    from foldwright.render.paper.typesetting import load_typesetter

    load_typesetter()


def _begin_work(on_paper: bool) -> None:
    """In a worker: an interrupt is ignored, so that it finishes the recipe it is at and no folder is half-swapped."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _end_with_parent()
    if on_paper:
        from multiprocessing.util import Finalize

        from foldwright.render.paper.typesetting import clear_away, leave_faces_to_parent

        leave_faces_to_parent()
        # Workers end without what other processes do at their end.
        Finalize(None, clear_away, exitpriority=1)


def _end_with_parent() -> None:
    """Nobody is left to be told what a worker makes once its parent is killed: it ends too."""
    from multiprocessing import parent_process
    from threading import Thread

    parent = parent_process()
    if parent is None:
        return

    def watch() -> None:
        parent.join()
        os._exit(1)

    if sys.platform == "linux":
        # Workers forked later hold the pipe that the watch listens to open, so the system is asked as well.
        import ctypes

        ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGKILL)
        if os.getppid() != parent.pid:
            os._exit(1)
    Thread(target=watch, daemon=True).start()


def _context(forked: bool = True) -> BaseContext:
    """Forked on Linux, where no thread is running yet and all that is loaded is shared; else as the system likes."""
    from multiprocessing import get_context

    return get_context(("fork" if forked else "spawn") if sys.platform == "linux" else None)
