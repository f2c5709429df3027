"""A Dask scheduler and workers as processes of this machine. Not a test."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_SCHEDULER_AT = re.compile(r"Scheduler at:\s*(tcp://\S+)")
_WORKER_AT = re.compile(r"Start worker at:\s*(tcp://\S+)")
_REGISTERED = re.compile(r"Registered to:")


class DaskCluster:
    """A scheduler's address, and its workers by theirs."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._running: list[subprocess.Popen[str]] = []
        self.workers: dict[str, subprocess.Popen[str]] = {}
        scheduler = self._start("dask_scheduler", "--host", "127.0.0.1", "--port", "0")
        self.address = _said(scheduler, _SCHEDULER_AT)[1]

    def add_worker(self, **variables: str) -> str:
        """Start a worker and wait until it is known; its address."""
        worker = self._start("dask_worker", self.address, "--nthreads", "1", "--no-nanny", **variables)
        address = _said(worker, _WORKER_AT)[1]
        _said(worker, _REGISTERED)
        self.workers[address] = worker
        return address

    def kill(self, address: str) -> None:
        """Have a worker gone, without a word to anyone."""
        worker = self.workers.pop(address)
        worker.kill()
        worker.wait()

    def close(self) -> None:
        for process in reversed(self._running):
            process.kill()
            process.wait()
            assert process.stderr
            process.stderr.close()

    def _start(self, program: str, *words: str, **variables: str) -> subprocess.Popen[str]:
        command = [sys.executable, "-m", f"distributed.cli.{program}", *words, "--no-dashboard"]
        process = subprocess.Popen(
            command,
            cwd=self._folder,
            env={**os.environ, **variables},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
        self._running.append(process)
        return process


def _said(process: subprocess.Popen[str], what: re.Pattern[str]) -> re.Match[str]:
    assert process.stderr
    for line in process.stderr:
        if found := what.search(line):
            return found
    raise AssertionError(f"{process.args} ended before it said {what.pattern}")


@contextmanager
def dask_cluster(folder: Path) -> Iterator[DaskCluster]:
    """A cluster without workers, which is gone afterwards."""
    cluster = DaskCluster(folder)
    try:
        yield cluster
    finally:
        cluster.close()
