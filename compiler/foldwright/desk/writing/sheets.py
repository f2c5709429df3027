"""The sheets on paper that lie beside the text: set by a worker when one pauses, kept as PDF and as pictures."""

from __future__ import annotations

import asyncio
import hashlib
import io
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress

from msgspec import Struct

from foldwright.desk.paper_workers import Overtaken, PaperWorker, WorkLost
from foldwright.desk.writing.compiling import Answer, Message, SheetWish
from foldwright.document.findings import tell
from foldwright.finding import Strength
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import STUDIO, texts_of

type Workers = tuple[PaperWorker, PaperWorker]
PAPER_SHEETS = ("card", "handout", "template")
_PAUSE = 0.35
"""Seconds without a key after which somebody is taken to pause."""
_WIDTH_PX = 1_100
"""Of a page's picture: letters of 9 pt can be read, a page still comes within a tenth of a second."""


class SetSheet(Struct, frozen=True):
    """A sheet as it was set: the PDFs by name, their pages as PNGs with their sizes, and what was told of them."""

    pdfs: Mapping[str, bytes]
    pages: tuple[tuple[int, int, bytes], ...]
    told: tuple[str, ...]


def set_sheet(source: Source, text: str, studio: str | None, kind: str, wish: SheetWish) -> SetSheet:
    """Set one kind of sheet. Done in a worker process."""
    from foldwright.finding import Wrong
    from foldwright.outputs.compiling import compile_recipe
    from foldwright.outputs.options import BuildOptions
    from foldwright.outputs.wishes import wish_of
    from foldwright.render.paper.page_pictures import page_pictures

    texts = texts_of(source.slug, text, studio, source.name)
    asked = wish_of(BuildOptions(only=kind, units=wish.units, theme=wish.look, paper=_paper(kind, wish)))
    if isinstance(asked, Wrong):
        return SetSheet({}, (), ())
    made = compile_recipe(texts, asked, source.surroundings, wish.size)
    pdfs = {name: data for name, data in made.files.items() if name.endswith(".pdf")}
    pages = [(one.width, one.height, one.png) for data in pdfs.values() for one in page_pictures(data, _WIDTH_PX)]
    missing = [one for one in made.findings if one.strength > Strength.THOUGHT] if not pdfs else []
    told = (tell(one, texts.by_name) for one in missing)
    return SetSheet(pdfs, tuple(pages), tuple(f"{one.says} {one.remedy}".strip() for one in told))


def set_all(source: Source, text: str, studio: str | None, sizes: Sequence[str], wish: SheetWish) -> bytes | None:
    """Every sheet in every size as `foldwright build` makes it, in one archive; None where the recipe has an error.

    Done in a worker process.
    """
    from foldwright.finding import Wrong
    from foldwright.outputs.compiling import compile_recipe
    from foldwright.outputs.options import BuildOptions
    from foldwright.outputs.reading import in_size
    from foldwright.outputs.wishes import wish_of

    asked = wish_of(BuildOptions(theme=wish.look, paper=wish.paper))
    if isinstance(asked, Wrong):
        return None
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as packed:
        for one in (source, *(in_size(source, size) for size in sizes)):
            made = compile_recipe(texts_of(one.slug, text, studio, one.name), asked, one.surroundings, one.size)
            if made.faulty or not made.files:
                return None
            for name, data in sorted(made.files.items()):
                packed.writestr(f"{one.slug}/{name}", data)
    return archive.getvalue()


def _paper(kind: str, wish: SheetWish) -> str:
    """The paper as it is asked of one kind of sheet: nobody writes on, nor cuts out of, a small one."""
    from foldwright.render.paper.papers import paper_named

    paper = paper_named(wish.paper) if wish.paper else None
    return "" if paper is None or (paper.small and kind != "card") else paper.name


