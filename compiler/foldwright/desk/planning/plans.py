"""The events that are being planned at a desk: what was typed, the plan that follows it, and the folder made of it."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable, Sequence
from itertools import count
from pathlib import Path

from foldwright.desk.desk import Desk
from foldwright.desk.paper_workers import PaperWorker
from foldwright.desk.planning.form import AskedRecipe, Typed
from foldwright.desk.planning.kept import keep_typed, kept_typed, plan_name
from foldwright.desk.planning.work import (
    EventAsked,
    EventFolder,
    PlannedEvent,
    draft_of,
    make,
    plan,
    stock_in,
)
from foldwright.desk.room import ShownEvent, ShownPaper
from foldwright.finding import Wrong
from foldwright.outputs.reading import read_texts
from foldwright.outputs.sources import Source
from foldwright.outputs.texts import DRAFT
from foldwright.recipe.reading import read_recipe
from foldwright.render.paper.page_pictures import PagePicture, page_pictures

_MOST_MADE = 4
"""Folders that are held in memory, those made last."""
_WIDE = 800
"""Pixels of a page's picture: sharp at the width of a tablet."""


class MadeFolder:
    """A folder that was made, `of` what; its pages are drawn once."""

    def __init__(self, number: int, of: object, folder: EventFolder) -> None:
        self.number, self.of, self.folder = number, of, folder
        self._pictures: dict[str, asyncio.Task[tuple[PagePicture, ...]]] = {}

    async def pictures(self, file: str, worker: PaperWorker) -> tuple[PagePicture, ...]:
        """The pages of one of its papers."""
        task = self._pictures.get(file)
        if task is None or (task.done() and task.exception()):
            key = f"pages {self.number} {file}"
            task = asyncio.create_task(worker.ask(key, page_pictures, self.folder.files[file], _WIDE))
            self._pictures[file] = task
        return await asyncio.shield(task)


class PlannedRecipes:
    """The recipes of one event, in the order asked for; `name` is what it is kept as."""

    def __init__(self, desk: Desk, sources: Sequence[Source]) -> None:
        self._desk, self.sources = desk, tuple(sources)
        self.slugs = tuple(one.slug for one in sources)
        self.name = plan_name(self.slugs)

    def asked(self) -> tuple[AskedRecipe, ...]:
        """What the form must know of them. Reads them."""
        return tuple(map(_asked, self.sources))

    def drafts(self) -> tuple[str, ...]:
        """Which of them are planned from a draft."""
        return tuple(one.title for one, source in zip(self.asked(), self.sources, strict=True) if draft_of(source))

    def typed(self) -> dict[str, str]:
        """What was typed the last time; the studio's own stock, where nobody typed another."""
        return {"stock": stock_in(self._desk.folder), **kept_typed(self._desk.folder, self.name)}

    def keep(self, typed: Typed) -> Wrong | None:
        """Keep it; the studio's own stock stays the studio's."""
        own = {"stock": stock_in(self._desk.folder)}.items()
        return keep_typed(self._desk.folder, self.name, dict(typed.items() - own))

    def state(self, typed: Typed) -> object:
        """What a plan depends on: what was typed, and the texts as they are on the disk."""
        files = [path for one in self.sources for path in (one.folder / one.text, one.folder / DRAFT, one.studio)]
        return dict(typed), tuple(_changed(file) for file in files if file)


def _asked(source: Source) -> AskedRecipe:
    texts = read_texts(source)
    text = draft_of(source) or texts.text
    recipe = None if text is None else read_recipe(text, source.name, source.slug, texts.studio).recipe
    if recipe is None:
        return AskedRecipe(source.slug, source.slug)
    return AskedRecipe(source.slug, recipe.title.value, recipe.other_sizes)


def _changed(file: Path) -> tuple[int, int] | None:
    try:
        state = file.stat()
    except OSError:
        return None
    return state.st_mtime_ns, state.st_size


