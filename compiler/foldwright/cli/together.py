"""What is made of all recipes together, once each is built: the library round them, and booklets."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from foldwright.cli.calls import BuildCall
from foldwright.cli.outcomes import LibraryOutcome, Outcome
from foldwright.cli.planning import BuildPlan, wish_of_call
from foldwright.cli.records import read_record
from foldwright.cli.writing import BOOKLETS, take_away
from foldwright.finding import Wrong
from foldwright.outputs.sources import BOOKLET, Source

if TYPE_CHECKING:
    from foldwright.cli.booklet import BookletPlans


def library_round(plan: BuildPlan, outcomes: Sequence[Outcome], theme: str) -> tuple[tuple[str, ...], LibraryOutcome]:
    """The library round the recipes: folders of recipes that are gone are removed, its own files brought up to date.

    Gives the folders removed, what could not be done, and what there is to tell.
    """
    from foldwright.cli.library_files import STOCK, Library
    from foldwright.cli.library_told import under_shown_names

    assert plan.library
    home = os.path.relpath(os.path.abspath(plan.library), os.path.abspath(plan.out))
    gone = [slug for slug in _others(plan.out, plan.by) if _came_of(plan.out / slug, home)]
    troubles = {slug: take_away(plan.out, slug) for slug in gone}
    records = {outcome.source.slug: record for outcome in outcomes if (record := outcome.record)}
    removed = tuple(slug for slug, trouble in troubles.items() if trouble is None)
    sources = {source.name: source for source in reversed(plan.sources)}
    with _no_garbage():
        laid = Library(plan.library, plan.out, theme).lay(records, sources)
    told = under_shown_names(laid.told, sources, plan.library, STOCK)
    return removed, replace(laid, troubles=(*filter(None, troubles.values()), *laid.troubles), told=told)


@contextmanager
def _no_garbage() -> Iterator[None]:
    """Nobody looks for garbage where thousands of entries are read at once, none of which is any."""
    looks = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if looks:
            gc.enable()


def _others(out: Path, slugs: Mapping[str, object]) -> list[str]:
    """The folders in the output that belong to none of these recipes."""
    with os.scandir(out) as there:
        return sorted(one.name for one in there if one.name not in slugs and one.is_dir(follow_symlinks=False))


def _came_of(folder: Path, home: str) -> bool:
    record = read_record(folder)
    return record is not None and record.made_by.home == home


def booklets_of(call: BuildCall, sources: Sequence[Source]) -> BookletPlans | None:
    """The booklets that are asked for, in the call or beside the recipes, or were before; most builds have none."""
    files = (Path(call.out) / BOOKLETS, *(Path(path) / BOOKLET for path in call.paths))
    if not (call.booklet or call.saddle or any(map(os.path.lexists, files))):
        return None
    from foldwright.cli.booklet import BookletPlans, plan_booklets

    wish = wish_of_call(call, False)
    return BookletPlans(wrong=True) if isinstance(wish, Wrong) else plan_booklets(call, wish, sources)


def bind(booklets: BookletPlans, outcomes: Sequence[Outcome], out: Path, watching: bool) -> bool:
    """Have what is asked for bound; whether all of it could be."""
    from foldwright.cli.booklet import bind_booklets

    records = {one.source.slug: one.record for one in outcomes if one.record}
    return bind_booklets(booklets, records, out, watching)
