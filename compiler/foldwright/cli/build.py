"""`foldwright build`: recipes to pages, many at once, each one's folder written whole."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.cli.calls import BuildCall
from foldwright.cli.progress import ProgressLine
from foldwright.cli.telling import INDENT, Teller, told_as_shown
from foldwright.cli.workers import cores, pool_of
from foldwright.cli.writing import open_output, swap_in
from foldwright.document.catalogue import catalogue
from foldwright.document.findings import Told
from foldwright.finding import Strength, Wrong
from foldwright.outputs.compiling import compile_recipe
from foldwright.outputs.model import BuildWish
from foldwright.outputs.reading import in_sizes, read_texts
from foldwright.outputs.sources import BOOKLET, Source, find_sources, twice
from foldwright.outputs.table import OUTPUTS
from foldwright.outputs.wishes import wish_of

if TYPE_CHECKING:
    from foldwright.cli.booklet import BookletPlans
    from foldwright.outputs.paper_notes import Note

_PICTURES = (".png", ".jpg")
_FEW, _FEW_ON_PAPER = 4, 1
"""Up to this many recipes one process is quicker than starting others: for pages alone, and with cards or handouts."""
_SELDOM = 50_000
"""After how many new objects to look for garbage: a recipe makes some thousands and leaves next to none behind."""


class Outcome(Struct, frozen=True):
    """What became of one recipe: the files written and where, what was found, what kept it from being written.

    `notes` say what was chosen for the files on paper.
    """

    source: Source
    folder: Path
    written: tuple[str, ...]
    told: tuple[Told, ...]
    faulty: bool
    trouble: Wrong | None = None
    notes: tuple[Note, ...] = ()

    @property
    def wrong(self) -> bool:
        """Whether it was not written, or anything found is stronger than a thought."""
        return self.trouble is not None or any(one.strength > Strength.THOUGHT for one in self.told)


def build(call: BuildCall) -> int:
    """Build some recipes, each into a folder of its own; the exit status."""
    gc.enable()
    gc.set_threshold(_SELDOM)
    complaints = Teller("stderr")
    sources, wrong = find_sources(map(Path, call.paths))
    wish = wish_of(call)
    sources, unknown = in_sizes(sources, call.size)
    wrong += (*unknown, *twice(sources))
    if isinstance(wish, Wrong):
        wrong += (wish,)
    if call.jobs and not (call.jobs.isdecimal() and int(call.jobs)):
        wrong += (Wrong.of("jobs-odd", jobs=call.jobs),)
    out = Path(call.out)
    if not wrong and (trouble := open_output(out, sources)):
        wrong += (trouble,)
    if wrong or isinstance(wish, Wrong):
        return complaints.refuse(wrong)
    booklets = _booklets(call, wish, sources)
    if booklets and booklets.wrong:
        return complaints.refuse(())
    outcomes = []
    for outcome in _progress(_all(sources, wish, out, int(call.jobs or 0)), len(sources)):
        _tell(outcome, complaints)
        outcomes.append(outcome)
    strengths = [one.strength for outcome in outcomes for one in outcome.told]
    Teller().total(strengths, len({outcome.source.path for outcome in outcomes}))
    bound = not booklets or _bind(booklets, out)
    return 0 if bound and not any(outcome.wrong for outcome in outcomes) else 1


def _booklets(call: BuildCall, wish: BuildWish, sources: Sequence[Source]) -> BookletPlans | None:
    """The booklets that are asked for, in the call or beside the recipes; most builds have none."""
    if not (call.booklet or call.saddle or any(os.path.lexists(Path(path) / BOOKLET) for path in call.paths)):
        return None
    from foldwright.cli.booklet import plan_booklets

    return plan_booklets(call, wish, sources)


def _bind(booklets: BookletPlans, out: Path) -> bool:
    from foldwright.cli.booklet import bind_booklets

    return bind_booklets(booklets, out)


def _all(sources: Sequence[Source], wish: BuildWish, out: Path, jobs: int) -> Iterator[Outcome]:
    """Every recipe built, in the order of the call; on several cores when there are enough of them."""
    work = partial(build_one, wish=wish, out=out)
    workers = min(jobs or cores(), len(sources))
    on_paper = any(OUTPUTS[name].on_paper for name in wish.outputs)
    if workers < 2 or (not jobs and len(sources) <= (_FEW_ON_PAPER if on_paper else _FEW)):
        yield from map(work, sources)
        return
    if on_paper:
        from foldwright.render.paper.typesetting import load_typesetter

        load_typesetter()

    # What is loaded by now stays loaded: nobody need look through it for garbage, or copy it to do so.
    gc.freeze()
    pool = pool_of(workers, on_paper)
    try:
        # Cards take a second a recipe: handed out one by one, so that an interrupt is not kept waiting.
        at_once = 1 if on_paper else max(1, min(8, len(sources) // (workers * 4)))
        yield from pool.map(work, sources, chunksize=at_once)
    finally:
        pool.shutdown(cancel_futures=True)


def build_one(source: Source, wish: BuildWish, out: Path) -> Outcome:
    """Read one recipe, make what is wished, swap it in. Runs in a process of its own when there are many."""
    texts = read_texts(source)
    made = compile_recipe(texts, wish, source.surroundings, source.size)
    told = told_as_shown(made.findings, texts.by_name, texts.shown)
    folder = out / source.slug
    trouble = swap_in(out, source.slug, made.files) if made.files else None
    written = () if trouble else tuple(sorted(made.files))
    notes = () if trouble else made.notes
    return Outcome(source, folder, written, told, made.faulty, trouble, notes)


def _tell(outcome: Outcome, complaints: Teller) -> None:
    teller = Teller()
    teller.told(outcome.told)
    if outcome.trouble is not None:
        complaints.wrong(outcome.trouble)
    if not outcome.written:
        complaints.words("build.nothing", recipe=outcome.source.shown)
        return
    teller.words("build.wrote", folder=str(outcome.folder), names=_names(outcome.written))
    if outcome.faulty and "tutorial.html" in outcome.written:
        teller.words("build.draft", path=str(outcome.folder / "tutorial.html"))
    if outcome.notes:
        from foldwright.outputs.paper_notes import tell_note

        for note in outcome.notes:
            teller.text(INDENT + tell_note(note))


def _names(written: Sequence[str]) -> str:
    """The files by name; the fragment's pictures, which may be dozens, by their number."""
    pictures = [name for name in written if name.endswith(_PICTURES)]
    names = [name for name in written if name not in pictures]
    counted = [catalogue().say("command.build.pictures", count=len(pictures))] if pictures else []
    return ", ".join([*names, *counted])


def _progress(outcomes: Iterator[Outcome], total: int) -> Iterator[Outcome]:
    """The outcomes as they come; on a terminal a line that counts them, wiped before anything else is said."""
    progress = ProgressLine()
    told = progress.stage("recipes")
    for done, outcome in enumerate(outcomes, 1):
        progress.wipe()
        yield outcome
        told(done, total)
