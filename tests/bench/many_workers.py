"""Sixty-four workers of a Dask scheduler, and recipes that take as long as real ones: how much of their time they work.

A worker sleeps where it would compile. Scheduler, workers and the sending are real, all of them in this one process, so
that what they take of its one core is more than it would be on a scheduler's own machine.
"""

from __future__ import annotations

import random
import time

from distributed import Client, LocalCluster

from foldwright.cli.cluster import Cluster, Errand

WORKERS = 64
BUSY_AT_LEAST = 0.9
_SECONDS = (2.0, 8.0)
"""What a recipe with all its papers takes: mostly 4 to 5 seconds, some twice as long."""
_BYTES = 60_000
"""What goes out with one: its text, its studio, a photograph."""


def share_of_time_at_work(recipes: int, shorter: float = 1.0) -> float:
    """The share of the workers' time that they are at work, from the first recipe sent to the last one back.

    With `shorter` below one each recipe takes that part of its time.
    """
    rolled = random.Random(21)
    naps = [rolled.triangular(*_SECONDS, 4.0) * shorter for _ in range(recipes)]

    def nap(parcel: tuple[float, bytes]) -> float:
        time.sleep(parcel[0])
        return parcel[0]

    with (
        LocalCluster(
            n_workers=WORKERS, threads_per_worker=1, processes=False, memory_limit=None, dashboard_address=None
        ) as dask,
        Cluster(Client(dask, set_as_default=False), nap) as cluster,
    ):
        cluster.workers()
        begun = time.perf_counter()
        slept = sum(cluster.each(Errand((nap_s, bytes(_BYTES)), lambda one, _: one) for nap_s in naps))
        took = time.perf_counter() - begun
    assert cluster.here == 0
    return slept / (took * WORKERS)
