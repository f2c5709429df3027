"""`foldwright build`: recipes to pages, many at once, each folder written whole; a folder of recipes to a library."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct, json
from msgspec.structs import asdict, replace

from foldwright.cli.calls import BuildCall
from foldwright.cli.inputs import digest_of_bytes
from foldwright.cli.outcomes import Became, LibraryOutcome, Outcome
from foldwright.cli.program import program_mark
from foldwright.cli.progress import ProgressLine
from foldwright.cli.records import MadeBy, Record, as_bytes, read_record, unchanged
from foldwright.cli.telling import Teller
from foldwright.cli.telling_builds import Summary, tell_outcome, tell_summary
from foldwright.cli.workers import cores, pool_of
from foldwright.cli.writing import BOOKLETS, RECORD, open_output, put_file, take_away
from foldwright.finding import Strength, Wrong
from foldwright.outputs.options import BuildOptions
from foldwright.outputs.reading import Sizes, in_sizes, read_sizes
from foldwright.outputs.sources import BOOKLET, Source, find_sources, twice
from foldwright.outputs.table import OUTPUTS
from foldwright.outputs.texts import RECIPE

if TYPE_CHECKING:
    from foldwright.cli.booklet import BookletPlans
    from foldwright.cli.cluster import Cluster
    from foldwright.outputs.compiling import MadeRecipe
    from foldwright.outputs.model import BuildWish
    from foldwright.outputs.parcel import Parcel

type Compilers = Cluster[Parcel, MadeRecipe]

_FEW, _FEW_ON_PAPER = 4, 1
"""Up to this many recipes one process is quicker than starting others: for pages alone, and with cards or handouts."""
_SELDOM = 50_000
"""After how many new objects to look for garbage: a recipe makes some thousands and leaves next to none behind."""


class _Plan(Struct, frozen=True):
    """What a call comes to: the recipes, what each folder is made by, and the records of those that still hold.

    `library` is the folder of recipes a library is made of. Without a `wish` nothing has to be compiled. `on` is the
    address of a scheduler whose workers compile.
    """

    sources: tuple[Source, ...]
    out: Path
    by: Mapping[str, MadeBy]
    standing: Mapping[str, Record]
    wish: BuildWish | None = None
    library: Path | None = None
    jobs: int = 0
    on: str = ""

    @property
    def fresh(self) -> list[Source]:
        """The recipes that have to be compiled."""
        return [source for source in self.sources if source.slug not in self.standing]


def build(call: BuildCall) -> int:
    """Build some recipes, each into a folder of its own; the exit status."""
    if call.watch:
        from foldwright.cli.watching import keep_up_to_date

        return keep_up_to_date(call, build_once)
    return build_once(call)


def build_once(call: BuildCall, watching: bool = False) -> int:
    """Bring the output up to date with the recipes as they stand; the exit status.

    Who is `watching` is told of nothing but what changed.
    """
    complaints = Teller("stderr")
    plan = _planned(call)
    if isinstance(plan, tuple):
        return complaints.refuse(plan)
    cluster = _cluster(plan, complaints)
    if isinstance(cluster, Wrong):
        return complaints.refuse((cluster,))
    booklets = _booklets(call, plan.sources)
    if booklets and booklets.wrong:
        return complaints.refuse(())
    teller, alone = Teller(), len(plan.sources) == 1
    outcomes = []
    for outcome in _all(plan, watching, cluster):
        if not (watching and outcome.became is Became.UNCHANGED):
            tell_outcome(outcome, plan.out, teller, complaints, alone)
        outcomes.append(outcome)
    removed, laid = _round_about(plan, outcomes, call.theme) if plan.library else ((), LibraryOutcome())
    teller.told(laid.news)
    for trouble in laid.troubles:
        complaints.wrong(trouble)
    bound = not booklets or _bind(booklets, outcomes, plan.out, watching)
    tell_summary(Summary(plan.out, outcomes, removed, laid.told), watching)
    wrong = laid.troubles or not bound or any(one.strength > Strength.THOUGHT for one in laid.told)
    return 1 if wrong or any(outcome.wrong for outcome in outcomes) else 0


# --- what is to be done -----------------------------------------------------------------------------------------------


def _planned(call: BuildCall) -> _Plan | tuple[Wrong, ...]:
    """What the call comes to, or all that is wrong with it; then nothing was written."""
    out, library = Path(call.out), _library_of(call)
    asked = _asked(call, library is not None)
    sources, wrong = find_sources(map(Path, call.paths))
    known = _Known(out, asked)
    sources, unknown = in_sizes(sources, call.size, sizes_of=known.sizes)
    wrong += (*unknown, *twice(sources))
    standing = {source.slug: record for source in sources if (record := known.of(source))}
    wish = None
    if wrong or len(standing) < len(sources):
        # What was built with these options before need not be looked at again: they are good ones.
        wish = _wish_of(call, library is not None)
    if isinstance(wish, Wrong):
        wrong += (wish,)
        wish = None
    if call.jobs and not (call.jobs.isdecimal() and int(call.jobs)):
        wrong += (Wrong.of("jobs-odd", jobs=call.jobs),)
    if call.on:
        from foldwright.cli.cluster import address_wrong

        wrong += address_wrong(call.on)
    if not wrong and (trouble := open_output(out, sources)):
        wrong += (trouble,)
    if not wrong and library and wish:
        from foldwright.cli.library_files import make_room

        wrong += make_room(out, {source.slug: source for source in sources})
    if wrong:
        return wrong
    by = {source.slug: known.made_by(source) for source in sources}
    return _Plan(sources, out, by, standing, wish, library, int(call.jobs or 0), call.on)


def _library_of(call: BuildCall) -> Path | None:
    """The folder of recipes that a library is made of: the only one named, and no recipe's own."""
    folder = Path(call.paths[0])
    one = len(call.paths) == 1 and folder.is_dir() and not os.path.lexists(folder / RECIPE)
    return folder if one and not call.no_library else None


