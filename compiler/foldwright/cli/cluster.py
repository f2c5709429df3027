"""Recipes compiled on other machines: a Dask cluster whose workers have this same foldwright.

This machine reads and writes; a recipe goes out as a parcel and its files come back. Workers come and go: what one had
in hand when it was lost is sent to another, and what none can do is done here.
"""

from __future__ import annotations

import logging
import re
import warnings
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from time import monotonic
from typing import TYPE_CHECKING, Self

from msgspec import Struct

from foldwright.finding import Wrong
from foldwright.outputs.compiling import MadeRecipe
from foldwright.outputs.parcel import Lacking, Parcel, compile_parcel
from foldwright.outputs.program import program

if TYPE_CHECKING:
    from distributed import Client, Future

_ADDRESS = re.compile(r"(?:tcp|tls|ucx)://[^\s/]+:[0-9]{1,5}/?")
_PATIENCE = 10
"""Seconds a scheduler has to answer, and after which workers are counted again (reasoned guesses)."""
_AHEAD = 4
"""Recipes sent for each thread of a worker before the first of them is back: it never waits, and memory stays small."""


type Work = Callable[[Parcel], MadeRecipe | Lacking]
type Mend = Callable[[Parcel, Lacking], Parcel]


class _Sent(Struct, frozen=True):
    """A parcel on its way: to which workers, and what is to come of it."""

    parcel: Parcel
    to: frozenset[str]
    future: Future


class Refused(Struct, frozen=True):
    """A worker that gets no work, by its address: it has another foldwright, or none (`program` is empty then)."""

    worker: str
    program: str


class Cluster:
    """The workers at a scheduler's address that have this same foldwright. What they do with a parcel is their `work`."""

    def __init__(self, client: Client, work: Work = compile_parcel) -> None:
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
        return {worker: facts["nthreads"] for worker, facts in there.items() if self._seen[worker] == program()}

    @property
    def refused(self) -> tuple[Refused, ...]:
        """Workers that were left out."""
        return tuple(Refused(worker, theirs) for worker, theirs in self._seen.items() if theirs != program())

    def each(self, parcels: Iterable[Parcel], mend: Mend) -> Iterator[MadeRecipe]:
        """What comes of each, in their order; `mend` puts into a parcel what it lacked."""
        rest, sent = iter(parcels), deque[_Sent]()
        hands, counted = self.workers(), monotonic()
        while True:
            while len(sent) < sum(hands.values()) * _AHEAD and (parcel := next(rest, None)):
                sent.append(self._send(parcel, hands))
            if not hands and not sent and (parcel := next(rest, None)):
                yield self._made_here(parcel, mend)
            elif sent:
                yield self._received(sent.popleft(), mend)
            else:
                return
            if monotonic() - counted > _PATIENCE:
                hands, counted = self.workers(), monotonic()

    def _send(self, parcel: Parcel, hands: Mapping[str, int]) -> _Sent:
        to = frozenset(hands)
        return _Sent(parcel, to, self._client.submit(self._work, parcel, pure=False, workers=list(to)))

    def _received(self, sent: _Sent, mend: Mend) -> MadeRecipe:
        """What came of a parcel; it is sent again when those it went to are lost, or when it lacked something."""
        while True:
            try:
                made = sent.future.result(timeout=_PATIENCE)
            except TimeoutError:
                hands = self.workers()
                if not sent.to.isdisjoint(hands):
                    continue
                sent.future.cancel()
                if not hands:
                    return self._made_here(sent.parcel, mend)
                sent = self._send(sent.parcel, hands)
                continue
            except Exception:  # noqa: BLE001
                # Lost with its worker once too often, or with the scheduler. A fault of the program itself is raised
                # here again, as it would have been without a cluster.
                return self._made_here(sent.parcel, mend)
            if not isinstance(made, Lacking):
                return made
            sent = self._send(mend(sent.parcel, made), {worker: 1 for worker in sent.to})

    def _made_here(self, parcel: Parcel, mend: Mend) -> MadeRecipe:
        self.here += 1
        while isinstance(made := self._work(parcel), Lacking):
            parcel = mend(parcel, made)
        return made


def cluster_at(address: str) -> Cluster | Wrong:
    """The cluster whose scheduler is at an address (`tcp://host:8786`), or why there is none to work with."""
    if not _ADDRESS.fullmatch(address):
        return Wrong.of("on-odd", address=address)
    try:
        from distributed import Client
    except ImportError:
        return Wrong.of("on-not-installed")
    logging.getLogger("distributed").setLevel(logging.CRITICAL)
    warnings.filterwarnings("ignore", message="Sending large graph", category=UserWarning)
    try:
        client = Client(address, timeout=_PATIENCE, set_as_default=False)
    except (OSError, ValueError):
        return Wrong.of("on-silent", address=address)
    cluster = Cluster(client)
    if cluster.workers():
        return cluster
    refused = cluster.refused
    client.close()
    return Wrong.of("on-all-refused", workers=tuple(one.worker for one in refused)) if refused else Wrong.of("on-nobody", address=address)


def _asking() -> Callable[[], str]:
    """What a worker is asked. A function within a function is sent whole: it answers where there is no foldwright."""

    def asked() -> str:
        try:
            from foldwright.outputs.program import program
        except ImportError:
            return ""
        return program()

    return asked
