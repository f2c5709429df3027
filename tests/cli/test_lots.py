"""How recipes are handed out to processes: each once, in their order, and less and less at a time."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from foldwright.cli.compiling import in_lots
from foldwright.outputs.sources import Source


def _sources(count: int) -> list[Source]:
    return [Source(Path(f"box-{at}"), "recipe.md", f"box-{at}", Path()) for at in range(count)]


@pytest.mark.parametrize(("count", "workers", "most"), [(0, 2, 8), (1, 2, 8), (9, 2, 8), (100, 2, 8), (1000, 7, 1)])
def test_each_is_handed_out_once_in_order_and_less_at_a_time(count: int, workers: int, most: int) -> None:
    sources = _sources(count)
    lots = list(in_lots(sources, workers, most))
    assert [one for lot in lots for one in lot] == sources
    sizes = [len(lot) for lot in lots]
    assert sizes == sorted(sizes, reverse=True)
    assert max(sizes, default=0) <= most
    assert sizes[-1:] in ([], [1])


def test_processes_end_together() -> None:
    """Worked through by two in a simulation, a hundred recipes of unlike length leave nobody idle for longer than it
    takes to do the longest."""
    dice = Random(5)
    for _ in range(100):
        spans = {source.slug: dice.uniform(1, 4) for source in _sources(100)}
        busy = [0.0, 0.0]
        for lot in in_lots(_sources(100), 2, 8):
            next_free = busy.index(min(busy))
            busy[next_free] += sum(spans[one.slug] for one in lot)
        assert abs(busy[0] - busy[1]) <= max(spans.values())