def _asked(call: BuildCall, in_library: bool) -> str:
    """A digest of the options that say what is made, and how."""
    names = set(BuildOptions.__struct_fields__) - {"size"}
    options = {name: value for name, value in asdict(call).items() if name in names}
    return digest_of_bytes(json.encode((in_library, options), order="sorted"))


def _wish_of(call: BuildCall, in_library: bool) -> BuildWish | Wrong:
    from foldwright.outputs.wishes import wish_of

    wish = wish_of(call)
    return wish if isinstance(wish, Wrong) else replace(wish, in_library=in_library)


class _Known:
    """The records of a folder of output that still hold, each looked at once."""

    def __init__(self, out: Path, asked: str) -> None:
        self._out, self._asked = out, asked
        self._out_path = os.path.abspath(out)
        self._home = cache(lambda folder: os.path.relpath(folder, self._out_path))
        self._program = program_mark()
        self.of = cache(self._of)

    def sizes(self, source: Source) -> Sizes:
        """The sizes a recipe comes in, as they are remembered or else read."""
        record = self.of(source)
        return record.sizes if record else read_sizes(source)

    def made_by(self, source: Source) -> MadeBy:
        """What the folder of a recipe is made by now."""
        own = source.text == RECIPE
        home = self._home(os.path.dirname(os.path.abspath(source.folder))) if own else ""
        return MadeBy(self._program, self._asked, home, source.size)

    def _of(self, source: Source) -> Record | None:
        folder = self._out / source.slug
        record = read_record(folder)
        if record is None:
            return None
        now = unchanged(record, source, folder, self.made_by(source))
        if now is not None and now is not record:
            # So that next time a look at the files is enough. Where it cannot be written, they are read again.
            with suppress(OSError):
                put_file(self._out, folder / RECORD, as_bytes(now))
        return now


# --- doing it ---------------------------------------------------------------------------------------------------------


def _cluster(plan: _Plan, complaints: Teller) -> Compilers | Wrong | None:
    """Who compiles on other machines, if that is asked for and there is anything to do."""
    if not plan.on or not plan.wish:
        return None
    from foldwright.cli.cluster import cluster_at

    cluster = cluster_at(plan.on)
    if not isinstance(cluster, Wrong):
        for refused in cluster.refused:
            complaints.words("build.refused", worker=refused)
    return cluster


