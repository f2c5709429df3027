"""Recipes compiled: here, on several cores, or on other machines; what became of each, in the order of the call."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from foldwright.cli.outcomes import Became, Outcome
from foldwright.cli.planning import BuildPlan
from foldwright.cli.records import MadeBy
from foldwright.cli.telling import Teller
from foldwright.cli.workers import cores, pool_of
from foldwright.finding import Wrong
from foldwright.outputs.sources import Source
from foldwright.outputs.table import OUTPUTS

if TYPE_CHECKING:
    from foldwright.cli.cluster import Cluster
    from foldwright.outputs.compiling import MadeRecipe
    from foldwright.outputs.model import BuildWish
    from foldwright.outputs.parcel import Parcel

type Compilers = Cluster[Parcel, MadeRecipe]

_FEW, _FEW_ON_PAPER = 4, 1
"""Up to this many recipes one process is quicker than starting others: for pages alone, and with cards or handouts."""
_LOT, _ROUNDS = 8, 4
"""How many recipes are handed out at once at most (those with cards, which take a second each, one by one, so that an
interrupt is not kept waiting), and in how many rounds at least each process gets what is left (reasoned guesses)."""
_SELDOM = 50_000
"""After how many new objects to look for garbage: a recipe makes some thousands and leaves next to none behind."""


def compilers(plan: BuildPlan, complaints: Teller) -> Compilers | Wrong | None:
    """Who compiles on other machines, if that is asked for and there is anything to do."""
    if not plan.on or not plan.wish:
        return None
    from foldwright.cli.cluster import cluster_at

    cluster = cluster_at(plan.on)
    if not isinstance(cluster, Wrong):
        for refused in cluster.refused:
            complaints.words("build.refused", worker=refused)
    return cluster


def outcomes_of(plan: BuildPlan, watching: bool, cluster: Compilers | None) -> Iterator[Outcome]:
    """What became of every recipe, in the order of the call."""
    compiled = _compiled(plan, plan.wish, watching, cluster) if plan.wish else iter(())
    for source in plan.sources:
        record = plan.standing.get(source.slug)
        yield Outcome(source, Became.UNCHANGED, record.told, record=record) if record else next(compiled)


def _compiled(plan: BuildPlan, wish: BuildWish, watching: bool, cluster: Compilers | None) -> Iterator[Outcome]:
    """Those that have to be compiled; on several cores when there are enough of them."""
    gc.enable()
    gc.set_threshold(_SELDOM)
    fresh = plan.fresh
    if cluster:
        return _elsewhere(plan, wish, cluster)
    workers = min(plan.jobs or cores(), len(fresh))
    on_paper = any(OUTPUTS[name].on_paper for name in wish.outputs)
    if workers < 2 or (not plan.jobs and len(fresh) <= (_FEW_ON_PAPER if on_paper else _FEW)):
        return _here(plan, wish)
    return _on_cores(plan, wish, workers, on_paper, forked=not watching)


# On a terminal a line counts what is done and names what is at work; it is wiped before anything else is said.


def _elsewhere(plan: BuildPlan, wish: BuildWish, cluster: Compilers) -> Iterator[Outcome]:
    from foldwright.cli.cluster import built_on
    from foldwright.cli.one_recipe import begin
    from foldwright.cli.progress import ProgressLine

    progress, count = ProgressLine(), len(plan.fresh)
    told = progress.stage("recipes")
    begun = (begin(source, plan.by[source.slug], wish, plan.out) for source in plan.fresh)
    with cluster:
        for done, outcome in enumerate(built_on(cluster, begun), 1):
            progress.wipe()
            yield outcome
            told(done, count)


def _here(plan: BuildPlan, wish: BuildWish) -> Iterator[Outcome]:
    from foldwright.cli.one_recipe import build_one
    from foldwright.cli.progress import ProgressLine

    progress, fresh = ProgressLine(), plan.fresh
    told = progress.stage("recipes")
    for done, source in enumerate(fresh):
        progress.at_work([source.slug])
        told(done, len(fresh))
        outcome = build_one(source, plan.by[source.slug], wish, plan.out)
        progress.wipe()
        yield outcome


def _on_cores(plan: BuildPlan, wish: BuildWish, workers: int, on_paper: bool, forked: bool) -> Iterator[Outcome]:
    """By several processes; `forked` where nothing but this thread runs, beside another no process should be."""
    from foldwright.cli import one_recipe  # noqa: F401 (what is loaded before they are forked is loaded once)
    from foldwright.cli.progress import ProgressLine

    if on_paper:
        from foldwright.render.paper.typesetting import load_typesetter

        load_typesetter()
    progress, fresh = ProgressLine(), plan.fresh
    told = progress.stage("recipes")
    # What is loaded by now stays loaded: nobody need look through it for garbage, or copy it to do so.
    gc.freeze()
    pool = pool_of(workers, on_paper, forked)
    try:
        lots = [*in_lots(fresh, workers, 1 if on_paper else _LOT)]
        waiting = [(lot, pool.submit(_build_lot, lot, plan.by, wish, plan.out)) for lot in lots]
        done = 0
        for number, (lot, future) in enumerate(waiting):
            progress.at_work(
                [lot[0].slug for lot, other in waiting[number : number + 2 * workers] if not other.done()][:workers]
            )
            told(done, len(fresh))
            outcomes = future.result()
            progress.wipe()
            yield from outcomes
            done += len(lot)
    finally:
        pool.shutdown(cancel_futures=True)


def in_lots(sources: Sequence[Source], workers: int, most: int) -> Iterator[Sequence[Source]]:
    """What is handed out at once: `most` at first, and less and less near the end, so that all end together."""
    start = 0
    while start < len(sources):
        count = max(1, min(most, (len(sources) - start) // (workers * _ROUNDS)))
        yield sources[start : start + count]
        start += count


def _build_lot(lot: Sequence[Source], by: Mapping[str, MadeBy], wish: BuildWish, out: Path) -> list[Outcome]:
    from foldwright.cli.one_recipe import build_one

    return [build_one(source, by[source.slug], wish, out) for source in lot]
