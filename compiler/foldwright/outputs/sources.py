"""From the paths of a call to the recipes they mean."""

from __future__ import annotations

import os
from collections.abc import Container, Iterable, Iterator
from pathlib import Path

from msgspec import Struct

from foldwright.finding import Wrong
from foldwright.outputs.texts import DRAFT, RECIPE, STUDIO
from foldwright.recipe.facts.addresses import slug_of as slug_of
from foldwright.surroundings import Folder

BOOKLET = "booklet.yaml"
"""What asks for a booklet, in a folder of recipes."""


class Source(Struct, frozen=True):
    """One recipe: its folder, the name of its text there, the folder of output it goes to, its studio file.

    `within` is the folder the caller named: nothing a link leads to outside it is read. `size` is the one of its sizes
    that is meant, empty for the recipe as it is written.
    """

    folder: Path
    text: str
    slug: str
    within: Path
    size: str = ""

    @property
    def name(self) -> str:
        """What findings call the text: the same wherever the program is started."""
        return f"{self.slug}/{self.text}"

    @property
    def shown(self) -> str:
        """What a person is told the text is called: the path as it was typed."""
        return f"{self.path} ({self.size})" if self.size else self.path

    @property
    def path(self) -> str:
        """The path of its text, as it was typed."""
        # As `pathlib` joins them, a thousand times as often as it is quick enough for.
        folder = str(self.folder)
        return self.text if folder == "." else os.path.join(folder, self.text)

    @property
    def studio(self) -> Path | None:
        """The studio file in the recipe's folder or, as is usual, beside it."""
        for folder in (str(self.folder), os.path.dirname(os.path.abspath(self.folder))):
            if os.path.lexists(file := os.path.join(folder, STUDIO)):
                return Path(file)
        return None

    @property
    def surroundings(self) -> Folder:
        """What may be read while it is compiled: its folder, and themes beside the studio file."""
        return Folder(self.folder, (self.studio or self.folder.absolute()).parent)


def find_sources(paths: Iterable[Path]) -> tuple[tuple[Source, ...], tuple[Wrong, ...]]:
    """The recipes that `paths` mean (a recipe, its folder, or a folder of recipes), each once, in order."""
    found: dict[str, Source] = {}
    wrong: list[Wrong] = []
    for path in paths:
        answer = _sources_at(path)
        if isinstance(answer, Wrong):
            wrong.append(answer)
            continue
        for source in answer:
            found.setdefault(os.path.abspath(source.shown), source)
    return tuple(source for source in found.values() if not _drafts_one_of(source, found)), tuple(wrong)


def _drafts_one_of(source: Source, found: Container[str]) -> bool:
    """Whether it is the draft of a recipe that is meant as well, as with `box/*.md`."""
    return source.text == DRAFT and os.path.abspath(source.folder / RECIPE) in found


def _sources_at(path: Path) -> tuple[Source, ...] | Wrong:
    if not os.path.exists(path):
        return Wrong.of("path-missing", path=str(path))
    if path.is_file():
        folder = path.parent
        named = path.name == RECIPE and folder.absolute().name
        return (Source(folder, path.name, slug_of(folder.absolute().name if named else path.stem), folder),)
    if not path.is_dir():
        return Wrong.of("path-odd", path=str(path))
    if os.path.lexists(path / RECIPE):
        return (Source(path, RECIPE, slug_of(path.absolute().name), path),)
    try:
        children = sorted(name for name in os.listdir(path) if not name.startswith("."))
    except OSError:
        return Wrong.of("path-closed", path=str(path))
    inside = [name for name in children if os.path.lexists(os.path.join(path, name, RECIPE))]
    if not inside:
        return Wrong.of("no-recipe-there", path=str(path), name=RECIPE)
    return tuple(Source(path / name, RECIPE, slug_of(name), path) for name in inside)


def twice(sources: Iterable[Source]) -> Iterator[Wrong]:
    """Recipes that would be written to the same folder."""
    by_slug: dict[str, Source] = {}
    for source in sources:
        first = by_slug.setdefault(source.slug, source)
        if first is not source:
            yield Wrong.of("same-output", one=first.shown, other=source.shown, slug=source.slug)