class Sheets:
    """The sheets of one recipe. Whoever is told gets where the pictures are, not the pictures.

    The `workers` share them, the one that is looked at first.
    """

    def __init__(self, source: Source, workers: Workers, tell_all: Callable[[Message], None]) -> None:
        self._source, self._workers, self._tell_all = source, workers, tell_all
        self._set: dict[str, SetSheet] = {}
        self._of: dict[str, str] = {}
        self._stale: set[str] = set()
        self._waiting: asyncio.Task[None] | None = None
        self.picked = ""

    def sheet(self, kind: str) -> SetSheet | None:
        """A sheet as it was last set."""
        return self._set.get(kind)

    async def all(self, answer: Answer, wish: SheetWish) -> bytes | None:
        """All sheets in one archive."""
        studio = answer.texts.by_name.get(STUDIO)
        sizes = answer.understood.recipe.other_sizes if answer.understood else ()
        key = f"{self._source.slug}/all"
        with suppress(Overtaken, WorkLost):
            return await self._workers[1].ask(key, set_all, self._source, answer.texts.text or "", studio, sizes, wish)
        return None

    def greet(self, tab: Callable[[Message], None]) -> None:
        """What there is, and what is to come, for a tab that has just been opened."""
        coming = self._waiting is not None and not self._waiting.done()
        for kind in PAPER_SHEETS:
            if kind in self._set:
                tab(self._message(kind, stale=kind in self._stale))
            elif coming:
                tab({"is": "setting", "sheet": kind})

    def changed(self, answer: Answer, wish: SheetWish) -> None:
        """Another text, or another wish: once one pauses, whatever differs is set anew."""
        self.stop()
        self._waiting = asyncio.create_task(self._after_a_pause(answer, wish))

    def stop(self) -> None:
        """Begin nothing more."""
        if self._waiting:
            self._waiting.cancel()

    async def _after_a_pause(self, answer: Answer, wish: SheetWish) -> None:
        await asyncio.sleep(_PAUSE)
        studio, text = answer.texts.by_name.get(STUDIO), answer.texts.text or ""
        anew: list[tuple[str, str]] = []
        for kind in sorted(PAPER_SHEETS, key=lambda one: one != self.picked):
            known_by = hashlib.sha256(repr((text, studio, wish, kind)).encode()).hexdigest()[:16]
            if answer.faulty or answer.understood is None:
                self._tell(kind, stale=True)
            elif self._of.get(kind) == known_by:
                self._tell(kind, stale=False)
            else:
                self._tell_all({"is": "setting", "sheet": kind})
                anew.append((kind, known_by))
        # Whoever has done one takes the next.
        in_turn = iter(anew)
        await asyncio.gather(*(self._set_in_turn(in_turn, worker, text, studio, wish) for worker in self._workers))

    async def _set_in_turn(
        self, kinds: Iterator[tuple[str, str]], worker: PaperWorker, text: str, studio: str | None, wish: SheetWish
    ) -> None:
        for kind, known_by in kinds:
            with suppress(Overtaken, WorkLost):
                key = f"{self._source.slug}/{kind}"
                made = await worker.ask(key, set_sheet, self._source, text, studio, kind, wish)
                if made.pdfs or kind not in self._set:
                    self._set[kind], self._of[kind] = made, known_by
                self._tell(kind, stale=not made.pdfs, told=made.told)

    def _tell(self, kind: str, *, stale: bool, told: tuple[str, ...] = ()) -> None:
        if kind in self._set:
            self._stale = self._stale | {kind} if stale else self._stale - {kind}
            self._tell_all(self._message(kind, stale=stale, told=told))
        elif stale:
            self._tell_all({"is": "none-yet", "sheet": kind})

    def _message(self, kind: str, *, stale: bool, told: tuple[str, ...] = ()) -> Message:
        known_by, at = self._of.get(kind, ""), f"/recipe/{self._source.slug}/sheet/{kind}"
        pages = [
            {"src": f"{at}/{number}.png?of={known_by}", "width": width, "height": height}
            for number, (width, height, _) in enumerate(self._set[kind].pages)
        ]
        pdfs = [f"{at}/{name}?of={known_by}" for name in self._set[kind].pdfs]
        return {"is": "sheet", "sheet": kind, "stale": stale, "told": list(told), "pages": pages, "pdfs": pdfs}
