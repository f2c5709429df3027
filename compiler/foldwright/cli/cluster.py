"""Recipes compiled on other machines: a Dask cluster whose workers have this same foldwright.

This machine reads and writes; a recipe goes out as a parcel and its files come back. Workers come and go: what one had
in hand when it was lost is sent to another, and what none can do is done here.
"""

from __future__ import annotations

import logging
import os
import re
import warnings
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from time import monotonic
from typing import TYPE_CHECKING, Any, Self, cast

from msgspec import Struct
from msgspec.structs import replace

from foldwright.cli.one_recipe import Begun, finish
from foldwright.cli.outcomes import Outcome
from foldwright.cli.program import program_elsewhere
from foldwright.finding import Wrong
from foldwright.outputs.compiling import MadeRecipe
from foldwright.outputs.parcel import Lacking, Parcel, compile_parcel, pack, with_more

if TYPE_CHECKING:
    from distributed import Client, Future

_ADDRESS = re.compile(r"(?:tcp|tls)://[^\s/]+:[0-9]{1,5}/?")
_PATIENCE = 10
"""Seconds a scheduler has to answer, and after which workers are counted again (reasoned guesses)."""
_AHEAD = 4
"""Recipes sent for each thread of a worker before the first of them is back: it never waits, and memory stays small."""


type Work[P, M] = Callable[[P], M | Lacking]
"""What a worker does with a parcel."""


class Errand[P](Struct, frozen=True):
    """A parcel, and who puts into it what it lacked."""

    parcel: P
    more: Callable[[P, Lacking], P]


class _Sent[P](Struct, frozen=True):
    """An errand on its way: to which workers, and what is to come of it."""

    errand: Errand[P]
    to: frozenset[str]
    future: Future[Any]


class Cluster[P, M]:
    """The workers of a scheduler that have this same foldwright. What they do with a parcel is their `work`."""

    def __init__(self, client: Client, work: Work[P, M]) -> None:
        self._client, self._work = client, work
        self._seen: dict[str, str] = {}
        """What foldwright each worker has that was ever asked."""
        self.here = 0
        """How many recipes were compiled on this machine after all."""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_trouble: object) -> None:
        self._client.close()

    def workers(self) -> dict[str, int]:
        """The threads of each worker that may get work now; who has just come is asked first."""
        try:
            there = self._client.scheduler_info(n_workers=-1)["workers"]
            if new := [worker for worker in there if worker not in self._seen]:
                answers = self._client.run(_asking(), workers=new, on_error="ignore")
                self._seen |= dict.fromkeys(new, "") | answers
        except OSError:
            # The scheduler is gone, and with it everyone.
            return {}
        return {
            worker: facts["nthreads"] for worker, facts in there.items() if self._seen[worker] == program_elsewhere()
        }

    @property
    def refused(self) -> tuple[str, ...]:
        """The addresses of workers that were left out: they have another foldwright, or none."""
        return tuple(worker for worker, theirs in self._seen.items() if theirs != program_elsewhere())

    def each(self, errands: Iterable[Errand[P]]) -> Iterator[M]:
        """What comes of each, in their order."""
        rest, sent = iter(errands), deque[_Sent[P]]()
        hands, counted = self.workers(), monotonic()
        while True:
            while len(sent) < sum(hands.values()) * _AHEAD and (errand := next(rest, None)):
                sent.append(self._send(errand, hands))
            if sent:
                yield self._received(sent.popleft())
            elif errand := next(rest, None):
                yield self._done_here(errand)
            else:
                return
            if monotonic() - counted > _PATIENCE:
                hands, counted = self.workers(), monotonic()

    def _send(self, errand: Errand[P], to: Iterable[str]) -> _Sent[P]:
        future = self._client.submit(self._work, errand.parcel, pure=False, workers=list(to))
        return _Sent(errand, frozenset(to), future)

    def _received(self, sent: _Sent[P]) -> M:
        """What came of an errand. It is sent again when those it went to are lost, or when something was lacking."""
        while True:
            try:
                made = sent.future.result(timeout=_PATIENCE)
            except TimeoutError:
                there = self.workers()
                if not sent.to.isdisjoint(there):
                    continue
                sent.future.cancel()
                if not there:
                    return self._done_here(sent.errand)
                sent = self._send(sent.errand, there)
                continue
            except Exception:  # noqa: BLE001
                # Lost with its worker once too often, or with the scheduler. A fault of the program itself is raised
                # here again, as it would have been without a cluster.
                return self._done_here(sent.errand)
            if not isinstance(made, Lacking):
                return cast("M", made)
            sent = self._send(_with_more(sent.errand, made), sent.to)

    def _done_here(self, errand: Errand[P]) -> M:
        self.here += 1
        while isinstance(made := self._work(errand.parcel), Lacking):
            errand = _with_more(errand, made)
        return made


def _with_more[P](errand: Errand[P], lacking: Lacking) -> Errand[P]:
    return replace(errand, parcel=errand.more(errand.parcel, lacking))


def built_on(cluster: Cluster[Parcel, MadeRecipe], begun: Iterable[Begun]) -> Iterator[Outcome]:
    """Recipes that were read, compiled by the cluster and written here, in their order."""
    out = deque[Begun]()

    def errands() -> Iterator[Errand[Parcel]]:
        for one in begun:
            out.append(one)
            there = os.listdir(one.source.folder)
            parcel = pack(one.texts, one.wish, one.source.size, one.before, one.world, there)
            yield Errand(parcel, partial(with_more, world=one.world))

    for made in cluster.each(errands()):
        yield finish(out.popleft(), made)


def address_wrong(address: str) -> tuple[Wrong, ...]:
    """What is wrong with the address of a scheduler as it was typed."""
    return () if _ADDRESS.fullmatch(address) else (Wrong.of("on-odd", address=address),)


def cluster_at(address: str) -> Cluster[Parcel, MadeRecipe] | Wrong:
    """The cluster whose scheduler is at an address (`tcp://host:8786`), or why there is none to work with."""
    try:
        from distributed import Client, Security
    except ImportError:
        return Wrong.of("on-not-installed")
    if address.startswith("tls:") and Security().get_connection_args("client").get("ssl_context") is None:
        return Wrong.of("on-unencrypted", address=address)
    # Lost connections are told in our own words, or not at all.
    for name in ("distributed", "asyncio"):
        logging.getLogger(name).setLevel(logging.CRITICAL)
    warnings.filterwarnings("ignore", message="Sending large graph", category=UserWarning)
    try:
        client = Client(address, timeout=_PATIENCE, set_as_default=False)
    except (OSError, ValueError):
        return Wrong.of("on-silent", address=address)
    cluster = Cluster(client, compile_parcel)
    if cluster.workers():
        return cluster
    refused = cluster.refused
    client.close()
    if refused:
        return Wrong.of("on-all-refused", workers=refused)
    return Wrong.of("on-nobody", address=address)


def _asking() -> Callable[[], str]:
    """What a worker is asked. A function within a function is sent whole: it answers where there is no foldwright."""

    def asked() -> str:
        try:
            from foldwright.cli.program import program_elsewhere
        except ImportError:
            return ""
        return program_elsewhere()

    return asked