def _all(plan: _Plan, watching: bool, cluster: Compilers | None) -> Iterator[Outcome]:
    """What became of every recipe, in the order of the call."""
    compiled = _compiled(plan, plan.wish, watching, cluster) if plan.wish else iter(())
    for source in plan.sources:
        record = plan.standing.get(source.slug)
        yield Outcome(source, Became.UNCHANGED, record.told, record=record) if record else next(compiled)


def _compiled(plan: _Plan, wish: BuildWish, watching: bool, cluster: Compilers | None) -> Iterator[Outcome]:
    """Those that have to be compiled; on several cores when there are enough of them. On a terminal a line counts them
    and names what is at work; it is wiped before anything else is said."""
    from foldwright.cli.one_recipe import begin, build_one

    gc.enable()
    gc.set_threshold(_SELDOM)
    fresh = plan.fresh
    progress = ProgressLine()
    told = progress.stage("recipes")
    if cluster:
        from foldwright.cli.cluster import built_on

        begun = (begin(source, plan.by[source.slug], wish, plan.out) for source in fresh)
        with cluster:
            for done, outcome in enumerate(built_on(cluster, begun)):
                progress.wipe()
                yield outcome
                told(done + 1, len(fresh))
        return
    workers = min(plan.jobs or cores(), len(fresh))
    on_paper = any(OUTPUTS[name].on_paper for name in wish.outputs)
    if workers < 2 or (not plan.jobs and len(fresh) <= (_FEW_ON_PAPER if on_paper else _FEW)):
        for done, source in enumerate(fresh):
            progress.at_work([source.slug])
            told(done, len(fresh))
            outcome = build_one(source, plan.by[source.slug], wish, plan.out)
            progress.wipe()
            yield outcome
        return
    if on_paper:
        from foldwright.render.paper.typesetting import load_typesetter

        load_typesetter()

    # What is loaded by now stays loaded: nobody need look through it for garbage, or copy it to do so.
    gc.freeze()
    # A watch has a thread of its own, beside which no process should be forked.
    pool = pool_of(workers, on_paper, forked=not watching)
    try:
        # Cards take a second a recipe: handed out one by one, so that an interrupt is not kept waiting.
        at_once = 1 if on_paper else max(1, min(8, len(fresh) // (workers * 4)))
        lots = [fresh[start : start + at_once] for start in range(0, len(fresh), at_once)]
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


def _build_lot(lot: Sequence[Source], by: Mapping[str, MadeBy], wish: BuildWish, out: Path) -> list[Outcome]:
    from foldwright.cli.one_recipe import build_one

    return [build_one(source, by[source.slug], wish, out) for source in lot]


def _round_about(plan: _Plan, outcomes: Sequence[Outcome], theme: str) -> tuple[tuple[str, ...], LibraryOutcome]:
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
    laid = Library(plan.library, plan.out, theme).lay(records, sources)
    told = under_shown_names(laid.told, sources, plan.library, STOCK)
    return removed, replace(laid, troubles=(*filter(None, troubles.values()), *laid.troubles), told=told)


def _others(out: Path, slugs: Mapping[str, object]) -> list[str]:
    """The folders in the output that belong to none of these recipes."""
    with os.scandir(out) as there:
        return sorted(one.name for one in there if one.name not in slugs and one.is_dir(follow_symlinks=False))


def _came_of(folder: Path, home: str) -> bool:
    record = read_record(folder)
    return record is not None and record.made_by.home == home


# --- booklets ---------------------------------------------------------------------------------------------------------


def _booklets(call: BuildCall, sources: Sequence[Source]) -> BookletPlans | None:
    """The booklets that are asked for, in the call or beside the recipes, or were before; most builds have none."""
    files = (Path(call.out) / BOOKLETS, *(Path(path) / BOOKLET for path in call.paths))
    if not (call.booklet or call.saddle or any(map(os.path.lexists, files))):
        return None
    from foldwright.cli.booklet import BookletPlans, plan_booklets

    wish = _wish_of(call, False)
    return BookletPlans(wrong=True) if isinstance(wish, Wrong) else plan_booklets(call, wish, sources)


def _bind(booklets: BookletPlans, outcomes: Sequence[Outcome], out: Path, watching: bool) -> bool:
    from foldwright.cli.booklet import bind_booklets

    records = {one.source.slug: one.record for one in outcomes if one.record}
    return bind_booklets(booklets, records, out, watching)