class Plans:
    """Plans in a process of its own, so that a plan never waits for papers; papers are made by `papers`."""

    def __init__(self, desk: Desk, papers: PaperWorker) -> None:
        self.desk = desk
        self._planner, self._papers = PaperWorker(behind=0), papers
        self._numbers = count(1)
        self._made: dict[str, MadeFolder] = {}
        self._making: dict[str, tuple[object, asyncio.Task[MadeFolder]]] = {}
        self._shown: dict[str, PlannedRecipes] = {}
        self._telling = asyncio.Lock()

    def recipes(self, slugs: Iterable[str]) -> PlannedRecipes | None:
        """Those of these names, each once; None where one is not there, or none is asked for."""
        there = {one.slug: one for one in self.desk.recipes()}
        wanted = tuple(dict.fromkeys(slugs))
        known = [there[slug] for slug in wanted if slug in there]
        return PlannedRecipes(self.desk, known) if known and len(known) == len(wanted) else None

    async def follow(self, recipes: PlannedRecipes, typed: Typed, tab: str) -> PlannedEvent:
        """The plan of what is typed in a tab. Raises Overtaken, WorkLost."""
        return await self._planner.ask(f"{recipes.name} {tab}", plan, EventAsked(recipes.sources, typed))

    async def made(self, recipes: PlannedRecipes, typed: Typed) -> MadeFolder:
        """The folder, made anew where what it was made of has changed; who asks for the same meanwhile waits for the
        same. Raises Overtaken, WorkLost."""
        state = await asyncio.to_thread(recipes.state, typed)
        made = self._made.get(recipes.name)
        if made is None or made.of != state:
            being_made, task = self._making.get(recipes.name, (None, None))
            if task is None or being_made != state:
                task = asyncio.create_task(self._make(recipes, typed, state))
                self._making[recipes.name] = state, task
            made = await asyncio.shield(task)
        if recipes.name in self._shown and made.folder.files:
            # One after the other: two who tell the same would overtake each other.
            async with self._telling:
                await self._tell_room(recipes, typed, made)
        return made

    async def _make(self, recipes: PlannedRecipes, typed: Typed, state: object) -> MadeFolder:
        try:
            asked = EventAsked(recipes.sources, typed)
            folder = await self._papers.ask(f"event {recipes.name}", make, asked)
        finally:
            if self._making.get(recipes.name, (None,))[0] is state:
                del self._making[recipes.name]
        made = MadeFolder(next(self._numbers), state, folder)
        self._made.pop(recipes.name, None)
        self._made[recipes.name] = made
        while len(self._made) > _MOST_MADE:
            self._made.pop(next(iter(self._made)))
        return made

    def held(self, recipes: PlannedRecipes) -> MadeFolder | None:
        """The folder as it was made last."""
        return self._made.get(recipes.name)

    async def pictures(self, made: MadeFolder, file: str) -> tuple[PagePicture, ...]:
        """The pages of a paper."""
        return await made.pictures(file, self._papers)

    async def show(self, recipes: PlannedRecipes, typed: Typed) -> bool:
        """Show it to the room; whether there is something to show."""
        self._shown[recipes.name] = recipes
        made = await self.made(recipes, typed)
        if not made.folder.files:
            self.hide(recipes)
        return bool(made.folder.files)

    def hide(self, recipes: PlannedRecipes) -> None:
        """Show it no more."""
        self._shown.pop(recipes.name, None)
        if self.desk.room:
            self.desk.room.events.pop(recipes.name, None)

    def shows(self, recipes: PlannedRecipes) -> bool:
        """Whether the room sees it."""
        return recipes.name in self._shown

    async def _tell_room(self, recipes: PlannedRecipes, typed: Typed, made: MadeFolder) -> None:
        """What has no prices of it goes to the room, unless it is there already."""
        room = self.desk.room
        if room is None or (recipes.name in room.events and room.events[recipes.name].number == made.number):
            return
        planned = await self.follow(recipes, typed, "room")
        files = made.folder.files
        shown = ShownEvent(
            made.number,
            planned.title,
            typed.get("on", ""),
            planned.run,
            files["event.html"],
            tuple(shown_papers(planned, files)),
            lambda file: self.pictures(made, file),
        )
        if recipes.name in self._shown:
            room.events[recipes.name] = shown

    def close(self) -> None:
        """End what works for it."""
        self._planner.close()


def shown_papers(planned: PlannedEvent, files: Iterable[str]) -> Iterable[ShownPaper]:
    """The papers that others may see, by title where the plan knows it: none of those that are the studio's own."""
    for file in files:
        if not file.endswith(".pdf"):
            continue
        paper = next((one for one in planned.papers if file.startswith(f"{one.slug}-")), None)
        if paper is None:
            yield ShownPaper(file, file)
        elif not paper.own:
            yield ShownPaper(file, paper.title)
