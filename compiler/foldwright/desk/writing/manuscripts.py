"""The recipes that are open: each from when it is first asked for until the desk closes."""

from __future__ import annotations

from foldwright.desk.desk import Desk
from foldwright.desk.keeping.on_disk import RecipeOnDisk
from foldwright.desk.writing.drafting import Drafting
from foldwright.desk.writing.manuscript import Manuscript
from foldwright.desk.writing.sheets import Workers
from foldwright.finding import Wrong


class Manuscripts:
    """All that are open, by name."""

    def __init__(self, desk: Desk, workers: Workers) -> None:
        self._desk, self._workers = desk, workers
        self._open: dict[str, Manuscript] = {}

    def of(self, slug: str) -> Manuscript | Wrong | None:
        """The manuscript of a recipe; None where there is none of that name, or why it cannot be opened."""
        if slug in self._open:
            return self._open[slug]
        source = self._desk.recipe(slug)
        if source is None:
            return None
        on_disk = RecipeOnDisk(source.folder, self._desk.folder)
        opened = on_disk.open()
        if isinstance(opened, Wrong):
            return opened
        self._open[slug] = Manuscript(source, Drafting(on_disk, opened), opened.text, self._workers)
        return self._open[slug]

    async def close(self) -> None:
        """Write what is not written yet, and stop."""
        for one in self._open.values():
            await one.close()
